"""Reports on a printer: the pages of the very PDF, drawn as finely as the printer prints."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QMarginsF, QPointF, QRectF, QSize, QSizeF
from PySide6.QtGui import QPageLayout, QPageSize, QPainter
from PySide6.QtPrintSupport import QPrinter

from deskapp.i18n import _
from deskapp.ui.pdf_pages import opened, page_image

if TYPE_CHECKING:
    from PySide6.QtPdf import QPdfDocument

    from deskapp.session.long_work import LongWork
    from deskapp.session.settings import Paper

_FINEST = 600
"""Dots per inch beyond which paper shows no difference."""
_POINTS = 72.0
_SIZES = {"letter": QPageSize.PageSizeId.Letter, "a4": QPageSize.PageSizeId.A4}


class PrintProblem(Exception):  # noqa: N818 - it is told to a person as a problem
    """A report cannot be printed; the text tells a person why."""


def printer_for(paper: Paper, name: str) -> QPrinter:
    """Return the system's usual printer, set to a paper; `name` is what the work is called."""
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setDocName(name)
    printer.setFullPage(True)
    printer.setPageSize(QPageSize(_SIZES[paper.value]))
    printer.setPageMargins(QMarginsF(), QPageLayout.Unit.Point)
    return printer


def print_pages(data: bytes, printer: QPrinter, work: LongWork) -> int:
    """Print the pages of a PDF that the printer is set to, all by default; return how many.

    Each page is fitted to the paper. Raises PrintProblem, and GivenUp between two pages.
    """
    with opened(data) as document:
        pages = pages_wanted(printer, document.pageCount())
        painter = QPainter()
        if not painter.begin(printer):
            raise PrintProblem(_("The printer does not answer. Choose another one or a file."))
        try:
            painter.setRenderHint(QPainter.RenderHint.LosslessImageRendering)
            for at, page in enumerate(pages):
                work.step(at + 1, len(pages), _("page {n}").format(n=page + 1))
                if at and not printer.newPage():
                    raise PrintProblem(_("The printer took no further page."))
                _paint(document, page, printer, painter)
            work.settle()
        except BaseException:
            printer.abort()
            raise
        finally:
            painter.end()
    return len(pages)


def pages_wanted(printer: QPrinter, count: int) -> list[int]:
    """Return the pages, from 0, that the printer is set to. Raises PrintProblem for none."""
    if printer.printRange() is not QPrinter.PrintRange.PageRange:
        return list(range(count))
    first, last = printer.fromPage() or 1, printer.toPage() or count
    pages = [page for page in range(first - 1, last) if page < count]
    if not pages:
        words = _("Pages {first} to {last} were asked for, but there are {count}.")
        raise PrintProblem(words.format(first=first, last=last, count=count))
    return pages


def _paint(document: QPdfDocument, page: int, printer: QPrinter, painter: QPainter) -> None:
    """Draw a page as large as the paper allows, in the middle of it."""
    size = document.pagePointSize(page)
    paper = printer.pageLayout().fullRectPoints()
    scale = min(paper.width() / size.width(), paper.height() / size.height())
    dots = scale * min(_FINEST, printer.resolution()) / _POINTS
    drawn = QSize(round(size.width() * dots), round(size.height() * dots))
    image = page_image(document, page, drawn)
    area = printer.paperRect(QPrinter.Unit.DevicePixel)
    place = QRectF(QPointF(), QSizeF(size) * (scale * printer.resolution() / _POINTS))
    place.moveCenter(area.center())
    painter.drawImage(place, image)
