"""Tables of texts, on the result page and beside the leaks."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QFrame, QGridLayout, QTableWidget, QWidget

from deskapp.ui.theme import GRID
from deskapp.ui.words import Size, Words

if TYPE_CHECKING:
    from collections.abc import Sequence

_NAME, _LONG_NAME = 26, 42
"""Letters of the name of a row in one line; in a table, which may scroll sideways."""
_SHARES = (2, 5)
"""What names and values take of the width."""
RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter


class FactTable(QWidget):
    """Rows of texts under headings; the first column is left-aligned, the others right."""

    def __init__(
        self, head: Sequence[str], rows: Sequence[Sequence[str]] = (), *, words_last: bool = False
    ) -> None:
        """Show `rows`; with `words_last` the last column holds words, which begin at the left."""
        super().__init__()
        self._words_last = words_last
        self._grid = grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(3 * GRID)
        grid.setVerticalSpacing(5)
        for column, text in enumerate(head):
            label = Words(text, Size.SMALL, muted=True)
            give_room_for_name(label)
            label.setAlignment(
                (RIGHT if column else Qt.AlignmentFlag.AlignLeft) | Qt.AlignmentFlag.AlignBottom
            )
            grid.addWidget(label, 0, column)
        grid.setColumnStretch(max(len(head), 1), 1)
        for texts in rows:
            self.add(texts)

    def add(self, texts: Sequence[str]) -> None:
        """Add a row below the others."""
        line = self._grid.rowCount()
        for column, text in enumerate(texts):
            label = Words(text, wraps=not column).can_be_copied()
            if not column:
                give_room_for_name(label, _LONG_NAME)
            elif not (self._words_last and column == len(texts) - 1):
                label.setAlignment(RIGHT)
            self._grid.addWidget(label, line, column)


def calm_headings(table: QTableWidget) -> None:
    """Leave air around the headings of columns and the numbers of rows."""
    metrics, numbers = table.fontMetrics(), table.verticalHeader()
    table.horizontalHeader().setFixedHeight(metrics.height() + 12)
    numbers.setDefaultSectionSize(metrics.height() + 14)
    numbers.setDefaultAlignment(Qt.AlignmentFlag.AlignCenter)
    numbers.setFixedWidth(metrics.averageCharWidth() * 5)


def thin_line() -> QFrame:
    """Return a quiet line across, between parts of a sheet."""
    line = QFrame()
    line.setFrameShape(QFrame.Shape.HLine)
    line.setFrameShadow(QFrame.Shadow.Plain)
    line.setForegroundRole(QPalette.ColorRole.Midlight)
    return line


def give_room_for_name(label: Words, letters: int = _NAME) -> None:
    """Let a name go on in a line below rather than make the table wide."""
    metrics = label.fontMetrics()
    whole = metrics.horizontalAdvance(label.text()) + 2
    label.setMinimumWidth(min(whole, metrics.averageCharWidth() * letters))


class FactGrid(QWidget):
    """Label and value pairs in two columns of text."""

    def __init__(self, rows: Sequence[tuple[str, str]]) -> None:
        super().__init__()
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(3 * GRID)
        grid.setVerticalSpacing(5)
        for line, (label, value) in enumerate(rows):
            name = Words(label, muted=True)
            give_room_for_name(name)
            grid.addWidget(name, line, 0, Qt.AlignmentFlag.AlignTop)
            grid.addWidget(Words(value).can_be_copied(), line, 1, Qt.AlignmentFlag.AlignTop)
        grid.setColumnMinimumWidth(0, self.fontMetrics().averageCharWidth() * _NAME)
        for column, share in enumerate(_SHARES):
            grid.setColumnStretch(column, share)
