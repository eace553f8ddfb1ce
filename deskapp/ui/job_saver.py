"""Writes the job at hand into its file, and says what keeps it from being written."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTime, Signal

from deskapp.i18n import N_, _
from deskapp.ui.dialogs.boxes import ask_about
from deskapp.ui.dialogs.files import ask_where_to_save
from deskapp.ui.progress import ProgressLine, Undertaking
from deskapp.ui.theme import GRID

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from PySide6.QtWidgets import QWidget

    from deskapp.session.editor import Editor
    from deskapp.session.long_work import LongWork
    from deskapp.session.opening import JobFileProblem
    from deskapp.session.saving import Saved, SaveOrder
    from deskapp.ui.desk import Desk

    Next = Callable[[], object]


class JobSaver(QObject):
    """Writes one job at a time in another thread; what is asked for meanwhile waits.

    Signals: `saved` with the time of day, `not_saved` with what says why not, and what can be done.
    """

    saved = Signal(str)
    not_saved = Signal(object, object)

    def __init__(self, window: QWidget, desk: Desk, leave: Callable[[Next], None]) -> None:
        """`leave` does what comes after, and asks where something was changed meanwhile."""
        super().__init__(window)
        self._window = window
        self._desk = desk
        self._leave = leave
        self._editor: Editor | None = None
        self.saving = Undertaking(N_("Saving the job"), self)
        self.saving.done.connect(self._on_written)
        self.saving.broken.connect(self._on_not_written)
        self._tried: tuple[Path | None, Next | None] = (None, None)
        self._waiting: list[Next] = []

    def follow(self, editor: Editor) -> None:
        """Turn to another job."""
        self._editor = editor

    def line(self) -> ProgressLine:
        """Return what tells that the job is being written, where that takes more than a moment."""
        line = ProgressLine(self.saving, "{name}")
        line.cancel.hide()
        line.setContentsMargins(3 * GRID, GRID, 3 * GRID, GRID)
        return line

    def afterwards(self, wish: Next) -> None:
        """Do `wish` once the job is written; it is forgotten where that does not work."""
        self._waiting.append(wish)

    def save(self, then: Next | None = None) -> None:
        """Write the job into its file, or ask for one; go on with `then` once it is written."""
        if self._editor is None:
            return
        if self._editor.path is None and not self.saving.is_busy:
            self.save_as(then)
        else:  # a job that is being written has its file soon
            self._write(None, then)

    def save_as(self, then: Next | None = None) -> None:
        """Ask for a file and write the job into it; go on with `then` once it is written."""
        if self._editor is None:
            return
        from deskapp.session.opening import EXTENSION

        name = f"{_proposed_name(self._editor)}{EXTENSION}"
        proposed = self._editor.path or self._desk.place_for_jobs() / name
        title = _("Save the job")

        def write(path: Path) -> None:
            self._write(path, then)

        ask_where_to_save(self._window, title, proposed, _("Jobs"), write)

    def _write(self, path: Path | None, then: Next | None, *, over: bool = False) -> None:
        """Have the job written as it stands now; what is typed meanwhile counts as unsaved."""
        from deskapp.session.opening import JobFileProblem

        editor = self._editor
        if editor is None:
            return
        if self.saving.is_busy:
            self.afterwards(partial(self._write_again, editor, path, then, over=over))
            return
        self._tried = (path, then)
        try:
            order = self._desk.order_save(editor, path, over=over)
        except JobFileProblem as problem:
            self._tell(problem, path, then)
            return
        self.saving.start(partial(_carry_out, order))

    def _write_again(
        self, editor: Editor, path: Path | None, then: Next | None, *, over: bool
    ) -> None:
        """Do what waited for an earlier writing, if there is still something to write."""
        if editor is not self._editor:
            return
        if path is None and not editor.is_dirty:
            self._go_on(then)
        else:
            self._write(path, then, over=over)

    def _on_written(self, saved: Saved) -> None:
        if self._editor is None:
            return
        _path, then = self._tried
        self._desk.take_saved(self._editor, saved)
        now = QTime.currentTime().toString("HH:mm")
        self.saved.emit(now)
        self._go_on(then)
        waiting, self._waiting = self._waiting, []
        for wish in waiting:
            wish()

    def _on_not_written(self, error: Exception) -> None:
        from deskapp.session.opening import JobFileProblem

        path, then = self._tried
        self._waiting.clear()
        if not isinstance(error, JobFileProblem):
            raise error
        self._tell(error, path, then)

    def _go_on(self, then: Next | None) -> None:
        """Go on with `then`, unless something was changed while the job was being written."""
        if then is not None:
            self._leave(then)

    def _tell(self, problem: JobFileProblem, path: Path | None, then: Next | None) -> None:
        def save_as() -> None:
            self.save_as(then)

        def try_again() -> None:
            self._write(path, then)

        def write_over() -> None:
            self._write(path, then, over=True)

        if problem.code == "changed-outside":
            ways = {_("Save as another file…"): save_as, _("Save over it"): write_over}
            ask_about(self._window, _("The file has changed meanwhile"), problem.text, ways)
            return
        self.not_saved.emit(
            lambda: _("The job is not saved yet. {why}").format(why=problem.text),
            lambda: {_("Save as…"): save_as, _("Try again"): try_again},
        )


def _carry_out(order: SaveOrder, work: LongWork) -> Saved:
    work.step(1, 1, _("writing {file}").format(file=order.target.name))
    work.settle()
    return order.run()


def _proposed_name(editor: Editor) -> str:
    kept = "".join(c if c.isalnum() or c in " -_" else "-" for c in job_name(editor))
    return kept.strip() or "job"


def job_name(editor: Editor) -> str:
    """Return what a job is called: its number and name, or that it is new."""
    job = editor.job
    parts = (part.strip() for part in (job.number, job.title))
    return " ".join(part for part in parts if part) or _("New job")
