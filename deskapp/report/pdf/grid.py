"""Rows of cells that break between rows where they can, and inside a row only where they must."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, cast

from reportlab.lib.colors import HexColor
from reportlab.platypus import Flowable, Table
from reportlab.platypus.tables import TableRenderCB

from deskapp.report.pdf.look import RULE
from deskapp.report.pdf.tagged import canvas_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from deskapp.report.pdf.look import Look

Cell = Flowable | list[Flowable] | str
Command = tuple[Any, ...]

_FIRST, _LAST = (0, 0), (-1, -1)
_LEAST_PIECE = 24
"""Points of a cut row that must fit on the page for the row to be cut there."""
_TOP_OF_PAGE = 2.0
_TALL = 0.6
"""A row taller than this share of the page is cut rather than moved to the next page."""
_SHORT = 0.25
"""Rows that fill no more than this share of the page are not parted at all."""


class Grid(Table):
    """A table whose rows stay whole, unless a row is nearly as tall as the page.

    The library would rather cut a row than start a page; here a row moves to the next page first,
    and so does a table of a few rows.
    """

    page_height = 0.0
    is_rest = False
    """Whether this is what a page break left over, so that its headings are said already."""

    def split(self, availWidth: float, availHeight: float) -> list[Flowable]:  # noqa: N803
        """Return the pieces for this page and the rest, or nothing to start a page first."""
        least = self.least_height()
        if availHeight < least <= _TALL * self.page_height or self._stays_whole():
            return []
        pieces = super().split(availWidth, availHeight)
        if not pieces and availHeight > self.page_height - _TOP_OF_PAGE:
            self.splitInRow = 1
            pieces = super().split(availWidth, availHeight)
        for number, piece in enumerate(pieces):
            if isinstance(piece, Grid):
                piece.is_rest = self.is_rest or number > 0
        return pieces

    def least_height(self) -> float:
        """Return the height of the headings and the first row, in points, once wrapped."""
        return sum(self._heights()[: self.repeatRows + 1])

    def _stays_whole(self) -> bool:
        """Say whether this is short enough to move to the next page as a whole."""
        return sum(self._heights()) <= _SHORT * self.page_height

    def _heights(self) -> list[float]:
        return cast("list[float]", self._rowHeights)  # pyright: ignore[reportUnknownMemberType, reportAttributeAccessIssue]

    def onSplit(self, T: Table, byRow: int = 1) -> None:  # noqa: ARG002, N802, N803
        """Hand the page height on to a piece."""
        if isinstance(T, Grid):
            T.page_height = self.page_height


class _SetApart(TableRenderCB):
    """Marks ground and rules of a table, and headings said before, as decoration.

    The library calls these methods while it draws a table.
    """

    def __call__(self, T: Table, cmd: str, *args: Any) -> None:  # noqa: N803
        """Do what is to be done at this point of the drawing."""
        canvas = canvas_of(T)
        said = isinstance(T, Grid) and T.is_rest and T.repeatRows > 0
        match cmd, args:
            case (("startBG" | "startLines"), _):
                canvas.begin(None)
            case (("endBG" | "endLines"), _):
                canvas.end()
            case "startRow", (0,) if said:
                canvas.begin(None)
            case "startRow", (row,) if said and row == T.repeatRows:
                canvas.end()
            case _:
                pass


_SET_APART = _SetApart()


def grid(
    look: Look,
    rows: Sequence[Sequence[Cell]],
    widths: Sequence[float],
    commands: Sequence[Command] = (),
    *,
    heads: int = 0,
) -> Grid:
    """Return a table of `rows`; `widths` in points, `heads` the rows repeated on each page.

    Cells have no padding and stand at the top; `commands` are table style commands on top of that.
    """
    table = Grid(
        [[cell or [] for cell in row] for row in rows],
        colWidths=list(widths),
        repeatRows=heads,
        splitByRow=1,
        splitInRow=_LEAST_PIECE,
        style=[
            ("FONTNAME", _FIRST, _LAST, look.faces.text.font),
            ("FONTSIZE", _FIRST, _LAST, look.sizes.body),
            ("LEFTPADDING", _FIRST, _LAST, 0),
            ("RIGHTPADDING", _FIRST, _LAST, 0),
            ("TOPPADDING", _FIRST, _LAST, 0),
            ("BOTTOMPADDING", _FIRST, _LAST, 0),
            ("VALIGN", _FIRST, _LAST, "TOP"),
            *commands,
        ],
        hAlign="LEFT",
        renderCB=_SET_APART,
    )
    table.page_height = look.height
    return table


def rule_below(start: tuple[int, int], end: tuple[int, int], color: str = RULE) -> Command:
    """Return the command for a thin rule below cells."""
    return ("LINEBELOW", start, end, 0.5, HexColor(color))


def rule_above(
    start: tuple[int, int], end: tuple[int, int], color: str = RULE, width: float = 0.5
) -> Command:
    """Return the command for a rule above cells."""
    return ("LINEABOVE", start, end, width, HexColor(color))


def ground(start: tuple[int, int], end: tuple[int, int], color: str) -> Command:
    """Return the command for a colored ground of cells."""
    return ("BACKGROUND", start, end, HexColor(color))


def padding(
    start: tuple[int, int],
    end: tuple[int, int],
    *,
    top: float | None = None,
    bottom: float | None = None,
    left: float | None = None,
    right: float | None = None,
) -> list[Command]:
    """Return the commands for the padding of cells, in points."""
    named = {"TOP": top, "BOTTOM": bottom, "LEFT": left, "RIGHT": right}
    return [
        (f"{side}PADDING", start, end, points)
        for side, points in named.items()
        if points is not None
    ]
