"""Writing a file so that either the old or the new one is there, never half of one."""

from __future__ import annotations

import contextlib
import errno
import os
import re
import secrets
import stat
import time
from pathlib import Path

from deskapp.archive.problems import JobFileProblem
from deskapp.i18n import N_, _

_REASONS = {
    errno.ENOSPC: ("disk-full", N_("The disk is full. Free some space or choose another disk.")),
    errno.EDQUOT: ("disk-full", N_("Your share of the disk is used up. Free some space.")),
    errno.EFBIG: ("disk-full", N_("The disk does not take a file of this size.")),
    errno.EACCES: ("read-only", N_("You may not write there. Choose another folder.")),
    errno.EPERM: ("read-only", N_("You may not write there. Choose another folder.")),
    errno.EROFS: ("read-only", N_("That disk is read-only. Choose another one.")),
    errno.ENOENT: ("no-folder", N_("That folder does not exist. Choose another one.")),
    errno.ENOTDIR: ("no-folder", N_("Part of that path is a file, not a folder.")),
    errno.EISDIR: ("is-folder", N_("A folder has that name. Choose another name.")),
    errno.ENAMETOOLONG: ("name", N_("That name is too long. Choose a shorter one.")),
}

_LEFT_OVER = re.compile(r"\.[0-9a-f]{16}\.part")
_OLD_ENOUGH = 3600.0
_OWNER_ONLY = 0o600


def write_whole(path: Path, data: bytes, *, private: bool = False) -> None:
    """Put `data` at `path` in one step, keeping the file mode of a file that is already there.

    With `private` nobody but its owner may read the file, at no moment.

    The bytes go to a new file in the same folder, are forced to the disk and then take the place
    of the old file. A link is followed. Raises JobFileProblem in plain words; the old file is then
    as it was and no temporary file is left.
    """
    try:
        target = Path(os.path.realpath(path))
        if target.is_dir():
            raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(target))
        if target.exists() and not os.access(target, os.W_OK):
            raise _protected(path)
        _replace(target, data, private=private)
    except OSError as error:
        raise write_problem(path, error) from error


def _protected(path: Path) -> JobFileProblem:
    return JobFileProblem(
        "read-only",
        lambda: _(
            "{path} could not be written: the file there is protected. "
            "Choose another name, or lift the protection."
        ).format(path=path),
    )


def write_problem(path: Path, error: OSError) -> JobFileProblem:
    """Say in plain words why `path` could not be written."""
    code, reason = _REASONS.get(error.errno or 0, ("write", ""))
    if error.errno == errno.ENOENT and path.parent.is_dir():
        # The folder is there: it is the system's own, such as /proc, and holds no files of people.
        code, reason = "no-files", N_("No file can be made in that folder. Choose another one.")
    why = error.strerror or error

    def told() -> str:
        words = _(reason) if reason else f"{why}."
        return _("{path} could not be written. {words}").format(path=path, words=words)

    return JobFileProblem(code, told)


def _replace(target: Path, data: bytes, *, private: bool) -> None:
    _sweep(target.parent)
    temporary = target.with_name(f".{secrets.token_hex(8)}.part")
    try:
        with open(temporary, "xb", opener=_for_the_owner if private else None) as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        if not private:
            with contextlib.suppress(FileNotFoundError):
                temporary.chmod(stat.S_IMODE(target.stat().st_mode))
        temporary.replace(target)
    except BaseException:
        with contextlib.suppress(OSError):
            temporary.unlink()
        raise
    _settle_folder(target.parent)


def _for_the_owner(path: str, flags: int) -> int:
    return os.open(path, flags, _OWNER_ONLY)


def _sweep(folder: Path) -> None:
    """Take away what a program that was ended while writing left here an hour ago or earlier."""
    oldest = time.time() - _OLD_ENOUGH
    with contextlib.suppress(OSError):
        for entry in os.scandir(folder):
            if _LEFT_OVER.fullmatch(entry.name) and entry.stat().st_mtime < oldest:
                Path(entry).unlink()


def _settle_folder(folder: Path) -> None:
    """Force the new name to the disk, where the system can do that for a folder."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
