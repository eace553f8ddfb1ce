"""Drawing of the top of page 1."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.platypus import Flowable, PageBreak

from deskapp.report.archival.structure import Role
from deskapp.report.pdf.drawn import Drawn
from deskapp.report.pdf.grid import Cell, at_foot, grid, padding
from deskapp.report.pdf.look import INK, QUIET, RULE
from deskapp.report.pdf.pictures import logo
from deskapp.report.pdf.piece import Piece
from deskapp.report.pdf.statements import spaced
from deskapp.report.pdf.text import paragraph

if TYPE_CHECKING:
    from deskapp.report import blocks
    from deskapp.report.archival.structure import Element
    from deskapp.report.pdf.look import Look
    from deskapp.report.pdf.pen import Pen
    from deskapp.report.pdf.tagged import TaggedCanvas

_LOGO_HEIGHT = 42.0
_RULE_GAP = 10.0
_LONG_LINES = 2
"""Lines from which an address below the title is written as small as running text."""


def letterhead(look: Look, block: blocks.Letterhead, under: Element, title: Role) -> list[Flowable]:
    """Draw company and contact lines over a thin rule, then what this paper is, the `title`."""
    sizes = look.sizes
    pieces: list[Flowable] = []
    sender = _sender(look, block, under)
    if sender is not None:
        pieces += [sender, Drawn(look.width, 1.0, _rule(look)), Drawn(1.0, 12.0)]
    pieces.append(
        paragraph(
            look,
            block.title,
            sizes.title,
            under.add(title),
            face=look.faces.strong,
            leading=1.12,
            after=3.0,
        )
    )
    for number, line in enumerate(block.subtitle):
        is_long = look.faces.text.width(line, sizes.lead) > _LONG_LINES * look.width
        size, color = (sizes.body, QUIET) if number else (sizes.lead, INK)
        size = sizes.body if is_long else size
        element = under.add(Role.PARAGRAPH)
        pieces.append(paragraph(look, line, size, element, color=color, leading=1.3))
    pieces.append(Drawn(1.0, 8.0))
    return pieces


def part(look: Look, block: blocks.PartStart, under: Element, title: Role) -> list[Flowable]:
    """Draw the top of another part: a strong rule, its title, and what it holds."""
    sizes = look.sizes

    def rule(pen: Pen) -> None:
        pen.line(((0.0, 0.0), (look.width, 0.0)), 2.4, look.accent)

    pieces: list[Flowable] = [
        PageBreak(),
        _PartHeader(block.header),
        Drawn(look.width, 12.0, rule),
        paragraph(
            look,
            block.title,
            sizes.section * 1.25,
            under.add(title),
            face=look.faces.strong,
            color=look.accent,
            leading=1.2,
            after=3.0,
        ),
    ]
    if block.text:
        text = under.add(Role.PARAGRAPH)
        pieces.append(paragraph(look, block.text, sizes.body, text, color=QUIET, after=4.0))
    return pieces


class _PartHeader(Piece):
    """Changes what stands at the top of the pages, from the one it stands on."""

    width = height = 0.0

    def __init__(self, header: str) -> None:
        super().__init__()
        self._header = header

    def place(self, canvas: TaggedCanvas, x: float, y: float) -> None:  # noqa: ARG002
        """Tell the canvas, which paints the top of a page last."""
        canvas.part_header = self._header or canvas.part_header


def _sender(look: Look, block: blocks.Letterhead, under: Element) -> Flowable | None:
    sizes = look.sizes
    left: list[Flowable] = []
    mark = logo(look, block, _LOGO_HEIGHT, under)
    if mark is not None:
        left += [mark, Drawn(1.0, 5.0)]
    if block.company:
        size = sizes.body if mark is not None else sizes.section
        left.append(
            paragraph(
                look,
                block.company,
                size,
                under.add(Role.PARAGRAPH),
                face=look.faces.strong,
                color=look.accent,
                leading=1.2,
            )
        )
    right: list[Flowable] = [
        paragraph(
            look,
            line,
            sizes.small,
            under.add(Role.PARAGRAPH),
            color=QUIET,
            leading=1.35,
            right=True,
        )
        for line in block.contact
    ]
    if not left and not right:
        return None
    half = look.width / 2
    row: list[Cell] = [left, right]
    commands = [at_foot((0, 0), (-1, -1)), *padding((0, 0), (0, 0), right=12.0)]
    return spaced(grid(look, [row], [half, half], commands), 0.0, _RULE_GAP)


def _rule(look: Look):
    def paint(pen: Pen) -> None:
        pen.line(((0.0, 0.0), (look.width, 0.0)), 0.6, RULE)
        pen.line(((0.0, 0.0), (48.0, 0.0)), 2.4, look.accent)

    return paint
