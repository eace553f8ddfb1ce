"""A dialog to type in: Enter goes on in its fields and presses no button by chance."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QDialog, QPushButton, QScrollArea, QVBoxLayout, QWidget

from deskapp.ui.building import InTurns
from deskapp.ui.head_row import HeadRow
from deskapp.ui.theme import GRID

if TYPE_CHECKING:
    from collections.abc import Sequence

    from deskapp.ui.building import Pieces


class EntryDialog(QDialog):
    """The frame of such a dialog. One that holds much opens empty and is filled at once after."""

    def __init__(self, title: str, parent: QWidget | None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(title)
        self._foot: list[QPushButton] = []
        self._main: QPushButton | None = None
        self._filling: InTurns | None = None
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(2 * GRID, 2 * GRID, 2 * GRID, 2 * GRID)
        self.column.setSpacing(2 * GRID)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Let Enter press the button with the focus, else the main one if any; explain on F1."""
        if event.key() == Qt.Key.Key_F1:
            from deskapp.ui.help.asked_about import explain_in_front_of

            explain_in_front_of(self)
            return
        is_enter = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if is_enter and not isinstance(self.focusWidget(), QPushButton):
            event.accept()
            if self._main is not None:
                self._main.click()
            return
        super().keyPressEvent(event)

    def press_on_enter(self, button: QPushButton) -> None:
        """Let Enter in any entry press `button`; it has to say itself what is missing."""
        self._main = button

    def foot(self, left: QWidget, buttons: Sequence[QPushButton]) -> None:
        """Put `left` and then the buttons in a last line."""
        self._foot = list(buttons)
        for button in buttons:
            button.setAutoDefault(False)
        self.column.addLayout(HeadRow(left, buttons))

    def fill_in_turns(self, pieces: Pieces) -> None:
        """Let what the dialog holds be made in the next turns of the event loop."""
        self._filling = InTurns(self, pieces)

    def complete(self) -> None:
        """Make all that is not made yet: somebody needs the whole dialog."""
        if self._filling is not None:
            self._filling.complete()

    def put_in(self, area: QScrollArea, inside: QWidget) -> None:
        """Put what was made into its place: for the Tab key before the foot, where it begins."""
        area.setWidget(inside)
        inside.show()
        last = self.previousInFocusChain() or inside
        for button in self._foot:
            QWidget.setTabOrder(last, button)
            last = button
        is_new = self._filling is not None and not self._filling.is_over
        if is_new and self.focusWidget() in (None, *self._foot):
            inside.setFocus(Qt.FocusReason.OtherFocusReason)
            inside.nextInFocusChain()
            self.focusNextChild()


def scrolled(inside: QWidget | None = None) -> QScrollArea:
    """Return `inside` in a frame that scrolls up and down and has no border."""
    area = QScrollArea()
    area.setWidgetResizable(True)
    area.setFrameShape(QScrollArea.Shape.NoFrame)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAsNeeded)
    area.viewport().setAutoFillBackground(False)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    if inside is not None:
        area.setWidget(inside)
    return area
