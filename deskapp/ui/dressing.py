"""Gives large parts of the window their colors one after the other when light becomes dark."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QApplication

from deskapp.ui.building import InTurns

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from PySide6.QtWidgets import QWidget


class Dressing(QObject):
    """Keeps parts of the window from following a change of colors all at once.

    A job has thousands of widgets on its pages, and each is told by itself. A part with a palette
    of its own is left out, and is given the new one in a turn of its own: the parts on screen
    first.
    """

    def __init__(self, parent: QObject, parts: Callable[[], Iterable[QWidget]]) -> None:
        """Dress what `parts` gives, in that order."""
        super().__init__(parent)
        self._parts = parts
        self._at_work: InTurns | None = None

    def keep(self, part: QWidget) -> None:
        """Give a part the colors in use; from now on it changes them only here."""
        palette = QApplication.palette()
        if part.palette().resolveMask() == 0 or part.palette() != palette:
            part.setPalette(palette)

    def begin(self) -> None:
        """Give all parts the colors in use, from the next turn of the event loop on."""
        if self._at_work is not None:
            self._at_work.deleteLater()
        self._at_work = InTurns(self, self._one_by_one())

    def _one_by_one(self) -> Iterator[None]:
        for part in tuple(self._parts()):
            self.keep(part)
            yield
