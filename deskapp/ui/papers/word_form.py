"""The texts of one block of a report, to be changed."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QPlainTextEdit, QScrollArea, QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.ui.theme import GRID
from deskapp.ui.words import Size, Words

if TYPE_CHECKING:
    from deskapp.session.template_draft import WordRow

_LETTERS_IN_LINE = 38
_MOST_LINES = 5


class TextBox(QPlainTextEdit):
    """A text over one or more lines; Tab goes on to the next."""

    def __init__(self, text: str, label: str) -> None:
        super().__init__(text)
        self.setAccessibleName(label)
        self.setTabChangesFocus(True)
        lines = min(_MOST_LINES, 1 + len(text) // _LETTERS_IN_LINE)
        self.setFixedHeight(self.fontMetrics().lineSpacing() * lines + 16)


class WordForm(QScrollArea):
    """A box for each text of a block. Signals: `reworded` with the way to a text and its words."""

    reworded = Signal(object, str)

    def __init__(self) -> None:
        super().__init__()
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.boxes: dict[tuple[str | int, ...], TextBox] = {}

    def show_words(self, rows: tuple[WordRow, ...]) -> None:
        """Show the texts of another block."""
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(0, 0, GRID, 0)
        column.setSpacing(4)
        self.boxes = {}
        for row in rows:
            label = Words(row.label, Size.SMALL, muted=True)
            box = TextBox(row.text, row.label)
            label.setBuddy(box)
            box.textChanged.connect(partial(self._tell, row.path))
            self.boxes[row.path] = box
            column.addWidget(label)
            column.addWidget(box)
        if not rows:
            column.addWidget(Words(_("This part has no words of its own."), muted=True))
        column.addStretch(1)
        self.setWidget(inside)

    def _tell(self, path: tuple[str | int, ...]) -> None:
        self.reworded.emit(path, self.boxes[path].toPlainText())
