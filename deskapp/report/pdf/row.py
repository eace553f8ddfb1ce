"""One row of cells: how tall it is, how it is cut, and where its content stands."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, NamedTuple

from reportlab.platypus import Flowable

if TYPE_CHECKING:
    from collections.abc import Sequence

    from deskapp.report.pdf.tagged import TaggedCanvas

Cell = Flowable | list[Flowable] | str
"""What stands in a cell; an empty text for nothing."""
_ANY_HEIGHT = 72_000.0
_FUZZ = 1e-6


class RowRule(NamedTuple):
    """A rule along the columns from `first` to `last`, `points` thick."""

    first: int
    last: int
    points: float
    color: str


@dataclass(slots=True, eq=False)
class Row:
    """The cells of a row with their padding, and the grounds and rules along it.

    A `kept` row is not parted from the one above it. `height` is known once it was measured.
    """

    cells: list[list[Flowable]]
    left: list[float]
    right: list[float]
    top: list[float]
    bottom: list[float]
    at_foot: set[int] = field(default_factory=set[int])
    grounds: list[tuple[int, int, str]] = field(default_factory=list[tuple[int, int, str]])
    above: list[RowRule] = field(default_factory=list[RowRule])
    below: list[RowRule] = field(default_factory=list[RowRule])
    kept: bool = False
    height: float = -1.0
    _heights: list[float] = field(default_factory=list[float])

    def pad(self, side: str, first: int, last: int, points: float) -> None:
        """Keep `points` free at one side of the cells from `first` to `last`."""
        sides: list[float] = getattr(self, side)
        sides[first : last + 1] = [points] * (last + 1 - first)

    def measure(self, widths: Sequence[float]) -> float:
        """Return the height: that of the tallest cell."""
        if self.height < 0.0:
            self._heights = []
            tallest = 0.0
            for column, cell in enumerate(self.cells):
                room = widths[column] - self.left[column] - self.right[column]
                high = _height(cell, room) if cell else 0.0
                self._heights.append(high)
                tallest = max(tallest, high + self.top[column] + self.bottom[column])
            self.height = tallest
        return self.height

    def place(self, canvas: TaggedCanvas, edges: Sequence[float], top: float) -> None:
        """Draw the content of the cells below `top`; `edges` are those of the columns."""
        for column, cell in enumerate(self.cells):
            if not cell:
                continue
            x, y = edges[column] + self.left[column], top - self.top[column]
            if column in self.at_foot:
                y = top - self.height + self.bottom[column] + self._heights[column]
            for position, item in enumerate(cell):
                if position:
                    y -= cell[position - 1].getSpaceAfter() + item.getSpaceBefore()
                y -= item.height
                item.drawOn(canvas, x, y)

    def cut(self, widths: Sequence[float], room: float) -> tuple[Row, Row] | None:
        """Return what stands above `room` points and what is left; None where that is nothing."""
        upper: list[list[Flowable]] = []
        lower: list[list[Flowable]] = []
        for column, cell in enumerate(self.cells):
            wide = widths[column] - self.left[column] - self.right[column]
            high = room - self.top[column] - self.bottom[column]
            kept, rest = _cut(cell, wide, high)
            upper.append(kept)
            lower.append(rest)
        if not any(upper):
            return None
        first = replace(self, cells=upper, height=-1.0)
        rest = replace(self, cells=lower, height=-1.0, kept=False)
        first.measure(widths)
        rest.measure(widths)
        return first, rest


def row_of(cells: Sequence[Cell]) -> Row:
    """Return a row without padding and rules."""
    count = len(cells)
    return Row(
        [_content(cell) for cell in cells],
        [0.0] * count,
        [0.0] * count,
        [0.0] * count,
        [0.0] * count,
    )


def _content(cell: Cell) -> list[Flowable]:
    if isinstance(cell, Flowable):
        return [cell]
    return cell if isinstance(cell, list) else []


def _height(cell: Sequence[Flowable], width: float) -> float:
    """Return the height of what stands in a cell, without the space before and after all of it."""
    if len(cell) == 1:
        return cell[0].wrap(width, _ANY_HEIGHT)[1]
    high = 0.0
    for position, item in enumerate(cell):
        if position:
            high += item.getSpaceBefore() + cell[position - 1].getSpaceAfter()
        high += item.wrap(width, _ANY_HEIGHT)[1]
    return high


def _cut(
    cell: Sequence[Flowable], width: float, room: float
) -> tuple[list[Flowable], list[Flowable]]:
    kept: list[Flowable] = []
    rest = list(cell)
    while rest:
        item = rest[0]
        if kept:
            room -= kept[-1].getSpaceAfter() + item.getSpaceBefore()
        high = item.wrap(width, room)[1]
        if high <= room + _FUZZ:
            kept.append(rest.pop(0))
            room -= high
            continue
        pieces = item.split(width, room) if room > 0.0 else []
        if len(pieces) > 1:
            kept.append(pieces[0])
            rest[0:1] = pieces[1:]
        break
    return kept, rest
