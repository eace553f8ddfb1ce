"""Drawn registers: a hatched bar before the work above a full one after it, and what they tell."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.report.archival.structure import Role
from deskapp.report.pdf.bars import draw_bar
from deskapp.report.pdf.drawn import Drawn
from deskapp.report.pdf.look import QUIET, RULE, sign_color
from deskapp.report.pdf.pen import fitted_text
from deskapp.report.pdf.signs import draw_sign
from deskapp.report.pdf.statements import spaced
from deskapp.report.pdf.text import paragraph

if TYPE_CHECKING:
    from reportlab.platypus import Flowable

    from deskapp.report.archival.structure import Element
    from deskapp.report.blocks import RegisterRow, RegisterWalk
    from deskapp.report.pdf.look import Look
    from deskapp.report.pdf.pen import Pen

_LABEL_SHARE, _WORD_SHARE = 0.27, 0.27
_VALUE_LETTERS = 4.6
_BAR = 0.62


def register_walk(look: Look, block: RegisterWalk, under: Element) -> list[Flowable]:
    """Draw the key, one register below the other, and how many were left out."""
    size = look.sizes.small
    line = size * 1.12
    row = 2 * line + size * 0.4
    top = size * 1.9
    height = top + row * len(block.rows)

    def paint(pen: Pen) -> None:
        _key(pen, look, block, height - size * 1.15)
        for number, one in enumerate(block.rows):
            base = height - top - row * number
            pen.line(((0.0, base), (look.width, base)), 0.4, RULE)
            _row(pen, look, one, base, row)

    figure = under.add_figure(block.description)
    pieces: list[Flowable] = [spaced(Drawn(look.width, height, paint, figure), 2.0, 4.0)]
    if block.more:
        more = paragraph(look, block.more, size, under.add(Role.PARAGRAPH), color=QUIET, after=6.0)
        pieces.append(more)
    return pieces


def _key(pen: Pen, look: Look, block: RegisterWalk, base: float) -> None:
    size, x = look.sizes.small, look.width * _LABEL_SHARE
    for text, is_before in ((block.before, True), (block.after, False)):
        draw_bar(pen, look, (x, base), (size * 2.0, size * _BAR), is_before=is_before)
        pen.text(x + size * 2.0 + 5.0, base, text, look.faces.text, size, QUIET)
        x += size * 2.0 + 5.0 + look.faces.text.width(text, size) + 16.0


def _row(pen: Pen, look: Look, one: RegisterRow, top: float, row: float) -> None:
    size, face = look.sizes.small, look.faces.text
    left = look.width * _LABEL_SHARE
    word_at = look.width * (1.0 - _WORD_SHARE)
    room = word_at - left - size * _VALUE_LETTERS
    middle = top - row / 2 - size * 0.33
    pen.text(
        0.0,
        middle,
        fitted_text(one.label, look.faces.strong, size, left - 8.0),
        look.faces.strong,
        size,
    )
    bars = [
        (share, text, is_before)
        for share, text, is_before in (
            (one.before, one.before_text, True),
            (one.after, one.after_text, False),
        )
        if share is not None
    ]
    line = size * 1.12
    base = top - (row - line * len(bars)) / 2 - line * 0.85
    for share, text, is_before in bars:
        wide = max(1.0, room * share)
        draw_bar(pen, look, (left, base), (wide, size * _BAR), is_before=is_before)
        pen.text(left + room * share + 5.0, base, text, face, size)
        base -= line
    draw_sign(pen, one.sign, word_at, middle - size * 0.2, size * 1.15)
    words = fitted_text(one.word, face, size, look.width - word_at - size * 1.7)
    pen.text(word_at + size * 1.7, middle, words, face, size, sign_color(one.sign))
