"""Work of more than a moment: named steps told in place, and a way to give it up."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt, QTimer, Signal
from PySide6.QtWidgets import QHBoxLayout, QProgressBar, QWidget

from deskapp.i18n import _
from deskapp.session.long_work import GivenUp, LongWork
from deskapp.ui.tasks import run_beside, told_here
from deskapp.ui.theme import GRID
from deskapp.ui.words import Command, Size, Words

if TYPE_CHECKING:
    from collections.abc import Callable

PATIENCE = 500
"""Milliseconds after which it is told how far the work is."""


class Working(QObject):
    """What a line can tell about: work with steps, which may be ended.

    Signals: `told` with number, count and name of the
    step, `busy_changed`.
    """

    told = Signal(int, int, str)
    busy_changed = Signal(bool)

    def __init__(self, name: str, parent: QObject | None = None) -> None:
        """Begin with nothing; `name` says what will be done, marked with `N_`."""
        super().__init__(parent)
        self._name = name
        self.last_told: tuple[int, int, str] | None = None
        self.told.connect(self._on_told)
        self.busy_changed.connect(self._forget)

    def _on_told(self, number: int, count: int, name: str) -> None:
        """Keep how far the work is, for a line that is opened in the middle of it."""
        self.last_told = number, count, name

    def _forget(self, _is_busy: bool) -> None:
        self.last_told = None

    @property
    def name(self) -> str:
        """What is done, in plain words."""
        return _(self._name)

    @property
    def is_busy(self) -> bool:
        """Whether somebody waits for the work."""
        raise NotImplementedError

    def end(self) -> object:
        """Give the work up."""
        raise NotImplementedError


class Undertaking(Working):
    """One piece of work at a time in another thread.

    Signals: at the end one of `done` with the outcome, `broken` with the exception, `given_up`.
    """

    done = Signal(object)
    broken = Signal(object)
    given_up = Signal()

    def __init__(self, name: str, parent: QObject | None = None) -> None:
        super().__init__(name, parent)
        self._number = 0
        self._work: LongWork | None = None

    @property
    def is_busy(self) -> bool:
        """Whether somebody waits for the work."""
        return self._work is not None

    def start(self, do: Callable[[LongWork], object]) -> bool:
        """Do something in another thread; return False where other work is not done yet."""
        if self._work is not None:
            return False
        self._number += 1
        self._work = work = LongWork(told_here(self, self.told.emit))
        self.busy_changed.emit(True)
        run_beside(partial(do, work), self, partial(self._on_over, self._number))
        return True

    def end(self) -> bool:
        """Give the work up at once; return False where it is too late or there is none.

        It may still run to its next step, but nothing of it is kept and nobody hears of it.
        """
        if self._work is None or not self._work.give_up():
            return False
        self._finish()
        self.given_up.emit()
        return True

    def _on_over(self, number: int, outcome: object, error: Exception | None) -> None:
        if self._work is None or number != self._number:
            return
        self._finish()
        if isinstance(error, GivenUp):
            self.given_up.emit()
        elif error is not None:
            self.broken.emit(error)
        else:
            self.done.emit(outcome)

    def _finish(self) -> None:
        self._work = None
        self.busy_changed.emit(False)


class ProgressLine(QWidget):
    """A line that tells how far the work is, once it takes more than a moment."""

    def __init__(
        self, working: Working, wording: str = "", write_count: Callable[[int], str] = str
    ) -> None:
        """Tell about `working`; its name is said until it tells a step.

        Args:
            working: the work.
            wording: what is said of a step, with places ``n``, ``count`` and ``name``.
            write_count: writes both counts.
        """
        super().__init__()
        self._working = working
        self._write_count = write_count
        self._wording = wording or _("Step {n} of {count}: {name}")
        self.words = Words(size=Size.SMALL, wraps=False)
        self.bar = QProgressBar()
        self.bar.setTextVisible(False)
        self.bar.setFixedWidth(18 * GRID)
        self.bar.setAccessibleName(working.name)
        self.cancel = Command(_("Cancel"))
        self.cancel.clicked.connect(self._end)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GRID)
        row.addWidget(self.bar)
        row.addWidget(self.words, 1)
        row.addWidget(self.cancel)
        self._patience = QTimer(self)
        self._patience.setSingleShot(True)
        self._patience.setInterval(PATIENCE)
        self._patience.timeout.connect(self.show)
        working.told.connect(self._tell)
        working.busy_changed.connect(self._on_busy)
        self.hide()
        if working.is_busy:
            self._on_busy(True)
            if working.last_told is not None:
                self._tell(*working.last_told)

    def _on_busy(self, is_busy: bool) -> None:
        self.cancel.setEnabled(True)
        if is_busy:
            self.bar.setRange(0, 0)
            self._say(self._working.name)
            self._patience.start()
        else:
            self._patience.stop()
            self.hide()

    def _tell(self, number: int, count: int, name: str) -> None:
        self.bar.setRange(0, count if count > 1 else 0)
        self.bar.setValue(number - 1)
        write = self._write_count
        self._say(self._wording.format(n=write(number), count=write(count), name=name))

    def _say(self, text: str) -> None:
        self.words.setText(
            self.words.fontMetrics().elidedText(text, Qt.TextElideMode.ElideMiddle, 60 * GRID)
        )
        self.words.setToolTip(text)

    def _end(self) -> None:
        self.cancel.setEnabled(False)
        self._working.end()
