"""The sketch of the house: where its walls, registers and leaks are, without a scale."""

from __future__ import annotations

from typing import Self

from pydantic import model_validator

from deskapp.domain.base import Frozen
from deskapp.domain.drawing import ON_SKETCH, Item
from deskapp.domain.leak import Photo

BLANK_SIDES = (4, 3)
"""Width to height of a sketch without a plan below it."""


class Sketch(Frozen):
    """What is drawn, last on top, over a blank sheet or over the picture of a floor plan."""

    items: tuple[Item, ...] = ()
    plan: Photo | None = None

    @model_validator(mode="after")
    def _fits(self) -> Self:
        if any(item.shape not in ON_SKETCH for item in self.items):
            raise ValueError("only shapes of a sketch are drawn on it")
        return self

    @property
    def is_blank(self) -> bool:
        """Whether there is nothing to show."""
        return not self.items and self.plan is None

    @property
    def sides(self) -> tuple[int, int]:
        """Width and height of the sheet, in any unit."""
        if self.plan is not None and self.plan.width > 0 and self.plan.height > 0:
            return self.plan.width, self.plan.height
        return BLANK_SIDES
