"""Recovery copies: what was not saved yet, kept beside nothing of the user's.

Each open job with unsaved changes has one folder: ``job.json`` and ``photos/`` like any job that
is kept as a folder, ``about.json`` with what it is a copy of, and a lock file held by the process
that writes it. A folder that nobody holds was left by a program that did not end as it should.
"""

from __future__ import annotations

import contextlib
import os
import secrets
import shutil
import threading
import time
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from pydantic import ValidationError

from deskapp.archive.container import JOB_NAME, PHOTO_FOLDER
from deskapp.archive.envelope import text_of
from deskapp.archive.file_hold import Hold, InUse, hold
from deskapp.archive.job_file import JobFile, picture_name
from deskapp.archive.job_file import read as read_job
from deskapp.archive.safe_write import write_problem, write_whole
from deskapp.domain.base import Frozen

if TYPE_CHECKING:
    from collections.abc import Mapping

    from deskapp.domain.job import Job

ASIDE = "set-aside"
MOST_TRIES = 2
KEPT_ASIDE_DAYS = 30
"""How long a copy that was not wanted, or could not be read, is kept all the same. House rule."""

_ABOUT = "about.json"
_LOCK = "lock"


class About(Frozen):
    """What a copy is of: the job's file (empty: none yet), its content then, name, when written.

    `tries` counts attempts to bring it back that did not come to an end.
    """

    path: str = ""
    digest: str = ""
    name: str = ""
    written: datetime = datetime.min
    tries: int = 0


class RecoveryCopy:
    """One copy, held by this process. It may be written and removed from different threads."""

    def __init__(self, folder: Path, held: Hold) -> None:
        self.folder = folder
        self._hold = held
        self._guard = threading.Lock()
        self._is_gone = False

    @property
    def about(self) -> About:
        """What it is a copy of; nothing known where that cannot be read."""
        try:
            return About.model_validate_json((self.folder / _ABOUT).read_bytes())
        except (OSError, ValidationError, ValueError):
            return About()

    def read(self) -> JobFile:
        """Read the job in it. Raises JobFileProblem."""
        return read_job(self.folder)

    def write(self, job: Job, photos: Mapping[str, bytes], about: About) -> None:
        """Write the job as it stands; a picture that is there already is not written again.

        Raises JobFileProblem; the copy written before is then as it was. Nothing is written once
        the copy was removed.
        """
        with self._guard:
            if self._is_gone:
                return
            try:
                self._write(job, photos, about)
            except OSError as error:
                raise write_problem(self.folder, error) from error

    def note_tries(self, tries: int) -> None:
        """Remember how often it was tried to bring this copy back. Raises JobFileProblem."""
        if self._is_gone:
            return
        self._tell(self.about.model_copy(update={"tries": tries}))

    def remove(self) -> None:
        """Take the copy away: everything in it is saved, or was given up."""
        with self._guard:
            self._is_gone = True
            with contextlib.suppress(OSError):
                (self.folder / JOB_NAME).unlink()
            self._hold.release()
            shutil.rmtree(self.folder, ignore_errors=True)

    def set_aside(self) -> None:
        """Keep the copy, but offer it no more."""
        with self._guard:
            self._is_gone = True
            self._hold.release()
            aside = self.folder.parent / ASIDE
            with contextlib.suppress(OSError):
                aside.mkdir(exist_ok=True)
                os.utime(self.folder)
                self.folder.replace(aside / self.folder.name)

    def let_go(self) -> None:
        """Leave the copy where it is, to be offered again."""
        with self._guard:
            self._is_gone = True
            self._hold.release()

    def _write(self, job: Job, photos: Mapping[str, bytes], about: About) -> None:
        pictures = self.folder / PHOTO_FOLDER
        for digest in job.photo_digests & photos.keys():
            pictures.mkdir(exist_ok=True)
            path = pictures / picture_name(digest, photos[digest])
            if not path.exists():
                write_whole(path, photos[digest])
        self._tell(about)
        write_whole(self.folder / JOB_NAME, text_of(job))

    def _tell(self, about: About) -> None:
        write_whole(self.folder / _ABOUT, about.model_dump_json().encode("utf-8"))


def begin_copy(root: Path) -> RecoveryCopy:
    """Make room for a new copy below `root`. Raises JobFileProblem."""
    folder = root / secrets.token_hex(8)
    try:
        folder.mkdir(parents=True)
        return RecoveryCopy(folder, hold(folder / _LOCK))
    except OSError as error:
        raise write_problem(folder, error) from error


def left_behind(root: Path) -> tuple[RecoveryCopy, ...]:
    """Return the copies nobody holds any more, newest first; they are held from now on.

    Folders without a job in them are taken away, and so is what was set aside long ago.
    """
    _sweep(root / ASIDE)
    found: list[tuple[datetime, RecoveryCopy]] = []
    for folder in _folders(root):
        if folder.name == ASIDE:
            continue
        try:
            copy = RecoveryCopy(folder, hold(folder / _LOCK))
        except (InUse, OSError):
            continue
        if (folder / JOB_NAME).is_file():
            found.append((copy.about.written, copy))
        else:
            copy.remove()
    return tuple(copy for _written, copy in sorted(found, key=lambda one: one[0], reverse=True))


def _folders(root: Path) -> list[Path]:
    try:
        return [entry for entry in root.iterdir() if entry.is_dir()]
    except OSError:
        return []


def _sweep(aside: Path) -> None:
    oldest = time.time() - KEPT_ASIDE_DAYS * 86_400
    for folder in _folders(aside):
        with contextlib.suppress(OSError):
            if folder.stat().st_mtime < oldest:
                shutil.rmtree(folder, ignore_errors=True)
