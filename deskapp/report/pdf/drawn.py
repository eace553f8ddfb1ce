"""A piece of the page of fixed size that is drawn with a pen."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.platypus import Flowable

from deskapp.report.pdf.pen import Pen

if TYPE_CHECKING:
    from collections.abc import Callable


class Drawn(Flowable):
    """A drawing of fixed size, in points; `paint` gets a pen whose origin is its lower left."""

    def __init__(self, width: float, height: float, paint: Callable[[Pen], None]) -> None:
        super().__init__()
        self.width = width
        self.height = height
        self._paint = paint

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:  # noqa: ARG002, N803
        """Return the size, whatever room there is."""
        return self.width, self.height

    def draw(self) -> None:
        """Draw it."""
        self._paint(Pen(self.canv))
