"""Drawing of facts, tables and arithmetic."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from deskapp.report.archival.structure import Role
from deskapp.report.blocks import Align, Sign
from deskapp.report.pdf.column_widths import fair_widths
from deskapp.report.pdf.grid import (
    Cell,
    CellCommand,
    at_foot,
    grid,
    ground,
    kept_rows,
    padding,
    rule_above,
    rule_below,
)
from deskapp.report.pdf.headed import Footed
from deskapp.report.pdf.look import INK, QUIET, SHADE, sign_color
from deskapp.report.pdf.statements import spaced
from deskapp.report.pdf.text import paragraph

if TYPE_CHECKING:
    from reportlab.platypus import Flowable

    from deskapp.report import blocks
    from deskapp.report.archival.structure import Element
    from deskapp.report.pdf.faces import Face
    from deskapp.report.pdf.look import Look
    from deskapp.report.pdf.text import ParagraphPiece

_ALL = ((0, 0), (-1, -1))
_GAP = 22.0
_CELL_SIDE = 4.0
_AFTER_NUMBERS = 14.0
"""Space before words that stand right of numbers set to the right."""
_LABEL_SHARE = 0.45
_NARROW_GAP = 14.0
_LABELS = {1: 0.34, 2: 0.30, 3: 0.26}
_LEAST_LABELS = 0.24
"""Share of the width that labels take beside so many columns of values."""
_SHORT_FACTS = 0.1
"""Facts that fill no more than this share of a page are not parted."""
_SIDE_BY_SIDE = 2
"""Up to so many columns a label stands beside its value, above it in more."""
_NOT_PARTED = 600
"""One long value of no more characters than this stays with the rows above it."""
_LONG = {2: 110, 3: 84, 4: 58}
"""Values of more characters than this, by the number of columns, take the full width."""
_BESIDE = 0.27
"""Share of the width that labels take beside values that fill a line."""
_HALF_A_LINE = 116
"""Values of no more characters than this stand two in a row where labels stand above them."""


def facts(look: Look, block: blocks.Facts, under: Element) -> list[Flowable]:
    """Draw labels and values in columns; long values always in one, below the rest.

    Where labels stand above values, those that fill half a line stand two in a row, and those that
    fill one line beside their label.
    """
    longest = _LONG.get(block.columns, 0)
    place = _stacked if block.columns > _SIDE_BY_SIDE else _in_columns
    short = [fact for fact in block.rows if len(fact.value) <= longest]
    rest = [fact for fact in block.rows if len(fact.value) > longest]
    half, beside = _by_room(look, rest) if place is _stacked else ([], [])
    long = [fact for fact in rest if fact not in half and fact not in beside]
    told = under.add(Role.TABLE)
    pieces = [place(look, short, block.columns, told)] if short else []
    pieces += [_stacked(look, half, 2, told)] if half else []
    if beside:
        below = _one_column(look, beside, told, _BESIDE)
        alone = len(beside) == 1 and pieces
        pieces = (
            [*pieces[:-1], Footed(pieces[-1], below, look.height)] if alone else [*pieces, below]
        )
    if not long:
        return pieces
    last = _stacked(look, long, 1, told) if place is _stacked else _one_column(look, long, told)
    if pieces and len(long) == 1 and len(long[0].value) <= _NOT_PARTED:
        return [*pieces[:-1], Footed(pieces[-1], last, look.height)]
    return [*pieces, last]


def _by_room(look: Look, facts: list[blocks.Fact]) -> tuple[list[blocks.Fact], list[blocks.Fact]]:
    """Return the values that stand two in a row, and those that fill a line beside their label."""
    size, face = look.sizes.body, look.faces.text
    widths = {id(fact): face.width(fact.value, size) for fact in facts}
    in_half = (look.width - _NARROW_GAP) / 2
    in_line = look.width * (1.0 - _BESIDE)
    beside = [fact for fact in facts if in_half < widths[id(fact)] <= in_line - _CELL_SIDE]
    half = [
        fact
        for fact in facts
        if fact not in beside and (widths[id(fact)] <= in_half or len(fact.value) <= _HALF_A_LINE)
    ]
    if len(half) % 2 and widths[id(half[-1])] <= in_half:
        beside.append(half[-1])
    return half[: len(half) // 2 * 2], [fact for fact in facts if fact in beside]


def _one_column(
    look: Look, facts: list[blocks.Fact], under: Element, labels: float = 0.0
) -> Flowable:
    """Return facts below each other; `labels` is their share of the width, 0 for the usual one."""
    label = look.width * labels or (look.width - _GAP) / 2 * _LABEL_SHARE
    size = look.sizes.small if labels else None
    rows = [_fact(look, fact, under, size) for fact in facts]
    top, bottom = (1.2, 1.8) if labels else (2.2, 3.0)
    commands = [*padding(*_ALL, top=top, bottom=bottom), rule_below((0, 0), (-1, -2))]
    return spaced(grid(look, rows, [label, look.width - label], commands), 0.0, 8.0)


def _in_columns(look: Look, facts: list[blocks.Fact], count: int, under: Element) -> Flowable:
    """Return facts read down one column after the other, a gap between the columns."""
    gap = _GAP if count == 2 else _NARROW_GAP
    width = (look.width - gap * (count - 1)) / count
    label = width * _LABEL_SHARE
    per_column = (len(facts) + count - 1) // count
    cells = [_fact(look, fact, under) for fact in facts]
    groups = [cells[start : start + per_column] for start in range(0, len(cells), per_column)]
    rows: list[list[Cell]] = []
    for position in range(per_column):
        row: list[Cell] = []
        for number in range(count):
            group: list[list[Flowable]] = groups[number] if number < len(groups) else []
            row += [""] if number else []
            row += group[position] if position < len(group) else ["", ""]
        rows.append(row)
    commands = padding(*_ALL, top=2.0, bottom=2.6)
    for number, group in enumerate(groups):
        first = number * 3
        commands += padding((first, 0), (first, -1), right=5.0)
        if len(group) > 1:
            commands.append(rule_below((first, 0), (first + 1, len(group) - 2)))
    widths = [label, width - label, *([gap, label, width - label] * (count - 1))]
    return spaced(grid(look, rows, widths, commands), 0.0, 6.0)


def _stacked(look: Look, facts: list[blocks.Fact], count: int, under: Element) -> Flowable:
    """Return facts in rows of `count`, read across, each label above its value."""
    width = (look.width - _NARROW_GAP * (count - 1)) / count
    rows: list[list[Cell]] = []
    for start in range(0, len(facts), count):
        row: list[Cell] = []
        for number in range(count):
            row += [""] if number else []
            at = start + number
            row.append(_stacked_fact(look, facts[at], under) if at < len(facts) else "")
        rows.append(row)
    commands = [*padding(*_ALL, top=2.0, bottom=2.8)]
    for at in range(len(facts)):
        cell = (at % count * 2, at // count)
        commands.append(rule_below(cell, cell))
    widths = [width, *([_NARROW_GAP, width] * (count - 1))]
    return spaced(grid(look, rows, widths, commands, short=_SHORT_FACTS), 0.0, 6.0)


def _stacked_fact(look: Look, fact: blocks.Fact, under: Element) -> list[Flowable]:
    label, value = _fact(look, fact, under, look.sizes.small)
    return [label, value]


def _fact(
    look: Look, fact: blocks.Fact, under: Element, label_size: float | None = None
) -> list[Flowable]:
    size = look.sizes.body
    face, color = _lettering(look, fact)
    head, cell = under.add_pair()
    look.show(fact.path, head)
    return [
        paragraph(look, fact.label, label_size or size, head, color=QUIET, leading=1.25),
        paragraph(look, fact.value, size, cell, face=face, color=color, leading=1.25),
    ]


def _lettering(look: Look, fact: blocks.Fact) -> tuple[Face, str]:
    """Return face and color of a value; one that is missing stands out."""
    if fact.missing:
        return look.faces.italic, sign_color(Sign.WARNING)
    return look.faces.text, INK


def fact_columns(look: Look, block: blocks.FactColumns, under: Element) -> list[Flowable]:
    """Draw entries of several things, a column for each; its heads repeat on each page."""
    told = under.add(Role.TABLE)
    heads = told.add(Role.ROW)
    rows: list[list[Cell]] = [
        [_head(look, title, heads.add(Role.COLUMN_HEAD)) for title in (block.corner, *block.heads)]
    ]
    size = look.sizes.body
    for row in block.rows:
        line = told.add(Role.ROW)
        label = line.add(Role.ROW_HEAD)
        cells: list[Cell] = [
            paragraph(look, row.label, look.sizes.small, label, color=QUIET, leading=1.25)
        ]
        for fact in row.facts:
            cell = line.add(Role.CELL)
            look.show(fact.path, cell)
            face, color = _lettering(look, fact)
            cells.append(
                paragraph(look, fact.value, size, cell, face=face, color=color, leading=1.2)
            )
        rows.append(cells)
    label_width = look.width * _LABELS.get(len(block.heads), _LEAST_LABELS)
    width = (look.width - label_width) / max(1, len(block.heads))
    commands: list[CellCommand] = [
        *padding(*_ALL, top=1.6, bottom=2.2, left=_CELL_SIDE, right=_CELL_SIDE),
        *padding((0, 0), (0, -1), left=0.0),
        at_foot((0, 0), (-1, 0)),
        rule_below((0, 0), (-1, 0), INK),
        rule_below((0, 1), (-1, -1)),
    ]
    widths = [label_width, *([width] * len(block.heads))]
    return [spaced(grid(look, rows, widths, commands, heads=1), 2.0, 6.0)]


def _head(look: Look, title: str, element: Element, *, right: bool = False) -> ParagraphPiece:
    strong = look.faces.strong
    return paragraph(
        look, title, look.sizes.small, element, face=strong, color=QUIET, leading=1.2, right=right
    )


def table(look: Look, block: blocks.Table, under: Element) -> list[Flowable]:
    """Draw a table; its headings repeat on each page."""
    total = sum(column.weight for column in block.columns)
    widths = [look.width * column.weight / total for column in block.columns]
    widths = fair_widths(look, block, widths, 2 * _CELL_SIDE)
    told = under.add(Role.TABLE)
    look.show(block.path, told)
    heads = told.add(Role.ROW)
    head: list[Cell] = [
        _head(look, column.title, heads.add(Role.COLUMN_HEAD), right=column.align is Align.RIGHT)
        for column in block.columns
    ]
    rows = [head, *_table_rows(look, block, told)]
    commands: list[CellCommand] = [
        *padding(*_ALL, top=2.6, bottom=3.2, left=_CELL_SIDE, right=_CELL_SIDE),
        at_foot((0, 0), (-1, 0)),
        rule_below((0, 0), (-1, 0), INK),
        rule_below((0, 1), (-1, -1)),
    ]
    aligned = [column.align for column in block.columns]
    for at, (one, following) in enumerate(pairwise(aligned), 1):
        if (one, following) == (Align.RIGHT, Align.LEFT):
            commands += padding((at, 0), (at, -1), left=_AFTER_NUMBERS)
    if block.total:
        commands.append(rule_above((0, -1), (-1, -1), INK))
    if block.kept > 1:
        commands.append(kept_rows(min(block.kept, len(block.rows))))
    made = spaced(grid(look, rows, widths, commands, heads=1), 2.0, 6.0)
    if not block.caption:
        return [made]
    size, caption = look.sizes.small, told.add(Role.CAPTION)
    words = paragraph(look, block.caption, size, caption, color=QUIET, after=8.0, leading=1.3)
    return [Footed(made, words, look.height)]


def _table_rows(look: Look, block: blocks.Table, under: Element) -> list[list[Cell]]:
    size = look.sizes.body * 0.95
    right = [column.align is Align.RIGHT for column in block.columns]
    rows: list[list[Cell]] = []
    for number, row in enumerate(block.rows):
        strong = block.total and number == len(block.rows) - 1
        face = look.faces.strong if strong else look.faces.text
        told = under.add(Role.ROW)
        cells: list[Cell] = [
            paragraph(
                look, cell, size, told.add(Role.CELL), face=face, leading=1.25, right=at_right
            )
            for cell, at_right in zip(row, right, strict=True)
        ]
        rows.append(cells)
    return rows


def steps(look: Look, block: blocks.Steps, under: Element) -> list[Flowable]:
    """Draw arithmetic: what is worked out, formula and numbers, and the result at the right."""
    if not block.rows:
        return []
    sizes, text = look.sizes, look.sizes.body * 0.94
    told = under.add(Role.TABLE)
    rows: list[list[Cell]] = []
    for step in block.rows:
        row = told.add(Role.ROW)
        label, formula = row.add(Role.ROW_HEAD), row.add(Role.CELL)
        worked, result = row.add(Role.CELL), row.add(Role.CELL)
        numbers: list[Flowable] = [
            paragraph(look, step.numbers, text, worked.add(Role.PARAGRAPH), leading=1.25)
        ]
        if step.source:
            source = worked.add(Role.PARAGRAPH)
            numbers.append(
                paragraph(look, step.source, sizes.small, source, color=QUIET, leading=1.25)
            )
        strong = look.faces.strong
        rows.append(
            [
                paragraph(look, step.label, text, label, leading=1.25),
                paragraph(look, step.formula, text, formula, leading=1.25),
                numbers,
                paragraph(look, step.result, text, result, face=strong, leading=1.25, right=True),
            ]
        )
    table = grid(
        look,
        rows,
        [look.width * share for share in (0.24, 0.20, 0.41, 0.15)],
        [
            *padding(*_ALL, top=2.2, bottom=2.8, left=4.0, right=4.0),
            rule_below((0, 0), (-1, -2)),
            ground((3, 0), (3, -1), SHADE),
        ],
    )
    return [spaced(table, 0.0, 8.0)]
