"""The three places a job is read from: a job file (zip), a folder, and a plain JSON file."""

from __future__ import annotations

import errno
import struct
import zipfile
import zlib
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

from deskapp.archive.problems import JobFileProblem
from deskapp.i18n import _

EXTENSION = ".ductjob"
"""How the names of job files end."""
JOB_NAME = "job.json"
PHOTO_FOLDER = "photos"
ORIGINAL_FOLDER = "originals"

MOST_JOB_BYTES = 20_000_000
MOST_PHOTO_BYTES = 100_000_000
MOST_TOTAL_BYTES = 1_000_000_000
MOST_ENTRIES = 5_000

CANNOT_UNPACK = (
    zipfile.BadZipFile,
    zlib.error,
    EOFError,
    RuntimeError,
    NotImplementedError,
    ValueError,
    struct.error,
)
"""What the zip library raises for files that are not whole, locked, or packed in other ways."""


class Source(Protocol):
    """A place that holds the text of a job and, beside it, its pictures."""

    def job_text(self) -> bytes:
        """Return the text of the job; raises JobFileProblem."""
        ...

    def photo(self, name: str) -> bytes | None:
        """Return the picture at this place (``photos/...``), or None if none can be read there."""
        ...


@dataclass(frozen=True, slots=True)
class FolderSource:
    """A JSON file with a folder of pictures beside it."""

    job_path: Path

    def job_text(self) -> bytes:
        """Return the text of the JSON file."""
        size = self.job_path.stat().st_size
        if size > MOST_JOB_BYTES:
            raise _too_large(self.job_path.name)
        return self.job_path.read_bytes()

    def photo(self, name: str) -> bytes | None:
        """Return a picture of a folder beside the JSON file."""
        path = self.job_path.parent / name
        try:
            return path.read_bytes() if path.stat().st_size <= MOST_PHOTO_BYTES else None
        except OSError:
            return None


@dataclass(frozen=True, slots=True)
class ZipSource:
    """An open job file."""

    name: str
    archive: zipfile.ZipFile

    def job_text(self) -> bytes:
        """Return the text of the job inside."""
        entries = self.archive.infolist()
        total = sum(entry.file_size for entry in entries)
        if len(entries) > MOST_ENTRIES or total > MOST_TOTAL_BYTES:
            raise _too_large(self.name)
        try:
            entry = self.archive.getinfo(JOB_NAME)
        except KeyError as error:
            raise JobFileProblem(
                "not-a-job",
                _("{name} is not a Ductfolio job: there is no {inside} in it.").format(
                    name=self.name, inside=JOB_NAME
                ),
            ) from error
        if entry.file_size > MOST_JOB_BYTES:
            raise _too_large(self.name)
        try:
            return self._unpack(entry)
        except CANNOT_UNPACK as error:
            raise damaged_file(self.name) from error

    def photo(self, name: str) -> bytes | None:
        """Return a picture inside."""
        try:
            entry = self.archive.getinfo(name)
            return self._unpack(entry) if entry.file_size <= MOST_PHOTO_BYTES else None
        except (KeyError, *CANNOT_UNPACK):
            return None

    def _unpack(self, entry: zipfile.ZipInfo) -> bytes:
        if entry.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
            raise zipfile.BadZipFile("only stored and deflated entries are read")
        try:
            with self.archive.open(entry) as stream:
                data = stream.read(entry.file_size + 1)
        except OSError as error:
            if error.errno == errno.EINVAL:
                raise zipfile.BadZipFile("an entry is said to stand before the file") from error
            raise
        if len(data) != entry.file_size:
            raise zipfile.BadZipFile("an entry has another size than it says")
        return data


def damaged_file(name: str) -> JobFileProblem:
    """Say that the packed file cannot be unpacked."""
    return JobFileProblem(
        "damaged",
        _(
            "{name} is damaged or is not a Ductfolio job file. Open an earlier copy of it, "
            "or copy it again from where it came. The file was not changed."
        ).format(name=name),
    )


def read_problem(path: Path, error: OSError) -> JobFileProblem:
    """Say in plain words why `path` could not be read."""
    if error.errno == errno.EINVAL:  # a packed file that points to a place before its own start
        return damaged_file(path.name)
    words = {
        errno.ENOENT: ("no-file", _("There is no file {path}.")),
        errno.EACCES: ("not-allowed", _("You may not read {path}.")),
        errno.EPERM: ("not-allowed", _("You may not read {path}.")),
    }
    code, sentence = words.get(error.errno or 0, ("read", _("{path} could not be read: {why}.")))
    why = error.strerror or str(error)
    return JobFileProblem(code, sentence.format(path=path, why=why))


def _too_large(name: str) -> JobFileProblem:
    return JobFileProblem(
        "too-large",
        _(
            "{name} unpacks to far more than a job can hold, so it was not opened. "
            "It is damaged or was not made by Ductfolio."
        ).format(name=name),
    )
