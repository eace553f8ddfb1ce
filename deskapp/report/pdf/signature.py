"""Drawing of the statement and the lines it is signed on."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.platypus import Flowable

from deskapp.i18n import _
from deskapp.report.archival.structure import Role
from deskapp.report.pdf.drawn import Drawn
from deskapp.report.pdf.grid import Cell, at_foot, grid, padding
from deskapp.report.pdf.look import INK, QUIET
from deskapp.report.pdf.pictures import fitted_picture
from deskapp.report.pdf.statements import spaced
from deskapp.report.pdf.text import paragraph

if TYPE_CHECKING:
    from deskapp.report import blocks
    from deskapp.report.archival.structure import Element
    from deskapp.report.pdf.look import Look
    from deskapp.report.pdf.pen import Pen

_ALL = ((0, 0), (-1, -1))
_GAP = 18.0
_ROOM_TO_WRITE = 26.0
_LABEL_SLACK = 1.0
_ABREAST = 4
"""Up to so many lines stand side by side; more in rows of two."""
_PICTURE_HEIGHT = 34.0
_LONG_LINES = 2
"""Lines above the place to sign from which a name is written as small as running text."""


def signature(look: Look, block: blocks.Signature, under: Element) -> list[Flowable]:
    """Draw the statement and, below it, lines to sign on."""
    pieces: list[Flowable] = []
    if block.statement:
        statement = under.add(Role.PARAGRAPH)
        pieces.append(paragraph(look, block.statement, look.sizes.body, statement, after=4.0))
    count = len(block.lines)
    across = count if count <= _ABREAST else 2
    wide = _line_widths(look, block) if across > 2 else [(look.width - _GAP) / 2] * across
    rows: list[list[Cell]] = []
    for start in range(0, count, across or 1):
        row: list[Cell] = []
        for at, width in enumerate(wide):
            row += [""] if at else []
            line = block.lines[start + at] if start + at < count else None
            row.append("" if line is None else _line(look, line, width, under))
        rows.append(row)
    widths = [part for width in wide for part in (_GAP, width)][1:]
    if rows:
        # A picture is taller than a word: lines side by side are level at their foot.
        level = at_foot(*_ALL)
        table = grid(look, rows, widths, [level, *padding(*_ALL, bottom=6.0)])
        pieces.append(spaced(table, 0.0, 8.0))
    return pieces


def _line_widths(look: Look, block: blocks.Signature) -> list[float]:
    """Return the widths of lines side by side: room for each label, the rest to sign on."""
    room = look.width - _GAP * (len(block.lines) - 1)
    least, label, value = room / 6, look.sizes.small, look.sizes.lead
    text = look.faces.text
    needed = [
        max(least, text.width(line.label, label), min(least * 1.5, text.width(line.value, value)))
        + _LABEL_SLACK
        for line in block.lines[1:]
    ]
    first = room - sum(needed)
    if first < room / 4:
        return [room / len(block.lines)] * len(block.lines)
    return [first, *needed]


def _line(look: Look, line: blocks.SignatureLine, width: float, under: Element) -> list[Flowable]:
    sizes = look.sizes
    label = under.add(Role.PARAGRAPH)

    def paint(pen: Pen) -> None:
        pen.line(((0.0, 0.0), (width, 0.0)), 0.7, INK)

    return [
        Drawn(width, 8.0),
        _written(look, line, width, under),
        Drawn(width, 3.0, paint),
        paragraph(look, line.label, sizes.small, label, color=QUIET),
    ]


def _written(look: Look, line: blocks.SignatureLine, width: float, under: Element) -> Flowable:
    """Return what stands above a line; room to write by hand where nothing can be shown."""
    if line.value:
        size, face = look.sizes.lead, look.faces.text
        if face.width(line.value, size) > _LONG_LINES * width:
            size = look.sizes.body
        return paragraph(look, line.value, size, under.add(Role.PARAGRAPH))
    data = look.photos.get(line.picture.digest) if line.picture is not None else None
    if line.picture is None or not data:
        return Drawn(width, _ROOM_TO_WRITE)
    figure = under.add_figure(line.picture.description)
    image = fitted_picture(look, data, width, _PICTURE_HEIGHT, figure)
    if image is None:
        look.problems.append(_("The signature file holds no picture that can be printed."))
    return image or Drawn(width, _ROOM_TO_WRITE)
