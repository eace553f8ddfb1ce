"""Which column of a stream or log holds what: the mapping, and a proposal from header words."""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, Self

from pydantic import Field, model_validator

from deskapp.domain.base import Frozen
from deskapp.i18n import N_, _
from deskapp.units.kinds import Kind
from deskapp.units.numbers import NumberStyle
from deskapp.units.spellings import unit_spelled
from deskapp.units.table import UNITS, fits

if TYPE_CHECKING:
    from collections.abc import Sequence

DELIMITERS = (",", ";", "\t", "|", " ")
"""What may part columns; a space stands for any run of spaces."""


class SampleField(StrEnum):
    """What a column can hold; the values are the names of the fields of a sample."""

    TIME = "seconds"
    DUCT_PRESSURE = "duct_pressure"
    FAN_SIGNAL = "fan_signal"
    FLOW = "flow"
    HOUSE_PRESSURE = "house_pressure"

    @property
    def kind(self) -> Kind:
        """The kind of quantity the column holds."""
        return _KINDS[self]

    @property
    def label(self) -> str:
        """Words for it, to choose by."""
        return _(_LABELS[self])

    @property
    def usual_unit(self) -> str | None:
        """The unit meant where a header names none; None where that would be a guess."""
        return _USUAL_UNITS.get(self.kind)


_KINDS = {
    SampleField.TIME: Kind.TIME,
    SampleField.DUCT_PRESSURE: Kind.PRESSURE,
    SampleField.FAN_SIGNAL: Kind.PRESSURE,
    SampleField.FLOW: Kind.FLOW,
    SampleField.HOUSE_PRESSURE: Kind.PRESSURE,
}
_LABELS = {
    SampleField.TIME: N_("Time"),
    SampleField.DUCT_PRESSURE: N_("Duct pressure"),
    SampleField.FAN_SIGNAL: N_("Fan signal"),
    SampleField.FLOW: N_("Flow shown by the gauge"),
    SampleField.HOUSE_PRESSURE: N_("House pressure"),
}
_USUAL_UNITS = {Kind.TIME: "s", Kind.PRESSURE: "Pa"}

# Words at the top of a column, lower case; the longest one that a header holds decides.
_WORDS: dict[SampleField, tuple[str, ...]] = {
    SampleField.TIME: ("time", "seconds", "elapsed", "elapsed time", "clock", "date time", "t"),
    SampleField.DUCT_PRESSURE: ("duct pressure", "duct", "ducts", "pressure", "dp", "delta p"),
    SampleField.FAN_SIGNAL: (
        *("fan signal", "fan pressure", "signal", "flow signal", "flow pressure"),
        *("flow sensor pressure", "flow sensor", "fan"),
    ),
    SampleField.FLOW: ("flow", "air flow", "airflow", "fan flow", "leakage", "leakage flow", "q"),
    SampleField.HOUSE_PRESSURE: ("house pressure", "house", "building pressure", "building"),
}
# A header with one of these words holds something else, whatever other words it holds.
_OTHERS = frozenset(
    (
        *("barometric", "barometer", "atmospheric", "ambient", "temperature", "humidity"),
        *("target", "set", "setpoint", "baseline", "deviation", "stdev", "sd"),
        *("min", "max", "minimum", "maximum", "speed", "count", "number"),
    )
)
_LONGEST_NAME = 100
_MOST_COLUMNS = 100
_BRACKETED = re.compile(r"^(?P<name>.*?)\s*[\[({](?P<unit>[^\])}]*)[\])}]\s*$")
_AFTER_SLASH = re.compile(r"^(?P<name>[^/]*?\S)\s+/\s*(?P<unit>\S+)\s*$")
_WORD = re.compile(r"[^\W_]+", re.UNICODE)


class ColumnUse(Frozen):
    """One column: its position from 0, what it holds, and the unit of numbers without a unit."""

    field: SampleField
    position: int = Field(ge=0, le=999)
    unit: str

    @model_validator(mode="after")
    def _unit_fits(self) -> Self:
        if self.unit not in UNITS or not fits(self.unit, self.field.kind):
            raise ValueError(f"the unit {self.unit!r} does not measure {self.field.kind.value}")
        return self


class ColumnMapping(Frozen):
    """How the lines of one instrument are read.

    `header` keeps the words above the columns it was made for, empty where there are none.
    Raises ValueError (a pydantic ValidationError) where no column holds the duct pressure, or
    where a column or a field is used twice.
    """

    columns: tuple[ColumnUse, ...]
    delimiter: str = ","
    style: NumberStyle = NumberStyle.POINT
    header: tuple[str, ...] = ()

    @model_validator(mode="after")
    def _fits_together(self) -> Self:
        fields = [column.field for column in self.columns]
        positions = [column.position for column in self.columns]
        if SampleField.DUCT_PRESSURE not in fields:
            raise ValueError("no column holds the duct pressure")
        if len(set(fields)) < len(fields) or len(set(positions)) < len(positions):
            raise ValueError("a column or a field is used twice")
        if self.delimiter not in DELIMITERS:
            raise ValueError(f"columns cannot be parted by {self.delimiter!r}")
        return self

    def column(self, field: SampleField) -> ColumnUse | None:
        """Return the column that holds `field`."""
        return next((column for column in self.columns if column.field is field), None)


