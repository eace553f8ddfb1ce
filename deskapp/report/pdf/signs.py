"""The signs of verdicts and cautions: each its own shape, so that gray paper tells them apart."""

from __future__ import annotations

from math import cos, pi, sin
from typing import TYPE_CHECKING

from deskapp.report.blocks import Sign
from deskapp.report.pdf.drawn import Drawn
from deskapp.report.pdf.look import WHITE, sign_color

if TYPE_CHECKING:
    from deskapp.report.pdf.pen import Pen

_Points = tuple[tuple[float, float], ...]

# Coordinates in a square of side 1, origin at the lower left.
_CHECK: _Points = ((0.27, 0.50), (0.44, 0.33), (0.74, 0.67))
_CROSS: tuple[_Points, ...] = (((0.33, 0.33), (0.67, 0.67)), ((0.33, 0.67), (0.67, 0.33)))
_DASH: _Points = ((0.30, 0.5), (0.70, 0.5))
_TRIANGLE: _Points = ((0.5, 0.95), (0.99, 0.09), (0.01, 0.09))
_STEM: _Points = ((0.5, 0.40), (0.5, 0.62))
_STROKE = 0.1
_OUTLINE = 0.08


def sign_mark(sign: Sign, size: float) -> Drawn:
    """Return `sign` as a piece of the page, `size` points high and wide."""

    def paint(pen: Pen) -> None:
        draw_sign(pen, sign, 0.0, 0.0, size)

    return Drawn(size, size, paint)


def draw_sign(pen: Pen, sign: Sign, x: float, y: float, size: float) -> None:
    """Draw `sign` in a square of side `size` points with its lower left corner at `x`, `y`."""
    pen.stamp(sign, (x, y, size), lambda pen: _SHAPES[sign](pen, sign_color(sign)))


def _pass(pen: Pen, color: str) -> None:
    pen.disc(0.5, 0.5, 0.48, fill=color)
    pen.line(_CHECK, _STROKE, WHITE, round_ends=True)


def _fail(pen: Pen, color: str) -> None:
    corners = (pi / 8 + step * pi / 4 for step in range(8))
    octagon = tuple((0.5 + 0.49 * cos(angle), 0.5 + 0.49 * sin(angle)) for angle in corners)
    pen.shape(octagon, fill=color)
    for line in _CROSS:
        pen.line(line, _STROKE, WHITE, round_ends=True)


def _none(pen: Pen, color: str) -> None:
    pen.disc(0.5, 0.5, 0.44, outline=color, width=_OUTLINE)
    pen.line(_DASH, _STROKE, color, round_ends=True)


def _danger(pen: Pen, color: str) -> None:
    pen.shape(_TRIANGLE, fill=color, outline=color, width=_OUTLINE / 2)
    _exclamation(pen, WHITE)


def _warning(pen: Pen, color: str) -> None:
    outline = tuple((0.05 + 0.9 * x, 0.05 + 0.9 * y) for x, y in _TRIANGLE)
    pen.shape(outline, outline=color, width=_OUTLINE)
    _exclamation(pen, color)


def _note(pen: Pen, color: str) -> None:
    pen.disc(0.5, 0.5, 0.44, outline=color, width=_OUTLINE)
    pen.line(((0.5, 0.27), (0.5, 0.52)), _STROKE, color, round_ends=True)
    pen.disc(0.5, 0.71, 0.06, fill=color)


def _exclamation(pen: Pen, color: str) -> None:
    pen.line(_STEM, _STROKE, color, round_ends=True)
    pen.disc(0.5, 0.23, 0.055, fill=color)


_SHAPES = {
    Sign.PASS: _pass,
    Sign.FAIL: _fail,
    Sign.NONE: _none,
    Sign.DANGER: _danger,
    Sign.WARNING: _warning,
    Sign.NOTE: _note,
}
