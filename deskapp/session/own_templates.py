"""A company's own report templates: files of its own beside the preferences, chosen per report.

They are data and are checked as such; nothing in them is ever run.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from deskapp.domain.finding import Finding, Level
from deskapp.i18n import _
from deskapp.session.report_kinds import KIND_WORDS, ReportKind

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from pathlib import Path

FOLDER = "templates"
_ENTRY = re.compile(r'^(id|name)\s*=\s*"(.*)"', re.MULTILINE)
_UNFIT = re.compile(r"[^\w]+")
_LONGEST = 60


@dataclass(frozen=True, slots=True)
class OwnTemplate:
    """A template in the folder: its file, the report it is for, and what it is called."""

    path: Path
    kind: ReportKind
    name: str


def own_templates(folder: Path) -> tuple[OwnTemplate, ...]:
    """Return the templates kept beside the preferences in `folder`, by name.

    They are not checked here: a broken one is told when it is used.
    """
    return tuple(sorted(_found(folder), key=lambda one: one.name.casefold()))


def _found(folder: Path) -> Iterator[OwnTemplate]:
    return (one for one in _looked_at(folder) if isinstance(one, OwnTemplate))


def _looked_at(folder: Path) -> Iterator[OwnTemplate | str]:
    """Yield each file of the folder as a template, or only its name where it cannot be listed."""
    for path in sorted((folder / FOLDER).glob("*.toml")):
        try:
            text = path.read_text(encoding="utf-8")
        except (OSError, ValueError):
            yield path.name
            continue
        entries: dict[str, str] = dict(reversed(_ENTRY.findall(text)))
        if entries.get("id") in set(ReportKind):
            yield OwnTemplate(path, ReportKind(entries["id"]), entries.get("name") or path.stem)
        else:
            yield path.name


def template_remarks(folder: Path, names: Mapping[str, str]) -> tuple[str, ...]:
    """Return what is to be said of the folder: templates not in use, and files it cannot list.

    Args:
        folder: the folder of the preferences.
        names: the file names chosen, by kind of report.
    """
    said: list[str] = []
    used = {(kind, _file_of(name)) for kind, name in names.items()}
    idle = [one for one in own_templates(folder) if (one.kind.value, one.path.name) not in used]
    if idle:
        listed = "; ".join(
            _("“{name}” ({report})").format(name=one.name, report=_(KIND_WORDS[one.kind]))
            for one in idle
        )
        words = _("Templates of your own that are not in use: {names}. Choose them above.")
        said.append(words.format(names=listed))
    unlisted = [one for one in _looked_at(folder) if isinstance(one, str)]
    if unlisted:
        words = _(
            "Files among your templates that name no report: {names}. A template begins with the id"
            " of its report, such as {example}."
        )
        said.append(words.format(names="; ".join(unlisted), example='id = "homeowner"'))
    return tuple(said)


def chosen(folder: Path, names: Mapping[str, str]) -> dict[str, Path]:
    """Return the files chosen in the preferences, by kind of report.

    Args:
        folder: the folder of the preferences.
        names: file names by kind; only the last part of a name counts.
    """
    return {
        kind: folder / FOLDER / _file_of(name)
        for kind, name in names.items()
        if name and kind in set(ReportKind)
    }


def _file_of(name: str) -> str:
    return re.split(r"[/\\]", name)[-1]


def file_for(folder: Path, kind: ReportKind, name: str) -> Path:
    """Return the file a template called `name` is kept in; no other template has it."""
    words = _UNFIT.sub("-", name.strip().casefold()).strip("-")[:_LONGEST] or kind.value
    taken = {one.path.name for one in own_templates(folder) if (one.kind, one.name) != (kind, name)}
    file, number = f"{words}.toml", 2
    while file in taken:
        file = f"{words}-{number}.toml"
        number += 1
    return folder / FOLDER / file


def not_usable(problem: str) -> Finding:
    """Return the remark that a template cannot be used and the shipped one stands in for it."""
    return Finding(
        level=Level.CHECK,
        code="own-template",
        what=problem,
        mend=_("Mend the file or choose another template. The one that came along was used."),
    )
