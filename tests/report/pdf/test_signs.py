"""Signs are told apart by their shape, without any color."""

from __future__ import annotations

from contextlib import contextmanager
from itertools import combinations

from deskapp.report.blocks import Sign
from deskapp.report.color import LEAST_CONTRAST, contrast_on_white
from deskapp.report.pdf.look import SIGN_COLORS
from deskapp.report.pdf.signs import draw_sign


class ColorlessPen:
    """Notes what is drawn, but not in which color."""

    def __init__(self) -> None:
        self.strokes: list[object] = []

    @contextmanager
    def placed(self, *_place):
        yield

    def line(self, points, width, _color, *, round_ends):
        self.strokes.append(("line", tuple(points), width, round_ends))

    def shape(self, points, *, fill=None, outline=None, width=0.0):
        self.strokes.append(("shape", tuple(points), bool(fill), bool(outline), width))

    def disc(self, x, y, radius, *, fill=None, outline=None, width=0.0):
        self.strokes.append(("disc", x, y, radius, bool(fill), bool(outline), width))


def test_that_no_two_signs_share_a_shape():
    drawings = {}
    for sign in Sign:
        pen = ColorlessPen()
        draw_sign(pen, sign, 0.0, 0.0, 1.0)
        drawings[sign] = pen.strokes
        assert pen.strokes
    for one, other in combinations(Sign, 2):
        assert drawings[one] != drawings[other]
        assert drawings[one][0] != drawings[other][0] or one in (Sign.NONE, Sign.NOTE)


def test_that_words_in_the_color_of_a_sign_are_readable():
    assert set(SIGN_COLORS) == set(Sign)
    assert all(contrast_on_white(color) >= LEAST_CONTRAST for color in SIGN_COLORS.values())
