"""What is written into the file of a job, and what keeps it from being written.

Files that cannot be written raise `JobFileProblem`, which tells a person why.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from deskapp.archive.container import EXTENSION
from deskapp.archive.problems import JobFileProblem
from deskapp.i18n import _
from deskapp.session.holding import InUse, held_by, in_use_words, let_go

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from deskapp.archive.file_hold import Hold
    from deskapp.domain.job import Job
    from deskapp.session.editor import Editor


@dataclass(frozen=True, slots=True)
class SaveOrder:
    """A job to be written as it stands now, whatever becomes of it meanwhile.

    `stamp` is the digest its file must still have; empty where anything is written over. `hold` is
    what holds the file of the job at hand.
    """

    job: Job
    photos: Mapping[str, bytes]
    target: Path
    stamp: str
    hold: Hold | None

    def run(self) -> Saved:
        """Write the file, in any thread. Raises JobFileProblem; then nothing has changed.

        The code of the problem is ``changed-outside`` for a file that something else changed, and
        ``in-use`` for one that is open elsewhere.
        """
        from deskapp.archive import job_file

        if self.stamp:
            _see_whether_changed(self.target, self.stamp)
        try:
            held, is_new = held_by(self.target, self.hold, take_over=False)
        except InUse as taken:
            why = partial(in_use_words, self.target, taken)
            raise JobFileProblem("in-use", why) from taken
        try:
            stamp = job_file.write(self.target, self.job, self.photos)
        except BaseException:
            if held is not None and is_new:
                held.release()
            raise
        return Saved(self.job, self.target, stamp, held, is_new)


@dataclass(frozen=True, slots=True)
class Saved:
    """A job that was written: as it was then, where, the digest of the file, and what holds it."""

    job: Job
    path: Path
    stamp: str
    hold: Hold | None
    is_new: bool


def order_save(editor: Editor, path: Path | None = None, *, over: bool = False) -> SaveOrder:
    """Take down what is to be written into the file at `path`, or the one the job came from.

    The ending of job files is added if it is missing. A job may be saved however unfinished it is.
    A file that was changed by something else since it was opened is written over only with `over`.
    Raises JobFileProblem where there is no file yet.
    """
    if path is None:
        path = editor.path
    if path is None:
        raise JobFileProblem("no-name", _("This job has no file yet. Choose a name for it first."))
    target = path if path.suffix.lower() == EXTENSION else path.with_name(path.name + EXTENSION)
    editor.end_step()
    stamp = "" if over or target != editor.path else editor.stamp
    return SaveOrder(editor.job, editor.photos, target, stamp, editor.hold)


def take_saved(editor: Editor, saved: Saved) -> Path:
    """Let a job know that it was written; what changed since counts as unsaved. Return the path."""
    if saved.is_new:
        let_go(editor)
    editor.hold = saved.hold
    editor.mark_saved(saved.path, saved.stamp, saved.job)
    return saved.path


def save(editor: Editor, *, over: bool = False) -> Path:
    """Write the job into the file it came from, and wait for it. Raises JobFileProblem."""
    return take_saved(editor, order_save(editor, over=over).run())


def save_as(editor: Editor, path: Path, *, over: bool = False) -> Path:
    """Write the job into the file at `path`, wait for it and return the path used.

    Raises JobFileProblem; the job then counts as unsaved, as before.
    """
    return take_saved(editor, order_save(editor, path, over=over).run())


def _see_whether_changed(path: Path, stamp: str) -> None:
    from deskapp.archive import job_file

    now = job_file.digest_of(path)
    if now and now != stamp:
        words = _(
            "{file} was changed by something else after it was opened here. Saving over it "
            "loses that change; saving under another name keeps both."
        )
        raise JobFileProblem("changed-outside", words.format(file=path.name))
