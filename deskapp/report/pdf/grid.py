"""Rows of cells that break between rows where they can, and inside a row only where they must.

They are laid out here rather than by the tables of the library, which know spans and columns that
find their own width: a report needs neither, and is ready several times sooner.
"""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING, NamedTuple

from reportlab.platypus import Flowable

from deskapp.report.pdf.letters import number
from deskapp.report.pdf.look import RULE, fill_of, stroke_of
from deskapp.report.pdf.piece import Piece
from deskapp.report.pdf.row import Cell as Cell
from deskapp.report.pdf.row import Row, RowRule, row_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from deskapp.report.pdf.look import Look
    from deskapp.report.pdf.tagged import TaggedCanvas

_LEAST_PIECE = 24.0
"""Points of a cut row that must fit on the page for the row to be cut there."""
_TOP_OF_PAGE = 2.0
_TALL = 0.6
"""A row taller than this share of the page is cut rather than moved to the next page."""
_SHORT = 0.25
"""Rows that fill no more than this share of the page are not parted at all."""
_FUZZ = 1e-6
_Corner = tuple[int, int]


class CellCommand(NamedTuple):
    """One thing said of the cells from `start` to `end`: column and row, negative from the end.

    `kind` is a side for padding, ``above`` or ``below`` for rules, ``ground``, ``foot`` for cells
    that stand at the foot of their row, or ``kept`` for rows that stay with the one above them.
    """

    kind: str
    start: _Corner
    end: _Corner
    points: float = 0.0
    color: str = ""


class Grid(Piece):
    """Rows that stay whole, unless one is nearly as tall as the page.

    A row moves to the next page rather than being cut, and so does a table of a few rows. The first
    `heads` rows stand on each page; `is_rest` says that this is what a page break left over, so
    that they are said already. One no taller than a `short` share of the page is not parted.
    """

    def __init__(
        self,
        rows: Sequence[Row],
        widths: Sequence[float],
        page_height: float,
        heads: int,
        *,
        is_rest: bool = False,
        short: float = _SHORT,
    ) -> None:
        super().__init__()
        self._rows = rows
        self._widths = widths
        self._page_height = page_height
        self._heads = heads
        self._is_rest = is_rest
        self._short = short
        self.spaceBefore = self.spaceAfter = 0.0
        self.width = sum(widths)
        self.height = -1.0

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:  # noqa: ARG002, N803
        """Return the size, whatever room there is."""
        if self.height < 0.0:
            self.height = sum(row.measure(self._widths) for row in self._rows)
        return self.width, self.height

    def split(self, availWidth: float, availHeight: float) -> list[Flowable]:  # noqa: N803
        """Return the pieces for this page and the rest, or nothing to start a page first."""
        self.wrap(availWidth, availHeight)
        heads, body = list(self._rows[: self._heads]), list(self._rows[self._heads :])
        room = availHeight - sum(row.height for row in heads)
        fit = _fitting(body, room)
        if fit == len(body):
            return [self]
        if self._stays_whole():
            return []
        if room < _LEAST_PIECE and availHeight > self._page_height - _TOP_OF_PAGE:
            return Grid(self._rows, self._widths, self._page_height, 0).split(
                availWidth, availHeight
            )
        if not fit:
            parts = self._cut(body[0], room, availHeight)
            if parts is None:
                return []
            body[0:1], fit = parts, 1
        elif not (fit := self._in_company(body, fit, availHeight)):
            return []
        first = self._piece([*heads, *body[:fit]], is_rest=self._is_rest)
        rest = self._piece([*heads, *body[fit:]], is_rest=True)
        first.spaceBefore, rest.spaceAfter = self.spaceBefore, self.spaceAfter
        return [first, rest]

    def place(self, canvas: TaggedCanvas, x: float, y: float) -> None:
        """Draw it with its lower left corner at `x`, `y`."""
        edges = [x]
        for width in self._widths:
            edges.append(edges[-1] + width)
        tops = [y + self.height]
        for row in self._rows:
            tops.append(tops[-1] - row.height)
        _decorate(canvas, self._grounds(edges, tops))
        said = self._heads if self._is_rest else 0
        if said:
            canvas.begin(None)
        for position, row in enumerate(self._rows):
            if said and position == said:
                canvas.end()
            row.place(canvas, edges, tops[position])
        _decorate(canvas, self._rules(edges, tops))

    def _piece(self, rows: Sequence[Row], *, is_rest: bool) -> Grid:
        page, short = self._page_height, self._short
        return Grid(rows, self._widths, page, self._heads, is_rest=is_rest, short=short)

    def _stays_whole(self) -> bool:
        """Say whether this is short enough to move to the next page as a whole."""
        return self.height <= self._short * self._page_height

    def _in_company(self, body: Sequence[Row], fit: int, available: float) -> int:
        """Return how many of the rows that `fit` stay here, so that none stands alone on a page.

        None stay where that takes a whole page; a row that is tall may be alone.
        """
        low = _SHORT * self._page_height
        fewer = fit
        if len(body) - fit == 1 and body[-1].height < low:
            fewer -= 1
            while fewer and body[fewer].kept:
                fewer -= 1
        if fewer > 1 or (fewer and (self._is_rest or body[0].height >= low)):
            return fewer
        return fit if available > self._page_height - _TOP_OF_PAGE else 0

    def _cut(self, row: Row, room: float, available: float) -> tuple[Row, Row] | None:
        """Return a row cut at `room` points, if it has to be and can be."""
        least = available - room + row.height
        must = least > _TALL * self._page_height or available > self._page_height - _TOP_OF_PAGE
        if not must or room < _LEAST_PIECE:
            return None
        return row.cut(self._widths, room)

    def _grounds(self, edges: list[float], tops: list[float]) -> Iterator[str]:
        """Yield the colored grounds; one over several rows is drawn as one, without a seam."""
        since: dict[tuple[int, int, str], float] = {}
        for top, row in zip(tops, (*self._rows, None), strict=True):
            here = set(row.grounds) if row is not None else set[tuple[int, int, str]]()
            for ground in [one for one in since if one not in here]:
                first, last, color = ground
                begun = since.pop(ground)
                box = number(edges[first], top, edges[last + 1] - edges[first], begun - top)
                yield f"{fill_of(color)} {box} re\nf"
            for ground in row.grounds if row is not None else ():
                since.setdefault(ground, top)

    def _rules(self, edges: list[float], tops: list[float]) -> Iterator[str]:
        """Yield the rules, those of one width and color together."""
        alike: dict[tuple[float, str], list[str]] = defaultdict(list)
        for top, low, row in zip(tops, tops[1:], self._rows, strict=False):
            for at, lines in ((top, row.above), (low, row.below)):
                for line in lines:
                    left, right = edges[line.first], edges[line.last + 1]
                    alike[line.points, line.color].append(
                        f"{number(left, at)} m {number(right, at)} l"
                    )
        for (points, color), drawn in alike.items():
            yield f"{stroke_of(color)} {number(points)} w {' '.join(drawn)} S"


