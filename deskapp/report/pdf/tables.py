"""Drawing of facts, tables and arithmetic."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.report.blocks import Align, Sign
from deskapp.report.pdf.drawn import Drawn
from deskapp.report.pdf.grid import Cell, Command, grid, ground, padding, rule_above, rule_below
from deskapp.report.pdf.look import INK, QUIET, SHADE, sign_color
from deskapp.report.pdf.statements import spaced
from deskapp.report.pdf.text import paragraph

if TYPE_CHECKING:
    from reportlab.platypus import Flowable

    from deskapp.report import blocks
    from deskapp.report.pdf.look import Look
    from deskapp.report.pdf.pen import Pen

_ALL = ((0, 0), (-1, -1))
_GAP = 22.0
_CELL_SIDE = 4.0
_BAR_SHARE = 0.44
_LABEL_SHARE = 0.45
_LONG = 110
"""Values of more characters than this take the full width."""


def facts(look: Look, block: blocks.Facts) -> list[Flowable]:
    """Draw labels and values, in one column or two; long values always in one, below the rest."""
    short = [fact for fact in block.rows if len(fact.value) <= _LONG and block.columns > 1]
    long = [fact for fact in block.rows if fact not in short]
    pieces = [_two_columns(look, short)] if short else []
    return [*pieces, *([_one_column(look, long)] if long else [])]


def _one_column(look: Look, facts: list[blocks.Fact]) -> Flowable:
    label = (look.width - _GAP) / 2 * _LABEL_SHARE
    rows = [_fact(look, fact) for fact in facts]
    commands = [*padding(*_ALL, top=2.2, bottom=3.0), rule_below((0, 0), (-1, -2))]
    return spaced(grid(look, rows, [label, look.width - label], commands), 0.0, 8.0)


def _two_columns(look: Look, facts: list[blocks.Fact]) -> Flowable:
    half = (look.width - _GAP) / 2
    label = half * _LABEL_SHARE
    per_column = (len(facts) + 1) // 2
    left, right = facts[:per_column], facts[per_column:]
    rows = [
        [
            *_fact(look, fact),
            "",
            *(_fact(look, right[position]) if position < len(right) else ["", ""]),
        ]
        for position, fact in enumerate(left)
    ]
    commands = [
        *padding(*_ALL, top=2.2, bottom=3.0),
        *padding((0, 0), (0, -1), right=6.0),
        *padding((3, 0), (3, -1), right=6.0),
        rule_below((0, 0), (1, -2)),
    ]
    if len(right) > 1:
        commands.append(rule_below((3, 0), (4, len(right) - 2)))
    widths = [label, half - label, _GAP, label, half - label]
    return spaced(grid(look, rows, widths, commands), 0.0, 8.0)


def _fact(look: Look, fact: blocks.Fact) -> list[Cell]:
    size = look.sizes.body
    face, color = (
        (look.faces.italic, sign_color(Sign.WARNING)) if fact.missing else (look.faces.text, INK)
    )
    return [
        paragraph(look, fact.label, size, color=QUIET, leading=1.25),
        paragraph(look, fact.value, size, face=face, color=color, leading=1.25),
    ]


def table(look: Look, block: blocks.Table) -> list[Flowable]:
    """Draw a table; its headings repeat on each page."""
    total = sum(column.weight for column in block.columns)
    widths = [look.width * column.weight / total for column in block.columns]
    head: list[Cell] = [
        paragraph(
            look,
            column.title,
            look.sizes.small,
            face=look.faces.strong,
            color=QUIET,
            leading=1.2,
            right=column.align is Align.RIGHT,
        )
        for column in block.columns
    ]
    rows = [head, *_table_rows(look, block, widths[-1] - 2 * _CELL_SIDE)]
    commands: list[Command] = [
        *padding(*_ALL, top=3.5, bottom=4.0, left=_CELL_SIDE, right=_CELL_SIDE),
        ("VALIGN", (0, 0), (-1, 0), "BOTTOM"),
        rule_below((0, 0), (-1, 0), INK),
        rule_below((0, 1), (-1, -1)),
    ]
    if block.total:
        commands.append(rule_above((0, -1), (-1, -1), INK))
    pieces: list[Flowable] = [spaced(grid(look, rows, widths, commands, heads=1), 2.0, 6.0)]
    if block.caption:
        pieces.append(
            paragraph(look, block.caption, look.sizes.small, color=QUIET, after=8.0, leading=1.3)
        )
    return pieces


def _table_rows(look: Look, block: blocks.Table, last_width: float) -> list[list[Cell]]:
    size = look.sizes.body * 0.95
    right = [column.align is Align.RIGHT for column in block.columns]
    rows: list[list[Cell]] = []
    for number, row in enumerate(block.rows):
        strong = block.total and number == len(block.rows) - 1
        face = look.faces.strong if strong else look.faces.text
        cells: list[Cell] = [
            paragraph(look, cell, size, face=face, leading=1.25, right=at_right)
            for cell, at_right in zip(row, right, strict=True)
        ]
        if number < len(block.shares):
            cells[-1] = _with_bar(look, cells[-1], block.shares[number], last_width)
        rows.append(cells)
    return rows


def _with_bar(look: Look, cell: Cell, share: float, width: float) -> Flowable:
    """Return a cell with a bar of `share` at its left."""
    size = look.sizes.body
    room = width * _BAR_SHARE

    def paint(pen: Pen) -> None:
        pen.box(0.0, 1.0, room, size * 0.62, fill=SHADE)
        pen.box(0.0, 1.0, room * min(1.0, max(0.0, share)), size * 0.62, fill=look.accent)

    bar = Drawn(room, size, paint)
    return grid(look, [[bar, cell]], [room + 4.0, width - room - 4.0])


def steps(look: Look, block: blocks.Steps) -> list[Flowable]:
    """Draw arithmetic: what is worked out, formula and numbers, and the result at the right."""
    if not block.rows:
        return []
    sizes = look.sizes
    rows: list[list[Cell]] = []
    for step in block.rows:
        numbers: list[Flowable] = [paragraph(look, step.numbers, sizes.body, leading=1.25)]
        if step.source:
            numbers.append(paragraph(look, step.source, sizes.small, color=QUIET, leading=1.25))
        rows.append(
            [
                paragraph(look, step.label, sizes.body, leading=1.25),
                paragraph(look, step.formula, sizes.body, leading=1.25),
                numbers,
                paragraph(
                    look, step.result, sizes.body, face=look.faces.strong, leading=1.25, right=True
                ),
            ]
        )
    table = grid(
        look,
        rows,
        [look.width * share for share in (0.27, 0.22, 0.34, 0.17)],
        [
            *padding(*_ALL, top=3.0, bottom=4.0, left=4.0, right=4.0),
            rule_below((0, 0), (-1, -2)),
            ground((3, 0), (3, -1), SHADE),
        ],
    )
    return [spaced(table, 0.0, 8.0)]
