"""What the parts of a report are, in reading order: the tree that a screen reader follows.

The tree is made while a report is laid out, and filled with the places of its parts while these
are drawn. So the reading order is that of the tree, wherever things stand on the page.
"""

from __future__ import annotations

from enum import StrEnum
from typing import NamedTuple


class Role(StrEnum):
    """What a part is: standard structure types of ISO 32000-1, 14.8.4."""

    DOCUMENT = "Document"
    GROUP = "Div"
    H1 = "H1"
    H2 = "H2"
    H3 = "H3"
    H4 = "H4"
    H5 = "H5"
    H6 = "H6"
    PARAGRAPH = "P"
    LIST = "L"
    NUMBERED_LIST = "L numbered"
    ITEM = "LI"
    LABEL = "Lbl"
    BODY = "LBody"
    TABLE = "Table"
    ROW = "TR"
    COLUMN_HEAD = "TH column"
    ROW_HEAD = "TH row"
    CELL = "TD"
    CAPTION = "Caption"
    FIGURE = "Figure"


HEADINGS = (Role.H1, Role.H2, Role.H3, Role.H4, Role.H5, Role.H6)
_KEPT_EMPTY = {Role.CELL, Role.COLUMN_HEAD, Role.ROW_HEAD}


Place = tuple[int, int]
"""Where a stretch of content stands: its page, and its number among those of the page."""


class Box(NamedTuple):
    """A rectangle on a page in points: left, bottom, right, top."""

    left: float
    bottom: float
    right: float
    top: float


class Element:
    """One part of a report; `alternative` says in words what a figure shows.

    `parts` are the elements inside it, `places` the stretches of content drawn for it. A part that
    breaks over pages has one place on each. `box` is the room a figure takes.
    """

    __slots__ = ("alternative", "box", "parts", "places", "role")

    def __init__(self, role: Role, alternative: str = "") -> None:
        self.role = role
        self.alternative = alternative
        self.parts: list[Element] = []
        self.places: list[Place] = []
        self.box: Box | None = None

    def add(self, role: Role, alternative: str = "") -> Element:
        """Return a new element, read after those already inside this one."""
        element = Element(role, alternative)
        self.parts.append(element)
        return element

    def add_figure(self, alternative: str) -> Element | None:
        """Return a new figure; None, which means decoration, where no words tell what it shows."""
        return self.add(Role.FIGURE, alternative) if alternative else None

    def add_pair(self) -> tuple[Element, Element]:
        """Return head and cell of a new row of this table: what it is, and its value."""
        row = self.add(Role.ROW)
        return row.add(Role.ROW_HEAD), row.add(Role.CELL)

    def first_page(self) -> int | None:
        """Return the page on which it begins, from 0; None where nothing was drawn for it."""
        if self.places:
            return self.places[0][0]
        for part in self.parts:
            page = part.first_page()
            if page is not None:
                return page
        return None

    @property
    def is_kept_empty(self) -> bool:
        """Whether it counts even if nothing was drawn for it, as a cell of a table does."""
        return self.role in _KEPT_EMPTY


class Outline:
    """Levels of headings without gaps: what opens a deeper level is always one below the last."""

    def __init__(self) -> None:
        self._open: list[int] = []

    def role(self, level: int) -> Role:
        """Return the role of the next heading; `level` 0 is the title, larger ones lie deeper."""
        while self._open and self._open[-1] >= level:
            self._open.pop()
        self._open.append(level)
        return HEADINGS[min(len(self._open), len(HEADINGS)) - 1]
