"""Runs the recovery copies of the open job: a clock here, the writing in another thread."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal

from deskapp.i18n import N_
from deskapp.session.autosave import PAUSE, Autosave, CopyOrder
from deskapp.ui.tasks import Dispatcher

if TYPE_CHECKING:
    from pathlib import Path

    from deskapp.session.editor import Editor
    from deskapp.session.opening import JobFileProblem
    from deskapp.session.recovery import RecoveryCopy


class Autosaver(QObject):
    """Keeps a recovery copy of one open job at a time.

    Signals: `failed` with what says why no copy could be written, `worked` after each one that was.
    """

    failed = Signal(object)
    worked = Signal()

    def __init__(self, root: Path, parent: QObject | None = None, pause: float = PAUSE) -> None:
        """Keep copies below `root`, `pause` seconds after a change."""
        super().__init__(parent)
        self._saver = Autosave(root, pause=pause)
        self._order: CopyOrder | None = None
        self._clock = QTimer(self)
        self._clock.setSingleShot(True)
        self._clock.timeout.connect(self._write)
        self._dispatcher = Dispatcher(N_("Writing a recovery copy"), self)
        self._dispatcher.done.connect(self._on_done)
        self._dispatcher.broken.connect(self._on_broken)

    def follow(self, editor: Editor, replaced: RecoveryCopy | None = None) -> None:
        """Turn to another job; `replaced` is the copy it was brought back from."""
        self._saver.follow(editor, replaced)
        editor.listen(self._set_clock)
        self._set_clock()

    def end(self) -> None:
        """The job was closed in good order: its copy goes."""
        self._saver.end()
        self._clock.stop()

    def write_now(self) -> bool:
        """Write what is in no copy yet, at once; say whether all changes are in one now."""
        self._saver.hurry()
        self._clock.stop()
        self._write_here()
        return self._saver.is_all_kept

    def _write_here(self) -> None:
        from deskapp.session.opening import JobFileProblem

        order = self._saver.order()
        if order is None:
            return
        outcome: RecoveryCopy | JobFileProblem | None
        try:
            outcome = order.run()
        except JobFileProblem as problem:
            outcome = problem
        self._saver.done(order, outcome)
        self._set_clock()

    def _set_clock(self) -> None:
        due = self._saver.due_in()
        if due is None:
            self._clock.stop()
        elif not self._clock.isActive() and not self._dispatcher.is_busy:
            self._clock.start(int(due * 1000))

    def _write(self) -> None:
        if self._dispatcher.is_busy:
            return
        order = self._saver.order()
        if order is not None:
            self._order = order
            self._dispatcher.start(order.run)

    def _on_done(self, copy: RecoveryCopy | None) -> None:
        self._finish(copy)
        self.worked.emit()

    def _on_broken(self, error: Exception) -> None:
        from deskapp.session.opening import JobFileProblem

        if not isinstance(error, JobFileProblem):
            raise error
        self._finish(error)
        if self._saver.problem is not None:
            self.failed.emit(lambda: error.text)

    def _finish(self, outcome: RecoveryCopy | JobFileProblem | None) -> None:
        order, self._order = self._order, None
        if order is not None:
            self._saver.done(order, outcome)
        self._set_clock()
