"""The code of an issued report: squares for a camera, and beside them what they say."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING, Any, cast

from reportlab.graphics.barcode import qrencoder

from deskapp.report.archival.structure import Role
from deskapp.report.pdf.drawn import Drawn
from deskapp.report.pdf.grid import Cell, grid
from deskapp.report.pdf.look import QUIET
from deskapp.report.pdf.statements import spaced
from deskapp.report.pdf.text import paragraph

if TYPE_CHECKING:
    from reportlab.platypus import Flowable

    from deskapp.report.archival.structure import Element
    from deskapp.report.blocks import IssueMark
    from deskapp.report.pdf.look import Look
    from deskapp.report.pdf.pen import Pen

_SIDE = 84.0
_QUIET_ZONE = 4
"""Modules left white around the code. Source: ISO/IEC 18004, the quiet zone; from memory."""
_GAP = 12.0
_BLACK = "#000000"


def issue_mark(look: Look, block: IssueMark, under: Element) -> list[Flowable]:
    """Draw the code with its lines at the right."""
    squares = modules(block.code)
    side = _SIDE / (len(squares) + 2 * _QUIET_ZONE)

    def paint(pen: Pen) -> None:
        for row, line in enumerate(squares):
            base = _SIDE - side * (row + 1 + _QUIET_ZONE)
            at = _QUIET_ZONE
            for is_dark, run in groupby(line):
                count = len(list(run))
                if is_dark:
                    pen.box(side * at, base, side * count, side, fill=_BLACK)
                at += count

    drawing = Drawn(_SIDE, _SIDE, paint, under.add_figure(block.description))
    beside: list[Flowable] = [
        paragraph(
            look,
            line,
            look.sizes.small,
            under.add(Role.PARAGRAPH),
            face=look.faces.text,
            color=QUIET,
            after=2.0,
        )
        for line in block.lines
    ]
    row: list[Cell] = [drawing, "", beside]
    return [spaced(grid(look, [row], [_SIDE, _GAP, look.width - _SIDE - _GAP]), 4.0, 8.0)]


def modules(code: str) -> list[list[bool]]:
    """Return the squares of the code for `code`, row by row; True is dark."""
    encoder = cast("Any", qrencoder)
    drawn = encoder.QRCode(None, encoder.QRErrorCorrectLevel.M)
    drawn.addData(encoder.QR8bitByte(code.encode("utf-8")))
    drawn.make()
    count = int(drawn.getModuleCount())
    return [[bool(drawn.isDark(row, column)) for column in range(count)] for row in range(count)]
