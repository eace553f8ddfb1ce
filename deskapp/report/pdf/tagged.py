"""A canvas that notes which stretch of a page belongs to which part of the report."""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from reportlab.pdfgen.canvas import Canvas

from deskapp.report.archival.structure import Box, Role
from deskapp.report.pdf.letters import FontCodes

if TYPE_CHECKING:
    from collections.abc import Callable, Generator

    from deskapp.report.archival.structure import Element

_DECORATION = "/Artifact BMC"
HEADER = "/Artifact <</Type /Pagination /Subtype /Header /Attached [/Top]>> BDC"
FOOTER = "/Artifact <</Type /Pagination /Subtype /Footer /Attached [/Bottom]>> BDC"
_END = "EMC"
_OPENINGS = {role: f"/{role.partition(' ')[0]}" for role in Role}


class TaggedCanvas(Canvas):
    """A canvas on which everything is either content of an element or decoration.

    Stretches do not lie in one another: what is drawn inside one belongs to it. `part_header` is
    the running header of the part a page belongs to; empty where the document has none of its own.
    """

    _code: list[str]

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)  # pyright: ignore[reportUnknownMemberType]
        self._page, self._marks, self._depth = 0, 0, 0
        self._letters: dict[str, FontCodes] = {}
        self.part_header = ""

    def next_page(self) -> None:
        """Count stretches anew, on the page after this one."""
        self._page, self._marks = self._page + 1, 0

    def begin(self, element: Element | None, decoration: str = _DECORATION) -> None:
        """Open a stretch that belongs to `element`; without one it is `decoration`."""
        self._depth += 1
        if self._depth > 1:
            return
        if element is None:
            self.put(decoration)
            return
        self.put(f"{_OPENINGS[element.role]} <</MCID {self._marks}>> BDC")
        element.places.append((self._page, self._marks))
        self._marks += 1

    def end(self) -> None:
        """Close the stretch opened last."""
        self._depth -= 1
        if not self._depth:
            self.put(_END)

    def show(self, element: Element, operators: str) -> None:
        """Write operators that belong to `element`, or to the stretch that is open."""
        if self._depth:
            self._code.append(operators)
            return
        mark = self._marks
        self._code.append(f"{_OPENINGS[element.role]} <</MCID {mark}>> BDC\n{operators}\nEMC")
        element.places.append((self._page, mark))
        self._marks = mark + 1

    def put(self, operators: str) -> None:
        """Write operators of the page as they are."""
        self._code.append(operators)

    def taken_down(self, work: Callable[[], None]) -> str:
        """Return the operators that `work` would write, and leave them out."""
        before, self._code = self._code, []
        work()
        told, self._code = self._code, before
        return "\n".join(told)

    def letters(self, font: str) -> FontCodes:
        """Return how the letters of a font are written into this file."""
        letters = self._letters.get(font)
        if letters is None:
            letters = self._letters[font] = FontCodes(font, self._doc, self._escape)  # pyright: ignore
        return letters

    @contextmanager
    def stretch(self, element: Element | None, decoration: str = _DECORATION) -> Generator[None]:
        """Let what is drawn in a ``with`` belong to `element`, or be decoration without one."""
        self.begin(element, decoration)
        yield
        self.end()

    def box_of(self, width: float, height: float) -> Box:
        """Return where a rectangle at the origin stands on the page."""
        left, bottom = self.absolutePosition(0, 0)  # pyright: ignore[reportUnknownMemberType]
        return Box(left, bottom, left + width, bottom + height)
