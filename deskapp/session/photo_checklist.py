"""Which photos of the checklist a job has, and which are still missing; remarks, no more."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from deskapp.domain.choices import YesNo
from deskapp.domain.photo_subject import Each
from deskapp.i18n import _

if TYPE_CHECKING:
    from collections.abc import Iterator

    from deskapp.domain.job import Job
    from deskapp.domain.leak import Leak, Photo
    from deskapp.domain.photo_subject import PhotoSubject


@dataclass(frozen=True, slots=True)
class Wanted:
    """A photo of the checklist: what it shows, what it is good for, and whether it is there."""

    label: str
    why: str
    is_there: bool


def checklist(job: Job, subjects: tuple[PhotoSubject, ...], report: str) -> tuple[Wanted, ...]:
    """Return the photos that the papers of a kind (``compliance``) are better with, in order.

    Leaks without a photo of their own stand in one row, with their numbers.
    """
    rows: list[Wanted] = []
    for subject in subjects:
        if report in subject.reports:
            rows += (
                _of_leaks(job, subject) if subject.each is not Each.JOB else _of_job(job, subject)
            )
    return tuple(rows)


def _of_job(job: Job, subject: PhotoSubject) -> list[Wanted]:
    there = any(photo.shows == subject.id for _path, photo in job.pictures())
    return [Wanted(_(subject.label), _(subject.why), there)]


def _of_leaks(job: Job, subject: PhotoSubject) -> list[Wanted]:
    wanted = list(_leaks_wanted(job, subject.each))
    lacking = [str(job.leak_number(leak.key)) for leak in wanted if not _has(leak.photos, subject)]
    if not wanted:
        return []
    label = _(subject.label)
    if lacking:
        label = _("{what}, leak {numbers}").format(what=label, numbers=", ".join(lacking))
    return [Wanted(label, _(subject.why), not lacking)]


def _leaks_wanted(job: Job, each: Each) -> Iterator[Leak]:
    for leak in job.leaks_found:
        if each is Each.LEAK or leak.repaired is YesNo.YES:
            yield leak


def _has(photos: tuple[Photo, ...], subject: PhotoSubject) -> bool:
    return any(photo.shows == subject.id for photo in photos)
