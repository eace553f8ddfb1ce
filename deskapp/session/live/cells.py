"""What one cell of a log or stream means, and how it is typed into a field.

A column is written by one machine in one style, so a cell such as ``25,123`` in a column with a
decimal comma is settled, where the same text typed by a person would be asked about.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from deskapp.i18n import _
from deskapp.units.entry import Problem, Quantity, parse
from deskapp.units.kinds import Kind
from deskapp.units.numbers import MINUS_SIGNS, SPACES, NumberStyle, split_number, write_decimals
from deskapp.units.problems import shortened
from deskapp.units.table import unit_named

_ONE_COMMA = re.compile(rf"[{MINUS_SIGNS}+]?[0-9]*,[0-9]+(?:[eE][{MINUS_SIGNS}+]?[0-9]+)?")
_CLOCK = re.compile(
    r"(?:.*[T\s])?(\d{1,2}):(\d{2}):(\d{2})(?:[.,](\d{1,9}))?\s*([AaPp][Mm])?"
    r"\s*(?:Z|[+-]\d{2}:?\d{2})?",
    re.ASCII,
)
_TO_MINUS = str.maketrans(dict.fromkeys(MINUS_SIGNS, "-"))
_NO_SPACES = str.maketrans(dict.fromkeys(SPACES))


def read_cell(cell: str, kind: Kind, unit: str, style: NumberStyle) -> Quantity | Problem:
    """Read one cell of a column.

    Args:
        cell: the text of the cell; a unit in it wins over `unit`.
        kind: the kind of quantity the column holds.
        unit: the unit id of numbers without a unit.
        style: how the writer of the column writes decimals.

    Returns:
        The quantity, or the problem in words. NaN, "inf" and the like are problems.

    Raises:
        ValueError: `unit` does not fit `kind`.
    """
    text = cell.strip()
    parts = split_number(text)
    if style is NumberStyle.COMMA and parts is not None and _ONE_COMMA.fullmatch(parts[0]):
        settled = f"{parts[0].replace(',', '.')} {parts[1]}"
        found = parse(settled, kind, unit, NumberStyle.POINT)
        return Quantity(found.si, found.unit, cell) if isinstance(found, Quantity) else found
    return parse(text, kind, unit, style)


def typed_text(cell: str, unit: str, column: NumberStyle, person: NumberStyle) -> str:
    """Return the text to put into a field for a cell that `read_cell` could read.

    The digits stay those of the cell and the unit is written out, so that the text means the same
    in every unit system. Only the decimal mark is changed where the person writes another one.
    """
    number, unit_text = split_number(cell.strip()) or (cell.strip(), "")
    written = cell_in_style(number, column, person)
    return f"{written} {unit_text or unit_named(unit).label}".strip()


def cell_in_style(number: str, column: NumberStyle, person: NumberStyle) -> str:
    """Return a number of a column written in style `column` as `person` writes it, ungrouped."""
    digits, mark, power = number.translate(_TO_MINUS).lower().partition("e")
    digits = digits.translate(_NO_SPACES).lstrip("+")
    group = "," if column is NumberStyle.POINT else "."
    plain = digits.replace(group, "").replace(column.decimal_mark, ".")
    return write_decimals(plain, person) + mark + power


@dataclass(frozen=True, slots=True)
class Moment:
    """A time read from a cell [s]; `is_clock` when it is a time of day, which starts anew at 0."""

    seconds: float
    is_clock: bool


def read_moment(cell: str, unit: str, style: NumberStyle) -> Moment | Problem:
    """Read the time in a cell: a number in `unit`, or a time of day such as ``14:03:22.5``.

    A date before the time of day is passed over.
    """
    text = cell.strip()
    if ":" not in text:
        found = read_cell(text, Kind.TIME, unit, style)
        return found if isinstance(found, Problem) else Moment(found.si, is_clock=False)
    clock = _CLOCK.fullmatch(text) if len(text) <= 60 else None
    hours, minutes, seconds = (int(clock[place]) for place in (1, 2, 3)) if clock else (99, 0, 0)
    half = clock[5].lower() if clock and clock[5] else ""
    if half:
        hours = hours % 12 + (12 if half == "pm" else 0) if 1 <= hours <= 12 else 99
    if clock is None or hours > 23 or minutes > 59 or seconds > 59:
        return Problem(
            "clock-unread",
            cell,
            _("“{typed}” is not a time of day that can be read.").format(typed=shortened(cell)),
            _("A time is needed here, such as 14:03:22 or a number of seconds."),
            _("Choose another column for the time, or none: then lines are timed as they come."),
        )
    fraction = float(f"0.{clock[4]}") if clock[4] else 0.0
    return Moment(hours * 3600.0 + minutes * 60.0 + seconds + fraction, is_clock=True)