@dataclass(frozen=True, slots=True)
class Proposal:
    """What the header words suggest, for a person to confirm.

    `assumed` are the fields whose unit the header does not name; `remarks` say what was left out.
    """

    columns: tuple[ColumnUse, ...]
    assumed: frozenset[SampleField] = frozenset()
    remarks: tuple[str, ...] = ()

    @property
    def is_usable(self) -> bool:
        """Whether a column holds the duct pressure."""
        return any(column.field is SampleField.DUCT_PRESSURE for column in self.columns)


def propose(header: Sequence[str], flow_unit: str | None = None) -> Proposal:
    """Suggest what each column holds from the words above it.

    Args:
        header: the words above the columns.
        flow_unit: the unit of a flow whose header names none; None leaves that column out, since
            nothing tells cfm from L/s.
    """
    ranked = sorted(_candidates(header), key=lambda found: (-found.weight, found.position))
    taken: dict[SampleField, _Candidate] = {}
    for found in ranked:
        if found.field not in taken and found.position not in {c.position for c in taken.values()}:
            taken[found.field] = found
    columns: list[ColumnUse] = []
    assumed: set[SampleField] = set()
    remarks: list[str] = []
    for found in sorted(taken.values(), key=lambda one: one.position):
        field, unit = found.field, unit_spelled(found.unit_text, found.field.kind)
        if found.unit_text and unit is None:
            words = _("“{unit}” above the column “{name}” is not a unit known here.")
            remarks.append(words.format(unit=found.unit_text, name=header[found.position].strip()))
            continue
        if unit is None:
            unit = flow_unit if field is SampleField.FLOW else field.usual_unit
            assumed.add(field)
        if unit is None:
            words = _("The column “{name}” names no unit, so it is left out.")
            remarks.append(words.format(name=header[found.position].strip()))
            assumed.discard(field)
            continue
        columns.append(ColumnUse(field=field, position=found.position, unit=unit))
    return Proposal(tuple(columns), frozenset(assumed), tuple(remarks))


@dataclass(frozen=True, slots=True)
class _Candidate:
    field: SampleField
    position: int
    weight: int
    unit_text: str


def _candidates(header: Sequence[str]) -> list[_Candidate]:
    found: list[_Candidate] = []
    for position, cell in enumerate(header[:_MOST_COLUMNS]):
        if len(cell) > _LONGEST_NAME:
            continue
        for field in SampleField:
            name, unit_text = _name_and_unit(cell, field.kind)
            words = _words(name)
            if not words or not _OTHERS.isdisjoint(words):
                continue
            weight = max((len(p) for p in _WORDS[field] if _holds(words, p.split())), default=0)
            if weight:
                exact = 100 if " ".join(words) in _WORDS[field] else 0
                found.append(_Candidate(field, position, weight + exact, unit_text))
    return found


def _name_and_unit(cell: str, kind: Kind) -> tuple[str, str]:
    """Part ``duct pressure [Pa]``, ``Druck / Pa`` or ``duct_pressure_Pa`` into name and unit."""
    marked = _BRACKETED.match(cell) or _AFTER_SLASH.match(cell)
    if marked is not None:
        return marked["name"], marked["unit"].strip()
    words = cell.replace("_", " ").split()
    for place in range(1, len(words)):
        ending = " ".join(words[place:])
        if unit_spelled(ending, kind) is not None:
            return " ".join(words[:place]), ending
    return cell, ""


def _words(name: str) -> list[str]:
    """Return the words of a header: ``ductPressure`` and ``duct_pressure`` hold two."""
    parted = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", name)
    return [word.lower() for word in _WORD.findall(parted)]


def _holds(words: list[str], phrase: list[str]) -> bool:
    size = len(phrase)
    return any(words[place : place + size] == phrase for place in range(len(words) - size + 1))


def split_line(line: str, delimiter: str) -> list[str]:
    """Return the cells of one line, stripped; quotes keep a delimiter inside a cell."""
    text = line.strip(" ") if delimiter == " " else line
    cells: list[str] = []
    try:
        for row in csv.reader([text], delimiter=delimiter, skipinitialspace=True):
            cells = row
    except csv.Error:
        cells = text.split(delimiter)
    return [cell.strip() for cell in cells]
