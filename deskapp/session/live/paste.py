"""A column or a table pasted from a spreadsheet, to typed texts for the fields of readings."""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass

from deskapp.i18n import _
from deskapp.session.live.columns import propose
from deskapp.session.live.import_log import READING_FIELDS
from deskapp.units.numbers import split_number
from deskapp.units.table import unit_named

MOST_ROWS = 1000
_ORDER = tuple(READING_FIELDS.values())


@dataclass(frozen=True, slots=True)
class Pasted:
    """Rows of typed texts by field name, blank ones included, and what was remarked."""

    rows: tuple[dict[str, str], ...]
    remarks: tuple[str, ...] = ()


def parse_pasted(text: str, first_field: str) -> Pasted:
    """Part pasted text into rows of typed texts.

    Args:
        text: what a spreadsheet puts on the clipboard: tabs between columns, one row a line.
        first_field: the field the first column goes into; the next columns go into the fields
            after it: duct_pressure, fan_signal, indicated_flow.

    Returns:
        The texts as they stand, for the editor to read. Blank rows between keep their place. A
        first row of headings that name fields decides which column goes where, and its units are
        written behind numbers that carry none.

    Raises:
        ValueError: a reading has no field of that name.
    """
    if first_field not in _ORDER:
        raise ValueError(f"a reading has no field {first_field!r}; it has {', '.join(_ORDER)}")
    table = _table(text)
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
    unused = used - fields.keys()
    if unused:
        remarks.append(_("Columns left out: {n}.").format(n=len(unused)))
    return Pasted(tuple(_texts(row, fields) for row in table), tuple(remarks))


def _table(text: str) -> list[list[str]]:
    """Return the cells, stripped, without blank rows at the end."""
    delimiter = next((mark for mark in "\t;" if mark in text), "\t")
    plain = text.replace("\r\n", "\n").replace("\r", "\n").replace("\0", "")
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
