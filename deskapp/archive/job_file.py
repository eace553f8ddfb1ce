"""Reading and writing jobs.

A job file (``.ductjob``) is a zip with ``job.json`` and ``photos/<digest>.jpg`` or ``.png``; where
the person asked for it, the files as the camera wrote them stand in ``originals/<digest>``. The
same job always gives the same bytes. A folder with the same content, or its JSON file alone, is
read as well.
"""

from __future__ import annotations

import hashlib
import io
import re
import zipfile
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import TypeVar

from deskapp.archive.container import (
    CANNOT_UNPACK,
    JOB_NAME,
    MOST_JOB_BYTES,
    MOST_TOTAL_BYTES,
    ORIGINAL_FOLDER,
    PHOTO_FOLDER,
    FolderSource,
    Source,
    ZipSource,
    damaged_file,
    read_problem,
)
from deskapp.archive.envelope import job_from_text, text_of
from deskapp.archive.problems import JobFileProblem as JobFileProblem
from deskapp.archive.safe_write import write_whole
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.leak import Photo
from deskapp.i18n import _

_DIGEST = re.compile(r"[0-9a-f]{64}")
_PICTURE_ENDINGS = (".jpg", ".png")
_ROOM_FOR_PICTURES = MOST_TOTAL_BYTES - MOST_JOB_BYTES
_FIXED_TIME = (1980, 1, 1, 0, 0, 0)
_PLAIN_FILE = 0o100644 << 16
_UNIX = 3

Held = TypeVar("Held")


@dataclass(frozen=True, slots=True)
class JobFile:
    """A job as it was read: its pictures by digest, and remarks on what could not be read."""

    job: Job
    photos: Mapping[str, bytes] = field(default_factory=dict[str, bytes])
    notices: tuple[Finding, ...] = ()


def read(path: Path) -> JobFile:
    """Read a job file, a folder that holds ``job.json``, or a ``.json`` file.

    A picture that is missing or was changed does not keep the job from opening; it earns a notice.
    Raises JobFileProblem in plain words for everything else.
    """
    return _opened(path, _read_source)


def read_job(path: Path) -> Job:
    """Read the job alone, without its pictures. Raises JobFileProblem."""
    return _opened(path, lambda source, name: job_from_text(source.job_text(), name))


def _opened(path: Path, read_it: Callable[[Source, str], Held]) -> Held:
    try:
        if path.is_dir():
            return read_it(*_in_folder(path))
        if path.suffix.lower() == ".json":
            return read_it(FolderSource(path), path.name)
        try:
            archive = zipfile.ZipFile(path)
        except CANNOT_UNPACK as error:
            raise damaged_file(path.name) from error
        with archive:
            return read_it(ZipSource(path.name, archive), path.name)
    except OSError as error:
        raise read_problem(path, error) from error


def write(path: Path, job: Job, photos: Mapping[str, bytes]) -> str:
    """Write a job file at `path` in one step; an older file stays until the new one is whole.

    Only pictures that the job refers to are written. Returns the digest of the file's content.
    Raises JobFileProblem in plain words.
    """
    data = packed(job, photos)
    write_whole(path, data)
    return hashlib.sha256(data).hexdigest()


def digest_of(path: Path) -> str:
    """Return the digest of a file's content as it is now; empty if it cannot be read."""
    try:
        with path.open("rb") as stream:
            return hashlib.file_digest(stream, "sha256").hexdigest()
    except OSError:
        return ""


