"""The way from one part of the window to the next by a key, and back.

A part without a field or a button takes the cursor itself, so that the keys scroll it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from PySide6.QtCore import QEvent, QObject, QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractScrollArea, QWidget

from deskapp.ui.stops import stops_in, takes_keys

if TYPE_CHECKING:
    from collections.abc import Sequence

_WIDTH = 2.0


class _Ring(QWidget):
    """A frame around what a part shows while it has the cursor itself; it goes with the cursor."""

    def __init__(self, part: QAbstractScrollArea) -> None:
        super().__init__(part)
        self._part = part
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setGeometry(part.viewport().geometry())
        part.installEventFilter(self)
        self.raise_()
        self.show()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Be as large as the part, and go when the cursor goes."""
        if event.type() == QEvent.Type.Resize:
            self.setGeometry(self._part.viewport().geometry())
        elif event.type() == QEvent.Type.FocusOut:
            watched.removeEventFilter(self)
            self.hide()
            self.deleteLater()
        return super().eventFilter(watched, event)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the frame in the color of the focus."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(self.palette().accent(), _WIDTH))
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(1, 1, -1, -1), 4, 4)


def show_ring(part: QAbstractScrollArea) -> None:
    """Show a frame around a part for as long as it has the cursor."""
    _Ring(part)


def go_to_next_part(parts: Sequence[QWidget], step: int) -> QWidget | None:
    """Put the cursor into the next part that takes it, where it was last; -1 for the one before.

    From outside of all parts the way begins at the first, or the last. Returns what has the cursor
    now, or None where no part takes it.
    """
    if not parts:
        return None
    held = parts[0].window().focusWidget()
    here = next((at for at, part in enumerate(parts) if _holds(part, held)), None)
    start = (-1 if step > 0 else len(parts)) if here is None else here
    for n in range(1, len(parts) + 1):
        part = parts[(start + n * step) % len(parts)]
        stop = _stop_in(part)
        if stop is not None:
            stop.setFocus(Qt.FocusReason.TabFocusReason)
            return stop
    return None


def _holds(part: QWidget, held: QWidget | None) -> bool:
    return held is not None and (held is part or part.isAncestorOf(held))


def _stop_in(part: QWidget) -> QWidget | None:
    """Return where the cursor was last in a part, else its first stop; the part may be one.

    One that has none but scrolls is its own.
    """
    if not part.isVisible():
        return None
    last = cast("QWidget | None", part.focusWidget())
    if last is not None and takes_keys(last):
        return last
    if takes_keys(part):
        return part
    own = part if isinstance(part, QAbstractScrollArea) else None
    return next(iter(stops_in(part)), own)
