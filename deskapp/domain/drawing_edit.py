"""Changing what is drawn: placing, moving, finding what lies under a pointer.

Places are shares of width and height; `sides` are width and height of the sheet in one unit, so
that lengths along both can be compared.
"""

from __future__ import annotations

from math import hypot
from typing import TYPE_CHECKING, NamedTuple

from deskapp.domain.drawing import DRAGGED, Shape

if TYPE_CHECKING:
    from deskapp.domain.drawing import Item
    from deskapp.domain.sketch import Sketch

COLUMNS = 40
"""Cells of the grid across a sketch; as many down as make them square."""


class Spot(NamedTuple):
    """A place on the sheet, as shares of its width and height."""

    x: float
    y: float


class Sides(NamedTuple):
    """Width and height of a sheet."""

    width: float
    height: float


def within(spot: Spot) -> Spot:
    """Return the place on the sheet nearest to `spot`."""
    return Spot(min(max(spot.x, 0.0), 1.0), min(max(spot.y, 0.0), 1.0))


def rows_of(sides: Sides) -> int:
    """Return the cells of the grid down a sheet."""
    return max(1, round(COLUMNS * sides.height / sides.width))


def snapped(spot: Spot, sides: Sides) -> Spot:
    """Return the corner of the grid nearest to `spot`."""
    rows = rows_of(sides)
    return within(Spot(round(spot.x * COLUMNS) / COLUMNS, round(spot.y * rows) / rows))


def trimmed(sketch: Sketch) -> tuple[tuple[Item, ...], Sides]:
    """Return what is drawn on a blank sheet with the empty rim cut away, and the sides left.

    A sketch over a plan stays as it is. Something small keeps a sheet of half the width around it.
    """
    sides = Sides(*(float(side) for side in sketch.sides))
    if sketch.plan is not None or not sketch.items:
        return sketch.items, sides
    spots = [spot for item in sketch.items for spot in (start_of(item), end_of(item))]
    left, right = _span([spot.x for spot in spots], 1.5 / COLUMNS)
    top, foot = _span([spot.y for spot in spots], 1.5 / rows_of(sides))
    wide, high = right - left, foot - top
    items = tuple(
        from_to(
            item,
            Spot((item.x - left) / wide, (item.y - top) / high),
            Spot((item.to_x - left) / wide, (item.to_y - top) / high),
        )
        for item in sketch.items
    )
    return items, Sides(wide * sides.width, high * sides.height)


def _span(places: list[float], rim: float) -> tuple[float, float]:
    """Return the stretch that holds all `places` with a rim, at least half of the sheet."""
    low, high = min(places) - rim, max(places) + rim
    if high - low < 0.5:
        middle = (low + high) / 2
        low, high = middle - 0.25, middle + 0.25
    return low, high


def start_of(item: Item) -> Spot:
    """Return where a thing begins, or stands."""
    return Spot(item.x, item.y)


def end_of(item: Item) -> Spot:
    """Return where a thing ends; where it stands, if it does not reach anywhere."""
    return Spot(item.to_x, item.to_y) if item.shape in DRAGGED else start_of(item)


def from_to(item: Item, start: Spot, end: Spot) -> Item:
    """Return a thing between two other places, both brought onto the sheet."""
    start, end = within(start), within(end)
    if item.shape not in DRAGGED:
        end = Spot(0.0, 0.0)
    return item.model_copy(update={"x": start.x, "y": start.y, "to_x": end.x, "to_y": end.y})


def moved(item: Item, across: float, down: float) -> Item:
    """Return a thing moved by shares of width and height, as far as the sheet goes."""
    start, end = start_of(item), end_of(item)
    left, right = sorted((start.x, end.x))
    top, foot = sorted((start.y, end.y))
    across = min(max(across, -left), 1.0 - right)
    down = min(max(down, -top), 1.0 - foot)
    return from_to(item, Spot(start.x + across, start.y + down), Spot(end.x + across, end.y + down))


def is_drawn(item: Item, sides: Sides) -> bool:
    """Say whether a thing is long enough to be meant: a hundredth of the width."""
    start, end = start_of(item), end_of(item)
    return item.shape not in DRAGGED or _length(start, end, sides) >= 0.01 * sides.width


def found_at(items: tuple[Item, ...], spot: Spot, sides: Sides, reach: float) -> int:
    """Return the position of the thing nearest to `spot`; -1 if none is within `reach`.

    `reach` is in the unit of `sides`. Of several, the one drawn last is found.
    """
    for position in reversed(range(len(items))):
        if _distance(items[position], spot, sides) <= reach:
            return position
    return -1


def _distance(item: Item, spot: Spot, sides: Sides) -> float:
    start, end = start_of(item), end_of(item)
    if item.shape in (Shape.ROOM, Shape.CIRCLE):
        corners = (start, Spot(end.x, start.y), end, Spot(start.x, end.y))
        if item.shape is Shape.CIRCLE:
            return _from_oval(start, end, spot, sides)
        edges = zip(corners, (*corners[1:], corners[0]), strict=True)
        return min(_from_line(one, other, spot, sides) for one, other in edges)
    return _from_line(start, end, spot, sides)


def _from_oval(start: Spot, end: Spot, spot: Spot, sides: Sides) -> float:
    """Return about how far `spot` is from the rim of the oval in the box between two corners."""
    across = max(abs(end.x - start.x) / 2 * sides.width, 1e-9)
    down = max(abs(end.y - start.y) / 2 * sides.height, 1e-9)
    x = (spot.x - (start.x + end.x) / 2) * sides.width
    y = (spot.y - (start.y + end.y) / 2) * sides.height
    share = hypot(x / across, y / down)
    return min(across, down) if share == 0.0 else hypot(x, y) * abs(1.0 - 1.0 / share)


def _from_line(start: Spot, end: Spot, spot: Spot, sides: Sides) -> float:
    ax, ay = (end.x - start.x) * sides.width, (end.y - start.y) * sides.height
    bx, by = (spot.x - start.x) * sides.width, (spot.y - start.y) * sides.height
    square = ax * ax + ay * ay
    along = min(max((ax * bx + ay * by) / square, 0.0), 1.0) if square > 0.0 else 0.0
    return hypot(bx - along * ax, by - along * ay)


def _length(start: Spot, end: Spot, sides: Sides) -> float:
    return hypot((end.x - start.x) * sides.width, (end.y - start.y) * sides.height)
