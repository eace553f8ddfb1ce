"""The pages of the very PDF that will be saved, drawn in the background."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QSize, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPaintEvent, QPen, QPixmap
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget

from deskapp.i18n import _, ngettext
from deskapp.session.report_kinds import KIND_WORDS, ReportKind
from deskapp.ui.row_tabs import RowTabs
from deskapp.ui.tasks import Dispatcher
from deskapp.ui.theme import GRID, colors_of
from deskapp.ui.words import Card, Size, Words

if TYPE_CHECKING:
    from collections.abc import Callable

    from deskapp.session.reports import ReportOrder
    from deskapp.session.template_draft import TemplateDraft

_WIDTH = 1240
_WIDEST = 700


def page_images(data: bytes, width: int = _WIDTH) -> list[QImage]:
    """Return the pages of a PDF as pictures `width` pixels wide, on white."""
    from PySide6.QtPdf import QPdfDocument

    buffer = QBuffer()
    buffer.setData(QByteArray(data))
    buffer.open(QIODevice.OpenModeFlag.ReadOnly)
    document = QPdfDocument()
    document.load(buffer)
    images: list[QImage] = []
    for number in range(document.pageCount()):
        size = document.pagePointSize(number)
        height = round(width * size.height() / size.width())
        drawn = document.render(number, QSize(width, height))
        page = QImage(drawn.size(), QImage.Format.Format_RGB32)
        page.fill(Qt.GlobalColor.white)
        painter = QPainter(page)
        painter.drawImage(0, 0, drawn)
        painter.end()
        images.append(page)
    document.close()
    return images


def pages_in_words(count: int) -> str:
    """Return how many pages there are."""
    return ngettext("One page", "{n} pages", count).format(n=count)


class PageSheet(QWidget):
    """One page, scaled to the width there is."""

    def __init__(self) -> None:
        super().__init__()
        self._pixmap = QPixmap()
        self.image = QImage()
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.setMaximumWidth(_WIDEST)

    def show_page(self, image: QImage, words: str) -> None:
        """Show a page."""
        self.image = image
        self._pixmap = QPixmap.fromImage(image)
        self.setAccessibleName(words)
        self.updateGeometry()
        self.update()

    def hasHeightForWidth(self) -> bool:
        """The height follows the shape of the paper."""
        return True

    def heightForWidth(self, width: int, /) -> int:
        """Return the height at `width`."""
        if self._pixmap.isNull():
            return 0
        return round(width * self._pixmap.height() / self._pixmap.width())

    def sizeHint(self) -> QSize:
        """Be as wide as is good to read."""
        return QSize(_WIDEST, self.heightForWidth(_WIDEST))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the page with a thin rim."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.drawPixmap(self.rect(), self._pixmap)
        painter.setPen(QPen(QColor(colors_of(self.palette()).edge), 1))
        painter.drawRect(self.rect().adjusted(0, 0, -1, -1))
        painter.end()
        event.accept()


class PageSheets(QWidget):
    """The pages of a report, one below the other."""

    def __init__(self) -> None:
        super().__init__()
        self.sheets: list[PageSheet] = []
        self.count = 0
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(2 * GRID)
        self._column.addStretch(1)

    def show_pages(self, images: list[QImage], title: str) -> None:
        """Show the pages of the report called `title`."""
        while len(self.sheets) < len(images):
            sheet = PageSheet()
            self._column.insertWidget(len(self.sheets), sheet)
            self.sheets.append(sheet)
        self.count = len(images)
        for at, sheet in enumerate(self.sheets):
            sheet.setVisible(at < len(images))
            if at < len(images):
                words = _("{report}, page {n} of {count}")
                sheet.show_page(images[at], words.format(report=title, n=at + 1, count=len(images)))


class PreviewCard(Card):
    """Shows one of the reports; `order` takes down what it is made from."""

    def __init__(self, order: Callable[[], ReportOrder]) -> None:
        super().__init__()
        self._order = order
        self._kinds = tuple(ReportKind)[:-1]
        self._at = 0
        self._pages = PageSheets()
        self.dispatcher = Dispatcher(self)
        self.dispatcher.done.connect(self._show)
        self.dispatcher.broken.connect(self._say_why)
        self._tabs = RowTabs()
        self._tabs.picked.connect(self.pick)
        self._remark = Words(muted=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
        column.setSpacing(12)
        column.addWidget(Words(_("Preview"), Size.HEADING))
        column.addWidget(self._tabs)
        column.addWidget(self._remark)
        column.addWidget(self._pages)
        self._show_tabs()

    @property
    def page_count(self) -> int:
        """How many pages are shown."""
        return self._pages.count

    @property
    def sheets(self) -> list[PageSheet]:
        """The pages, also those hidden because the report has fewer."""
        return self._pages.sheets

    @property
    def remark(self) -> str:
        """What is said above the pages."""
        return self._remark.text()

    def pick(self, at: int) -> None:
        """Show the other report."""
        self._at = at
        self._show_tabs()
        self.draw()

    def draw(self) -> None:
        """Draw the report anew, in the background."""
        from deskapp.session.reports import offered

        order = self._order()
        there = offered(order.source.assessment)
        if there != self._kinds:
            self._kinds, self._at = there, min(self._at, len(there) - 1)
            self._show_tabs()
        kind = self._kinds[self._at]
        self._remark.setText(_("Drawing…"))
        self._remark.show()
        self.dispatcher.start(lambda: draw_pages(order, kind))

    @property
    def _titles(self) -> list[str]:
        return [_(KIND_WORDS[kind]) for kind in self._kinds]

    def _show_tabs(self) -> None:
        self._tabs.show_rows([(title, None, "") for title in self._titles], self._at)

    def _show(self, images: list[QImage]) -> None:
        self._pages.show_pages(images, self._titles[self._at])
        self._remark.setText(pages_in_words(len(images)))

    def _say_why(self, error: Exception) -> None:
        self._pages.show_pages([], "")
        self._remark.setText(str(error))


def draw_pages(order: ReportOrder, kind: ReportKind) -> list[QImage]:
    """Make a report and return its pages as pictures. Raises ReportProblem."""
    from deskapp.session.reports import report_bytes

    return page_images(report_bytes(order, kind))


def draft_pages(order: ReportOrder, draft: TemplateDraft) -> list[QImage]:
    """Return the pages a draft of a template makes, as pictures. Raises ReportProblem."""
    from deskapp.session.reports import draft_bytes

    return page_images(draft_bytes(order, draft))
