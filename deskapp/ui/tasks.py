"""Work beside the window: computed in another thread, delivered in this one."""

from __future__ import annotations

from contextlib import suppress
from contextvars import copy_context
from functools import partial
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, QRunnable, QThreadPool, Signal

from deskapp.i18n import _

if TYPE_CHECKING:
    from collections.abc import Callable


class _Run(QRunnable):
    """Computes one thing and hands it over."""

    def __init__(
        self, work: Callable[[], object], number: int, over: Callable[[int, object, object], None]
    ) -> None:
        super().__init__()
        self._work = work
        self._number = number
        self._over = over

    def run(self) -> None:
        """Compute; hand over the outcome, or the exception."""
        outcome: object = None
        problem: Exception | None = None
        try:
            outcome = self._work()
        except Exception as error:
            problem = error
        # The window that asked may have been closed meanwhile; then nobody waits for the outcome.
        with suppress(RuntimeError):
            self._over(self._number, outcome, problem)


def run_beside(
    work: Callable[[], object], number: int, over: Callable[[int, object, object], None]
) -> None:
    """Compute `work` in another thread, in the language spoken here.

    `over` is called there with `number`, the outcome and the exception; a signal takes it back.
    """
    spoken = partial(copy_context().run, work)
    QThreadPool.globalInstance().start(_Run(spoken, number, over))


class Dispatcher(QObject):
    """Runs one piece of work at a time; only the newest wish counts.

    Signals: `done` with what was computed, `broken` with
    the exception, `busy_changed`.
    """

    done = Signal(object)
    broken = Signal(object)
    busy_changed = Signal(bool)
    over = Signal(int, object, object)

    def __init__(self, name: str, parent: QObject | None = None) -> None:
        """Begin with nothing; `name` says what will be done, marked with `N_`."""
        super().__init__(parent)
        self._name = name
        self._number = 0
        self._is_busy = False
        self._waiting: Callable[[], object] | None = None
        self.over.connect(self._on_over)

    @property
    def name(self) -> str:
        """What is done, in plain words."""
        return _(self._name)

    @property
    def is_busy(self) -> bool:
        """Whether something is being computed."""
        return self._is_busy

    def start(self, work: Callable[[], object]) -> None:
        """Compute `work` in another thread; if one is running, after it, unless a newer comes.

        The work speaks the language spoken here.
        """
        if self._is_busy:
            self._waiting = work
            return
        self._number += 1
        self._set_busy(True)
        run_beside(work, self._number, self._hand_over)

    def _hand_over(self, number: int, outcome: object, error: object) -> None:
        self.over.emit(number, outcome, error)

    def _on_over(self, _number: int, outcome: Any, error: Exception | None) -> None:
        self._set_busy(False)
        if self._waiting is not None:
            work, self._waiting = self._waiting, None
            self.start(work)
        elif error is not None:
            self.broken.emit(error)
        else:
            self.done.emit(outcome)

    def _set_busy(self, is_busy: bool) -> None:
        self._is_busy = is_busy
        self.busy_changed.emit(is_busy)
