"""Drawing of headings, running text, answers and cautions."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.platypus import Flowable

from deskapp.report.archival.structure import Element, Role
from deskapp.report.blocks import Sign, TextRole
from deskapp.report.pdf.drawn import Drawn
from deskapp.report.pdf.grid import Cell, Grid, grid, ground, padding, rule_above, rule_below
from deskapp.report.pdf.headed import Headed
from deskapp.report.pdf.look import INK, QUIET, SHADE, WHITE, sign_color, sign_tint
from deskapp.report.pdf.signs import sign_mark
from deskapp.report.pdf.text import paragraph

if TYPE_CHECKING:
    from deskapp.report import blocks
    from deskapp.report.pdf.look import Look
    from deskapp.report.pdf.pen import Pen

_ALL = ((0, 0), (-1, -1))
_CARD_PAD = 12.0
_TITLE_LINES = 1.8
"""Lines beside the figures of a card from which its title stands below them, over the width."""


def heading(look: Look, block: blocks.Heading, element: Element) -> list[Flowable]:
    """Draw a heading."""
    size, before, after = {
        1: (look.sizes.section * 1.25, 20.0, 6.0),
        2: (look.sizes.section, 15.0, 5.0),
    }.get(block.level, (look.sizes.piece, 10.0, 3.0))
    color = look.accent if block.level == 1 else INK
    piece = paragraph(
        look,
        block.text,
        size,
        element,
        face=look.faces.strong,
        color=color,
        leading=1.2,
        after=after,
    )
    piece.spaceBefore = before
    return [piece]


def heading_again(look: Look, text: str) -> Flowable:
    """Draw a heading above what a page break parted from it: decoration, for it was said before."""
    said = Element(Role.PARAGRAPH)
    return paragraph(
        look, text, look.sizes.small, said, face=look.faces.strong, color=QUIET, after=3.0
    )


def running_text(look: Look, block: blocks.Paragraph, under: Element) -> list[Flowable]:
    """Draw running text."""
    size, color = {
        TextRole.LEAD: (look.sizes.lead, INK),
        TextRole.BODY: (look.sizes.body, INK),
        TextRole.QUIET: (look.sizes.small, QUIET),
        TextRole.FINE: (look.sizes.small * 0.9, QUIET),
    }[block.role]
    element, after = under.add(Role.PARAGRAPH), look.sizes.body * 0.6
    return [paragraph(look, block.text, size, element, color=color, after=after)]


def banner(look: Look, block: blocks.Banner, under: Element) -> list[Flowable]:
    """Draw the answer in a tinted panel, its sign at the left."""
    sizes = look.sizes
    word_size, mark, pad = (
        (sizes.title * 0.92, 38.0, 12.0) if block.large else (sizes.piece, 18.0, 9.0)
    )
    words: list[Flowable] = []
    if block.word:
        words.append(
            paragraph(
                look,
                block.word,
                word_size,
                under.add(Role.PARAGRAPH),
                face=look.faces.strong,
                color=sign_color(block.sign),
                leading=1.2,
                after=2.0,
            )
        )
    size = sizes.lead if block.large else sizes.body
    words += [
        paragraph(
            look,
            text,
            size,
            under.add(Role.PARAGRAPH),
            leading=1.3,
            after=3.0 if text is not block.texts[-1] else 0.0,
        )
        for text in block.texts
    ]
    table = grid(
        look,
        [[sign_mark(block.sign, mark), words]],
        [mark + 2 * pad, look.width - mark - 2 * pad],
        [
            ground(*_ALL, sign_tint(block.sign)),
            *padding(*_ALL, top=pad, bottom=pad, left=pad, right=pad),
            *padding((1, 0), (1, 0), left=0.0),
        ],
    )
    return [spaced(table, 2.0, 10.0)]


def signed_lines(look: Look, block: blocks.SignedLines, under: Element) -> list[Flowable]:
    """Draw short statements, one below the other, each with its sign and word."""
    sizes = look.sizes
    mark = sizes.body * 1.3
    items = under.add(Role.LIST)
    rows: list[list[Cell]] = []
    for line in block.lines:
        body = items.add(Role.ITEM).add(Role.BODY)
        word, text = body.add(Role.PARAGRAPH), body.add(Role.PARAGRAPH)
        color = sign_color(line.sign)
        rows.append(
            [
                sign_mark(line.sign, mark),
                paragraph(look, line.word, sizes.body, word, face=look.faces.strong, color=color),
                paragraph(look, line.text, sizes.body, text),
            ]
        )
    if not rows:
        return []
    widest = max(look.faces.strong.width(line.word, sizes.body) for line in block.lines)
    word = min(widest + 16.0, look.width * 0.3)
    table = grid(
        look,
        rows,
        [mark + 9.0, word, look.width - mark - 9.0 - word],
        [
            *padding(*_ALL, top=5.0, bottom=6.0),
            rule_below((0, 0), (-1, -2)),
        ],
    )
    return [spaced(table, 0.0, 10.0)]


def verdict_card(look: Look, block: blocks.VerdictCard, under: Element) -> list[Flowable]:
    """Draw the outcome of one system: sign and word, its figures, and what it rests on."""
    sizes = look.sizes
    mark, pad = 24.0, _CARD_PAD
    color = sign_color(block.sign)
    head: list[Flowable] = [
        paragraph(
            look,
            block.word,
            sizes.section,
            under.add(Role.PARAGRAPH),
            face=look.faces.strong,
            color=color,
            leading=1.25,
        ),
    ]
    title = paragraph(
        look, block.title, sizes.body, under.add(Role.PARAGRAPH), face=look.faces.strong
    )
    share = look.width * 0.175
    left = look.width - share * len(block.figures)
    room = left - mark - 2 * pad
    is_long = look.faces.strong.width(block.title, sizes.body) > _TITLE_LINES * room
    head += [] if is_long else [title]
    told = under.add(Role.TABLE)
    figures = [_card_figure(look, figure, *told.add_pair()) for figure in block.figures]
    widths = [mark + 2 * pad, room, *([share] * len(figures))]
    commands = [
        ground(*_ALL, sign_tint(block.sign)),
        rule_above((0, 0), (-1, 0), color, 1.2),
        *padding(*_ALL, top=pad * 0.8, bottom=pad * 0.6, right=8.0),
        *padding((0, 0), (0, -1), left=pad),
    ]
    top = grid(look, [[sign_mark(block.sign, mark), head, *figures]], widths, commands)
    below = _below_card(look, block, mark + 2 * pad, under, title if is_long else None)
    if below is None:
        return [spaced(top, 0.0, 9.0)]
    return [Headed([top], spaced(below, 0.0, 9.0), look.height)]


def _card_figure(look: Look, figure: blocks.Figure, head: Element, cell: Element) -> list[Flowable]:
    sizes = look.sizes
    return [
        paragraph(look, figure.label, sizes.small, head, color=QUIET, leading=1.2, after=2.0),
        paragraph(look, figure.value, sizes.lead, cell, face=look.faces.strong, leading=1.2),
    ]


def _below_card(
    look: Look, block: blocks.VerdictCard, indent: float, under: Element, title: Flowable | None
) -> Grid | None:
    """Return the words under the figures of a card, on the same ground; a long title first."""
    pad = _CARD_PAD
    rows: list[list[Cell]] = [] if title is None else [["", title]]
    size = look.sizes.body
    if block.text:
        rows.append(["", paragraph(look, block.text, size, under.add(Role.PARAGRAPH))])
    if block.warning:
        color = sign_color(Sign.WARNING)
        element = under.add(Role.PARAGRAPH)
        words = paragraph(look, block.warning, size, element, face=look.faces.strong, color=color)
        rows.append([sign_mark(Sign.WARNING, size * 1.5), words])
    if not rows:
        return None
    return grid(
        look,
        rows,
        [indent, look.width - indent],
        [
            ground(*_ALL, sign_tint(block.sign)),
            *padding(*_ALL, bottom=4.0),
            *padding((0, 0), (0, -1), left=pad + 3.0),
            *padding((1, 0), (1, -1), right=pad),
            *padding((0, -1), (-1, -1), bottom=pad * 0.8),
        ],
    )


def notices(look: Look, block: blocks.Notices, under: Element) -> list[Flowable]:
    """Draw cautions or findings, each with its sign and word."""
    sizes = look.sizes
    mark = sizes.body * 1.35
    rows: list[list[Cell]] = []
    items = under.add(Role.LIST)
    for item in block.items:
        body = items.add(Role.ITEM).add(Role.BODY)
        color = sign_color(item.sign)
        words: list[Flowable] = []
        if item.word:
            word = body.add(Role.PARAGRAPH)
            words.append(
                paragraph(look, item.word, sizes.body, word, face=look.faces.strong, color=color)
            )
        size = (sizes.small + sizes.body) / 2 if item.sign is Sign.NOTE else sizes.body
        words.append(paragraph(look, item.text, size, body.add(Role.PARAGRAPH), leading=1.3))
        if item.source:
            source = body.add(Role.PARAGRAPH)
            words.append(
                paragraph(look, item.source, sizes.small, source, color=QUIET, leading=1.3)
            )
        rows.append([sign_mark(item.sign, mark), words])
    if not rows:
        return []
    table = grid(
        look,
        rows,
        [mark + 10.0, look.width - mark - 10.0],
        [*padding(*_ALL, top=3.0, bottom=4.0), rule_below((0, 0), (-1, -2))],
    )
    return [spaced(table, 0.0, 8.0)]


def numbered(look: Look, block: blocks.Numbered, under: Element) -> list[Flowable]:
    """Draw things to do, each with its number on a disc."""
    size = look.sizes.body
    items = under.add(Role.NUMBERED_LIST)
    rows: list[list[Cell]] = []
    for number, text in enumerate(block.items, 1):
        item = items.add(Role.ITEM)
        disc = number_disc(look, str(number), size * 1.65, item.add(Role.LABEL))
        rows.append([disc, paragraph(look, text, size, item.add(Role.BODY))])
    if not rows:
        return []
    column = size * 1.65 + 10.0
    table = grid(
        look,
        rows,
        [column, look.width - column],
        [*padding(*_ALL, bottom=5.0), *padding((1, 0), (1, -1), top=size * 0.16)],
    )
    return [spaced(table, 2.0, 4.0)]


def lines(look: Look, block: blocks.Lines, under: Element) -> list[Flowable]:
    """Draw lines of arithmetic on a pale ground."""
    if not block.rows:
        return []
    rows = [
        [paragraph(look, row, look.sizes.body, under.add(Role.PARAGRAPH))] for row in block.rows
    ]
    table = grid(
        look,
        rows,
        [look.width],
        [
            ground(*_ALL, SHADE),
            *padding(*_ALL, top=1.0, bottom=1.0, left=12.0, right=12.0),
            *padding((0, 0), (0, 0), top=6.0),
            *padding((0, -1), (0, -1), bottom=6.0),
        ],
    )
    return [spaced(table, 0.0, 8.0)]


def number_disc(look: Look, number: str, size: float, element: Element) -> Drawn:
    """Return a disc with a number in it, the content of `element`, `size` points across."""
    face = look.faces.strong
    text = size * (0.58 if len(number) < 3 else 0.42)

    def paint(pen: Pen) -> None:
        pen.disc(size / 2, size / 2, size / 2, fill=look.accent)
        x = (size - face.width(number, text)) / 2
        pen.text(x, size / 2 - text * 0.33, number, face, text, WHITE)

    return Drawn(size, size, paint, element)


def spaced(piece: Flowable, before: float, after: float) -> Flowable:
    """Return `piece` with room above and below it, in points."""
    piece.spaceBefore = before
    piece.spaceAfter = after
    return piece
