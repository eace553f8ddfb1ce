"""A dialog to type in: Enter goes on in its fields and presses no button by chance."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QDialog, QPushButton, QScrollArea, QVBoxLayout, QWidget

from deskapp.ui.head_row import HeadRow
from deskapp.ui.theme import GRID

if TYPE_CHECKING:
    from collections.abc import Sequence


class EntryDialog(QDialog):
    """The frame of such a dialog."""

    def __init__(self, title: str, parent: QWidget | None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(title)
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(2 * GRID, 2 * GRID, 2 * GRID, 2 * GRID)
        self.column.setSpacing(2 * GRID)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Keep Enter from pressing a button that does not have the focus; explain on F1."""
        if event.key() == Qt.Key.Key_F1:
            from deskapp.ui.help.asked_about import explain_in_front_of

            explain_in_front_of(self)
            return
        is_enter = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if is_enter and not isinstance(self.focusWidget(), QPushButton):
            event.accept()
            return
        super().keyPressEvent(event)

    def foot(self, left: QWidget, buttons: Sequence[QPushButton]) -> None:
        """Put `left` and then the buttons in a last line."""
        for button in buttons:
            button.setAutoDefault(False)
        self.column.addLayout(HeadRow(left, buttons))


def scrolled(inside: QWidget) -> QScrollArea:
    """Return `inside` in a frame that scrolls up and down and has no border."""
    area = QScrollArea()
    area.setWidgetResizable(True)
    area.setFrameShape(QScrollArea.Shape.NoFrame)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAsNeeded)
    area.viewport().setAutoFillBackground(False)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    area.setWidget(inside)
    return area
