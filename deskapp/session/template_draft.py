"""Changing a report template: blocks moved, left out and reworded, each change a new draft.

A draft holds the data of a template file, so that whatever it does not touch stays as it is.
"""

from __future__ import annotations

from copy import deepcopy
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, cast

from deskapp.catalog.data_words import TEMPLATES, is_word
from deskapp.i18n import _
from deskapp.report.template import STAYING, Template, check_template, read_data
from deskapp.session.block_words import BLOCK_WORDS, entry_words

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

At = tuple[int, ...]
WHOLE: At = ()
"""Where the words stand that belong to no block: title, header and foot."""
_WHOLE_ENTRIES = ("title", "words")


@dataclass(frozen=True, slots=True)
class BlockRow:
    """One block in printing order: where it is, what it is called, and whether it is printed.

    `detail` is how its words begin. One that `stays` can be moved and reworded, but not left out.
    """

    at: At
    title: str
    detail: str
    is_shown: bool
    stays: bool


@dataclass(frozen=True, slots=True)
class WordRow:
    """One text of a block: the way to it in the data, what it is called, and the text."""

    path: tuple[str | int, ...]
    label: str
    text: str


@dataclass(frozen=True, slots=True)
class TemplateDraft:
    """A template being changed."""

    data: dict[str, Any]

    @property
    def kind(self) -> str:
        """The report it is for."""
        return str(self.data["id"])

    @property
    def name(self) -> str:
        """What the company calls it; empty for the one that came along."""
        return str(self.data.get("name", ""))

    def blocks(self) -> tuple[BlockRow, ...]:
        """Return all blocks, those inside another one right after it."""
        return tuple(_rows(self.data, (), STAYING.get(self.kind, ())))

    def words(self, at: At) -> tuple[WordRow, ...]:
        """Return the texts of the block at `at`, of the whole report for `WHOLE`."""
        if at == WHOLE:
            data = {key: self.data[key] for key in _WHOLE_ENTRIES}
        else:
            data = {key: value for key, value in _block(self.data, at).items() if key != "block"}
        return tuple(_texts(data, ()))

    def named(self, name: str) -> TemplateDraft:
        """Return the draft under another name."""
        return replace(self, data={"id": self.data["id"], **self.data, "name": name.strip()})

    def moved(self, at: At, by: int) -> tuple[TemplateDraft, At]:
        """Return the draft with a block moved among its neighbors, and where the block is now."""
        data = deepcopy(self.data)
        siblings = _siblings(data, at)
        to = min(max(0, at[-1] + by), len(siblings) - 1)
        siblings.insert(to, siblings.pop(at[-1]))
        return TemplateDraft(data), (*at[:-1], to)

    def showing(self, at: At, *, is_shown: bool) -> TemplateDraft:
        """Return the draft with a block printed or left out."""
        data = deepcopy(self.data)
        block = _block(data, at)
        block.pop("shown", None)
        if not is_shown:
            heading = {key: block.pop(key) for key in list(block)}
            block.update({"kind": heading.pop("kind"), "shown": False, **heading})
        return TemplateDraft(data)

    def reworded(self, at: At, path: tuple[str | int, ...], text: str) -> TemplateDraft:
        """Return the draft with one text replaced."""
        data = deepcopy(self.data)
        here: Any = data if at == WHOLE else _block(data, at)
        for part in path[:-1]:
            here = here[part]
        here[path[-1]] = text
        return TemplateDraft(data)

    def checked(self) -> Template:
        """Return the template it makes. Raises TemplateProblem, naming the block at fault."""
        return check_template(self.data, self.name or _("This template"))


def draft_of(path: Path) -> TemplateDraft:
    """Return the draft of a template file; raises TemplateProblem where it is none."""
    return TemplateDraft(read_data(path))


def text_of(draft: TemplateDraft) -> bytes:
    """Return the draft as a TOML file."""
    import tomli_w

    return tomli_w.dumps(draft.data).encode("utf-8")


def _siblings(data: dict[str, Any], at: At) -> list[dict[str, Any]]:
    here = data
    for position in at[:-1]:
        here = here["block"][position]
    return cast("list[dict[str, Any]]", here["block"])


def _block(data: dict[str, Any], at: At) -> dict[str, Any]:
    return _siblings(data, at)[at[-1]]


def _rows(data: dict[str, Any], at: At, staying: tuple[str, ...]) -> Iterator[BlockRow]:
    blocks = cast("list[dict[str, Any]]", data.get("block", ()))
    kinds = [block["kind"] for block in blocks if block.get("shown", True)]
    for position, block in enumerate(blocks):
        kind, here = str(block["kind"]), (*at, position)
        stays = not at and kind in staying and kinds.count(kind) == 1
        title = _(BLOCK_WORDS.get(kind, kind))
        own = {key: value for key, value in block.items() if key != "block"}
        detail = next((row.text for row in _texts(own, ())), "")
        yield BlockRow(here, title, detail, bool(block.get("shown", True)), stays)
        yield from _rows(block, here, ())


def _texts(value: object, path: tuple[str | int, ...]) -> Iterator[WordRow]:
    if isinstance(value, str):
        names = tuple(part for part in path if isinstance(part, str))
        if names and is_word(TEMPLATES, names):
            yield WordRow(path, entry_words(path), value)
    elif isinstance(value, dict):
        for key, inner in cast("dict[str, object]", value).items():
            yield from _texts(inner, (*path, key))
    elif isinstance(value, list):
        for position, inner in enumerate(cast("list[object]", value)):
            yield from _texts(inner, (*path, position))
