"""From things drawn to lines, shapes and labels, alike on screen and on paper.

Dark ink with a white edge reads on any picture, and no meaning hangs on a color. Coordinates run
right and down from the upper left corner, in the unit of the size given.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, hypot, pi, sin
from typing import TYPE_CHECKING, NamedTuple

from deskapp.domain.drawing import Shape

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

    from deskapp.domain.drawing import Item

DARK, WHITE = "#14181a", "#ffffff"
LETTERS_ACROSS = 26.0
"""Width of a photo in the sizes of the letters on it."""

_LINE = 0.2
_EDGE = 0.12
_BADGE = 1.0
_HEAVY = 1.35


class Point(NamedTuple):
    """A place on the sheet."""

    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Inked:
    """A thing drawn with its finished label; places as shares of width and height.

    `heavy` makes a register stand out by its size and outline, such as one with a large leak.
    """

    shape: Shape
    x: float
    y: float
    to_x: float
    to_y: float
    label: str = ""
    heavy: bool = False


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line through points, `closed` or not, `filled` with its own color or not."""

    points: tuple[Point, ...]
    width: float
    color: str
    closed: bool = False
    filled: bool = False


@dataclass(frozen=True, slots=True)
class Oval:
    """An oval around a place; filled where `fill` names a color."""

    center: Point
    across: float
    down: float
    width: float
    color: str
    fill: str = ""


@dataclass(frozen=True, slots=True)
class Letters:
    """A short text around `center`, of a letter size."""

    center: Point
    text: str
    size: float
    color: str


Piece = Stroke | Oval | Letters


def inked(
    items: Iterable[Item],
    numbers: Mapping[str, str],
    of_leak: str = "",
    heavy: Iterable[str] = (),
) -> tuple[Inked, ...]:
    """Return things drawn with the labels they show.

    Args:
        items: what is drawn.
        numbers: the number of each leak and register, by key.
        of_leak: the number of the leak a photo belongs to; marks without a text show it.
        heavy: keys of registers that are to stand out.
    """
    strong = frozenset(heavy)
    return tuple(
        Inked(
            shape=item.shape,
            x=item.x,
            y=item.y,
            to_x=item.to_x,
            to_y=item.to_y,
            label=_label(item, numbers, of_leak),
            heavy=item.shape is Shape.REGISTER and item.refers in strong,
        )
        for item in items
    )


def _label(item: Item, numbers: Mapping[str, str], of_leak: str) -> str:
    if item.shape in (Shape.LEAK, Shape.REGISTER):
        return numbers.get(item.refers, "?")
    if item.shape in (Shape.ARROW, Shape.CIRCLE, Shape.LABEL):
        return item.text or of_leak
    return item.text


def pieces(
    items: Iterable[Inked],
    width: float,
    height: float,
    letter: float,
    measure: Callable[[str, float], float],
) -> tuple[Piece, ...]:
    """Return what to paint on a sheet `width` by `height`, in painting order.

    `letter` is the size of letters, which sets the strength of the lines too; `measure` tells how
    wide a text of a letter size is. The edges of walls come first, so that none cuts another wall.
    """
    below: list[Piece] = []
    above: list[Piece] = []
    for one in items:
        parts = _pieces(one, width, height, letter, measure)
        edges = 1 if one.shape in (Shape.WALL, Shape.ROOM) else 0
        below += parts[:edges]
        above += parts[edges:]
    return (*below, *above)


def _pieces(
    one: Inked,
    width: float,
    height: float,
    letter: float,
    measure: Callable[[str, float], float],
) -> tuple[Piece, ...]:
    start = Point(one.x * width, one.y * height)
    end = Point(one.to_x * width, one.to_y * height)
    match one.shape:
        case Shape.ARROW:
            return (*_arrow(start, end, letter), *_badge(start, one.label, letter, measure))
        case Shape.CIRCLE:
            return _circle(start, end, one.label, letter, measure)
        case Shape.LABEL:
            return _badge(start, one.label, letter, measure)
        case Shape.WALL:
            return _edged((start, end), letter * _LINE * 1.2)
        case Shape.ROOM:
            corners = (start, Point(end.x, start.y), end, Point(start.x, end.y))
            return (
                *_edged(corners, letter * _LINE * 1.2, closed=True),
                *_words(
                    _in_corner(start, end, one.label, letter, measure), one.label, letter, measure
                ),
            )
        case Shape.TEXT:
            return _words(start, one.label, letter, measure)
        case Shape.REGISTER:
            return _square(start, one.label, letter, heavy=one.heavy)
        case Shape.LEAK:
            return _badge(start, one.label, letter, measure)


