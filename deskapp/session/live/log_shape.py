"""How a text log is written: what parts its columns, its decimal mark, and where its data begin.

Settled by the whole of its first lines, not cell by cell. `csv.Sniffer` has one vote where our own
counts leave a tie.
"""

from __future__ import annotations

import csv
import re
from collections import Counter
from dataclasses import dataclass, replace
from itertools import zip_longest
from typing import TYPE_CHECKING

from deskapp.session.live.columns import DELIMITERS, split_line
from deskapp.units.numbers import MINUS_SIGNS, NumberStyle, split_number
from deskapp.units.spellings import kind_spelled

if TYPE_CHECKING:
    from collections.abc import Sequence

LOOKED_AT = 80
"""Lines from the beginning that settle the shape."""

_CLOCK = r"\d{1,2}:\d{2}(?::\d{2}(?:[.,]\d+)?)?(?: ?[AaPp][Mm])?"
_DATE = r"\d{1,4}[-/.]\d{1,2}[-/.]\d{1,4}"
_DATE_OR_CLOCK = re.compile(rf"(?:{_DATE}(?:[T ]{_CLOCK})?|{_CLOCK})Z?", re.ASCII)
_SPACE_NEEDS = 0.9  # a space also stands before units and inside words
_SIGNS = MINUS_SIGNS + "+"


@dataclass(frozen=True, slots=True)
class LogShape:
    """How a log is written.

    `first_row` is the place of the first line of data, from 0; `header` are the words above it,
    with units from a line below them in brackets, empty where there are none. `is_sure` is False
    where the marks could be read in another way too, so that a person must look.
    """

    delimiter: str
    style: NumberStyle
    first_row: int
    header: tuple[str, ...]
    is_sure: bool


def sniff(lines: Sequence[str]) -> LogShape | None:
    """Return the shape of a log, or None where no line of it holds a number."""
    head = [line for line in lines[:LOOKED_AT] if line.strip()]
    shares = {mark: _share_of_data(head, mark) for mark in DELIMITERS}
    if shares[" "] < _SPACE_NEEDS:
        shares[" "] = 0.0
    most = max(shares.values())
    best = [mark for mark, share in shares.items() if share > 0.0 and share >= most - 1e-9]
    if not best:
        return shape_with(lines, _unused(head))
    shape = shape_with(lines, _voted(head, best))
    if shape is None or shape.delimiter != "," or _holds_a_point(lines, shape):
        return shape
    # Whole numbers only: each comma may just as well be a decimal mark.
    alone = shape_with(lines, _unused(head), is_sure=False)
    return alone if alone and alone.header and not shape.header else replace(shape, is_sure=False)


def shape_with(
    lines: Sequence[str], delimiter: str, style: NumberStyle | None = None, *, is_sure: bool = True
) -> LogShape | None:
    """Return the shape for a delimiter (and style) that a person chose; None without data."""
    rows = [split_line(line, delimiter) for line in lines[:LOOKED_AT]]
    width = _usual_width(rows)
    first = next((n for n, row in enumerate(rows) if len(row) == width and _is_data(row)), None)
    if first is None:
        return None
    found, style_is_sure = _style_of([cell for row in rows[first:] for cell in row])
    return LogShape(
        delimiter=delimiter,
        style=style or found,
        first_row=first,
        header=_header_above(rows, first, width),
        is_sure=is_sure and (style_is_sure or style is not None),
    )


def _share_of_data(head: Sequence[str], delimiter: str) -> float:
    """Return the share of lines that are data of the usual width; 0 for a single column."""
    rows = [split_line(line, delimiter) for line in head]
    width = _usual_width(rows)
    if width < 2:
        return 0.0
    good = sum(
        sum(_is_value(cell) or not cell for cell in row) / width
        for row in rows
        if len(row) == width and _is_data(row)
    )
    return good / len(rows)


def _usual_width(rows: Sequence[Sequence[str]]) -> int:
    """Return the commonest number of cells among lines that hold data."""
    widths = Counter(len(row) for row in rows if _is_data(row))
    return max(widths, key=lambda width: (widths[width], width)) if widths else 0


