"""The drawn curve: points, line and band on logarithmic axes, with facts beside them."""

from __future__ import annotations

from dataclasses import dataclass
from math import log
from typing import TYPE_CHECKING

from deskapp.report.archival.structure import Role
from deskapp.report.pdf.drawn import Drawn
from deskapp.report.pdf.grid import Cell, grid, padding, rule_below
from deskapp.report.pdf.look import INK, QUIET, RULE, WHITE
from deskapp.report.pdf.statements import spaced
from deskapp.report.pdf.text import paragraph

if TYPE_CHECKING:
    from collections.abc import Iterable

    from reportlab.platypus import Flowable

    from deskapp.report.archival.structure import Element
    from deskapp.report.blocks import Plot, PlotPoint, ScaleMark
    from deskapp.report.pdf.look import Look
    from deskapp.report.pdf.pen import Pen

_SHARE = 0.54
_GAP = 20.0
_HEIGHT = 176.0
_BAND = "#dfe5e9"
_ROOM_ABOVE = 12.0
_LABEL_SHARE = 0.42


@dataclass(frozen=True, slots=True)
class _Axis:
    """One logarithmic axis: numbers from `low` to `high` over points from `start` to `end`."""

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        if value <= 0.0 or self.high <= self.low:
            return self.start
        share = log(value / self.low) / log(self.high / self.low)
        return self.start + (self.end - self.start) * min(1.0, max(0.0, share))


@dataclass(frozen=True, slots=True)
class _Frame:
    """The look, the plot and its two axes."""

    look: Look
    plot: Plot
    x: _Axis
    y: _Axis

    def at(self, x: float, y: float) -> tuple[float, float]:
        return self.x.at(x), self.y.at(y)


def plot(look: Look, block: Plot, under: Element) -> list[Flowable]:
    """Draw a plot with its facts at the right."""
    width = look.width * _SHARE
    frame = _frame(look, block, width)

    def paint(pen: Pen) -> None:
        _paint_axes(pen, frame)
        _paint_curve(pen, frame)
        _paint_points(pen, frame)

    pieces: list[Flowable] = []
    if block.caption:
        pieces.append(
            paragraph(
                look,
                block.caption,
                look.sizes.body,
                under.add(Role.PARAGRAPH),
                face=look.faces.strong,
                after=3.0,
            )
        )
    drawing = Drawn(width, _HEIGHT, paint, under.add_figure(block.description or block.caption))
    beside = look.width - width - _GAP
    facts: list[Cell] = [_facts(look, block, beside, under.add(Role.TABLE))]
    row: list[Cell] = [drawing, "", facts[0]]
    pieces.append(spaced(grid(look, [row], [width, _GAP, beside]), 0.0, 4.0))
    if block.key:
        pieces.append(
            paragraph(
                look, block.key, look.sizes.small, under.add(Role.PARAGRAPH), color=QUIET, after=8.0
            )
        )
    return pieces


def _frame(look: Look, block: Plot, width: float) -> _Frame:
    size = look.sizes.small
    label = max((look.faces.text.width(mark.label, size) for mark in block.y_ticks), default=0.0)
    x = _range(block.x_ticks, [point.x for point in block.points])
    y = _range(block.y_ticks, [point.y for point in block.points])
    return _Frame(
        look,
        block,
        _Axis(*x, label + 6.0, width - 8.0),
        _Axis(*y, size * 2.9, _HEIGHT - _ROOM_ABOVE - size),
    )


def _range(ticks: tuple[ScaleMark, ...], values: Iterable[float]) -> tuple[float, float]:
    known = [*(mark.at for mark in ticks), *(value for value in values if value > 0.0)]
    return (min(known), max(known)) if known else (1.0, 10.0)