def _edged(points: tuple[Point, ...], width: float, *, closed: bool = False) -> tuple[Piece, ...]:
    return (
        Stroke(points, width * (1.0 + 2.0 * _EDGE / _LINE), WHITE, closed),
        Stroke(points, width, DARK, closed),
    )


def _arrow(tail: Point, tip: Point, letter: float) -> tuple[Piece, ...]:
    """Return shaft and head; the head keeps its size however short the arrow is."""
    angle = atan2(tip.y - tail.y, tip.x - tail.x)
    head = letter * 0.95
    neck = Point(tip.x - head * 0.8 * cos(angle), tip.y - head * 0.8 * sin(angle))
    wings = [
        Point(tip.x - head * cos(angle + turn), tip.y - head * sin(angle + turn))
        for turn in (-pi / 7, pi / 7)
    ]
    edge = letter * _EDGE * 2
    is_long = hypot(tip.x - tail.x, tip.y - tail.y) > head
    shaft = _edged((tail, neck), letter * _LINE) if is_long else ()
    return (
        Stroke((wings[0], tip, wings[1]), edge, WHITE, closed=True),
        *shaft,
        Stroke((wings[0], tip, wings[1]), 0.0, DARK, closed=True, filled=True),
    )


def _circle(
    start: Point, end: Point, label: str, letter: float, measure: Callable[[str, float], float]
) -> tuple[Piece, ...]:
    center = Point((start.x + end.x) / 2, (start.y + end.y) / 2)
    across, down = abs(end.x - start.x) / 2, abs(end.y - start.y) / 2
    width = letter * _LINE
    at = Point(center.x - across * cos(pi / 4), center.y - down * sin(pi / 4))
    return (
        Oval(center, across, down, width + 2 * letter * _EDGE, WHITE),
        Oval(center, across, down, width, DARK),
        *_badge(at, label, letter, measure),
    )


def _badge(
    center: Point, label: str, letter: float, measure: Callable[[str, float], float]
) -> tuple[Piece, ...]:
    """Return a dark disc, or a bar with round ends for longer labels, with white letters."""
    if not label:
        return ()
    radius = letter * _BADGE * 0.85
    reach = max(0.0, measure(label, letter) / 2 + letter * 0.45 - radius)
    ends = (Point(center.x - reach, center.y), Point(center.x + reach, center.y))
    ring = letter * _EDGE
    if reach == 0.0:
        body: tuple[Piece, ...] = (
            Oval(center, radius + ring, radius + ring, 0.0, WHITE, WHITE),
            Oval(center, radius, radius, 0.0, DARK, DARK),
        )
    else:
        body = (Stroke(ends, 2 * (radius + ring), WHITE), Stroke(ends, 2 * radius, DARK))
    return (*body, Letters(center, label, letter, WHITE))


def _square(center: Point, label: str, letter: float, *, heavy: bool) -> tuple[Piece, ...]:
    """Return a white square with a dark number; larger, with a second outline, if `heavy`."""
    half = letter * 0.8 * (_HEAVY if heavy else 1.0)
    line = letter * _LINE * (0.9 if heavy else 0.6)
    body = [
        Stroke(_corners(center, half + letter * _EDGE), 0.0, WHITE, closed=True, filled=True),
        Stroke(_corners(center, half), 0.0, WHITE, closed=True, filled=True),
        Stroke(_corners(center, half), line, DARK, closed=True),
    ]
    if heavy:
        body.append(Stroke(_corners(center, half + letter * 0.38), line * 0.7, DARK, closed=True))
    return (*body, Letters(center, label, letter, DARK))


def _corners(center: Point, half: float) -> tuple[Point, ...]:
    return (
        Point(center.x - half, center.y - half),
        Point(center.x + half, center.y - half),
        Point(center.x + half, center.y + half),
        Point(center.x - half, center.y + half),
    )


def _in_corner(
    start: Point, end: Point, label: str, letter: float, measure: Callable[[str, float], float]
) -> Point:
    """Return the middle of a text that begins in the upper left corner of a room."""
    left, top = min(start.x, end.x), min(start.y, end.y)
    return Point(left + letter * 0.6 + measure(label, letter) / 2, top + letter)


def _words(
    center: Point, text: str, letter: float, measure: Callable[[str, float], float]
) -> tuple[Piece, ...]:
    """Return dark words on a white ground."""
    if not text:
        return ()
    half = measure(text, letter) / 2 + letter * 0.2
    high = letter * 0.65
    ground = (
        Point(center.x - half, center.y - high),
        Point(center.x + half, center.y - high),
        Point(center.x + half, center.y + high),
        Point(center.x - half, center.y + high),
    )
    return (
        Stroke(ground, 0.0, WHITE, closed=True, filled=True),
        Letters(center, text, letter, DARK),
    )