def _is_data(row: Sequence[str]) -> bool:
    """Say whether at least half of the filled cells are values, and one of them a number."""
    filled = [cell for cell in row if cell]
    values = [cell for cell in filled if _is_value(cell)]
    numbers = [cell for cell in values if not _DATE_OR_CLOCK.fullmatch(cell)]
    return bool(numbers) and 2 * len(values) >= len(filled)


def _is_value(cell: str) -> bool:
    if not cell or len(cell) > 60:
        return False
    if _DATE_OR_CLOCK.fullmatch(cell):
        return True
    parts = split_number(cell)
    return parts is not None and (not parts[1] or kind_spelled(parts[1]) is not None)


def _voted(head: Sequence[str], best: Sequence[str]) -> str:
    """Let the sniffer of the standard library decide between delimiters that do equally well."""
    if len(best) == 1:
        return best[0]
    try:
        vote = csv.Sniffer().sniff("\n".join(head), "".join(best)).delimiter
    except csv.Error:
        return best[0]
    return vote if vote in best else best[0]


def _unused(head: Sequence[str]) -> str:
    """Return a delimiter that parts nothing, for a log of one column."""
    return next((mark for mark in (";", "\t", "|") if not any(mark in line for line in head)), ";")


def _holds_a_point(lines: Sequence[str], shape: LogShape) -> bool:
    rows = [split_line(line, ",") for line in lines[shape.first_row : LOOKED_AT]]
    numbers = [cell for row in rows for cell in row if not _DATE_OR_CLOCK.fullmatch(cell)]
    return any(re.search(r"\d[.,]\d", cell) for cell in numbers)


def _style_of(cells: Sequence[str]) -> tuple[NumberStyle, bool]:
    """Return the style in which the cells write decimals, and whether that is sure."""
    evidence: Counter[NumberStyle] = Counter()
    unclear: Counter[NumberStyle] = Counter()
    for cell in cells:
        parts = split_number(cell)
        if parts is None or _DATE_OR_CLOCK.fullmatch(cell):
            continue
        number = parts[0].lower().partition("e")[0].strip(_SIGNS + " ")
        mark = next((char for char in reversed(number) if char in ".,"), "")
        if not mark:
            continue
        style = NumberStyle.POINT if mark == "." else NumberStyle.COMMA
        whole, _, decimals = number.rpartition(mark)
        could_group = len(decimals) == 3 and 1 <= len(whole) <= 3 and whole[:1] != "0"
        if could_group and not any(char in whole for char in ".,"):
            unclear[style] += 1
        else:
            evidence[style] += 1
    point, comma = evidence[NumberStyle.POINT], evidence[NumberStyle.COMMA]
    if point or comma:
        return (NumberStyle.COMMA if comma > point else NumberStyle.POINT), not (point and comma)
    if unclear[NumberStyle.COMMA]:
        return NumberStyle.COMMA, False
    return NumberStyle.POINT, True


def _header_above(rows: Sequence[Sequence[str]], first: int, width: int) -> tuple[str, ...]:
    """Return the words above the data; a line of units between is put in brackets behind them."""
    above = [list(row) for row in rows[:first] if any(row)]
    if not above or not _reaches(above[-1], width) or not _are_words(above[-1]):
        return ()
    words = above[-1] + [""] * (width - len(above[-1]))
    names = above[-2] if len(above) > 1 and len(above[-2]) == len(above[-1]) else None
    if names is not None and _are_units(words) and _are_words(names):
        pairs = zip_longest(names, (unit.strip("[]()") for unit in words), fillvalue="")
        words = [f"{name} [{unit}]" if unit else name for name, unit in pairs]
    return tuple(words)


def _reaches(row: Sequence[str], width: int) -> bool:
    """Say whether `row` has a word for each column, or for all but one left blank at the end."""
    return len(row) == width or 2 <= len(row) == width - 1


def _are_words(row: Sequence[str]) -> bool:
    return any(row) and not any(_is_value(cell) for cell in row)


def _are_units(row: Sequence[str]) -> bool:
    filled = [cell.strip("[]()") for cell in row if cell]
    return bool(filled) and all(kind_spelled(unit) is not None for unit in filled)
