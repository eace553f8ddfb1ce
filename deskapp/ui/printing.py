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

    Each page is fitted to the paper. What is printed into a file is there whole, or not at all.
    Raises PrintProblem, ReportProblem for a file, and GivenUp between two pages.
    """
    target = printer.outputFileName()
    if not target:
        return _print(data, printer, work)
    from pathlib import Path

    from deskapp.session.printed_file import printed_aside

    with printed_aside(Path(target)) as aside:
        printer.setOutputFileName(str(aside))
        return _print(data, printer, work)


def _print(data: bytes, printer: QPrinter, work: LongWork) -> int:
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
    """Return the pages, from 0, in the order the printer is set to. Raises PrintProblem for none.

    Qt leaves both to the program: ranges such as 1, 3, 5-7, and the last page first.
    """
    pages, ranges = list(range(count)), printer.pageRanges()
    if printer.printRange() is QPrinter.PrintRange.PageRange and not ranges.isEmpty():
        pages = [page for page in pages if ranges.contains(page + 1)]
    if not pages:
        words = _("Pages {first} to {last} were asked for, but there are {count}.")
        first, last = ranges.firstPage(), ranges.lastPage()
        raise PrintProblem(words.format(first=first, last=last, count=count))
    if printer.pageOrder() is QPrinter.PageOrder.LastPageFirst:
        pages.reverse()
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
