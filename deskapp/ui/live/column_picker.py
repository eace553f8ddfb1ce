"""Which column of lines holds what: the choices, and the first rows to choose by."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtGui import QColor
from PySide6.QtWidgets import (
    QAbstractItemView,
    QGridLayout,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from deskapp.domain.finding import Finding
from deskapp.i18n import N_, _
from deskapp.session.live.columns import ColumnUse, SampleField
from deskapp.session.live.import_log import preview, reshaped
from deskapp.ui.fields.chosen_fields import Choices
from deskapp.ui.head_row import labeled_row
from deskapp.ui.list_style import give_air
from deskapp.ui.tables import calm_headings
from deskapp.ui.theme import GRID, colors_of
from deskapp.ui.words import Words
from deskapp.units.numbers import NumberStyle
from deskapp.units.table import units_of

if TYPE_CHECKING:
    from deskapp.session.live.columns import ColumnMapping
    from deskapp.session.live.import_log import TextLog
    from deskapp.units.display import Formatter

_MARKS = {
    ",": N_("commas"),
    ";": N_("semicolons"),
    "\t": N_("tabs"),
    "|": N_("upright bars"),
    " ": N_("spaces"),
}
_STYLES = {NumberStyle.POINT: N_("1.5 (point)"), NumberStyle.COMMA: N_("1,5 (comma)")}


class ColumnPicker(QWidget):
    """Lets the columns of a log be named.

    Signals: `changed` when another choice was made; `refused` with the reason where the lines
    cannot be parted as chosen.
    """

    changed = Signal()
    refused = Signal(str)

    def __init__(
        self, log: TextLog, formatter: Formatter, mapping: ColumnMapping | None = None
    ) -> None:
        """Begin with `mapping` where it fits the log, else with what the header words suggest."""
        super().__init__()
        self.log = log
        self._formatter = formatter
        self.delimiter = Choices(fits=True)
        for mark, words in _MARKS.items():
            self.delimiter.addItem(_(words), mark)
        self.style_of_numbers = Choices(fits=True)
        for style, words in _STYLES.items():
            self.style_of_numbers.addItem(_(words), style)
        self.columns = {field: Choices() for field in SampleField}
        self.units = {field: Choices() for field in SampleField}
        self.table = QTableWidget()
        give_air(self.table)
        calm_headings(self.table)
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.setAccessibleName(_("First rows of the log"))
        self._lay_out()
        self._show_shape()
        fits = mapping is not None and log.fits(mapping)
        self._choose(mapping.columns if mapping is not None and fits else self._proposed())
        for box in (self.delimiter, self.style_of_numbers):
            box.activated.connect(self._reshape)
        for box in (*self.columns.values(), *self.units.values()):
            box.activated.connect(self.changed)

    def mapping(self) -> ColumnMapping | str:
        """Return the mapping chosen, or why there is none yet; show what the first rows give."""
        for field, box in self.units.items():
            box.setEnabled(self.columns[field].currentData() is not None)
        try:
            mapping = self.log.mapping(self._chosen())
        except ValueError:
            self._show_rows(None)
            return _(
                "Say which column holds the duct pressure. A column can hold one thing only, "
                "and each needs a unit."
            )
        self._show_rows(mapping)
        return mapping

    def _proposed(self) -> tuple[ColumnUse, ...]:
        return self.log.proposal().columns

    def _chosen(self) -> tuple[ColumnUse, ...]:
        found: list[ColumnUse] = []
        for field in SampleField:
            position, unit = self.columns[field].currentData(), self.units[field].currentData()
            if position is not None:
                found.append(ColumnUse(field=field, position=position, unit=str(unit or "")))
        return tuple(found)

    def _choose(self, uses: tuple[ColumnUse, ...]) -> None:
        by_field = {use.field: use for use in uses}
        label = self._formatter.label
        for field in SampleField:
            box, units, use = self.columns[field], self.units[field], by_field.get(field)
            box.clear()
            box.addItem(_("not in this log"), None)
            for position in range(self.log.width):
                box.addItem(self._heading(position), position)
            box.setCurrentIndex(0 if use is None else max(box.findData(use.position), 0))
            units.clear()
            units.addItem("–", None)
            for unit in units_of(field.kind):
                units.addItem(label(unit.id) or unit.id, unit.id)
            unit_id = field.usual_unit if use is None else use.unit
            units.setCurrentIndex(max(units.findData(unit_id), 0))

    def _reshape(self) -> None:
        mark, style = self.delimiter.currentData(), self.style_of_numbers.currentData()
        found = reshaped(self.log, str(mark), NumberStyle(style))
        if isinstance(found, Finding):
            self._show_shape()
            self.refused.emit(found.text)
            return
        self.log = found
        self._choose(self._proposed())
        self.changed.emit()

    def _show_shape(self) -> None:
        shape = self.log.shape
        self.delimiter.setCurrentIndex(self.delimiter.findData(shape.delimiter))
        self.style_of_numbers.setCurrentIndex(list(_STYLES).index(shape.style))

    def _heading(self, position: int) -> str:
        header = self.log.shape.header
        word = header[position] if position < len(header) else ""
        number = _("Column {n}").format(n=position + 1)
        return f"{number}: {word}" if word else number

    def _show_rows(self, mapping: ColumnMapping | None) -> None:
        rows = preview(self.log, mapping)
        colors = colors_of(self.palette())
        self.table.clear()
        self.table.setColumnCount(self.log.width)
        self.table.setRowCount(len(rows))
        headings = [self._heading(position) for position in range(self.log.width)]
        self.table.setHorizontalHeaderLabels(headings)
        self.table.setVerticalHeaderLabels([str(row.number) for row in rows])
        for at, row in enumerate(rows):
            for position, cell in enumerate(row.cells[: self.log.width]):
                item = QTableWidgetItem(cell)
                problem = row.problems.get(position)
                if problem:
                    item.setBackground(QColor(colors.check_tint))
                    item.setToolTip(problem)
                self.table.setItem(at, position, item)
        self.table.resizeColumnsToContents()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        pairs: list[tuple[Words, Choices]] = []
        for text, box in (
            (_("Columns are parted by"), self.delimiter),
            (_("Decimals are written"), self.style_of_numbers),
        ):
            box.setAccessibleName(text)
            pairs.append((Words(text, wraps=False), box))
        column.addLayout(labeled_row(*pairs))
        grid = QGridLayout()
        grid.setHorizontalSpacing(2 * GRID)
        grid.setVerticalSpacing(6)
        grid.setColumnStretch(1, 1)
        for line, field in enumerate(SampleField):
            grid.addWidget(Words(field.label, wraps=False), line, 0)
            self.columns[field].setAccessibleName(field.label)
            unit = _("Unit of {field}").format(field=field.label)
            self.units[field].setAccessibleName(unit)
            grid.addWidget(self.columns[field], line, 1)
            grid.addWidget(self.units[field], line, 2)
        column.addLayout(grid)
        column.addWidget(self.table, 1)
