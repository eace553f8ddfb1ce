"""Things drawn on a photo or on the sketch of the house, as data that scales with the picture."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import Field

from deskapp.domain.base import Frozen

Share = Annotated[float, Field(ge=0.0, le=1.0)]
"""A place across or down a picture, as a share of its width or height, from its upper left."""


class Shape(StrEnum):
    """What is drawn; the first three belong on photos, the others on the sketch."""

    ARROW = "arrow"
    CIRCLE = "circle"
    LABEL = "label"
    WALL = "wall"
    ROOM = "room"
    TEXT = "text"
    REGISTER = "register"
    LEAK = "leak"


ON_PHOTO = frozenset({Shape.ARROW, Shape.CIRCLE, Shape.LABEL})
ON_SKETCH = frozenset(Shape) - ON_PHOTO
DRAGGED = frozenset({Shape.ARROW, Shape.CIRCLE, Shape.WALL, Shape.ROOM})
"""Shapes that reach from one place to another; the others stand at one place."""


class Item(Frozen):
    """One thing drawn, from (`x`, `y`) to (`to_x`, `to_y`).

    An arrow points at its second place, a circle and a room fill the box between the two. `text`
    is a short label; a mark on the photo of a leak without one shows the number of the leak.
    `refers` is the key of the leak or register that a marker of the sketch stands for.
    """

    shape: Shape
    x: Share
    y: Share
    to_x: Share = 0.0
    to_y: Share = 0.0
    text: str = Field(default="", max_length=40)
    refers: str = ""
