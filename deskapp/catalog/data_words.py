"""Which entries of our data files are words for people; they are their own English originals.

The one table for both sides: the extraction that fills the catalogs, and the translation of a
report template. The other files are translated where their records are shown, with `_()`.
"""

from __future__ import annotations

import re
import tomllib
from pathlib import PurePath
from typing import TYPE_CHECKING, BinaryIO, cast

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Iterator, Mapping

# Below `resources`: folder -> entries that are words, by key or by the last two keys.
WORDS_IN: dict[str, frozenset[str]] = {
    "leaks": frozenset({"label", "repair", "sealing", "rule", "source"}),
    "safety": frozenset({"text", "todo", "label", "source"}),
    "screening": frozenset({"label", "text", "source"}),
    "photos": frozenset({"label", "why"}),
    "guidance": frozenset({"text", "why", "source"}),
    "sampling": frozenset({"title", "note", "choosing", "recording", "statement", "source"}),
    "help": frozenset({"title", "text"}),
    "limits": frozenset({"rows.title", "note", "exceptions", "source", "text"}),
}
# In the report templates every text is a word, except these.
SILENT = frozenset(
    {
        *(
            "id",
            "kind",
            "language",
            "audience",
            "role",
            "when",
            "one_when",
            "none_when",
            "unless",
            "levels",
            "metric",
        ),
        *(
            "already",
            "also",
            "field",
            "fields",
            "fan_fields",
            "gauge_fields",
            "needed.rows",
            "marks.status",
        ),
        *("marks.unit", "marks.source", "things.unit", "things.source"),
    }
)
TEMPLATES = "report_templates"

_PLACES = re.compile(r"\{[^{}]*\}")

Path = tuple[str, ...]


def is_word(folder: str, path: Path) -> bool:
    """Say whether the text at `path` of a file in `folder` is for people to read."""
    ends = {path[-1], ".".join(path[-2:])}
    if folder == TEMPLATES:
        return ends.isdisjoint(SILENT)
    return not ends.isdisjoint(WORDS_IN.get(folder, ()))


def template_words(
    data: Mapping[str, object], translate: Callable[[str], str]
) -> dict[str, object]:
    """Return the data of a report template with its words translated."""

    def change(path: Path, text: str) -> str:
        return translate(text) if is_word(TEMPLATES, path) else text

    found = _changed(data, (), change)
    return cast("dict[str, object]", found)


def extract(
    file: BinaryIO,
    keywords: Collection[str],  # noqa: ARG001 - Babel gives these by name
    comment_tags: Collection[str],  # noqa: ARG001
    options: Mapping[str, object],  # noqa: ARG001
) -> Iterator[tuple[int, str, str, list[str]]]:
    """Yield the words of one TOML file, each with a remark where it stands (for Babel)."""
    name = PurePath(file.name)
    folder = name.parent.name
    found: list[tuple[int, str, str, list[str]]] = []

    def note(path: Path, text: str) -> str:
        if is_word(folder, path) and re.search(r"[^\W\d_]|:", _PLACES.sub("", text)):
            found.append((1, "_", text, [f"{name.name}: {'.'.join(path)}"]))
        return text

    _changed(tomllib.load(file), (), note)
    yield from found


def _changed(value: object, path: Path, change: Callable[[Path, str], str]) -> object:
    """Return `value` with every text in it replaced by `change` of its path and itself."""
    if isinstance(value, str):
        return change(path, value)
    if isinstance(value, dict):
        rows = cast("dict[str, object]", value)
        return {key: _changed(inner, (*path, key), change) for key, inner in rows.items()}
    if isinstance(value, list):
        return [_changed(inner, path, change) for inner in cast("list[object]", value)]
    return value
