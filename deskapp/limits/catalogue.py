"""Reading the limits shipped with the program, and the user's own, from TOML files."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from pathlib import Path

from pydantic import ValidationError

from deskapp.domain.finding import Finding, Level
from deskapp.domain.limit import Edition
from deskapp.i18n import _
from deskapp.limits.faults import faults_of


@dataclass(frozen=True, slots=True)
class Catalogue:
    """All editions that could be read, and what was the matter with the rest."""

    editions: tuple[Edition, ...] = ()
    problems: tuple[Finding, ...] = ()

    def edition(self, edition_id: str) -> Edition | None:
        """Return the edition with this id."""
        return next((edition for edition in self.editions if edition.id == edition_id), None)


def load(folder: Path, extra: Path | None = None) -> Catalogue:
    """Read every ``*.toml`` in `folder`, then in the user's folder `extra`.

    A file that cannot be read, breaks the schema, or repeats an id earns a finding that names file
    and row and is left out as a whole, since an edition without one of its rows could pick a wrong
    one. The other files still load. A missing `extra` folder is no matter.
    """
    editions: dict[str, Edition] = {}
    came_from: dict[str, Path] = {}
    problems: list[Finding] = []
    if not folder.is_dir():
        problems.append(_no_folder(folder))
    for path in (*_files(folder), *(_files(extra) if extra else ())):
        read = read_edition(path)
        if isinstance(read, Finding):
            problems.append(read)
        elif read.id in editions:
            problems.append(_twice(read.id, path, came_from[read.id]))
        else:
            editions[read.id] = read
            came_from[read.id] = path
    return Catalogue(tuple(editions.values()), tuple(problems))


def _files(folder: Path) -> list[Path]:
    return sorted(folder.glob("*.toml")) if folder.is_dir() else []


def read_edition(path: Path) -> Edition | Finding:
    """Read one file; what keeps it from being an edition is told with file, row and entry."""
    try:
        data = tomllib.loads(path.read_text(encoding="utf-8"))
    except OSError as error:
        return _finding(path, _("It cannot be opened ({why}).").format(why=error.strerror))
    except UnicodeDecodeError:
        return _finding(path, _("It is not a text file in UTF-8."))
    except tomllib.TOMLDecodeError as error:
        return _finding(path, _("It is not well-formed TOML: {why}.").format(why=error))
    try:
        return Edition.model_validate(data)
    except ValidationError as error:
        return _finding(path, faults_of(error, data)[0].text + ".")


def _finding(path: Path, fault: str) -> Finding:
    return Finding(
        level=Level.CHECK,
        code="limit-file-unreadable",
        what=_("The limits in {file} were left out. {fault}").format(file=path.name, fault=fault),
        mend=_("Mend the file, or take it out of the folder {folder}.").format(
            folder=path.parent.name
        ),
    )


def _twice(edition_id: str, path: Path, first: Path) -> Finding:
    return Finding(
        level=Level.CHECK,
        code="limit-id-repeated",
        what=_('The limits in {file} were left out: {first} already has the id "{id}".').format(
            file=path.name, first=first.name, id=edition_id
        ),
        allowed=_("Each edition needs an id of its own."),
        mend=_("Change the id in one of the two files."),
    )


def _no_folder(folder: Path) -> Finding:
    return Finding(
        level=Level.CHECK,
        code="limit-folder-missing",
        what=_("The folder of published limits ({folder}) is not there.").format(
            folder=folder.name
        ),
        mend=_("Install the program again, or put the folder back."),
    )
