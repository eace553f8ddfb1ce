"""The steps of the job, with a mark for how far each one is."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

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

from deskapp.domain.checks_safety import asked_before_a_test
from deskapp.domain.fields import field_at
from deskapp.domain.finding import Nature
from deskapp.domain.paths import expand, get
from deskapp.domain.stops import ACKNOWLEDGED_STOP, SAFETY_STOP
from deskapp.i18n import N_, _, labeled
from deskapp.session.pages import PAGES, page_of
from deskapp.session.rows import comes_by_itself
from deskapp.ui.glyphs import Glyph, color_of, paint_glyph
from deskapp.ui.places import home_of
from deskapp.ui.theme import GRID, colors_of, scaled, sized

if TYPE_CHECKING:
    from collections.abc import Callable

    from deskapp.domain.job import Job
    from deskapp.session.colors import Colors
    from deskapp.session.pages import Page
    from deskapp.ui.bridge import Bridge

_GLYPH = Qt.ItemDataRole.UserRole
_STATE = Qt.ItemDataRole.UserRole + 1

_PICTURES = ("photos", "sketch")
_WRAPPED = int(Qt.TextFlag.TextWordWrap) | int(Qt.AlignmentFlag.AlignLeft)
_SMALLER = 0.88
_BESIDE = 38
"""What stands beside mark and words of a step."""
_SHARE = 4
_BESIDE_MARK = 36
_NARROWEST = 66
"""Letters of a window below which the marks stand alone, so that the page keeps some room."""


class StepState(NamedTuple):
    """How far a step is: its mark and the word for it."""

    glyph: Glyph
    word: str


_BLANK = StepState(Glyph.BLANK, N_("empty"))
_PART = StepState(Glyph.PART, N_("begun"))
_DONE = StepState(Glyph.DONE, N_("filled in"))
_STOP = StepState(Glyph.STOP, N_("must be mended"))
_SAFETY = StepState(Glyph.STOP, N_("safety first"))
_GONE_PAST = StepState(Glyph.CHECK, N_("safety first"))
_CHECK = StepState(Glyph.CHECK, N_("to be checked"))
_VERDICTS = {
    "pass": StepState(Glyph.PASS, N_("pass")),
    "fail": StepState(Glyph.FAIL, N_("fail")),
    "none": StepState(Glyph.BLANK, N_("no verdict yet")),
}


def state_of(page: Page, bridge: Bridge, full: Callable[[Page], StepState]) -> StepState:
    """Return how far a page is: what wants attention first, then how much is filled in.

    `full` tells how much of a page is filled in.
    """
    here = [f for f in bridge.findings if f.path and home_of(f.path) == page.id]
    if any(finding.nature is Nature.DANGER for finding in here):
        return _SAFETY
    levels = {str(finding.level) for finding in here}
    if "stop" in levels:
        return _STOP
    if "check" in levels:
        return _CHECK
    if page.id == "result":
        # No verdict speaks of safety, so none stands alone beside a stop, open or gone past.
        codes = {finding.code for finding in bridge.findings}
        if SAFETY_STOP in codes:
            return _SAFETY
        if ACKNOWLEDGED_STOP in codes:
            return _GONE_PAST
        return _VERDICTS[str(bridge.assessment.verdict)]
    return full(page)


def how_full(page: Page, job: Job) -> StepState:
    """Return how much of a page is filled in; photos and a sketch are something, too."""
    filled, needed = _filled_in(page, job)
    if not any(filled):
        return _PART if has_pictures(page, job) else _BLANK
    is_read = page.id != "readings" or all(test.readings for test in job.tests)
    if page.id == "safety":
        # What hurts people is asked one by one, so that one answer does not stand for the rest.
        needed.extend(get(job, path) is not None for path in asked_before_a_test(job))
    return _DONE if is_read and all(needed) else _PART


def has_pictures(page: Page, job: Job) -> bool:
    """Say whether photos or a sketch stand on a page; those of the whole job stand on one."""
    if not any(page_of(name) == page.id for name in _PICTURES):
        return False
    of_leaks = any(leak.photos for leak in job.leaks)
    return bool(job.photos) or of_leaks or not job.sketch.is_blank


def _filled_in(page: Page, job: Job) -> tuple[list[bool], list[bool]]:
    """Return for each field of the page, and for each needed one, whether it is filled in.

    What a new row comes with is nothing a person entered.
    """
    filled: list[bool] = []
    needed: list[bool] = []
    for section in page.sections:
        for pattern in section.fields:
            values = [value for _path, value in expand(job, pattern)]
            answers = [value not in (None, "") for value in values]
            filled.extend(
                is_there and not comes_by_itself(pattern, value)
                for is_there, value in zip(answers, values, strict=True)
            )
            if field_at(pattern).needed:
                needed.extend(answers or [False])
    return filled, needed


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
        heads |= dict.fromkeys(name for name in _PICTURES if page_of(name) == page.id)
        parts = tuple(getattr(job, head) for head in heads)
        known = self._known.get(page.id)
        if known is None or any(a is not b for a, b in zip(known[0], parts, strict=True)):
            known = (parts, how_full(page, job))
            self._known[page.id] = known
        return known[1]

    def _on_row(self, row: int) -> None:
        self.picked.emit(PAGES[row].id)
