"""A typed pen over reportlab's canvas: lines, shapes and single lines of text."""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING

from reportlab.lib.colors import HexColor

from deskapp.report.pdf.letters import number
from deskapp.report.pdf.look import INK, fill_of

if TYPE_CHECKING:
    from collections.abc import Generator, Sequence

    from reportlab.lib.utils import ImageReader

    from deskapp.report.pdf.faces import Face
    from deskapp.report.pdf.tagged import TaggedCanvas

_ROUND = 1
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
        self._canvas.translate(x, y)
        self._canvas.scale(scale, scale)
        yield
        self._canvas.restoreState()

    @contextmanager
    def inside(self, x: float, y: float, width: float, height: float) -> Generator[None]:
        """Draw nothing outside a rectangle, for the length of a ``with``."""
        self._canvas.saveState()
        path = self._canvas.beginPath()
        path.rect(x, y, width, height)
        self._canvas.clipPath(path, stroke=0, fill=0)
        yield
        self._canvas.restoreState()

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
        self._canvas.saveState()
        self._canvas.setLineWidth(width)
        self._canvas.setStrokeColor(HexColor(color))
        if round_ends:
            self._canvas.setLineCap(_ROUND)
            self._canvas.setLineJoin(_ROUND)
        if dash:
            self._canvas.setDash(*dash)
        self._path(points, closed=False, stroke=True, fill=False)
        self._canvas.restoreState()

    def shape(
        self,
        points: Sequence[tuple[float, float]],
        *,
        fill: str | None = None,
        outline: str | None = None,
        width: float = 0.0,
    ) -> None:
        """Draw a closed shape, filled, outlined or both."""
        self._canvas.saveState()
        self._colors(fill, outline, width)
        self._path(points, closed=True, stroke=outline is not None, fill=fill is not None)
        self._canvas.restoreState()

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
        corners = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
        self.shape(corners, fill=fill, outline=outline, width=line)

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
        self._canvas.saveState()
        self._colors(fill, outline, width)
        self._canvas.circle(x, y, radius, stroke=int(outline is not None), fill=int(bool(fill)))
        self._canvas.restoreState()

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
        self._canvas.saveState()
        self._colors(fill, outline, width)
        corners = (x - across, y - down, x + across, y + down)
        self._canvas.ellipse(*corners, stroke=int(outline is not None), fill=int(bool(fill)))
        self._canvas.restoreState()

    def text(
        self, x: float, y: float, text: str, face: Face, size: float, color: str = INK
    ) -> None:
        """Write one line that starts at `x` on the base line `y`."""
        for run in face.runs(text):
            width = face.width(run.text, size)
            if run.missing:
                self.box(x, y - 0.2 * size, width, size, fill=_BOX_COLOR)
            letters = self._canvas.letters(run.font)
            self._canvas.put(
                f"{fill_of(color)} BT 1 0 0 1 {number(x, y)} Tm"
                f" {letters.name} {number(size)} Tf {letters.shown(run.text, size)} ET"
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

    def _colors(self, fill: str | None, outline: str | None, width: float) -> None:
        if fill is not None:
            self._canvas.setFillColor(HexColor(fill))
        if outline is not None:
            self._canvas.setStrokeColor(HexColor(outline))
            self._canvas.setLineWidth(width)
            self._canvas.setLineJoin(_ROUND)

    def _path(
        self, points: Sequence[tuple[float, float]], *, closed: bool, stroke: bool, fill: bool
    ) -> None:
        path = self._canvas.beginPath()
        path.moveTo(*points[0])
        for point in points[1:]:
            path.lineTo(*point)
        if closed:
            path.close()
        self._canvas.drawPath(path, stroke=int(stroke), fill=int(fill))


def fitted(text: str, face: Face, size: float, width: float) -> str:
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
