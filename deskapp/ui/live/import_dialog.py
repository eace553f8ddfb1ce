"""Which column of a log holds what: choices, a look at the first rows, and the readings made."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtGui import QColor
from PySide6.QtWidgets import (
    QAbstractItemView,
    QCheckBox,
    QGridLayout,
    QTableWidget,
    QTableWidgetItem,
    QWidget,
)

from deskapp.domain.finding import Finding
from deskapp.i18n import N_, _, ngettext
from deskapp.session.live.columns import ColumnUse, SampleField
from deskapp.session.live.import_log import preview, reshaped, to_readings, to_samples
from deskapp.session.live.live_words import reading_texts
from deskapp.session.live.steadiness import averages
from deskapp.ui.dialogs.entry_dialog import EntryDialog
from deskapp.ui.dialogs.room import give_room
from deskapp.ui.fields.chosen_fields import Choices
from deskapp.ui.glyphs import Glyph
from deskapp.ui.head_row import labeled_row
from deskapp.ui.marks import Notice
from deskapp.ui.theme import GRID, colors_of
from deskapp.ui.words import Command, Size, Words
from deskapp.units.numbers import NumberStyle
from deskapp.units.table import units_of

if TYPE_CHECKING:
    from deskapp.session.live.columns import ColumnMapping
    from deskapp.session.live.import_log import TextLog
    from deskapp.session.live.rules import LiveRules
    from deskapp.session.settings import Preferences

_MARKS = {
    ",": N_("commas"),
    ";": N_("semicolons"),
    "\t": N_("tabs"),
    "|": N_("upright bars"),
    " ": N_("spaces"),
}
_STYLES = {NumberStyle.POINT: N_("1.5 (point)"), NumberStyle.COMMA: N_("1,5 (comma)")}


class ImportDialog(EntryDialog):
    """Lets the columns be named and shows what comes of it.

    Signals: `taken` with the readings, each a dict of texts by field name, and the mapping used.
    """

    taken = Signal(list, object)

    def __init__(
        self,
        log: TextLog,
        preferences: Preferences,
        rules: LiveRules,
        averaging_time: float,
        parent: QWidget | None,
        *,
        mapping: ColumnMapping | None = None,
    ) -> None:
        """Begin with `mapping` where it fits the log, else with what the header words suggest."""
        super().__init__(_("Import {file}").format(file=log.name), parent)
        self.log = log
        self._preferences, self._rules, self._averaging = preferences, rules, averaging_time
        self.mapping: ColumnMapping | None = None
        self.readings: list[dict[str, str]] = []
        self.delimiter = Choices(fits=True)
        for mark, words in _MARKS.items():
            self.delimiter.addItem(_(words), mark)
        self.style_of_numbers = Choices(fits=True)
        for style, words in _STYLES.items():
            self.style_of_numbers.addItem(_(words), style)
        self.columns = {field: Choices() for field in SampleField}
        self.units = {field: Choices() for field in SampleField}
        self.average = QCheckBox(_("This is a recording: average its steady stretches"))
        self.average.setChecked(log.is_recording)
        self.table = QTableWidget()
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.setAccessibleName(_("First rows of the log"))
        self.remark = Notice()
        self.outcome = Words(size=Size.STRONG)
        self.take = Command(_("Import"), main=True)
        self._lay_out()
        self._show_shape()
        fits = mapping is not None and log.fits(mapping)
        self._choose(mapping.columns if mapping is not None and fits else self._proposed())
        for box in (self.delimiter, self.style_of_numbers):
            box.activated.connect(self._reshape)
        for box in (*self.columns.values(), *self.units.values()):
            box.activated.connect(self.refresh)
        self.average.toggled.connect(self.refresh)
        self.take.clicked.connect(self._take)
        self.refresh()
        give_room(self, 940, 640)

    def refresh(self) -> None:
        """Read the log with the columns as chosen."""
        self.mapping, self.readings = None, []
        try:
            self.mapping = self.log.mapping(self._chosen())
        except ValueError:
            self._tell(
                _(
                    "Say which column holds the duct pressure. A column can hold one thing only, "
                    "and each needs a unit."
                )
            )
        else:
            self._read(self.mapping)
        for field, box in self.units.items():
            box.setEnabled(self.columns[field].currentData() is not None)
        self.take.allow(bool(self.readings), _("No reading comes of these columns yet."))
        self._show_rows()

    def _read(self, mapping: ColumnMapping) -> None:
        formatter = self._preferences.formatter
        if self.average.isChecked():
            samples, tally = to_samples(self.log, mapping)
            captures = averages(samples, self._rules, self._averaging)
            self.readings = [reading_texts(capture, formatter) for capture in captures]
            words = ngettext(
                "{n} average from {samples} samples.",
                "{n} averages from {samples} samples.",
                len(captures),
            )
            self.outcome.setText(words.format(n=len(captures), samples=len(samples)))
            none = _("No stretch is steady for long enough. Turn averaging off to take each row.")
            self._tell(tally.text or ("" if captures else none))
            return
        found = to_readings(self.log, mapping, self._preferences.number_style)
        self.readings = [row.texts for row in found.rows]
        words = ngettext(
            "{n} reading, one for each row.", "{n} readings, one for each row.", len(found.rows)
        )
        self.outcome.setText(words.format(n=len(found.rows)))
        left = ""
        if found.left_out:
            first = found.left_out[0]
            words = ngettext(
                "{n} row is left out, line {number}: {why}",
                "{n} rows are left out; the first is line {number}: {why}",
                len(found.left_out),
            )
            left = words.format(n=len(found.left_out), number=first.number, why=first.reason)
        self._tell(left or self._doubt())

    def _doubt(self) -> str:
        """Say what a person should look at before trusting the columns."""
        if not self.log.shape.is_sure:
            return _("The marks between columns could be read in another way. Compare the rows.")
        return " ".join(self.log.proposal().remarks)

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
        label = self._preferences.formatter.label
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
            self._tell(found.text)
            return
        self.log = found
        self._choose(self._proposed())
        self.refresh()

    def _show_shape(self) -> None:
        shape = self.log.shape
        self.delimiter.setCurrentIndex(self.delimiter.findData(shape.delimiter))
        self.style_of_numbers.setCurrentIndex(list(_STYLES).index(shape.style))

    def _heading(self, position: int) -> str:
        header = self.log.shape.header
        word = header[position] if position < len(header) else ""
        number = _("Column {n}").format(n=position + 1)
        return f"{number}: {word}" if word else number

    def _show_rows(self) -> None:
        rows = preview(self.log, self.mapping)
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

    def _tell(self, text: str) -> None:
        if self.mapping is None or not self.readings:
            self.outcome.setText("")
        if text:
            self.remark.say(Glyph.CHECK, "", text)
        else:
            self.remark.hide()

    def _take(self) -> None:
        if self.readings and self.mapping is not None:
            self.taken.emit(self.readings, self.mapping)
            self.accept()

    def _lay_out(self) -> None:
        pairs: list[tuple[Words, Choices]] = []
        for text, box in (
            (_("Columns are parted by"), self.delimiter),
            (_("Decimals are written"), self.style_of_numbers),
        ):
            box.setAccessibleName(text)
            pairs.append((Words(text, wraps=False), box))
        self.column.addLayout(labeled_row(*pairs))
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
        self.column.addLayout(grid)
        self.column.addWidget(self.table, 1)
        self.column.addWidget(self.average)
        self.column.addWidget(self.outcome)
        self.column.addWidget(self.remark)
        cancel = Command(_("Close"))
        cancel.clicked.connect(self.reject)
        words = _("The columns are remembered for the gauge of this test, by its serial number.")
        self.foot(Words(words, muted=True), (cancel, self.take))
