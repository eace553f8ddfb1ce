"""One job of the list of jobs: what its file holds in a few words, and how jobs are told apart."""

from __future__ import annotations

import os
from collections import Counter
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from deskapp.domain.base import Frozen
from deskapp.domain.measured import day_of
from deskapp.i18n import _, language
from deskapp.session.job_status import JobStatus, dangers, status_of, waiting_for_retest

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from deskapp.domain.job import Job
    from deskapp.domain.leak import Photo
    from deskapp.session.resources import Shelf
    from deskapp.session.settings import Preferences

_NO_PHOTOS = ("sketch.plan", "tester.signature")


class JobLine(Frozen):
    """One job file in a few words.

    `changed` is the time of change in ns and `size` that in bytes; `problem` says why the file
    cannot be read, and then nothing else is known. `retests` names systems that wait for one,
    `calibration_due` is the earliest day on which an instrument of the job is due;
    `photos` are the digests that its photos are known by. `dangers` says what of safety is open or
    was gone past. `spoken` is the language of `problem`, `retests` and `dangers`, where there are
    any. `is_away` says that the folder does not answer now: the line tells what was known before.
    """

    path: str
    changed: int = 0
    size: int = 0
    problem: str = ""
    number: str = ""
    title: str = ""
    owner: str = ""
    address: str = ""
    permit: str = ""
    status: JobStatus = JobStatus.DRAFT
    retests: tuple[str, ...] = ()
    dangers: tuple[str, ...] = ()
    calibration_due: date | None = None
    photos: tuple[str, ...] = ()
    is_away: bool = False
    spoken: str = ""

    @property
    def name(self) -> str:
        """What the job is called: its number and name, or else its file."""
        parts = (part.strip() for part in (self.number, self.title))
        return " ".join(part for part in parts if part) or os.path.splitext(self.file)[0]  # noqa: PTH122

    @property
    def file(self) -> str:
        """The name of its file; by `os.path`, since it is asked of every job at every letter."""
        return os.path.basename(self.path)  # noqa: PTH119

    def is_overdue(self, today: date) -> bool:
        """Whether an instrument of a job that is not done yet is overdue for calibration."""
        due = self.calibration_due
        return self.status is not JobStatus.READY and due is not None and due < today

    def holds(self, words: Iterable[str]) -> bool:
        """Whether all of these words, in lower case, are found in the job."""
        fields = (self.number, self.title, self.owner, self.address, self.permit, self.file)
        text = "\n".join(fields).casefold()
        return all(word in text for word in words)


def matching(
    lines: Iterable[JobLine], text: str, status: JobStatus | None = None
) -> tuple[JobLine, ...]:
    """Return the jobs that hold all words of `text`, and have this status if one is given."""
    words = text.casefold().split()
    return tuple(
        line
        for line in lines
        if (status is None or (line.status is status and not line.problem)) and line.holds(words)
    )


def names_of(lines: Iterable[JobLine]) -> dict[str, str]:
    """Return what each job is called, by its path; those called alike are told apart by their file.

    Where that is not enough the folder stands before the file, and then all of its path.
    """
    plain = {line.path: line.file if line.problem else line.name for line in lines}
    names = dict(plain)
    for tail in (_file_of, _file_in_folder, str):
        often = Counter(names.values())
        names |= {
            path: _("{job} (file {file})").format(job=plain[path], file=tail(Path(path)))
            for path, name in names.items()
            if often[name] > 1
        }
    return names


def _file_of(path: Path) -> str:
    return path.name


def _file_in_folder(path: Path) -> str:
    return f"{path.parent.name}/{path.name}"


def due_words(line: JobLine, today: date) -> str:
    """Say what is due of a job: safety, a retest, a calibration; empty if nothing is."""
    parts = [*line.dangers]
    if line.retests:
        parts.append(_("Retest: {systems}").format(systems=", ".join(line.retests)))
    if line.is_overdue(today):
        parts.append(_("Calibration overdue"))
    return "; ".join(parts)


def street_and_city(job: Job) -> str:
    """Return street and city of a job in one line."""
    return " ".join(part for part in (job.site.address, job.site.city) if part)


def photos_in(job: Job) -> Iterator[tuple[str, Photo]]:
    """Return path and record of every photo.

    Houses built alike share a plan, and jobs of one tester a signature; neither is a photo.
    """
    return ((place, photo) for place, photo in job.pictures() if place not in _NO_PHOTOS)


def known_by(photo: Photo) -> set[str]:
    """Return the digests a photo is known by: of its stored copy, and of the file it was."""
    return {photo.digest, photo.original} - {""}


def described(line: JobLine, job: Job, preferences: Preferences, shelf: Shelf) -> JobLine:
    """Return `line` with what `job`, read out of its file, has to say."""
    from deskapp.session.editor import Editor

    editor = Editor(job, shelf, preferences)
    days = [day_of(one.due_on) for one in (*job.gauges, *job.fans)]
    retests, unsafe = waiting_for_retest(editor.assessment), dangers(editor.findings)
    return line.model_copy(
        update={
            "number": job.number,
            "title": job.title,
            "owner": job.client.name,
            "address": street_and_city(job),
            "permit": job.site.permit_number,
            "status": status_of(editor.job, editor.assessment, editor.findings),
            "retests": retests,
            "dangers": unsafe,
            "spoken": language() if retests or unsafe else "",
            "photos": tuple(sorted({d for _place, one in photos_in(job) for d in known_by(one)})),
            "calibration_due": min((day for day in days if day is not None), default=None),
        }
    )
