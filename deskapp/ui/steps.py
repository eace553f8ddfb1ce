"""The steps of the job, with a mark for how far each one is."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPalette, QResizeEvent
from PySide6.QtWidgets import (
    QListWidget,
    QListWidgetItem,
    QSizePolicy,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
)

from deskapp.i18n import _, labeled
from deskapp.session.pages import PAGES, page_of
from deskapp.ui.glyphs import Glyph, color_of, paint_glyph
from deskapp.ui.step_state import PICTURES, StepState, how_full, state_of
from deskapp.ui.theme import GRID, colors_of, scaled, sized

if TYPE_CHECKING:
    from deskapp.session.colors import Colors
    from deskapp.session.pages import Page
    from deskapp.ui.bridge import Bridge

_GLYPH = Qt.ItemDataRole.UserRole
_STATE = Qt.ItemDataRole.UserRole + 1

_WRAPPED = int(Qt.TextFlag.TextWordWrap) | int(Qt.AlignmentFlag.AlignLeft)
_SMALLER = 0.88
_BESIDE = 38
"""What stands beside mark and words of a step."""
_SHARE = 4
_BESIDE_MARK = 36
_NARROWEST = 66
"""Letters of a window below which the marks stand alone, so that the page keeps some room."""


class _Letters:
    """What a font gives the steps: its sizes, and how high titles are that were measured before."""

    def __init__(self, font: QFont) -> None:
        self.font = QFont(font)
        self.mark = scaled(20, font)
        self.small = sized(font, _SMALLER)
        self.small_metrics = QFontMetrics(self.small)
        self._fonts = {strong: sized(font, 1.0, strong=strong) for strong in (False, True)}
        self._metrics = {strong: QFontMetrics(one) for strong, one in self._fonts.items()}
        self._heights: dict[tuple[str, int, bool], int] = {}

    def title(self, *, strong: bool) -> QFont:
        """Return the font of a title."""
        return self._fonts[strong]

    def title_height(self, title: str, room: int, *, strong: bool) -> int:
        """Return how high a title is within `room`."""
        key = title, room, strong
        if key not in self._heights:
            place = QRect(0, 0, room, 0)
            self._heights[key] = self._metrics[strong].boundingRect(place, _WRAPPED, title).height()
        return self._heights[key]


class _StepPainter(QStyledItemDelegate):
    """Draws a step: mark, title, and below it how far it is. A long title goes on in a new line.

    With `is_brief` the mark alone says how far it is; the tip says it in words.
    """

    is_brief = False
    is_bare = False
    """Whether there is room for the marks alone."""
    _kept: _Letters | None = None

    def sizeHint(
        self,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> QSize:
        """Leave room for the title and a line below it."""
        height = self.height_of(option.font, str(index.data()), is_brief=self.is_brief)
        return QSize(0, height)

    def height_of(self, font: QFont, title: str, *, is_brief: bool) -> int:
        """Return how high the step with this title is."""
        letters = self._letters_of(font)
        if self.is_bare:
            return letters.mark + 2 * GRID
        words = letters.title_height(title, self._room(letters), strong=True)
        return words + (16 if is_brief else letters.small_metrics.height() + 20)

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        """Draw one step."""
        colors, letters = colors_of(option.palette), self._letters_of(option.font)
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        box = QRectF(option.rect).adjusted(6.5, 2.5, -6.5, -2.5)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if chosen:
            has_focus = bool(option.state & QStyle.StateFlag.State_HasFocus)
            painter.setPen(QColor(colors.accent) if has_focus else QColor(colors.line))
            painter.setBrush(QColor(colors.card))
            painter.drawRoundedRect(box, 6, 6)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(colors.accent))
            painter.drawRoundedRect(QRectF(box.left(), box.top() + 6, 4, box.height() - 12), 2, 2)
        glyph, side = Glyph(str(index.data(_GLYPH))), letters.mark
        place = QRectF(box.left() + 12, box.center().y() - side / 2, side, side)
        ground = QColor(colors.card if chosen else colors.window)
        paint_glyph(painter, place, glyph, QColor(color_of(glyph, colors)), ground)
        if not self.is_bare:
            words = str(index.data()), str(index.data(_STATE) or "")
            self._write(painter, option.rect, letters, colors, words, chosen=chosen)
        painter.restore()

    def _letters_of(self, font: QFont) -> _Letters:
        if self._kept is None or self._kept.font != font:
            self._kept = _Letters(font)
        return self._kept

    def _room(self, letters: _Letters) -> int:
        """Return how wide the words may be."""
        view = self.parent()
        width = view.width() if isinstance(view, QListWidget) else 0
        return max(1, width - letters.mark - _BESIDE)

    def _write(
        self,
        painter: QPainter,
        rect: QRect,
        letters: _Letters,
        colors: Colors,
        words: tuple[str, str],
        *,
        chosen: bool,
    ) -> None:
        room, (title, state) = self._room(letters), words
        line = letters.small_metrics.height()
        height = letters.title_height(title, room, strong=chosen)
        top = rect.center().y() - (height + (0 if self.is_brief else line)) // 2 + 1
        place = QRect(rect.left() + 28 + letters.mark, top, room, height)
        painter.setFont(letters.title(strong=chosen))
        painter.setPen(QColor(colors.text))
        painter.drawText(place, _WRAPPED, title)
        if self.is_brief:
            return
        painter.setFont(letters.small)
        painter.setPen(QColor(colors.muted))
        place = QRect(place.left(), place.bottom() + 1, room, line)
        elided = letters.small_metrics.elidedText(state, Qt.TextElideMode.ElideRight, room)
        painter.drawText(place, Qt.AlignmentFlag.AlignLeft, elided)


class PageSteps(QListWidget):
    """The list of pages.

    Signals: `picked` with the id of the page.
    """

    picked = Signal(str)

    def __init__(self, bridge: Bridge) -> None:
        super().__init__()
        self._bridge = bridge
        self._known: dict[str, tuple[tuple[object, ...], StepState]] = {}
        self._states: dict[str, StepState] = {}
        self.setAccessibleName(_("Steps of the job"))
        self.setFrameShape(QListWidget.Shape.NoFrame)
        self.setBackgroundRole(QPalette.ColorRole.Window)
        self.viewport().setAutoFillBackground(False)
        self.setViewportMargins(0, 10, 0, 0)
        self._painter = _StepPainter(self)
        self.setItemDelegate(self._painter)
        self.setWordWrap(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Expanding)
        for page in PAGES:
            item = QListWidgetItem(_(page.title))
            item.setData(_GLYPH, Glyph.BLANK.value)
            self.addItem(item)
        metrics = QFontMetrics(sized(self.font(), 1.0, strong=True))
        longest = max(metrics.horizontalAdvance(_(page.title)) for page in PAGES)
        self._widest = longest + scaled(20, self.font()) + _BESIDE + 6
        self.setFixedWidth(self._widest)
        self.currentRowChanged.connect(self._on_row)
        self.setCurrentRow(0)

    def show_page(self, page_id: str) -> None:
        """Mark the step of a page as the current one."""
        self.setCurrentRow(next(at for at, page in enumerate(PAGES) if page.id == page_id))

    def fit(self, width: int) -> None:
        """Take no more than a share of a window that is `width` wide: long titles go on below.

        In a very narrow one the marks stand alone, and tips tell what they stand for.
        """
        em = self.fontMetrics().averageCharWidth()
        wanted = min(self._widest, max(width // _SHARE, em * 24))
        self._painter.is_bare = width < em * _NARROWEST
        if self._painter.is_bare:
            wanted = scaled(20, self.font()) + _BESIDE_MARK
        if wanted != self.width():
            self.setFixedWidth(wanted)
            self.scheduleDelayedItemsLayout()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave the words about how far each step is out where all steps find no room with them."""
        super().resizeEvent(event)
        titles = [self.item(row).text() for row in range(self.count())]
        font, painter = self.font(), self._painter
        whole = sum(painter.height_of(font, title, is_brief=False) for title in titles)
        is_brief = whole > self.viewport().height()
        if is_brief is not painter.is_brief:
            painter.is_brief = is_brief
            self.scheduleDelayedItemsLayout()

    def refresh(self) -> None:
        """Show how far each step is."""
        for at, page in enumerate(PAGES):
            state = state_of(page, self._bridge, self._how_full)
            if state == self._states.get(page.id):
                continue
            self._states[page.id] = state
            item = self.item(at)
            item.setData(_GLYPH, state.glyph.value)
            item.setData(_STATE, _(state.word))
            item.setToolTip(f"{_(page.purpose)}\n{labeled(_(page.title), _(state.word))}")
            spoken = f"{_(page.title)}, {_(state.word)}"
            item.setData(Qt.ItemDataRole.AccessibleTextRole, spoken)

    def _how_full(self, page: Page) -> StepState:
        """Return how full a page is; looked at again only where its part of the job has changed."""
        job = self._bridge.editor.job
        heads = dict.fromkeys(p.partition(".")[0] for s in page.sections for p in s.fields)
        heads |= dict.fromkeys(name for name in PICTURES if page_of(name) == page.id)
        parts = tuple(getattr(job, head) for head in heads)
        known = self._known.get(page.id)
        if known is None or any(a is not b for a, b in zip(known[0], parts, strict=True)):
            known = (parts, how_full(page, job))
            self._known[page.id] = known
        return known[1]

    def _on_row(self, row: int) -> None:
        self.picked.emit(PAGES[row].id)