def _fitting(rows: Sequence[Row], room: float) -> int:
    """Return how many rows stand in `room` points, none of them parted from one it stays with."""
    fit = 0
    for row in rows:
        room -= row.height
        if room < -_FUZZ:
            break
        fit += 1
    while 0 < fit < len(rows) and rows[fit].kept:
        fit -= 1
    return fit


def _decorate(canvas: TaggedCanvas, drawn: Iterator[str]) -> None:
    operators = "\n".join(drawn)
    if operators:
        canvas.begin(None)
        canvas.put(operators)
        canvas.end()


def grid(
    look: Look,
    rows: Sequence[Sequence[Cell]],
    widths: Sequence[float],
    commands: Sequence[CellCommand] = (),
    *,
    heads: int = 0,
    short: float = _SHORT,
) -> Grid:
    """Return a table of `rows`; `widths` in points, `heads` the rows repeated on each page.

    It is not parted where it fills no more than a `short` share of the page.

    Cells have no padding and stand at the top, unless `commands` say otherwise: later ones go
    before earlier ones.
    """
    made = [row_of(row) for row in rows]
    for command in commands:
        _obey(made, len(widths), command)
    return Grid(made, widths, look.height, heads, short=short)


def _obey(rows: list[Row], columns: int, command: CellCommand) -> None:
    first, last = command.start[0] % columns, command.end[0] % columns
    top, low = _at(command.start[1], len(rows)), _at(command.end[1], len(rows))
    for row in rows[top : low + 1]:
        match command.kind:
            case "left" | "right" | "top" | "bottom" as side:
                row.pad(side, first, last, command.points)
            case "above":
                row.above.append(RowRule(first, last, command.points, command.color))
            case "below":
                row.below.append(RowRule(first, last, command.points, command.color))
            case "ground":
                row.grounds.append((first, last, command.color))
            case "foot":
                row.at_foot.update(range(first, last + 1))
            case _:
                row.kept = row is not rows[top]


def _at(position: int, count: int) -> int:
    return position if position >= 0 else position + count


def rule_below(start: _Corner, end: _Corner, color: str = RULE) -> CellCommand:
    """Return the command for a thin rule below cells."""
    return CellCommand("below", start, end, 0.5, color)


def rule_above(start: _Corner, end: _Corner, color: str = RULE, width: float = 0.5) -> CellCommand:
    """Return the command for a rule above cells."""
    return CellCommand("above", start, end, width, color)


def ground(start: _Corner, end: _Corner, color: str) -> CellCommand:
    """Return the command for a colored ground of cells."""
    return CellCommand("ground", start, end, color=color)


def at_foot(start: _Corner, end: _Corner) -> CellCommand:
    """Return the command for cells whose content stands at the foot of their row."""
    return CellCommand("foot", start, end)


def kept_rows(count: int) -> CellCommand:
    """Return the command for the last `count` rows to stay together."""
    return CellCommand("kept", (0, -count), (-1, -1))


def padding(
    start: _Corner,
    end: _Corner,
    *,
    top: float | None = None,
    bottom: float | None = None,
    left: float | None = None,
    right: float | None = None,
) -> list[CellCommand]:
    """Return the commands for the padding of cells, in points."""
    named = {"top": top, "bottom": bottom, "left": left, "right": right}
    return [
        CellCommand(side, start, end, points)
        for side, points in named.items()
        if points is not None
    ]
