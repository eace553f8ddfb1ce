"""Signs are told apart by their shape, without any color."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import combinations

from deskapp.report.blocks import Sign
from deskapp.report.color import LEAST_CONTRAST, contrast_on_white
from deskapp.report.pdf.look import SIGN_COLORS
from deskapp.report.pdf.pen import Pen
from deskapp.report.pdf.signs import draw_sign


class ColorlessPen(Pen):
    """Notes what is drawn, but not in which color."""

    def __init__(self) -> None:
        self.strokes: list[tuple[object, ...]] = []

    def stamp(
        self,
        key: str,  # noqa: ARG002
        place: tuple[float, float, float],  # noqa: ARG002
        paint: Callable[[Pen], None],
    ) -> None:
        paint(self)

    def line(
        self,
        points: Sequence[tuple[float, float]],
        width: float,
        color: str = "",  # noqa: ARG002
        *,
        round_ends: bool = False,
        dash: tuple[float, float] | None = None,
    ) -> None:
        self.strokes.append(("line", tuple(points), width, round_ends, dash))

    def shape(
        self,
        points: Sequence[tuple[float, float]],
        *,
        fill: str | None = None,
        outline: str | None = None,
        width: float = 0.0,
    ) -> None:
        self.strokes.append(("shape", tuple(points), bool(fill), bool(outline), width))

    def disc(
        self,
        x: float,
        y: float,
        radius: float,
        *,
        fill: str | None = None,
        outline: str | None = None,
        width: float = 0.0,
    ) -> None:
        self.strokes.append(("disc", x, y, radius, bool(fill), bool(outline), width))


def test_that_no_two_signs_share_a_shape():
    drawings: dict[Sign, list[tuple[object, ...]]] = {}
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
