"""Holding a file while it is open, so that a second window or computer learns who has it.

Beside the file lies a small lock file that names the holder, and the system holds a lock on it for
this process. That lock ends with the process, however it ends; a lock file that is found without
it was left behind, and is taken over.
"""

from __future__ import annotations

import contextlib
import errno
import getpass
import json
import os
import platform
import sys
from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path
from typing import Any, cast

_TRIES = 20
_BEYOND_TEXT = 1 << 20
_MOST_TEXT = 4096
_HELD_BY_OTHERS = (errno.EACCES, errno.EAGAIN, errno.EWOULDBLOCK, errno.EDEADLK)


@dataclass(frozen=True, slots=True)
class Holder:
    """Who holds a file: computer, user, process number, and since when (local time)."""

    host: str
    user: str
    process: int
    since: datetime


class InUse(Exception):  # noqa: N818 - it is told to a person, not an error
    """A file is held elsewhere.

    `holder` is None where the lock file could not be read. `is_certain` tells that the holder is
    running now; of another computer that can not always be known.
    """

    def __init__(self, holder: Holder | None, *, is_certain: bool) -> None:
        super().__init__(str(holder))
        self.holder = holder
        self.is_certain = is_certain


class Hold:
    """A file held by this process until it is let go, or until the process ends."""

    def __init__(self, lock_path: Path, handle: int) -> None:
        self.lock_path = lock_path
        self._handle: int | None = handle

    def release(self) -> None:
        """Let the file go and take the lock file away. A second call does nothing."""
        handle, self._handle = self._handle, None
        if handle is None:
            return
        with contextlib.suppress(OSError):
            os.ftruncate(handle, 0)
        if sys.platform != "win32":  # there an open file cannot be taken away
            _remove(self.lock_path)
        os.close(handle)
        if sys.platform == "win32":
            _remove(self.lock_path)


def lock_path_of(path: Path) -> Path:
    """Return where the lock file of the file at `path` lies; a link is followed."""
    real = Path(os.path.realpath(path))
    return real.with_name(f".{real.name}.lock")


def hold(lock_path: Path, *, take_over: bool = False) -> Hold:
    """Hold a file by its lock file.

    Args:
        lock_path: the lock file, made if it is not there.
        take_over: take the file also where another computer holds it, whether or not it still
            runs; a holder on this computer that runs keeps it.

    Raises InUse if it is held elsewhere, and OSError if no lock file can be written there.
    """
    for _turn in range(_TRIES):
        handle = os.open(lock_path, os.O_RDWR | os.O_CREAT | getattr(os, "O_BINARY", 0), 0o666)
        try:
            before = _holder_in(handle)
            if not _lock(handle):
                raise InUse(before, is_certain=True)
            if not _is_at(lock_path, handle):  # let go and taken away while we looked
                os.close(handle)
                continue
            if before is not None and before.host != platform.node() and not take_over:
                raise InUse(before, is_certain=False)
            _write(handle, _ourselves())
        except BaseException:
            with contextlib.suppress(OSError):
                os.close(handle)
            raise
        return Hold(lock_path, handle)
    raise InUse(None, is_certain=False)


def _ourselves() -> Holder:
    try:
        user = getpass.getuser()
    except (KeyError, ImportError, OSError):
        user = ""
    return Holder(platform.node(), user, os.getpid(), datetime.now().replace(microsecond=0))


def _write(handle: int, holder: Holder) -> None:
    text = json.dumps({**asdict(holder), "since": holder.since.isoformat()})
    os.ftruncate(handle, 0)
    os.lseek(handle, 0, os.SEEK_SET)
    os.write(handle, text.encode("utf-8"))


def _holder_in(handle: int) -> Holder | None:
    try:
        os.lseek(handle, 0, os.SEEK_SET)
        data: Any = json.loads(os.read(handle, _MOST_TEXT).decode("utf-8"))
        fields = cast("dict[str, Any]", data)
        since = datetime.fromisoformat(fields["since"])
        return Holder(str(fields["host"]), str(fields["user"]), int(fields["process"]), since)
    except (OSError, ValueError, KeyError, TypeError):
        return None


def _is_at(path: Path, handle: int) -> bool:
    try:
        return os.path.samestat(path.stat(), os.fstat(handle))
    except OSError:
        return False


def _remove(path: Path) -> None:
    with contextlib.suppress(OSError):
        path.unlink()


if sys.platform == "win32":
    import msvcrt

    def _lock(handle: int) -> bool:
        """Have the system lock the file; return whether nobody else had."""
        try:
            os.lseek(handle, _BEYOND_TEXT, os.SEEK_SET)
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError as error:
            return error.errno not in _HELD_BY_OTHERS
        return True
else:
    import fcntl

    def _lock(handle: int) -> bool:
        """Have the system lock the file; return whether nobody else had.

        Where the file system knows no locks, the text in the lock file has to do.
        """
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError as error:
            return error.errno not in _HELD_BY_OTHERS
        return True
