"""A column or a table pasted from a spreadsheet, to typed texts for the fields of readings."""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass

from deskapp.i18n import _
from deskapp.session.live.cells import cell_in_style, read_cell
from deskapp.session.live.columns import propose
from deskapp.session.live.import_log import READING_FIELDS
from deskapp.session.live.log_shape import shape_with, sniff
from deskapp.units.entry import Quantity
from deskapp.units.kinds import Kind
from deskapp.units.numbers import NumberProblem, NumberStyle, read_number, split_number
from deskapp.units.table import unit_named

MOST_ROWS = 1000
_LONGEST_LINE = 2000
_ORDER = tuple(READING_FIELDS.values())


@dataclass(frozen=True, slots=True)
class Pasted:
    """Rows of typed texts by field name, blank ones included, and what was remarked."""

    rows: tuple[dict[str, str], ...]
    remarks: tuple[str, ...] = ()


def parse_pasted(text: str, first_field: str, style: NumberStyle | None = None) -> Pasted:
    """Part pasted text into rows of typed texts.

    Args:
        text: what a spreadsheet puts on the clipboard, one row a line; see `table_of`.
        first_field: the field the first column goes into; the next columns go into the fields
            after it: duct_pressure, fan_signal, indicated_flow.
        style: how the person writes decimals; None leaves all numbers as they stand.

    Returns:
        The texts for the editor to read. Blank rows between keep their place. A
        first row of headings that name fields decides which column goes where, and its units are
        written behind numbers that carry none.

    Raises:
        ValueError: a reading has no field of that name.
    """
    if first_field not in _ORDER:
        raise ValueError(f"a reading has no field {first_field!r}; it has {', '.join(_ORDER)}")
    table = table_of(text, style)
    remarks: list[str] = []
    if len(table) > MOST_ROWS:
        table = table[:MOST_ROWS]
        remarks.append(_("Only the first {n} rows were taken.").format(n=MOST_ROWS))
    fields = {place: (name, "") for place, name in enumerate(_ORDER[_ORDER.index(first_field) :])}
    named = _fields_named(table[0]) if table else {}
    if named:
        fields, table = named, table[1:]
        remarks.append(_("The first row was taken as headings."))
    used = {place for row in table for place, cell in enumerate(row) if cell}
    width = max((len(row) for row in table), default=0)
    fields = {place: field for place, field in fields.items() if place < width}
    unused = used - fields.keys()
    if unused:
        remarks.append(_("Columns left out: {n}.").format(n=len(unused)))
    return Pasted(tuple(_texts(row, fields) for row in table), tuple(remarks))


def reading_fields() -> tuple[str, ...]:
    """Return the names of the fields a pasted column of readings can go into."""
    return _ORDER


def table_of(text: str, style: NumberStyle | None = None) -> list[list[str]]:
    """Return the cells of pasted text, stripped, without blank rows at the end.

    Columns are parted by tabs, else by semicolons, else by commas where the numbers carry decimal
    points or headings stand above them. Where a whole table shows which decimal mark it is written
    with, its numbers are rewritten in `style`; where it does not, they stay, to be asked about.
    """
    plain = text.replace("\r\n", "\n").replace("\r", "\n").replace("\0", "")
    lines = [line[:_LONGEST_LINE] for line in plain.split("\n")]
    delimiter = next((mark for mark in "\t;" if mark in plain), "")
    delimiter = delimiter or ("," if _commas_part(lines) else "\t")
    table = _split(plain, delimiter)
    shape = shape_with(lines, delimiter)
    if style is None or shape is None or not shape.is_sure:
        return table
    return [[_in_style(cell, shape.style, style) for cell in row] for row in table]


def _commas_part(lines: list[str]) -> bool:
    """Say whether commas stand between columns rather than in numbers."""
    filled = [line for line in lines if line.strip()]
    if len(filled) < 2 or all(
        not isinstance(read_number(line, NumberStyle.POINT), NumberProblem) for line in filled
    ):
        return False
    shape = sniff(lines)
    return shape is not None and shape.delimiter == "," and (shape.is_sure or bool(shape.header))


def _in_style(cell: str, column: NumberStyle, style: NumberStyle) -> str:
    parts = split_number(cell)
    if parts is None or column is style is NumberStyle.POINT:
        return cell
    if not isinstance(read_cell(parts[0], Kind.NUMBER, "1", column), Quantity):
        return cell
    return f"{cell_in_style(parts[0], column, style)} {parts[1]}".strip()


def _split(plain: str, delimiter: str) -> list[list[str]]:
    try:
        rows = list(csv.reader(io.StringIO(plain), delimiter=delimiter))
    except csv.Error:
        rows = [line.split(delimiter) for line in plain.split("\n")]
    table = [[" ".join(cell.split()) for cell in row] for row in rows]
    while table and not any(table[-1]):
        table.pop()
    return table


def _fields_named(heading: list[str]) -> dict[int, tuple[str, str]]:
    """Return place -> field and unit label for headings that name fields; none for a data row."""
    if any(split_number(cell) is not None for cell in heading):
        return {}
    found = propose(heading)
    return {
        column.position: (
            READING_FIELDS[column.field],
            "" if column.field in found.assumed else unit_named(column.unit).label,
        )
        for column in found.columns
        if column.field in READING_FIELDS
    }


def _texts(row: list[str], fields: dict[int, tuple[str, str]]) -> dict[str, str]:
    texts: dict[str, str] = {}
    for place, (name, label) in fields.items():
        cell = row[place] if place < len(row) else ""
        parts = split_number(cell)
        bare = parts is not None and not parts[1]
        texts[name] = f"{cell} {label}" if bare and label else cell
    return texts
