"""The pages of the very PDF that will be saved, drawn in the background."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtGui import QColor, QImage, QPainter, QPaintEvent, QPen, QPixmap, QShowEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from deskapp.domain.fields import label_of
from deskapp.i18n import N_, _, ngettext
from deskapp.session.report_kinds import KIND_WORDS, ReportKind
from deskapp.ui.pdf_pages import page_images
from deskapp.ui.row_tabs import RowTabs
from deskapp.ui.tasks import Dispatcher
from deskapp.ui.theme import GRID, colors_of
from deskapp.ui.words import Card, Size, Words

if TYPE_CHECKING:
    from deskapp.session.reports import DrawnReport, ReportOrder
    from deskapp.session.template_draft import TemplateDraft
    from deskapp.ui.bridge import Bridge
    from deskapp.ui.desk import Desk

WIDTH = 1240
"""Dots across a page; enough for a sharp one on a fine screen."""
_WIDEST = 700
_CALM = 700
"""Milliseconds without a change after which the report is drawn anew."""


def pages_in_words(count: int) -> str:
    """Return how many pages there are."""
    return ngettext("One page", "{n} pages", count).format(n=count)


class PageSheet(QWidget):
    """One page, scaled to the width there is."""

    def __init__(self) -> None:
        super().__init__()
        self._pixmap, self._small = QPixmap(), QPixmap()
        self.image = QImage()
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.setMaximumWidth(_WIDEST)

    def show_page(self, image: QImage, words: str) -> None:
        """Show a page."""
        self.image = image
        self._pixmap, self._small = QPixmap.fromImage(image), QPixmap()
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

    def _fitted(self) -> QPixmap:
        """Return the page in the dots of the screen; small print stays readable that way."""
        size = self.size() * self.devicePixelRatio()
        if self._small.size() != size and not self._pixmap.isNull():
            fine = Qt.TransformationMode.SmoothTransformation
            self._small = self._pixmap.scaled(size, Qt.AspectRatioMode.IgnoreAspectRatio, fine)
        return self._small

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the page with a thin rim."""
        painter = QPainter(self)
        painter.drawPixmap(self.rect(), self._fitted())
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
    """Shows one of the reports of the open job, drawn anew when typing has calmed.

    Signals: `placed` with the distance of a page that was asked for from the top of the card.
    """

    placed = Signal(int)

    def __init__(self, bridge: Bridge, desk: Desk) -> None:
        super().__init__()
        self._bridge, self._desk = bridge, desk
        self._kinds = tuple(ReportKind)[:-1]
        self._at = 0
        self._pages = PageSheets()
        self._wanted_field = ""
        self._drawn_from: tuple[object, ...] | None = None
        self.drawn: DrawnReport | None = None
        self.dispatcher = Dispatcher(N_("Drawing the preview"), self)
        self.dispatcher.done.connect(self._show)
        self.dispatcher.broken.connect(self._say_why)
        self._calm = QTimer(self)
        self._calm.setSingleShot(True)
        self._calm.timeout.connect(self.draw)
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
    def kind(self) -> ReportKind:
        """The report shown."""
        return self._kinds[self._at]

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

    def pick_like(self, other: PreviewCard) -> None:
        """Show the report that another card shows."""
        self._kinds, self._at = other._kinds, other._at
        self._show_tabs()

    def refresh(self, *, now: bool = False) -> None:
        """Draw the report soon, or `now`, if it is in sight and the job has changed."""
        if self.isVisible() and self._wanted() != self._drawn_from:
            self._calm.start(0 if now else _CALM)

    def showEvent(self, event: QShowEvent) -> None:
        """Draw the report when it comes up."""
        super().showEvent(event)
        self.refresh(now=True)

    def forget(self) -> None:
        """Draw anew whatever was drawn: something beside the job has changed."""
        self._drawn_from = None
        self.refresh(now=True)

    def draw(self) -> None:
        """Draw the report anew, in the background; the pages stand until the new ones are there."""
        from deskapp.session.reports import offered

        self._calm.stop()
        self._drawn_from = self._wanted()
        order = self._desk.order_reports(self._bridge.editor)
        there = offered(order.source.assessment)
        if there != self._kinds:
            self._kinds, self._at = there, min(self._at, len(there) - 1)
            self._show_tabs()
        kind = self.kind
        self._remark.setText(_("Drawing…"))
        self.dispatcher.start(lambda: draw_pages(order, kind))

    def show_field(self, path: str) -> None:
        """Bring the page with a field of the job into sight, at once or when it is drawn."""
        self._wanted_field = path
        if not self.dispatcher.is_busy and self._wanted() == self._drawn_from:
            self._find_field()

    def _wanted(self) -> tuple[object, ...]:
        return self._bridge.editor.job, self._bridge.preferences

    @property
    def _titles(self) -> list[str]:
        return [_(KIND_WORDS[kind]) for kind in self._kinds]

    def _show_tabs(self) -> None:
        self._tabs.show_rows([(title, None, "") for title in self._titles], self._at)

    def _show(self, outcome: tuple[DrawnReport, list[QImage]]) -> None:
        self.drawn, images = outcome
        self._pages.show_pages(images, self._titles[self._at])
        self._remark.setText(pages_in_words(len(images)))
        if self._wanted_field:
            QTimer.singleShot(0, self, self._find_field)

    def _find_field(self) -> None:
        path, self._wanted_field = self._wanted_field, ""
        page = None if self.drawn is None else self.drawn.page_of(path)
        label = label_of(path)
        if page is None or page > self.page_count:
            words = _("{field} is not printed in this report.")
            self._remark.setText(words.format(field=label))
            return
        sheet = self.sheets[page - 1]
        self._remark.setText(_("{field} is on page {n}.").format(field=label, n=page))
        self.placed.emit(sheet.mapTo(self, sheet.rect().topLeft()).y())

    def _say_why(self, error: Exception) -> None:
        self.drawn = None
        self._pages.show_pages([], "")
        self._remark.setText(str(error))


class PreviewPane(QScrollArea):
    """The preview beside a page, with a scroll bar of its own."""

    def __init__(self, bridge: Bridge, desk: Desk) -> None:
        super().__init__()
        self.card = PreviewCard(bridge, desk)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(_("Preview"))
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(GRID, 2 * GRID, GRID, 2 * GRID)
        column.addWidget(self.card)
        column.addStretch(1)
        self.setWidget(inside)
        self.viewport().setAutoFillBackground(False)
        self.card.placed.connect(self._scroll_to)

    def _scroll_to(self, distance: int) -> None:
        self.verticalScrollBar().setValue(self.card.y() + distance - GRID)


def draw_pages(order: ReportOrder, kind: ReportKind) -> tuple[DrawnReport, list[QImage]]:
    """Draw a report; return it with its pages as pictures. Raises ReportProblem."""
    from deskapp.session.reports import drawn_report

    drawn = drawn_report(order, kind)
    return drawn, page_images(drawn.data, WIDTH)


def draft_pages(order: ReportOrder, draft: TemplateDraft) -> list[QImage]:
    """Return the pages a draft of a template makes, as pictures. Raises ReportProblem."""
    from deskapp.session.reports import draft_bytes

    return page_images(draft_bytes(order, draft), WIDTH)
