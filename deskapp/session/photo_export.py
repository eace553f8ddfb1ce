"""The photos of a job as files for others: marks drawn in, and a list that ties them to the job."""

from __future__ import annotations

import contextlib
import csv
import errno
import io
import os
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from deskapp.domain.told_problem import ToldProblem
from deskapp.i18n import N_, _, speaking
from deskapp.session.long_work import LongWork

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from datetime import date
    from pathlib import Path

    from deskapp.domain.ink import Inked
    from deskapp.domain.job import Job
    from deskapp.domain.leak import Leak, Photo
    from deskapp.report.build.report_input import ReportInput
    from deskapp.session.editor import Editor

_COLUMNS = (
    N_("File"),
    N_("Caption"),
    N_("Leak"),
    N_("Taken"),
    N_("SHA-256 of the original file"),
    N_("SHA-256 of the copy in the job"),
)

_NAMED = 3


class PhotoExportProblem(ToldProblem):
    """Photos cannot be exported: `code` is ``none``, ``exists`` or ``write``."""


@dataclass(frozen=True, slots=True)
class PlannedPhoto:
    """A photo to export: file name, words and marks, ready to be drawn; `leak` is its number."""

    file: str
    photo: Photo
    caption: str
    leak: str
    slate: str
    marks: tuple[Inked, ...]


@dataclass(frozen=True, slots=True)
class PhotoOrder:
    """What is to be exported, as it stood when it was ordered; fit for another thread.

    `list_file` is the name of the list, `head` its headings, `data` the stored bytes by digest.
    """

    photos: tuple[PlannedPhoto, ...]
    list_file: str
    head: tuple[str, ...]
    data: Mapping[str, bytes]


@dataclass(frozen=True, slots=True)
class ExportedPhotos:
    """Photos that were exported: their folder, the files, and the names of those left out."""

    folder: Path
    files: tuple[Path, ...]
    left_out: tuple[str, ...]


def order_photos(editor: Editor, today: date) -> PhotoOrder:
    """Take down the photos of the open job, in the language of its reports.

    The preference for a strip below photos decides whether each gets one.
    """
    from deskapp.report.build.photos import caption, marks_of
    from deskapp.session.report_names import name_in_files
    from deskapp.session.report_order import report_source

    preferences, job = editor.preferences, editor.job
    source = report_source(job, editor.assessment, editor.shelf, preferences.formatter, today)
    source = replace(source, photo_slate=preferences.photo_slate)
    name = name_in_files(job)
    with speaking(preferences.report_language):
        planned = tuple(
            PlannedPhoto(
                file=_file_name(name, number, leak_number),
                photo=photo,
                caption=caption(source, photo),
                leak=leak_number,
                slate=_strip_words(source, photo, leak, leak_number),
                marks=marks_of(job, photo, leak),
            )
            for number, (leak, leak_number, photo) in enumerate(_photos(job), 1)
        )
        head = tuple(_(words) for words in _COLUMNS)
    return PhotoOrder(planned, f"{name} photos.csv".lstrip(), head, editor.photos)


def export_photos(
    order: PhotoOrder, folder: Path, work: LongWork | None = None, *, over: bool = False
) -> ExportedPhotos:
    """Write photos and their list into `folder`, made if need be.

    All are drawn before the first is written, so that `work` given up in time leaves no file, and
    where one cannot be written, new ones are taken away again. Raises PhotoExportProblem:
    ``none`` without a photo, ``exists`` where files would be written over without `over`,
    ``write`` where the folder cannot be used. Photos that cannot be read are left out and told.
    """
    from deskapp.report.inked_photo import inked_photo

    if not order.photos:
        raise PhotoExportProblem("none", _("This job has no photos to export. Attach some first."))
    there = () if over else clashes(order, folder)
    if there:
        text = _("{files} in {folder} would be written over. Choose another folder.")
        raise PhotoExportProblem("exists", text.format(files=some_of(there), folder=folder))
    work = work or LongWork()
    drawn: dict[str, bytes] = {}
    for number, one in enumerate(order.photos, 1):
        work.step(number, len(order.photos), one.file)
        picture = inked_photo(order.data.get(one.photo.digest, b""), one.marks, one.slate)
        if picture is not None:
            drawn[one.file] = picture
    left_out = tuple(_told(one) for one in order.photos if one.file not in drawn)
    # The mark at the start lets spreadsheet programs read the letters right.
    drawn[order.list_file] = _table(order, drawn).encode("utf-8-sig", "replace")
    work.settle()
    return ExportedPhotos(folder, _write_all(folder, drawn), left_out)


def clashes(order: PhotoOrder, folder: Path) -> tuple[str, ...]:
    """Return the names of files in `folder` that would be written over."""
    names = (*(one.file for one in order.photos), order.list_file)
    return tuple(name for name in names if os.path.lexists(folder / name))


def some_of(names: tuple[str, ...]) -> str:
    """Return the first names, and a sign that there are more."""
    return ", ".join((*names[:_NAMED], "…") if len(names) > _NAMED else names)


def _photos(job: Job) -> Iterator[tuple[Leak | None, str, Photo]]:
    """Yield each photo with its leak, if it has one, and the number of that leak."""
    for photo in job.photos:
        yield None, "", photo
    for leak in job.leaks:
        number = job.leak_number(leak.key)
        for photo in leak.photos:
            yield leak, "" if number is None else str(number), photo


def _file_name(job_name: str, number: int, leak_number: str) -> str:
    of_leak = f" leak {leak_number}" if leak_number else ""
    return f"{job_name} photo {number:02}{of_leak}.jpg".lstrip()


def _strip_words(source: ReportInput, photo: Photo, leak: Leak | None, number: str) -> str:
    """Return the words of the strip below a photo; empty where none is wanted."""
    from deskapp.report.build.photos import slate, subject

    if not source.photo_slate:
        return ""
    of_leak = _("Leak {number}").format(number=number) if number else ""
    parts = (slate(source, photo, leak), subject(source, photo), of_leak)
    return " · ".join(part for part in parts if part)


def _told(one: PlannedPhoto) -> str:
    return one.photo.name or one.caption or one.photo.digest[:8]


def _table(order: PhotoOrder, drawn: Mapping[str, bytes]) -> str:
    """Return the list; a photo that could not be read stands in it without a file."""
    target = io.StringIO()
    writer = csv.writer(target)
    writer.writerow(order.head)
    for one in order.photos:
        file = one.file if one.file in drawn else ""
        digests = (one.photo.original, one.photo.digest)
        writer.writerow((file, one.caption, one.leak, one.photo.taken, *digests))
    return target.getvalue()


def _write_all(folder: Path, files: Mapping[str, bytes]) -> tuple[Path, ...]:
    from deskapp.archive.problems import JobFileProblem
    from deskapp.archive.safe_write import write_problem, write_whole

    new: list[Path] = []
    try:
        if folder.exists() and not folder.is_dir():
            raise NotADirectoryError(errno.ENOTDIR, os.strerror(errno.ENOTDIR), str(folder))
        folder.mkdir(parents=True, exist_ok=True)
        for name, data in files.items():
            path = folder / name
            was_there = path.exists()
            write_whole(path, data)
            if not was_there:
                new.append(path)
    except (OSError, JobFileProblem) as error:
        for path in new:
            with contextlib.suppress(OSError):
                path.unlink()
        told = write_problem(folder, error) if isinstance(error, OSError) else error
        raise PhotoExportProblem("write", told.text) from error
    return tuple(folder / name for name in files)
