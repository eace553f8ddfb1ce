"""The drawn scale: one measured number, its limit, and marks to compare with."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from deskapp.report.archival.structure import Role
from deskapp.report.blocks import Sign
from deskapp.report.pdf.drawn import Drawn
from deskapp.report.pdf.look import INK, QUIET, SHADE, WHITE, sign_color, sign_tint
from deskapp.report.pdf.pen import fitted_text
from deskapp.report.pdf.signs import draw_sign
from deskapp.report.pdf.statements import spaced
from deskapp.report.pdf.text import paragraph

if TYPE_CHECKING:
    from reportlab.platypus import Flowable

    from deskapp.report.archival.structure import Element
    from deskapp.report.blocks import Scale, Zone
    from deskapp.report.pdf.look import Look
    from deskapp.report.pdf.pen import Pen

_BAR = 20.0
_POINTER = 9.0
_HATCH_STEP = 5.0
_HATCH_COLOR = "#b9c2c8"
_ROOM = 5.0
_ZERO = "0"
_APART = 10.0
_SHORTEST_WAY = 26.0


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


@dataclass(frozen=True, slots=True)
class _Label:
    """Words below the bar: at which number, in which row, and how they are drawn."""

    text: str
    at: float
    strong: bool = False
    pointed: bool = False
    row: int = 0
    left: float = 0.0


def scale(look: Look, block: Scale, under: Element) -> list[Flowable]:
    """Draw a scale with its title above it."""
    sizes = look.sizes
    below = _placed(look, block)
    line = sizes.small * 1.4
    bar = 12.0 + line * (max((label.row for label in below), default=0) + 1)
    height = bar + _BAR + _POINTER + sizes.figure * 1.25 + 4.0

    def paint(pen: Pen) -> None:
        frame = _Frame(look, block, bar, look.width)
        _paint_zones(pen, frame)
        _paint_limit(pen, frame)
        _paint_measured(pen, frame)
        bases = [bar - 11.0 - line * label.row - sizes.small * 0.6 for label in below]
        for label, base in zip(below, bases, strict=True):
            _paint_leader(pen, frame, label, base)
        for label, base in zip(below, bases, strict=True):
            _paint_label(pen, frame, label, base)

    title = paragraph(
        look, block.title, sizes.body, under.add(Role.PARAGRAPH), face=look.faces.strong, after=0.0
    )
    unit = paragraph(
        look, block.unit, sizes.small, under.add(Role.PARAGRAPH), color=QUIET, after=3.0
    )
    pieces: list[Flowable] = [title, unit] if block.unit else [title]
    figure = under.add_figure(block.description or block.title)
    drawing = Drawn(look.width, height, paint, figure)
    if block.note:
        note = paragraph(look, block.note, sizes.small, under.add(Role.PARAGRAPH), color=QUIET)
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
        if _fits(frame.look, frame.scale, zone):
            _zone_label(pen, frame, zone, left, small)
    pen.box(0.0, frame.bar, frame.width, _BAR, outline=QUIET, line=0.6)
    pen.text(0.0, frame.bar - 11.0 - small * 0.6, _ZERO, frame.look.faces.text, small, QUIET)


def _fits(look: Look, scale: Scale, zone: Zone) -> bool:
    """Say whether the name of a zone fits into it; if not it is written below the bar."""
    room = look.width * (zone.end - zone.start) / scale.maximum if scale.maximum else 0.0
    return look.faces.text.width(zone.label, look.sizes.small) <= room - 2 * _ROOM


def _zone_label(pen: Pen, frame: _Frame, zone: Zone, left: float, size: float) -> None:
    face = frame.look.faces.text
    width = face.width(zone.label, size)
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
    pen.line(((x, frame.bar - 6.0), (x, frame.bar + _BAR + 5.0)), 1.8, INK)


def _paint_measured(pen: Pen, frame: _Frame) -> None:
    block, sizes = frame.scale, frame.look.sizes
    color = sign_color(block.sign)
    x, top = frame.x(block.measured.at), frame.bar + _BAR
    if block.low is not None and block.high is not None:
        low, high = frame.x(block.low), frame.x(block.high)
        pen.line(((low, top + 1.5), (high, top + 1.5)), 3.0, color)
        for end in (low, high):
            pen.line(((end, top - 3.0), (end, top + 6.0)), 1.4, color)
    _paint_way(pen, frame)
    pen.shape(_pointer(x, top), fill=color, outline=WHITE, width=0.8)
    face, size = frame.look.faces.strong, sizes.figure
    mark = size * 0.95
    text = fitted_text(block.measured.label, face, size, frame.width - mark - 5.0)
    width = mark + 5.0 + face.width(text, size)
    left = min(max(0.0, x - width / 2), frame.width - width)
    base = top + _POINTER + 5.0
    draw_sign(pen, block.sign, left, base - size * 0.14, mark)
    pen.text(left + mark + 5.0, base, text, face, size, color)


def _pointer(x: float, top: float) -> tuple[tuple[float, float], ...]:
    return ((x, top - 2.0), (x - 6.0, top + _POINTER), (x + 6.0, top + _POINTER))


def _paint_way(pen: Pen, frame: _Frame) -> None:
    """Draw a hollow pointer at the result before, and an arrow from there to the measured one.

    Where both cannot be told apart the way is dashed and has no point.
    """
    block, top = frame.scale, frame.bar + _BAR
    if block.before is None:
        return
    start, end = frame.x(block.before.at), frame.x(block.measured.at)
    onward = 1.0 if end > start else -1.0
    if abs(end - start) >= _SHORTEST_WAY:
        y, tip = top + 7.5, end - onward * 8.0
        sure = block.told_apart
        pen.line(((start, y), (tip, y)), 1.2, INK, dash=None if sure else (3.0, 2.5))
        if sure:
            pen.shape(
                ((tip, y), (tip - onward * 7.0, y + 3.5), (tip - onward * 7.0, y - 3.5)), fill=INK
            )
    pen.shape(_pointer(start, top), fill=WHITE, outline=INK, width=1.0)


def _paint_leader(pen: Pen, frame: _Frame, label: _Label, base: float) -> None:
    size, x = frame.look.sizes.small, frame.x(label.at)
    if not label.strong:
        pen.line(((x, base + size), (x, frame.bar)), 0.7, QUIET, dash=(1.5, 1.5))
    if label.pointed:
        pen.disc(x, frame.bar, 2.2, fill=WHITE, outline=QUIET, width=0.9)


def _paint_label(pen: Pen, frame: _Frame, label: _Label, base: float) -> None:
    size = frame.look.sizes.small
    face = frame.look.faces.strong if label.strong else frame.look.faces.text
    width = face.width(label.text, size)
    pen.box(label.left - 1.5, base - size * 0.25, width + 3.0, size * 1.1, fill=WHITE)
    pen.text(label.left, base, label.text, face, size, INK)


def _placed(look: Look, block: Scale) -> list[_Label]:
    """Return what is written below the bar, each label in the first row it fits into."""
    zero = look.faces.text.width(_ZERO, look.sizes.small)
    taken: dict[int, list[tuple[float, float]]] = {0: [(0.0, zero)]}
    placed: list[_Label] = []
    for label in _labels(look, block):
        face = look.faces.strong if label.strong else look.faces.text
        width = face.width(label.text, look.sizes.small)
        share = label.at / block.maximum if block.maximum else 0.0
        left = min(max(0.0, look.width * share - width / 2), look.width - width)
        row = 0
        while any(
            left < end + _APART and start < left + width + _APART
            for start, end in taken.get(row, [])
        ):
            row += 1
        taken.setdefault(row, []).append((left, left + width))
        placed.append(replace(label, row=row, left=left))
    return placed


def _labels(look: Look, block: Scale) -> list[_Label]:
    limit = [_Label(block.limit.label, block.limit.at, strong=True)] if block.limit else []
    before = () if block.before is None else (block.before,)
    marks = [_Label(mark.label, mark.at, pointed=True) for mark in (*before, *block.marks)]
    zones = [
        _Label(zone.label, (zone.start + zone.end) / 2)
        for zone in block.zones
        if not _fits(look, block, zone)
    ]
    return [*limit, *marks, *zones]