def _paint_axes(pen: Pen, frame: _Frame) -> None:
    face, size, x, y = frame.look.faces.text, frame.look.sizes.small, frame.x, frame.y
    for mark in frame.plot.x_ticks:
        at = x.at(mark.at)
        pen.line(((at, y.start), (at, y.end)), 0.4, RULE)
        width = face.width(mark.label, size)
        pen.text(at - width / 2, y.start - size * 1.15, mark.label, face, size, QUIET)
    for mark in frame.plot.y_ticks:
        at = y.at(mark.at)
        pen.line(((x.start, at), (x.end, at)), 0.4, RULE)
        pen.text_right(x.start - 4.0, at - size * 0.33, mark.label, face, size, QUIET)
    pen.line(((x.start, y.end), (x.start, y.start), (x.end, y.start)), 0.8, INK)
    pen.text_right(x.end, y.start - size * 2.4, frame.plot.x_title, face, size, INK)
    pen.text(0.0, _HEIGHT - size, frame.plot.y_title, face, size, INK)


def _paint_curve(pen: Pen, frame: _Frame) -> None:
    block = frame.plot
    if len(block.band) > 1:
        upper = [frame.at(x, high) for x, _low, high in block.band]
        lower = [frame.at(x, low) for x, low, _high in reversed(block.band)]
        pen.shape((*upper, *lower), fill=_BAND)
    if len(block.curve) > 1:
        pen.line([frame.at(x, y) for x, y in block.curve], 1.2, frame.look.accent)


def _paint_points(pen: Pen, frame: _Frame) -> None:
    target = frame.plot.target
    if target is not None:
        x, y = frame.at(target.x, target.y)
        pen.line(((x, frame.y.start), (x, y), (frame.x.start, y)), 0.8, INK, dash=(2.5, 2.0))
    for point in frame.plot.points:
        x, y = frame.at(point.x, point.y)
        if point.is_off:
            pen.disc(x, y, 4.4, fill=WHITE, outline=INK, width=1.2)
        pen.disc(x, y, 2.1, fill=INK)
    if target is not None:
        _paint_target(pen, frame, target)
    for point in frame.plot.points:
        if point.label:
            _label(pen, frame, point, below=True)


def _paint_target(pen: Pen, frame: _Frame, target: PlotPoint) -> None:
    x, y = frame.at(target.x, target.y)
    corners = ((x, y + 5.0), (x + 5.0, y), (x, y - 5.0), (x - 5.0, y))
    pen.shape(corners, fill=WHITE, outline=frame.look.accent, width=1.4)
    if target.label:
        _label(pen, frame, target, below=False)


def _label(pen: Pen, frame: _Frame, point: PlotPoint, *, below: bool) -> None:
    """Write the label of a point, left above it or right below it, within the frame."""
    face, size = frame.look.faces.strong, frame.look.sizes.small
    x, y = frame.at(point.x, point.y)
    width = face.width(point.label, size)
    left = x + 7.0 if below else x - 8.0 - width
    left = min(max(frame.x.start + 3.0, left), frame.x.end - width)
    base = max(y - size * 1.5, frame.y.start + 2.0) if below else y + 5.0
    pen.box(left - 1.5, base - size * 0.25, width + 3.0, size * 1.1, fill=WHITE)
    pen.text(left, base, point.label, face, size, INK)


def _facts(look: Look, block: Plot, width: float, under: Element) -> Flowable:
    size = look.sizes.body * 0.95
    label = width * _LABEL_SHARE
    rows: list[list[Cell]] = []
    for fact in block.facts:
        head, cell = under.add_pair()
        rows.append(
            [
                paragraph(look, fact.label, size, head, color=QUIET, leading=1.25),
                paragraph(look, fact.value, size, cell, leading=1.25),
            ]
        )
    if not rows:
        return Drawn(1.0, 1.0)
    commands = [
        *padding((0, 0), (-1, -1), top=2.2, bottom=3.0),
        *padding((0, 0), (0, -1), right=6.0),
        rule_below((0, 0), (-1, -2)),
    ]
    return grid(look, rows, [label, width - label], commands)
