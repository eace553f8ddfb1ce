"""Drawn bars, one below the other on one scale: shares of a whole, or before and after the work."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.report.archival.structure import Role
from deskapp.report.pdf.drawn import Drawn
from deskapp.report.pdf.look import INK, QUIET, RULE, SHADE, WHITE
from deskapp.report.pdf.pen import fitted_text
from deskapp.report.pdf.statements import spaced
from deskapp.report.pdf.text import paragraph

if TYPE_CHECKING:
    from reportlab.platypus import Flowable

    from deskapp.report.archival.structure import Element
    from deskapp.report.blocks import Bars
    from deskapp.report.pdf.look import Look
    from deskapp.report.pdf.pen import Pen
    from deskapp.report.picture_blocks import Bar

_LABEL_SHARE = 0.30
_VALUE_LETTERS = 6.5
"""Room for a figure after the longest bar, in letters of its size."""
_ROW = 1.6
_THICK = 0.78
_HATCH_STEP = 3.5
_LIMIT = 1.8
_QUARTERS = (0.0, 0.25, 0.5, 0.75, 1.0)


def bars(look: Look, block: Bars, under: Element) -> list[Flowable]:
    """Draw a title and, below it, one bar for each share with its figure at the end."""
    if not block.bars:
        return []
    size = look.sizes.body * 0.95
    row = size * _ROW
    left = look.width * _LABEL_SHARE
    room = look.width - left - size * _VALUE_LETTERS
    foot = 0.0 if block.limit is None else look.sizes.small * 1.9
    height = row * len(block.bars) + 2.0 + foot

    def paint(pen: Pen) -> None:
        for quarter in _QUARTERS if block.limit is None else (0.0,):
            x = left + room * quarter
            pen.line(((x, foot), (x, height)), 0.4, RULE)
        for number, bar in enumerate(block.bars):
            base = height - row * (number + 1) + (row - size * _THICK) / 2
            _paint_bar(pen, look, bar, base, (left, room), block.limit)
        if block.limit is not None:
            _paint_limit(pen, look, block.limit, left + room * block.limit.share, foot, height)

    pieces: list[Flowable] = []
    if block.title:
        title = under.add(Role.PARAGRAPH)
        strong = look.faces.strong
        pieces.append(paragraph(look, block.title, look.sizes.body, title, face=strong, after=3.0))
    if block.unit:
        unit = under.add(Role.PARAGRAPH)
        pieces.append(paragraph(look, block.unit, look.sizes.small, unit, color=QUIET, after=3.0))
    figure = under.add_figure(block.description or block.title)
    return [*pieces, spaced(Drawn(look.width, height, paint, figure), 0.0, 8.0)]


def draw_bar(
    pen: Pen,
    look: Look,
    place: tuple[float, float],
    sides: tuple[float, float],
    *,
    is_before: bool,
) -> None:
    """Draw a bar: hatched before the work, full after it, so that gray paper tells them apart."""
    (x, base), (width, high) = place, sides
    if not is_before:
        pen.box(x, base, width, high, fill=look.accent, outline=look.accent, line=0.6)
        return
    with pen.inside(x, base, width, high):
        pen.box(x, base, width, high, fill=WHITE)
        at = x - high
        while at < x + width:
            pen.line(((at, base), (at + high, base + high)), 0.6, QUIET)
            at += _HATCH_STEP
    pen.box(x, base, width, high, outline=INK, line=0.6)


def _paint_bar(
    pen: Pen, look: Look, bar: Bar, base: float, place: tuple[float, float], limit: Bar | None
) -> None:
    left, room = place
    size = look.sizes.body * 0.95
    long, high = room * min(1.0, max(0.0, bar.share)), size * _THICK
    face = look.faces.text
    pen.text(
        0.0, base + size * 0.1, fitted_text(bar.label, face, size, left - 10.0), face, size, INK
    )
    pen.box(left, base, room, high, fill=SHADE)
    draw_bar(pen, look, (left, base), (max(long, 0.8), high), is_before=bar.is_before)
    at, strong = left + long + 5.0, look.faces.strong
    if limit is not None:
        line, wide = left + room * limit.share, strong.width(bar.value, size)
        at = line + 5.0 if at - 4.0 < line < at + wide + 4.0 else at
    pen.text(at, base + size * 0.1, bar.value, strong, size, INK)


def _paint_limit(pen: Pen, look: Look, limit: Bar, x: float, foot: float, top: float) -> None:
    """Draw a line across all bars, and below it what it is."""
    face, size = look.faces.strong, look.sizes.small
    words = fitted_text(f"{limit.label} {limit.value}", face, size, look.width)
    width = face.width(words, size)
    pen.line(((x, foot - 2.0), (x, top)), _LIMIT, INK)
    at = min(max(0.0, x - width / 2), look.width - width)
    pen.text(at, foot - 2.0 - size * 1.05, words, face, size, INK)
