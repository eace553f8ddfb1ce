"""A piece of the page of fixed size that is drawn with a pen."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.report.pdf.pen import Pen
from deskapp.report.pdf.piece import Piece

if TYPE_CHECKING:
    from collections.abc import Callable

    from deskapp.report.archival.structure import Element
    from deskapp.report.pdf.tagged import TaggedCanvas


class Drawn(Piece):
    """A drawing of fixed size, in points; `paint` gets a pen whose origin is its lower left.

    It is the content of `element`, or decoration without one. Without `paint` it is a gap.
    """

    def __init__(
        self,
        width: float,
        height: float,
        paint: Callable[[Pen], None] | None = None,
        element: Element | None = None,
    ) -> None:
        super().__init__()
        self.width = width
        self.height = height
        self._paint = paint
        self._element = element

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:  # noqa: ARG002, N803
        """Return the size, whatever room there is."""
        return self.width, self.height

    def place(self, canvas: TaggedCanvas, x: float, y: float) -> None:
        """Draw it with its lower left corner at `x`, `y`."""
        if self._paint is None:
            return
        canvas.saveState()
        canvas.translate(x, y)  # pyright: ignore[reportUnknownMemberType]
        if self._element is not None:
            self._element.box = canvas.box_of(self.width, self.height)
        with canvas.stretch(self._element):
            self._paint(Pen(canvas))
        canvas.restoreState()
