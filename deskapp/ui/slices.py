"""Work that can wait for a moment, done piece by piece between the turns of the event loop."""

from __future__ import annotations

from collections import deque
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from PySide6.QtWidgets import QWidget

    Piece = Callable[[], None]


class Turns(QObject):
    """Calls for work in every other turn of the event loop, from the one after the next on.

    The turns between belong to what the work before wants laid out and painted.

    Signals: `due` when work is to be done.
    """

    due = Signal()

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._is_free = False
        self._timer = QTimer(self)
        self._timer.setInterval(0)
        self._timer.timeout.connect(self._take_turn)

    def start(self) -> None:
        """Call from now on."""
        if not self._timer.isActive():
            self._is_free = False
            self._timer.start()

    def stop(self) -> None:
        """Call no more."""
        self._timer.stop()

    def _take_turn(self) -> None:
        self._is_free = not self._is_free
        if not self._is_free:
            self.due.emit()


def paint_a_turn_later(part: QWidget) -> None:
    """Let a large change of `part` that is about to come be laid out now, and painted after it.

    What is asked to be laid out is so in the next turn, or in the one after.
    """

    def paint() -> None:
        part.setUpdatesEnabled(True)

    part.setUpdatesEnabled(False)
    QTimer.singleShot(0, part, lambda: QTimer.singleShot(0, part, paint))


class Slices(QObject):
    """Does pieces of work in order, each in a turn of its own, so that no turn takes long.

    New work takes the place of what is left of the old: a piece must show all there is to show,
    not what is different since an earlier one.
    """

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._left: deque[Piece] = deque()
        self._turn = Turns(self)
        self._turn.due.connect(self._do_one)

    @property
    def is_due(self) -> bool:
        """Whether something is left to do."""
        return bool(self._left)

    def begin(self, pieces: Iterable[Piece]) -> None:
        """Do these from the next turn on, and nothing that was left."""
        self._left = deque(pieces)
        self._turn.start()

    def wait(self) -> None:
        """Do nothing more until told to go on; nothing is forgotten."""
        self._turn.stop()

    def go_on(self) -> None:
        """Do what is left from the next turn on."""
        if self._left:
            self._turn.start()

    def drop(self) -> None:
        """Forget what is left."""
        self._left.clear()
        self._turn.stop()

    def complete(self) -> None:
        """Do all that is left now: somebody needs it whole."""
        while self._left:
            self._do_one()

    def _do_one(self) -> None:
        piece = self._left.popleft()
        if not self._left:
            self._turn.stop()
        piece()
