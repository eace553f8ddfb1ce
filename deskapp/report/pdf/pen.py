"""A typed pen over reportlab's canvas: lines, shapes and single lines of text."""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING

from deskapp.report.pdf.letters import number
from deskapp.report.pdf.look import INK, fill_of, stroke_of

if TYPE_CHECKING:
    from collections.abc import Callable, Generator, Sequence

    from reportlab.lib.utils import ImageReader

    from deskapp.report.pdf.faces import Face
    from deskapp.report.pdf.tagged import TaggedCanvas

_BEND = 0.5522847498
"""Where the handles of a quarter of a circle stand, as a share of its radius."""
_STAMPS: dict[str, str] = {}
_BOX_COLOR = "#c9d0d5"

# pyright: reportUnknownMemberType=false
# (reportlab's canvas declares many of its arguments without a type.)


class Pen:
    """Draws on one canvas; coordinates in points from the lower left corner, y upwards."""

    def __init__(self, canvas: TaggedCanvas) -> None:
        self._canvas = canvas

    @contextmanager
    def placed(self, x: float, y: float, scale: float = 1.0) -> Generator[None]:
        """Move the origin to `x`, `y` and scale what is drawn, for the length of a ``with``."""
        self._canvas.saveState()
        self._canvas.transform(scale, 0, 0, scale, x, y)
        yield
        self._canvas.restoreState()

    @contextmanager
    def inside(self, x: float, y: float, width: float, height: float) -> Generator[None]:
        """Draw nothing outside a rectangle, for the length of a ``with``."""
        self._canvas.saveState()
        self._canvas.put(f"{number(x, y, width, height)} re\nW n")
        yield
        self._canvas.restoreState()

    def stamp(
        self, key: str, place: tuple[float, float, float], paint: Callable[[Pen], None]
    ) -> None:
        """Draw what `paint` draws in a square of side 1, at `place`: x, y and side in points.

        It is painted once; what has the same `key` later on is drawn by the same operators.
        """
        drawn = _STAMPS.get(key)
        if drawn is None:
            drawn = _STAMPS[key] = self._canvas.taken_down(lambda: paint(self))
        x, y, side = place
        self._canvas.put(f"q {number(side, 0, 0, side, x, y)} cm\n{drawn}\nQ")

    def line(
        self,
        points: Sequence[tuple[float, float]],
        width: float,
        color: str = INK,
        *,
        round_ends: bool = False,
        dash: tuple[float, float] | None = None,
    ) -> None:
        """Draw straight lines through `points`."""
        ends = " 1 J 1 j" if round_ends else ""
        dashes = f" [{number(*dash)}] 0 d" if dash else ""
        told = f"q {number(width)} w {stroke_of(color)}{ends}{dashes} {_path(points)} S Q"
        self._canvas.put(told)

    def shape(
        self,
        points: Sequence[tuple[float, float]],
        *,
        fill: str | None = None,
        outline: str | None = None,
        width: float = 0.0,
    ) -> None:
        """Draw a closed shape, filled, outlined or both."""
        self._paint(f"{_path(points)} h", fill, outline, width)

    def box(
        self,
        x: float,
        y: float,
        width: float,
        height: float,
        *,
        fill: str | None = None,
        outline: str | None = None,
        line: float = 0.0,
    ) -> None:
        """Draw a rectangle."""
        self._paint(f"{number(x, y, width, height)} re", fill, outline, line)

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
        """Draw a circle around `x`, `y`."""
        self.oval((x, y), (radius, radius), fill=fill, outline=outline, width=width)

    def oval(
        self,
        center: tuple[float, float],
        radii: tuple[float, float],
        *,
        fill: str | None = None,
        outline: str | None = None,
        width: float = 0.0,
    ) -> None:
        """Draw an oval; `radii` are half its width and half its height."""
        (x, y), (across, down) = center, radii
        bend, rise = across * _BEND, down * _BEND
        quarters = (
            (x + across, y + rise, x + bend, y + down, x, y + down),
            (x - bend, y + down, x - across, y + rise, x - across, y),
            (x - across, y - rise, x - bend, y - down, x, y - down),
            (x + bend, y - down, x + across, y - rise, x + across, y),
        )
        curves = " ".join(f"{number(*quarter)} c" for quarter in quarters)
        self._paint(f"{number(x + across, y)} m {curves} h", fill, outline, width)

    def text(
        self, x: float, y: float, text: str, face: Face, size: float, color: str = INK
    ) -> None:
        """Write one line that starts at `x` on the base line `y`."""
        for run in face.line(text):
            width = face.width(run.text, size)
            if run.missing:
                self.box(x, y - 0.2 * size, width, size, fill=_BOX_COLOR)
            letters = self._canvas.letters(run.font)
            self._canvas.put(
                f"{fill_of(color)} BT {letters.name} {number(size)} Tf 1 0 0 1 {number(x, y)} Tm"
                f" {letters.shown(run.text, size)} ET"
            )
            x += width

    def text_right(
        self, x: float, y: float, text: str, face: Face, size: float, color: str = INK
    ) -> None:
        """Write one line that ends at `x`."""
        self.text(x - face.width(text, size), y, text, face, size, color)

    def picture(self, reader: ImageReader, width: float, height: float) -> None:
        """Draw a picture at the origin; clear parts of it stay clear."""
        self._canvas.drawImage(reader, 0, 0, width, height, mask="auto")

    def _paint(self, path: str, fill: str | None, outline: str | None, width: float) -> None:
        told = ["q"]
        if fill is not None:
            told.append(fill_of(fill))
        if outline is not None:
            told.append(f"{stroke_of(outline)} {number(width)} w 1 j")
        painted = "B" if fill is not None else "S"
        told += [path, "f" if outline is None else painted, "Q"]
        if fill is not None or outline is not None:
            self._canvas.put(" ".join(told))


def _path(points: Sequence[tuple[float, float]]) -> str:
    first, *rest = points
    return " ".join([f"{number(*first)} m", *(f"{number(*point)} l" for point in rest)])


def fitted_text(text: str, face: Face, size: float, width: float) -> str:
    """Return `text`, shortened with an ellipsis where one line of `width` points is too narrow."""
    if face.width(text, size) <= width:
        return text
    low, high = 0, len(text)
    while low < high:
        middle = (low + high + 1) // 2
        if face.width(text[:middle].rstrip() + "…", size) <= width:
            low = middle
        else:
            high = middle - 1
    return text[:low].rstrip() + "…"
