"""Drawing of the sketch of the house."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.i18n import _
from deskapp.report.archival.structure import Role
from deskapp.report.pdf.drawn import Drawn
from deskapp.report.pdf.ink_pen import draw_ink
from deskapp.report.pdf.look import QUIET, RULE, WHITE
from deskapp.report.pdf.picture_file import open_picture
from deskapp.report.pdf.statements import spaced
from deskapp.report.pdf.text import paragraph

if TYPE_CHECKING:
    from reportlab.lib.utils import ImageReader
    from reportlab.platypus import Flowable

    from deskapp.report.archival.structure import Element
    from deskapp.report.blocks import Sketch
    from deskapp.report.pdf.look import Look
    from deskapp.report.pdf.pen import Pen

_HIGHEST = 300.0
_LETTERS_ACROSS = 48.0
_SMALLEST = 7.0


def sketch(look: Look, block: Sketch, under: Element) -> list[Flowable]:
    """Draw the sketch over its plan or a plain sheet, and its key in words below it."""
    across, down = block.sides
    scale = min(look.width * block.share / across, _HIGHEST / down)
    width, height = across * scale, down * scale
    plan = _plan(look, block)
    letter = max(_SMALLEST, width / _LETTERS_ACROSS)

    def paint(pen: Pen) -> None:
        if plan is not None:
            pen.picture(plan, width, height)
        pen.box(0.0, 0.0, width, height, fill=None if plan else WHITE, outline=RULE, line=0.8)
        with pen.inside(0.0, 0.0, width, height):
            draw_ink(pen, look, block.items, width, height, letter)

    figure = under.add_figure(block.description)
    pieces: list[Flowable] = [spaced(Drawn(width, height, paint, figure), 2.0, 4.0)]
    told = [block.key] if block.key else []
    if block.plan and plan is None:
        told.append(block.missing)
    pieces += [
        paragraph(
            look,
            words,
            look.sizes.small,
            under.add(Role.PARAGRAPH),
            color=QUIET,
            leading=1.3,
            after=6.0,
        )
        for words in told
    ]
    return pieces


def _plan(look: Look, block: Sketch) -> ImageReader | None:
    data = look.photos.get(block.plan) if block.plan else None
    plan = open_picture(data) if data else None
    if data and plan is None:
        look.problems.append(_("The floor plan holds no picture that can be printed."))
    return plan
