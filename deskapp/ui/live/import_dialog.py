"""Which column of a log holds what: choices, a look at the first rows, and the readings made."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtGui import QColor
from PySide6.QtWidgets import (
    QAbstractItemView,
    QGridLayout,
    QTableWidget,
    QTableWidgetItem,
    QWidget,
)

from deskapp.domain.finding import Finding
from deskapp.i18n import N_, _
from deskapp.session.live.columns import ColumnUse, SampleField
from deskapp.session.live.import_log import preview, reshaped
from deskapp.session.live.log_readings import LogReadings, LogWish, readings_of_log
from deskapp.ui.building import InTurns
from deskapp.ui.dialogs.entry_dialog import EntryDialog
from deskapp.ui.dialogs.room import give_room
from deskapp.ui.fields.chosen_fields import Choices
from deskapp.ui.glyphs import Glyph
from deskapp.ui.head_row import labeled_row
from deskapp.ui.list_style import give_air
from deskapp.ui.marks import Notice
from deskapp.ui.tables import calm_headings
from deskapp.ui.tasks import Dispatcher, raise_here
from deskapp.ui.theme import GRID, colors_of
from deskapp.ui.ticks import Tick
from deskapp.ui.words import Command, Size, Words
from deskapp.units.numbers import NumberStyle
from deskapp.units.table import units_of

if TYPE_CHECKING:
    from collections.abc import Iterator

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
        self._reader = Dispatcher(N_("Making readings of a log"), self)
        self._reader.done.connect(self._show_read)
        self._reader.broken.connect(raise_here)
        self._wish: LogWish | None = None
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
        self.average = Tick(_("This is a recording: average its steady stretches"))
        self.average.setChecked(log.is_recording)
        self.table = QTableWidget()
        give_air(self.table)
        calm_headings(self.table)
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
        self._begun = InTurns(self, self._begin())
        give_room(self, 940, 640)

    def _begin(self) -> Iterator[None]:
        """Read the log once the dialog stands there."""
        yield
        self.refresh()

    @property
    def is_reading(self) -> bool:
        """Whether the log is being read with the columns as chosen."""
        return self._reader.is_busy or not self._begun.is_over

    def refresh(self) -> None:
        """Read the log with the columns as chosen."""
        self.mapping, self.readings = None, []
        self.remark.hide()
        self.outcome.setText("")
        try:
            self.mapping = self.log.mapping(self._chosen())
        except ValueError:
            self._warn(
                _(
                    "Say which column holds the duct pressure. A column can hold one thing only, "
                    "and each needs a unit."
                )
            )
        else:
            self._read(self.mapping)
        for field, box in self.units.items():
            box.setEnabled(self.columns[field].currentData() is not None)
        self._allow()
        self._show_rows()

    def _read(self, mapping: ColumnMapping) -> None:
        averaging = self._averaging if self.average.isChecked() else None
        wish = LogWish(self.log, mapping, self._preferences, self._rules, averaging)
        self._wish = wish
        self.outcome.setText(_("Reading the rows…"))
        self._reader.start(lambda: (wish, readings_of_log(wish)))

    def _show_read(self, read: tuple[LogWish, LogReadings]) -> None:
        """Show what came of the log, unless the columns were chosen anew meanwhile."""
        wish, made = read
        if self.mapping is None or wish is not self._wish:
            return
        self.readings = made.readings
        self.outcome.setText(made.outcome if made.readings else "")
        self._warn(made.remark)
        self._allow()

    def _allow(self) -> None:
        self.take.allow(bool(self.readings), _("No reading comes of these columns yet."))

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
            self._warn(found.text)
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

    def _warn(self, text: str) -> None:
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
        cancel = Command(_("Cancel"))
        cancel.clicked.connect(self.reject)
        words = _("The columns are remembered for the gauge of this test, by its serial number.")
        self.foot(Words(words, muted=True), (cancel, self.take))
