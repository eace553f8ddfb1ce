"""Who holds the file of an open job, and what is told of a file that is open elsewhere."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.archive.file_hold import InUse as InUse
from deskapp.i18n import _

if TYPE_CHECKING:
    from pathlib import Path

    from deskapp.archive.file_hold import Hold
    from deskapp.session.editor import Editor


def let_go(editor: Editor) -> None:
    """Tell others that the job is no longer open here."""
    held, editor.hold = editor.hold, None
    if held is not None:
        held.release()


def held_by(path: Path, mine: Hold | None, *, take_over: bool) -> tuple[Hold | None, bool]:
    """Return what holds the file at `path`, if anything can, and whether it does so only now.

    `mine` is what this window holds already.
    """
    from deskapp.archive.file_hold import hold, lock_path_of

    lock_path = lock_path_of(path)
    if mine is not None and mine.lock_path == lock_path:
        return mine, False
    try:
        return hold(lock_path, take_over=take_over), True
    except OSError:
        return None, True


def in_use_words(path: Path, taken: InUse) -> str:
    """Say who has the job at `path` open, and since when."""
    from deskapp.units.display import in_sentences

    holder = taken.holder
    if holder is None:
        return _("{file} is open in another window.").format(file=path.name)
    words = _("{file} is open on the computer {host}, by {user}, since {time}.")
    return words.format(
        file=path.name,
        host=holder.host or _("unknown"),
        user=holder.user or _("unknown"),
        time=in_sentences().moment(holder.since.isoformat()),
    )
