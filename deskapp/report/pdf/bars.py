"""Drawn bars: shares of a whole, one below the other on one scale."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.report.archival.structure import Role
from deskapp.report.pdf.drawn import Drawn
from deskapp.report.pdf.look import INK, RULE, SHADE
from deskapp.report.pdf.pen import fitted
from deskapp.report.pdf.statements import spaced
from deskapp.report.pdf.text import paragraph

if TYPE_CHECKING:
    from reportlab.platypus import Flowable

    from deskapp.report.archival.structure import Element
    from deskapp.report.blocks import Bars
    from deskapp.report.pdf.look import Look
    from deskapp.report.pdf.pen import Pen

_LABEL_SHARE = 0.30
_VALUE_ROOM = 44.0
_ROW = 1.6
_THICK = 0.78
_QUARTERS = (0.0, 0.25, 0.5, 0.75, 1.0)


def bars(look: Look, block: Bars, under: Element) -> list[Flowable]:
    """Draw a title and, below it, one bar for each share with its figure at the end."""
    size = look.sizes.body * 0.95
    row = size * _ROW
    left = look.width * _LABEL_SHARE
    room = look.width - left - _VALUE_ROOM
    height = row * len(block.bars) + 2.0

    def paint(pen: Pen) -> None:
        for quarter in _QUARTERS:
            x = left + room * quarter
            pen.line(((x, 0.0), (x, height)), 0.4, RULE)
        for number, bar in enumerate(block.bars):
            base = height - row * (number + 1) + (row - size * _THICK) / 2
            long = room * min(1.0, max(0.0, bar.share))
            label = fitted(bar.label, look.faces.text, size, left - 10.0)
            pen.text_right(left - 7.0, base + size * 0.1, label, look.faces.text, size, INK)
            pen.box(left, base, room, size * _THICK, fill=SHADE)
            pen.box(left, base, max(long, 0.8), size * _THICK, fill=look.accent)
            value_at = left + long + 5.0
            pen.text(value_at, base + size * 0.1, bar.value, look.faces.strong, size, INK)

    title = paragraph(
        look,
        block.title,
        look.sizes.body,
        under.add(Role.PARAGRAPH),
        face=look.faces.strong,
        color=INK,
        after=3.0,
    )
    figure = under.add_figure(block.description or block.title)
    pieces: list[Flowable] = [title, spaced(Drawn(look.width, height, paint, figure), 0.0, 8.0)]
    return pieces if block.bars else []
