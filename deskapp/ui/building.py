"""Widgets that are built piece by piece, so that no turn of the event loop takes long."""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt

from deskapp.ui.slices import Turns

if TYPE_CHECKING:
    from collections.abc import Generator, Iterator

    from PySide6.QtWidgets import QLayout, QWidget

    Pieces = Iterator[None]

FIELDS_IN_A_PIECE = 6
"""How many fields, or rows of a grid, are made in one piece."""

_END = object()


class Building:
    """Something that is being built; each piece is made when it is asked for."""

    def __init__(self, pieces: Pieces) -> None:
        self._pieces = pieces
        self._is_at_work = False
        self._is_over = False

    @property
    def is_over(self) -> bool:
        """Whether nothing is left to build."""
        return self._is_over

    @property
    def is_at_work(self) -> bool:
        """Whether a piece is being made right now."""
        return self._is_at_work

    def go_on(self) -> None:
        """Make one more piece, unless one is being made right now."""
        if self._is_at_work or self._is_over:
            return
        self._is_at_work = True
        try:
            self._is_over = next(self._pieces, _END) is _END
        finally:
            self._is_at_work = False


class InTurns(QObject):
    """Builds something by itself, one piece in each turn of the event loop."""

    def __init__(self, parent: QObject, pieces: Pieces) -> None:
        super().__init__(parent)
        self._building = Building(pieces)
        self._turn = Turns(self)
        self._turn.due.connect(self._do_one)
        self._turn.start()

    @property
    def is_over(self) -> bool:
        """Whether nothing is left to build."""
        return self._building.is_over

    def complete(self) -> None:
        """Build all that is left now: somebody needs it whole."""
        while not self.is_over and not self._building.is_at_work:
            self._do_one()

    def _do_one(self) -> None:
        try:
            self._building.go_on()
        except BaseException:
            self._turn.stop()
            raise
        if self.is_over:
            self._turn.stop()


def come_up(part: QWidget) -> None:
    """Show what was just put on a page, unless it hides itself, and not only a turn later."""
    said = part.testAttribute(Qt.WidgetAttribute.WA_WState_ExplicitShowHide)
    if not (said and part.isHidden()):
        part.show()


@contextmanager
def laid_out_after(layout: QLayout) -> Generator[None]:
    """Lay out anew once, after all changes in the block: each widget that shows asks for it."""
    held = layout.parentWidget()
    assert held is not None
    layout.setEnabled(False)
    try:
        yield
    finally:
        layout.setEnabled(True)
        layout.invalidate()
        QCoreApplication.postEvent(held, QEvent(QEvent.Type.LayoutRequest))


def at_once(pieces: Pieces) -> None:
    """Make all pieces."""
    for _piece in pieces:
        pass
