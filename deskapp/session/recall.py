"""What was typed in earlier jobs, offered again while one types; kept on this computer only.

Which fields take part stands in the field table (`FieldSpec.recalled`). Names, phones and mail
addresses of owners are none of them.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from pydantic import Field, ValidationError

from deskapp.domain.base import Frozen
from deskapp.domain.fields import FIELDS
from deskapp.domain.finding import Finding, Level
from deskapp.domain.paths import expand
from deskapp.i18n import _

if TYPE_CHECKING:
    from collections.abc import Iterable

    from deskapp.domain.job import Job

FILE_NAME = "typed_before.json"
MOST = 40
"""Entries kept for a field; the oldest go first."""
_LONGEST = 120


class Recollection(Frozen):
    """Entries by field (``tests.*.setup.tap_location``), the newest first."""

    entries: dict[str, tuple[str, ...]] = Field(default_factory=dict[str, tuple[str, ...]])

    def offered(self, pattern: str) -> tuple[str, ...]:
        """Return what was typed into a field before, the newest first."""
        return self.entries.get(pattern, ())

    def with_job(self, job: Job) -> Recollection:
        """Return what is known once `job` was looked through."""
        entries = dict(self.entries)
        for spec in FIELDS:
            if spec.recalled:
                texts = (str(value) for _path, value in expand(job, spec.path))
                entries[spec.path] = _newest((*texts, *self.offered(spec.path)))
        return Recollection(entries={path: kept for path, kept in entries.items() if kept})


def _newest(texts: Iterable[str]) -> tuple[str, ...]:
    """Return each text once, whatever its case and spaces, without empty and overlong ones."""
    kept: dict[str, str] = {}
    for text in texts:
        plain = " ".join(text.split())
        if plain and len(plain) <= _LONGEST:
            kept.setdefault(plain.casefold(), plain)
    return tuple(kept.values())[:MOST]


def load(folder: Path) -> Recollection:
    """Return what is kept in `folder`; nothing where the file is missing or damaged.

    A damaged file is no loss worth a message: it fills again from the next jobs.
    """
    try:
        text = (folder / FILE_NAME).read_text(encoding="utf-8")
        return Recollection.model_validate_json(text)
    except (OSError, ValidationError, ValueError):
        return Recollection()


def learn(folder: Path, job: Job) -> Recollection:
    """Add the entries of `job` to what is kept in `folder`, and return all of it.

    Where the folder cannot be written to, the entries are offered until the program ends.
    """
    from deskapp.archive.problems import JobFileProblem
    from deskapp.archive.safe_write import write_whole

    before = load(folder)
    known = before.with_job(job)
    if known != before:
        try:
            folder.mkdir(parents=True, exist_ok=True)
            text = known.model_dump_json(indent=1)
            write_whole(folder / FILE_NAME, text.encode("utf-8"))
        except (JobFileProblem, OSError):
            return known
    return known


def forget(folder: Path) -> Finding | None:
    """Delete what is kept in `folder`; return why not if that does not work."""
    try:
        (folder / FILE_NAME).unlink(missing_ok=True)
    except OSError as error:
        return Finding(
            level=Level.CHECK,
            code="not-forgotten",
            what=_("{file} could not be deleted ({reason}).").format(
                file=FILE_NAME, reason=error.strerror or type(error).__name__
            ),
            mend=_("Delete it in the folder of the preferences."),
        )
    return None
