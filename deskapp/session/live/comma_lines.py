"""The reader for plain lines of numbers parted by commas or another mark.

It follows nobody's protocol. Either the first line names the columns with their units::

    time [s],duct pressure [Pa],fan signal [Pa],flow [cfm],house pressure [Pa]
    0.5,-24.9,61.2,187.8,0.1

or a `ColumnMapping` says what each column holds. A header may come again at any time.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.i18n import N_, _, labeled
from deskapp.session.live.cells import read_cell, read_moment
from deskapp.session.live.columns import (
    ColumnMapping,
    ColumnUse,
    SampleField,
    propose,
    split_line,
)
from deskapp.session.live.reader import Refusal
from deskapp.session.live.samples import Sample
from deskapp.units.entry import Problem
from deskapp.units.numbers import split_number

if TYPE_CHECKING:
    from collections.abc import Sequence

TITLE = N_("Comma-separated lines")
COMMENT = "#"
_DAY = 86_400.0


class CommaReader:
    """Reads comma-separated lines; see the head of this module.

    Without a mapping numbers have a decimal point, pressures without a unit are Pa and times s.
    Cells may carry a unit of their own. A mapped cell that is blank counts as not measured; one
    that cannot be read (``nan`` and ``---`` included) refuses its line.
    """

    def __init__(self, mapping: ColumnMapping | None = None) -> None:
        self._given = mapping
        self._mapping = mapping
        self._last_clock: float | None = None
        self._days = 0.0

    @property
    def mapping(self) -> ColumnMapping | None:
        """The mapping in use: the one given, or the one the latest header makes."""
        return self._mapping

    def read(self, line: str, arrived: float) -> Sample | Refusal | None:
        """Return the sample in `line`, why there is none, or None for a header or a blank line."""
        text = line.strip("\r\n\0 ")
        if not text or text.startswith(COMMENT):
            return None
        delimiter = self._given.delimiter if self._given else ","
        cells = split_line(text, delimiter)
        if self._is_header(cells):
            return None
        if self._mapping is None:
            return Refusal(
                _("No line has named the columns yet. Choose “Columns…” to say what each holds.")
            )
        return self._sample(cells, self._mapping, arrived)

    def _is_header(self, cells: Sequence[str]) -> bool:
        """Take `cells` for the names of the columns if they are, and say so."""
        if self._given is not None and self._given.header == tuple(cells):
            return True
        if any(split_number(cell) is not None for cell in cells):
            return False
        found = propose(cells)
        if found.is_usable and self._given is None:
            self._mapping = ColumnMapping(columns=found.columns, header=tuple(cells))
        return found.is_usable

    def _sample(
        self, cells: Sequence[str], mapping: ColumnMapping, arrived: float
    ) -> Sample | Refusal:
        values: dict[SampleField, float] = {}
        for column in mapping.columns:
            cell = cells[column.position] if column.position < len(cells) else ""
            if not cell:
                continue
            value = self._value(cell, column, mapping)
            if isinstance(value, Problem):
                return Refusal(labeled(column.field.label, value.what))
            values[column.field] = value
        duct = values.get(SampleField.DUCT_PRESSURE)
        if duct is None:
            return Refusal(_("The line has no duct pressure."))
        if SampleField.TIME not in values and mapping.column(SampleField.TIME) is not None:
            return Refusal(_("The line has no time."))
        try:
            return Sample(
                seconds=values.get(SampleField.TIME, arrived),
                duct_pressure=duct,
                fan_signal=values.get(SampleField.FAN_SIGNAL),
                flow=values.get(SampleField.FLOW),
                house_pressure=values.get(SampleField.HOUSE_PRESSURE),
            )
        except ValueError:
            return Refusal(_("A value is larger than any gauge shows."))

    def _value(self, cell: str, column: ColumnUse, mapping: ColumnMapping) -> float | Problem:
        if column.field is not SampleField.TIME:
            found = read_cell(cell, column.field.kind, column.unit, mapping.style)
            return found if isinstance(found, Problem) else found.si
        moment = read_moment(cell, column.unit, mapping.style)
        if isinstance(moment, Problem):
            return moment
        return self._running(moment.seconds) if moment.is_clock else moment.seconds

    def _running(self, clock: float) -> float:
        """Return a time of day as seconds that run on past midnight."""
        if self._last_clock is not None and clock < self._last_clock - _DAY / 2:
            self._days += _DAY
        self._last_clock = clock
        return clock + self._days
