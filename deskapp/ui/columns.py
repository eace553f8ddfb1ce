"""Fields side by side in as many columns as the width allows, in reading order."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QWidget

from deskapp.ui.theme import GRID

if TYPE_CHECKING:
    from collections.abc import Sequence

    from deskapp.ui.fields.field import Field

_MOST = 3


class Columns(QWidget):
    """Lays the fields in sight out row by row; wide fields take a whole row."""

    def __init__(self, fields: Sequence[Field]) -> None:
        super().__init__()
        self._fields = fields
        self._count = 0
        self._fitted_in = self.font()
        self._shown: list[Field] = list(fields)
        self._fillers: dict[int, QWidget] = {}
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(3 * GRID)
        self._grid.setVerticalSpacing(2 * GRID)
        self._place(1)

    def show_only(self, wanted: Sequence[Field]) -> None:
        """Lay out these fields, in their order; the others go out of sight."""
        if wanted == self._shown:
            return
        self._shown = list(wanted)
        for field in self._fields:
            field.setVisible(field in wanted)
        self._place(self._count, again=True)
        self._line_up()

    @property
    def shown(self) -> list[Field]:
        """The fields in sight."""
        return list(self._shown)

    @property
    def column_count(self) -> int:
        """How many columns there are at this width."""
        return self._count

    def minimumSizeHint(self) -> QSize:
        """May be as narrow as a single column, however many there are now."""
        hint = super().minimumSizeHint()
        widths = (field.minimumSizeHint().width() for field in self._shown)
        return QSize(min(hint.width(), max(widths, default=0)), hint.height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Use as many columns as fit."""
        super().resizeEvent(event)
        if event.size().width() == event.oldSize().width() and self.font() == self._fitted_in:
            return
        self._fitted_in = self.font()
        least = self.fontMetrics().averageCharWidth() * 33
        self._place(max(1, min(_MOST, (self.width() + 3 * GRID) // (least + 3 * GRID))))
        self._line_up()

    def _place(self, count: int, *, again: bool = False) -> None:
        if count == self._count and not again:
            return
        for column in range(self._count):
            self._grid.setColumnStretch(column, 0)
            self._fill(column, is_used=True)
        self._count = count
        self._lines: list[list[Field]] = [[]]
        row = column = 0
        for field in self._shown:
            if field.wide and column:
                row, column = row + 1, 0
            span = count if field.wide else 1
            self._grid.addWidget(field, row, column, 1, span, Qt.AlignmentFlag.AlignTop)
            while len(self._lines) <= row:
                self._lines.append([])
            self._lines[row].append(field)
            column += span
            if column >= count:
                row, column = row + 1, 0
        used = count if any(field.wide for field in self._shown) else min(len(self._shown), count)
        for column in range(count):
            self._grid.setColumnStretch(column, 1)
            self._fill(column, is_used=column < used)

    def _fill(self, column: int, *, is_used: bool) -> None:
        """Keep a column that has no field as wide as the others, and the gap before it."""
        if is_used and column in self._fillers:
            self._fillers.pop(column).deleteLater()
        elif not is_used and column not in self._fillers:
            self._fillers[column] = filler = QWidget()
            self._grid.addWidget(filler, 0, column)

    def _line_up(self) -> None:
        """Make the labels of each line equally high, so that the inputs stand in one line."""
        gaps = 3 * GRID * (self._count - 1)
        is_new = False
        for line in self._lines:
            width = self.width() if line and line[0].wide else (self.width() - gaps) // self._count
            height = max((field.label_height(width) for field in line), default=0)
            for field in line:
                is_new |= field.give_label(height)
        if is_new:
            self._grid.invalidate()
            self.updateGeometry()
