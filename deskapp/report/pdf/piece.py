"""The pieces a page is laid out of: each draws itself at a place, without moving the page."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from reportlab.platypus import Flowable

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

    from deskapp.report.pdf.tagged import TaggedCanvas


class Piece(Flowable):
    """A piece of a page.

    The library moves the origin for each piece and back again, and keeps the state of the page
    meanwhile. A report has a thousand pieces, so these are told where they stand instead.
    """

    width: float = 0.0
    height: float = 0.0
    wrapped = 0
    hAlign = "LEFT"  # noqa: N815 - names of the library
    vAlign = "BOTTOM"  # noqa: N815
    encoding = None
    _traceInfo = None  # noqa: N815
    _showBoundary = None  # noqa: N815

    def __init__(self) -> None:  # pyright: ignore[reportMissingSuperCall]
        """Leave all as it stands above: the library would set each of it for each piece anew."""

    def place(self, canvas: TaggedCanvas, x: float, y: float) -> None:
        """Draw it with its lower left corner at `x`, `y`."""
        raise NotImplementedError

    def drawOn(self, canvas: Canvas, x: float, y: float, _sW: float = 0) -> None:  # noqa: N802, N803
        """Draw it where the library says."""
        self.place(cast("TaggedCanvas", canvas), x, y)
