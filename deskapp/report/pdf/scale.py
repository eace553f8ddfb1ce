"""The drawn scale: one measured number, its limit, and marks to compare with."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from deskapp.report.blocks import Sign
from deskapp.report.pdf.drawn import Drawn
from deskapp.report.pdf.look import INK, QUIET, SHADE, WHITE, sign_color, sign_tint
from deskapp.report.pdf.pen import fitted
from deskapp.report.pdf.signs import draw_sign
from deskapp.report.pdf.statements import spaced
from deskapp.report.pdf.text import paragraph

if TYPE_CHECKING:
    from reportlab.platypus import Flowable

    from deskapp.report.blocks import Mark, Scale, Zone
    from deskapp.report.pdf.look import Look
    from deskapp.report.pdf.pen import Pen

_BAR = 20.0
_POINTER = 9.0
_HATCH_STEP = 5.0
_HATCH_COLOR = "#b9c2c8"
_ROOM = 5.0
_ZERO = "0"


@dataclass(frozen=True, slots=True)
class _Frame:
    """Where the bar lies and how numbers become points."""

    look: Look
    scale: Scale
    bar: float
    width: float

    def x(self, value: float) -> float:
        share = value / self.scale.maximum if self.scale.maximum else 0.0
        return self.width * min(1.0, max(0.0, share))


def scale(look: Look, block: Scale) -> list[Flowable]:
    """Draw a scale with its title above it."""
    sizes = look.sizes
    below = _rows_below(look, block)
    line = sizes.small * 1.4
    bar = 12.0 + line * (max((row for _mark, row, _x in below), default=-1) + 1)
    height = bar + _BAR + _POINTER + sizes.figure * 1.25 + 4.0

    def paint(pen: Pen) -> None:
        frame = _Frame(look, block, bar, look.width)
        _paint_zones(pen, frame)
        _paint_limit(pen, frame)
        _paint_measured(pen, frame)
        for mark, row, x in below:
            _paint_below(pen, frame, mark, bar - 11.0 - line * row - sizes.small * 0.6, x)

    title = paragraph(look, block.title, sizes.body, face=look.faces.strong, after=0.0)
    unit = paragraph(look, block.unit, sizes.small, color=QUIET, after=3.0)
    pieces: list[Flowable] = [title, unit] if block.unit else [title]
    drawing = Drawn(look.width, height, paint)
    if block.note:
        note = paragraph(look, block.note, sizes.small, color=QUIET)
        return [*pieces, drawing, spaced(note, 0.0, 10.0)]
    return [*pieces, spaced(drawing, 0.0, 8.0)]


def _paint_zones(pen: Pen, frame: _Frame) -> None:
    small = frame.look.sizes.small
    for zone in frame.scale.zones:
        left, right = frame.x(zone.start), frame.x(zone.end)
        if zone.clear:
            pen.box(left, frame.bar, right - left, _BAR, fill=sign_tint(Sign.PASS))
        else:
            _hatch(pen, left, frame.bar, right - left)
        _zone_label(pen, frame, zone, left, right, small)
    pen.box(0.0, frame.bar, frame.width, _BAR, outline=QUIET, line=0.6)
    pen.text(0.0, frame.bar - 11.0 - small * 0.6, _ZERO, frame.look.faces.text, small, QUIET)


def _zone_label(
    pen: Pen, frame: _Frame, zone: Zone, left: float, right: float, size: float
) -> None:
    face = frame.look.faces.text
    width = face.width(zone.label, size)
    if width > right - left - 2 * _ROOM:
        return
    base = frame.bar + (_BAR - size * 0.68) / 2
    if not zone.clear:
        pen.box(left + _ROOM - 3.0, frame.bar + 3.0, width + 6.0, _BAR - 6.0, fill=WHITE)
    pen.text(left + _ROOM, base, zone.label, face, size, INK)


def _hatch(pen: Pen, left: float, bottom: float, width: float) -> None:
    """Fill with slanted lines, so that the zone differs from the other on gray paper too."""
    with pen.inside(left, bottom, width, _BAR):
        pen.box(left, bottom, width, _BAR, fill=SHADE)
        x = left - _BAR
        while x < left + width:
            pen.line(((x, bottom), (x + _BAR, bottom + _BAR)), 0.7, _HATCH_COLOR)
            x += _HATCH_STEP


def _paint_limit(pen: Pen, frame: _Frame) -> None:
    if frame.scale.limit is None:
        return
    x = frame.x(frame.scale.limit.at)
    pen.line(((x, frame.bar - 8.0), (x, frame.bar + _BAR + 5.0)), 1.8, INK)


def _paint_measured(pen: Pen, frame: _Frame) -> None:
    block, sizes = frame.scale, frame.look.sizes
    color = sign_color(block.sign)
    x, top = frame.x(block.measured.at), frame.bar + _BAR
    if block.low is not None and block.high is not None:
        low, high = frame.x(block.low), frame.x(block.high)
        pen.line(((low, top + 1.5), (high, top + 1.5)), 3.0, color)
        for end in (low, high):
            pen.line(((end, top - 3.0), (end, top + 6.0)), 1.4, color)
    pointer = ((x, top - 2.0), (x - 6.0, top + _POINTER), (x + 6.0, top + _POINTER))
    pen.shape(pointer, fill=color, outline=WHITE, width=0.8)
    face, size = frame.look.faces.strong, sizes.figure
    mark = size * 0.95
    text = fitted(block.measured.label, face, size, frame.width - mark - 5.0)
    width = mark + 5.0 + face.width(text, size)
    left = min(max(0.0, x - width / 2), frame.width - width)
    base = top + _POINTER + 5.0
    draw_sign(pen, block.sign, left, base - size * 0.14, mark)
    pen.text(left + mark + 5.0, base, text, face, size, color)


def _paint_below(pen: Pen, frame: _Frame, mark: Mark, base: float, left: float) -> None:
    size = frame.look.sizes.small
    is_limit = mark is frame.scale.limit
    face = frame.look.faces.strong if is_limit else frame.look.faces.text
    if not is_limit:
        x = frame.x(mark.at)
        pen.line(((x, base + size), (x, frame.bar)), 0.7, QUIET, dash=(1.5, 1.5))
        pen.disc(x, frame.bar, 2.2, fill=WHITE, outline=QUIET, width=0.9)
    pen.text(left, base, mark.label, face, size, INK)


def _rows_below(look: Look, block: Scale) -> list[tuple[Mark, int, float]]:
    """Return the limit and the marks with the row below the bar each label fits into, and its x."""
    marks = [*([block.limit] if block.limit else []), *block.marks]
    zero = look.faces.text.width(_ZERO, look.sizes.small)
    taken: dict[int, list[tuple[float, float]]] = {0: [(0.0, zero)]}
    placed: list[tuple[Mark, int, float]] = []
    for mark in marks:
        face = look.faces.strong if mark is block.limit else look.faces.text
        width = face.width(mark.label, look.sizes.small)
        share = mark.at / block.maximum if block.maximum else 0.0
        left = min(max(0.0, look.width * share - width / 2), look.width - width)
        row = 0
        while any(
            left < end + 10.0 and start < left + width + 10.0 for start, end in taken.get(row, [])
        ):
            row += 1
        taken.setdefault(row, []).append((left, left + width))
        placed.append((mark, row, left))
    return placed
