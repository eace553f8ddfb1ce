"""Reads jobs beside the window; of several that are asked for quickly the last one is opened."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from PySide6.QtCore import QObject

from deskapp.i18n import N_
from deskapp.ui.progress import ProgressLine, Undertaking
from deskapp.ui.theme import GRID

if TYPE_CHECKING:
    from collections.abc import Callable

    from deskapp.session.long_work import LongWork
    from deskapp.session.opening import Opened


class _Wish(NamedTuple):
    read: Callable[[LongWork], Opened]
    then: Callable[[Opened], object]
    otherwise: Callable[[Exception], object]


class JobOpener(QObject):
    """Reads one job at a time; a job that is read but no longer wanted is let go."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self.reading = Undertaking(N_("Reading the job"), self)
        self.reading.done.connect(self._on_read)
        self.reading.broken.connect(self._on_broken)
        self._wish: _Wish | None = None
        self._is_late = False

    def start(
        self,
        read: Callable[[LongWork], Opened],
        then: Callable[[Opened], object],
        otherwise: Callable[[Exception], object],
    ) -> None:
        """Read a job in another thread, in place of one that is being read.

        Args:
            read: reads it, there.
            then: takes it, here.
            otherwise: is told here why it cannot be read.
        """
        self.end()
        self._wish = _Wish(read, then, otherwise)
        if not self.reading.is_busy:
            self._begin()

    def end(self) -> None:
        """Want no job any more. One that is all but read comes to its end and is let go."""
        self._wish = None
        self._is_late = self.reading.is_busy and not self.reading.end()

    def line(self) -> ProgressLine:
        """Return what tells that a job is being read, where that takes more than a moment."""
        line = ProgressLine(self.reading, "{name}")
        line.setContentsMargins(3 * GRID, GRID, 3 * GRID, GRID)
        return line

    def _begin(self) -> None:
        if self._wish is not None:
            self.reading.start(self._wish.read)

    def _on_read(self, opened: Opened) -> None:
        if self._is_late or self._wish is None:
            opened.discard()
            self._go_on()
        else:
            wish, self._wish = self._wish, None
            wish.then(opened)

    def _on_broken(self, error: Exception) -> None:
        if self._is_late or self._wish is None:
            self._go_on()
        else:
            wish, self._wish = self._wish, None
            wish.otherwise(error)

    def _go_on(self) -> None:
        self._is_late = False
        self._begin()
