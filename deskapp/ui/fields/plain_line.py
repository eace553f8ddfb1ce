"""A line to type in as it looks everywhere; a text that is cut is told whole in its tip."""

from __future__ import annotations

import sys
from typing import TypeGuard

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QHelpEvent, QKeyEvent
from PySide6.QtWidgets import QLineEdit, QToolTip, QWidget

_INDENT = 4
_OWN = 4
"""What the line keeps free of itself at both ends."""


def wants_tip(event: QEvent) -> TypeGuard[QHelpEvent]:
    """Say whether a tip is asked for.

    Asked of every event of every field: its class is cheap to look at, its type is not.
    """
    return isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip


def show_tip(widget: QWidget, event: QHelpEvent, tip: str) -> bool:
    """Show `tip` where it was asked for; say that this was done."""
    QToolTip.showText(event.globalPos(), tip, widget)
    return True


def whole_tip(text: str, needed: int, room: int, tip: str) -> str:
    """Return a tip that begins with `text` where it needs more than the room it has."""
    return "\n".join(part for part in (text, tip) if part) if needed > room else tip


def types_by_chance(event: QKeyEvent) -> bool:
    """Say whether a key would type a letter although it was pressed with Alt alone.

    On macOS that is how special letters are typed.
    """
    is_alt = event.modifiers() == Qt.KeyboardModifier.AltModifier
    return is_alt and sys.platform != "darwin" and event.text().isprintable() and event.text() != ""


class PlainLine(QLineEdit):
    """A line that belongs to no field of the job."""

    def __init__(self, text: str = "", name: str = "") -> None:
        super().__init__(text)
        self.setTextMargins(_INDENT, 0, _INDENT, 0)
        if name:
            self.setAccessibleName(name)

    @property
    def tip_text(self) -> str:
        """What the tip says: the whole text first, where the line is too short for it."""
        text = self.displayText() or self.placeholderText()
        room = self.contentsRect().width() - 2 * _INDENT - _OWN
        needed = self.fontMetrics().horizontalAdvance(text)
        return whole_tip(text, needed, room, self.toolTip())

    def event(self, event: QEvent) -> bool:
        """Tell what is cut."""
        return show_tip(self, event, self.tip_text) if wants_tip(event) else super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Type no letter that was pressed with Alt: it was to lead somewhere, and leads nowhere."""
        if types_by_chance(event):
            event.ignore()
        else:
            super().keyPressEvent(event)

    def minimumSizeHint(self) -> QSize:
        """Stay tall enough for a comfortable click."""
        return QSize(super().minimumSizeHint().width(), self._tall())

    def sizeHint(self) -> QSize:
        """Be as tall as every other field."""
        return QSize(super().sizeHint().width(), self._tall())

    def _tall(self) -> int:
        return self.fontMetrics().height() + 12