def packed(job: Job, photos: Mapping[str, bytes]) -> bytes:
    """Return the bytes of the job file: always the same for the same job and pictures.

    Raises JobFileProblem where it would hold more than can be read again.
    """
    if sum(len(photos.get(digest, b"")) for digest in job.photo_digests) > _ROOM_FOR_PICTURES:
        raise JobFileProblem(
            "too-large",
            lambda: _(
                "The pictures of this job have more than {most} MB together, more than a job file "
                "takes. Remove some of them, most of all those kept with their original files."
            ).format(most=_ROOM_FOR_PICTURES // 1_000_000),
        )
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w") as archive:
        archive.writestr(_entry(JOB_NAME, zipfile.ZIP_DEFLATED), text_of(job))
        stored = {photo.digest for _path, photo in job.pictures()}
        for digest in sorted(stored & photos.keys()):
            name = f"{PHOTO_FOLDER}/{picture_name(digest, photos[digest])}"
            archive.writestr(_entry(name, zipfile.ZIP_STORED), photos[digest])
        for digest in sorted((job.photo_digests - stored) & photos.keys()):
            name = f"{ORIGINAL_FOLDER}/{digest}"
            archive.writestr(_entry(name, zipfile.ZIP_STORED), photos[digest])
    return buffer.getvalue()


def _entry(name: str, compression: int) -> zipfile.ZipInfo:
    entry = zipfile.ZipInfo(name, _FIXED_TIME)
    entry.compress_type = compression
    entry.create_system = _UNIX
    entry.external_attr = _PLAIN_FILE
    return entry


def picture_name(digest: str, data: bytes) -> str:
    """Return the file name a picture is stored under."""
    return digest + (".png" if data.startswith(b"\x89PNG") else ".jpg")


def _in_folder(folder: Path) -> tuple[FolderSource, str]:
    job_path = folder / JOB_NAME
    if not job_path.is_file():
        raise JobFileProblem(
            "not-a-job",
            _("The folder {folder} holds no job: there is no {inside} in it.").format(
                folder=folder, inside=JOB_NAME
            ),
        )
    return FolderSource(job_path), f"{folder.name}/{JOB_NAME}"


def _read_source(source: Source, name: str) -> JobFile:
    job = job_from_text(source.job_text(), name)
    photos: dict[str, bytes] = {}
    notices: list[Finding] = []
    for path, photo in job.pictures():
        for digest in photo.digests:
            data = _stored(source, digest)
            if data is None:
                notices.append(_missing(path, photo, digest))
            elif hashlib.sha256(data).hexdigest() != digest:
                notices.append(_changed(path, photo, digest))
            else:
                photos[digest] = data
    return JobFile(job, photos, tuple(notices))


def told_anew(notice: Finding, path: str, photo: Photo) -> Finding:
    """Return what was remarked about a picture when it was read, in the language in use now."""
    again = (
        remark(path, photo, digest) for digest in photo.digests for remark in (_missing, _changed)
    )
    return next((one for one in again if one.code == notice.code), notice)


def _stored(source: Source, digest: str) -> bytes | None:
    if not _DIGEST.fullmatch(digest):
        return None
    places = (
        *(f"{PHOTO_FOLDER}/{digest}{ending}" for ending in _PICTURE_ENDINGS),
        f"{ORIGINAL_FOLDER}/{digest}",
    )
    found = (source.photo(place) for place in places)
    return next((data for data in found if data is not None), None)


def _missing(path: str, photo: Photo, digest: str) -> Finding:
    if digest != photo.digest:
        return Finding(
            level=Level.CHECK,
            code="original-missing",
            path=path,
            what=_("The original file of the picture {name} is not in the file.").format(
                name=_name(photo)
            ),
            allowed=_("The picture itself is there."),
            mend=_("Attach the picture again if the original is needed."),
        )
    return Finding(
        level=Level.CHECK,
        code="photo-missing",
        path=path,
        what=_("The picture {name} is not in the file.").format(name=_name(photo)),
        allowed=_("The rest of the job is whole."),
        mend=_("Attach the picture again, or remove it from the list."),
    )


def _changed(path: str, photo: Photo, digest: str) -> Finding:
    what = _("The picture {name} was changed outside Ductfolio and is left out.")
    if digest != photo.digest:
        what = _("The original of {name} was changed outside Ductfolio and is left out.")
    return Finding(
        level=Level.CHECK,
        code="photo-changed" if digest == photo.digest else "original-changed",
        path=path,
        what=what.format(name=_name(photo)),
        allowed=_("A stored picture must stay as it was when it was attached."),
        mend=_(
            "Attach the picture again. Saving drops the changed one: "
            "keep a copy of the job file if you want it."
        ),
    )


def _name(photo: Photo) -> str:
    return photo.name or photo.caption or photo.digest[:12]
