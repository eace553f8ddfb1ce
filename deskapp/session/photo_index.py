"""Which photos are in other jobs as well, looked up by their digests in the list of jobs."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from deskapp.domain.fields import label_of
from deskapp.domain.finding import Finding, Level
from deskapp.i18n import _
from deskapp.session.job_line import JobLine, known_by, photos_in, street_and_city

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from deskapp.domain.job import Job

_MOST_NAMED = 3


class _Known(NamedTuple):
    line: JobLine
    file: str
    key: tuple[str, str]


class PhotoIndex:
    """The jobs each photo is in; no longer changed once made, so any thread may ask."""

    def __init__(self, lines: Iterable[JobLine]) -> None:
        """Take in what the list of jobs knows."""
        self._jobs: dict[str, list[_Known]] = {}
        for line in lines:
            known = _Known(line, str(Path(line.path).absolute()), _key(line.number, line.address))
            for digest in line.photos:
                self._jobs.setdefault(digest, []).append(known)

    def findings(self, job: Job, path: Path | None) -> tuple[Finding, ...]:
        """Return a check for each photo of `job`, kept in the file at `path`, that others have.

        A file with the same job number and the same address is a copy of this job and no other.
        """
        return tuple(self._findings(job, path))

    def _findings(self, job: Job, path: Path | None) -> Iterator[Finding]:
        own_file = "" if path is None else str(path.absolute())
        own_key = _key(job.number, street_and_city(job))
        for place, photo in photos_in(job):
            found = {
                known.file: known.line
                for digest in known_by(photo)
                for known in self._jobs.get(digest, ())
                if known.file != own_file and (known.key != own_key or not any(own_key))
            }
            if found:
                yield _finding(place, list(found.values()))


def _key(number: str, address: str) -> tuple[str, str]:
    """Return what copies of one job have in common."""
    return _plain(number), _plain(address)


def _plain(text: str) -> str:
    return " ".join(text.casefold().split())


def _finding(place: str, jobs: list[JobLine]) -> Finding:
    named = [
        _("{job} (file {file})").format(job=line.name, file=Path(line.path).name)
        for line in jobs[:_MOST_NAMED]
    ]
    if len(jobs) > _MOST_NAMED:
        named.append(_("and {n} more").format(n=len(jobs) - _MOST_NAMED))
    return Finding(
        level=Level.CHECK,
        code="photo-in-another-job",
        path=place,
        what=_("{photo}: the same picture is in another job: {jobs}.").format(
            photo=label_of(place), jobs=", ".join(named)
        ),
        mend=_("Remove it from the job it does not belong to. It stands if it belongs to both."),
    )
