"""Jobs new or out of a file, and how one takes the place of another.

Files that cannot be read raise `JobFileProblem`, which tells a person why.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from deskapp.archive.container import EXTENSION as EXTENSION
from deskapp.archive.problems import JobFileProblem as JobFileProblem
from deskapp.i18n import _
from deskapp.session.editor import Editor
from deskapp.session.holding import held_by, let_go
from deskapp.session.long_work import LongWork

if TYPE_CHECKING:
    from pathlib import Path

    from deskapp.archive.file_hold import Hold
    from deskapp.domain.job import Job
    from deskapp.session.resources import Shelf
    from deskapp.session.settings import Preferences


def new_job(shelf: Shelf, preferences: Preferences, usual: Job | None = None) -> Editor:
    """Open a new job with one row in each list that every job needs, and the `usual` entries."""
    from deskapp.domain.job import Job

    sketch = Editor(Job(), shelf, preferences)
    for list_path in ("systems", "gauges", "fans", "fans.0.rings", "tests", "tests.0.readings"):
        sketch.add_row(list_path)
    if usual is not None:
        from deskapp.session.usual import start_with

        start_with(sketch, usual)
    return Editor(sketch.job, shelf, preferences)


def open_job(path: Path, shelf: Shelf, preferences: Preferences) -> Editor:
    """Open the job at `path`. Raises JobFileProblem.

    A folder or a bare ``.json`` opens as a copy without a file of its own, so that saving it asks
    for a name and never writes over something made by hand.
    """
    from deskapp.archive import job_file

    stamp = job_file.digest_of(path)
    read = job_file.read(path)
    own = path if path.suffix.lower() == EXTENSION and path.is_file() else None
    editor = Editor(read.job, shelf, preferences, read.photos, own, read.notices)
    editor.stamp = stamp
    return editor


def open_to_edit(
    path: Path,
    shelf: Shelf,
    preferences: Preferences,
    before: Editor | None = None,
    *,
    take_over: bool = False,
) -> Editor:
    """Open the job at `path` and hold its file, so that others learn it is in use.

    Args:
        path: the file.
        shelf: what it is judged and described by.
        preferences: units and styles.
        before: the job this one takes the place of; it hands over its hold on the same file.
        take_over: open it also where another computer seems to hold it.

    Raises JobFileProblem, and InUse if it is open elsewhere. Where no lock file can be written,
    as in a read-only folder, the job opens without one: nobody can save it there anyway.
    """
    mine = before.hold if before else None
    order = OpenOrder(path, shelf, preferences, mine, take_over)
    return take_opened(order.run(LongWork()), before)


@dataclass(frozen=True, slots=True)
class OpenOrder:
    """A job file to be opened in place of the job at hand; `mine` is what that one is held by."""

    path: Path
    shelf: Shelf
    preferences: Preferences
    mine: Hold | None = None
    take_over: bool = False

    def run(self, work: LongWork) -> Opened:
        """Read and check the job, in any thread.

        Raises JobFileProblem, InUse if it is open elsewhere, and GivenUp; nothing is held then
        that was not before.
        """
        held, is_new = None, False
        work.step(1, 1, _("Reading the job {file}").format(file=self.path.name))
        if self.path.suffix.lower() == EXTENSION:
            held, is_new = held_by(self.path, self.mine, take_over=self.take_over)
        try:
            editor = open_job(self.path, self.shelf, self.preferences)
            check_opened(editor, work)
        except BaseException:
            if held is not None and is_new:
                held.release()
            raise
        editor.hold = held
        return Opened(editor, is_new, self.path)


@dataclass(frozen=True, slots=True)
class Opened:
    """A job that was read: whether what holds its file does so only now, and the file it is."""

    editor: Editor
    is_new: bool = False
    path: Path | None = None

    def discard(self) -> None:
        """Let go of the job: nobody wants it any more."""
        if self.is_new:
            let_go(self.editor)


def check_opened(editor: Editor, work: LongWork) -> None:
    """Work out the results of a job that was read, so that showing it need not wait for them.

    Raises GivenUp where nobody waits for the job; from its end on, the job will be wanted.
    """
    work.step(1, 1, _("Checking the job {name}").format(name=editor.job.number))
    assert editor.findings is not None
    work.settle()


def take_opened(opened: Opened, before: Editor | None) -> Editor:
    """Let a job that was read take the place of `before`, and its hold on the same file.

    Raises InUse where `before` let go of that file meanwhile and somebody else was faster.
    """
    editor = opened.editor
    if editor.hold is not None and not opened.is_new:
        if before is not None and before.hold is editor.hold:
            before.hold = None
        elif editor.path is not None:
            editor.hold, _is_new = held_by(editor.path, None, take_over=False)
    return editor


def open_to_read(path: Path, shelf: Shelf, preferences: Preferences) -> Editor:
    """Open a copy of the job at `path` that has no file of its own. Raises JobFileProblem."""
    editor = open_job(path, shelf, preferences)
    editor.path = None
    return editor
