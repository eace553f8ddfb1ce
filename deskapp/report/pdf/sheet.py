"""The sheets: margins, running header, and foot with page x of y."""

from __future__ import annotations

from threading import Lock
from typing import TYPE_CHECKING, Any

from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate

from deskapp.report.pdf.look import FIRST_HIGHER, QUIET, RULE
from deskapp.report.pdf.objects import objects_of
from deskapp.report.pdf.pen import Pen, fitted_text
from deskapp.report.pdf.tagged import FOOTER, HEADER, TaggedCanvas
from deskapp.report.plain_text import printable

if TYPE_CHECKING:
    from collections.abc import Callable

    from deskapp.report.archival.objects import DrawnFile
    from deskapp.report.blocks import Document, Running
    from deskapp.report.pdf.look import Look

_FOOT_RULE, _FOOT_TEXT = 40.0, 27.0
_HEAD_TEXT, _HEAD_RULE = 34.0, 41.0
_FIRST, _REST = "first page", "other pages"
_WRITING_FONTS = Lock()
"""The library reads the letters it embeds from one place in the file of a font that all share."""


class PagedCanvas(TaggedCanvas):
    """A canvas that knows how many pages there are before any of them is finished.

    `drawn` has the objects of the pages, once they are saved.
    """

    drawn: DrawnFile

    def __init__(
        self, *args: Any, paint_page: Callable[[TaggedCanvas, int, int], None], **kwargs: Any
    ):
        super().__init__(*args, **kwargs)  # pyright: ignore[reportUnknownMemberType]
        self._paint_page = paint_page
        self._kept: list[dict[str, Any]] = []

    def showPage(self) -> None:  # noqa: N802
        """Keep the page until the number of pages is known."""
        self._kept.append(dict(self.__dict__))
        self.next_page()
        self._startPage()  # pyright: ignore[reportUnknownMemberType, reportAttributeAccessIssue]

    def save(self) -> None:
        """Add header and foot to each page, and keep the objects drawn: no file is written yet."""
        kept = self._kept
        for number, state in enumerate(kept, 1):
            self.__dict__.update(state)
            self._paint_page(self, number, len(kept))
            super().showPage()
        with _WRITING_FONTS:
            self.drawn = objects_of(self)


def print_sheets(document: Document, look: Look, story: list[Flowable]) -> DrawnFile:
    """Lay `story` out on sheets, and return the objects of the pages."""
    template = BaseDocTemplate(
        "",
        pagesize=(look.page_width, look.page_height),
        lang=document.language,
        invariant=1,
        initialFontName=look.faces.text.font,
    )
    template.addPageTemplates(
        [
            PageTemplate("first", [_frame(look, FIRST_HIGHER)], autoNextPageTemplate="rest"),
            PageTemplate("rest", [_frame(look, 0.0)]),
        ]
    )
    made: list[PagedCanvas] = []

    def paint(canvas: TaggedCanvas, page: int, of: int) -> None:
        with canvas.stretch(None, FOOTER):
            _paint_foot(Pen(canvas), look, document.running, page, of)
        if page > 1:
            with canvas.stretch(None, HEADER):
                _paint_head(Pen(canvas), look, document.running, canvas.part_header)

    def make(*args: Any, **kwargs: Any) -> PagedCanvas:
        made.append(PagedCanvas(*args, paint_page=paint, **kwargs))
        return made[-1]

    template.build(story, canvasmaker=make)
    return made[-1].drawn


def _frame(look: Look, higher: float) -> Frame:
    """Return the place for text on a page; without a running header it may reach `higher`."""
    return Frame(
        look.side,
        look.foot,
        look.width,
        look.height + higher,
        leftPadding=0,
        rightPadding=0,
        topPadding=0,
        bottomPadding=0,
    )


def _paint_foot(pen: Pen, look: Look, running: Running, page: int, of: int) -> None:
    face, size = look.faces.text, look.sizes.small
    left, right = look.side, look.page_width - look.side
    pen.line(((left, _FOOT_RULE), (right, _FOOT_RULE)), 0.5, RULE)
    words = running.page_words.replace("{page}", str(page)).replace("{pages}", str(of))
    room = look.width - face.width(words, size) - 24.0
    foot = fitted_text(_one_line(running.footer_left), face, size, room)
    pen.text(left, _FOOT_TEXT, foot, face, size, QUIET)
    pen.text_right(right, _FOOT_TEXT, words, face, size, QUIET)


def _paint_head(pen: Pen, look: Look, running: Running, of_part: str) -> None:
    face, size = look.faces.text, look.sizes.small
    left, right = look.side, look.page_width - look.side
    top = look.page_height
    head = fitted_text(_one_line(of_part or running.header_left), face, size, look.width / 2 - 8.0)
    rest = look.width - face.width(head, size) - 16.0
    tail = fitted_text(_one_line(running.header_right), face, size, rest)
    pen.text(left, top - _HEAD_TEXT, head, face, size, QUIET)
    pen.text_right(right, top - _HEAD_TEXT, tail, face, size, QUIET)
    pen.line(((left, top - _HEAD_RULE), (right, top - _HEAD_RULE)), 0.5, RULE)


def _one_line(text: str) -> str:
    return " ".join(printable(text).split())
