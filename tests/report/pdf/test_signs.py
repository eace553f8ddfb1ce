"""Signs are told apart by their shape, without any color; circles are round.

What is drawn is read back from the operators of the page by a general library.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from io import BytesIO
from itertools import combinations, pairwise
from math import dist

import pikepdf
import pytest

from deskapp.report.blocks import Sign
from deskapp.report.color import LEAST_CONTRAST, contrast_on_white
from deskapp.report.pdf.look import SIGN_COLORS
from deskapp.report.pdf.pen import Pen
from deskapp.report.pdf.signs import draw_sign
from deskapp.report.pdf.tagged import TaggedCanvas

COLORS = {"rg", "RG", "g", "G", "k", "K", "sc", "SC", "scn", "SCN", "cs", "CS"}
"""Operators that set a color (ISO 32000-1, table 74)."""
PAINTS = {"f", "F", "f*", "B", "B*", "b", "b*", "S", "s"}
"""Operators that end a path and paint it (ISO 32000-1, table 60)."""

Step = tuple[str, tuple[float, ...]]
Point = tuple[float, float]


def drawn(paint: Callable[[Pen], None]) -> list[Step]:
    """Each operator with its numbers that `paint` puts on a page, without any color."""
    canvas = TaggedCanvas(BytesIO())
    told = canvas.taken_down(lambda: paint(Pen(canvas)))
    document = pikepdf.new()
    steps: list[Step] = []
    for one in pikepdf.parse_content_stream(pikepdf.Stream(document, told.encode("ascii"))):
        numbers = [part for part in one.operands if not isinstance(part, pikepdf.Array)]
        if str(one.operator) not in COLORS:
            steps.append((str(one.operator), tuple(float(number) for number in numbers)))
    return steps


def first_path(steps: list[Step]) -> list[Step]:
    """What is drawn first, up to and with the operator that paints it."""
    end = next(at for at, (operator, _numbers) in enumerate(steps) if operator in PAINTS)
    return steps[: end + 1]


def test_that_no_two_signs_share_a_shape():
    drawings = {sign: drawn(lambda pen, sign=sign: draw_sign(pen, sign, 0, 0, 1)) for sign in Sign}
    for one, other in combinations(Sign, 2):
        assert drawings[one] != drawings[other]
        share_a_ring = {one, other} == {Sign.NONE, Sign.NOTE}
        assert (first_path(drawings[one]) == first_path(drawings[other])) == share_a_ring


def curve(points: tuple[Point, Point, Point, Point], at: float) -> Point:
    """A point of a cubic curve, by halving lines again and again (de Casteljau)."""
    left: tuple[Point, ...] = points
    while len(left) > 1:
        left = tuple(
            (ax + (bx - ax) * at, ay + (by - ay) * at) for (ax, ay), (bx, by) in pairwise(left)
        )
    return left[0]


def rim(steps: list[Step]) -> Iterator[Point]:
    """Points all along the curves of a path."""
    here = (0.0, 0.0)
    for operator, numbers in steps:
        if operator == "m":
            here = (numbers[0], numbers[1])
        elif operator == "c":
            handles = (numbers[0], numbers[1]), (numbers[2], numbers[3])
            end = (numbers[4], numbers[5])
            yield from (curve((here, *handles, end), step / 50) for step in range(51))
            here = end


@pytest.mark.parametrize("radius", [0.48, 3.0, 40.0])
def test_that_a_disc_is_a_whole_circle(radius: float):
    steps = drawn(lambda pen: pen.disc(50, 60, radius, fill="#000000"))
    points = list(rim(steps))
    # Four cubic curves leave a circle by 0.03 % at most; numbers are written to 0.001 point.
    away = [dist(point, (50, 60)) for point in points]
    assert max(abs(one - radius) for one in away) <= 0.0003 * radius + 0.001
    assert dist(points[0], points[-1]) <= 0.001
    # The area inside a closed line of points (the surveyor's formula) is that of the circle.
    pairs = pairwise(points)
    area = sum((ax * by - bx * ay) / 2 for (ax, ay), (bx, by) in pairs)
    assert area == pytest.approx(3.14159265 * radius**2, rel=0.003)


def test_that_an_oval_is_a_circle_drawn_out():
    points = list(rim(drawn(lambda pen: pen.oval((0, 0), (30, 10), outline="#000000", width=1))))
    assert len(points) == 4 * 51
    for x, y in points:
        assert dist((x / 30, y / 10), (0, 0)) == pytest.approx(1, abs=0.0005)


def test_that_words_in_the_color_of_a_sign_are_readable():
    assert set(SIGN_COLORS) == set(Sign)
    assert all(contrast_on_white(color) >= LEAST_CONTRAST for color in SIGN_COLORS.values())
