"""The result as it stands, always in view: one card for each system."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt, Signal
from PySide6.QtGui import QFocusEvent, QPalette, QResizeEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QSizePolicy, QWidget

from deskapp.domain.stops import ACKNOWLEDGED_STOP, SAFETY_STOP
from deskapp.i18n import _, labeled
from deskapp.ui.card_layout import CardLayout
from deskapp.ui.glyphs import Glyph
from deskapp.ui.levels import level_of
from deskapp.ui.marks import Notice
from deskapp.ui.outcome_signs import beside_stop, system_sign_of
from deskapp.ui.panes import show_ring
from deskapp.ui.system_card import PANE, Detail, SystemCard
from deskapp.ui.theme import GRID, UNBOUND
from deskapp.ui.words import Size, Words

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from deskapp.ui.bridge import Bridge


class ResultPane(QScrollArea):
    """Verdicts of all systems; beside the page in a wide window, below it in a narrow one.

    Signals: `verdict_changed` with the new words, to be announced.
    """

    verdict_changed = Signal(str)

    def __init__(self, bridge: Bridge) -> None:
        super().__init__()
        self._bridge = bridge
        self._is_flat = False
        self._fitted = 0
        self._warned: tuple[object, ...] = ()
        self._is_stopped = False
        self._told = ""
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidgetResizable(True)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAccessibleName(_("Result so far"))
        self._inside = QWidget()
        self._inside.setBackgroundRole(QPalette.ColorRole.Window)
        self._line = CardLayout()
        self._inside.setLayout(self._line)
        self._title = Words(_("Result so far"), Size.HEADING)
        self._none = Words("", muted=True)
        self._hides = Notice(Size.BODY)
        self._cards: list[SystemCard] = []
        self._detail = Detail.BRIEF
        self.danger = Notice(Size.BODY)
        for part in (self._title, self.danger, self._hides, self._none):
            self._line.addWidget(part)
        self.setWidget(self._inside)
        self._inside.installEventFilter(self)
        self.set_flat(False)

    @property
    def cards(self) -> list[SystemCard]:
        """The cards shown."""
        return [card for card in self._cards if card.isVisibleTo(self)]

    @property
    def is_flat(self) -> bool:
        """Whether the cards stand side by side."""
        return self._is_flat

    def set_flat(self, flat: bool) -> None:
        """Put the cards side by side, each in one line, or below each other."""
        self._is_flat = flat
        self._title.setVisible(not flat)
        gap = GRID // 2 if flat else 2 * GRID
        self._line.be_flat(flat, ((3 if flat else 2) * GRID, gap), GRID if flat else 12)
        em = self.fontMetrics().averageCharWidth()
        if flat:
            self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
            self.setMinimumWidth(0)
            self.setMaximumWidth(UNBOUND)
        else:
            self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAsNeeded)
            self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Expanding)
            self.setMinimumHeight(0)
            self.setMaximumHeight(UNBOUND)
            self.setFixedWidth(em * PANE)
        self.refresh()
        self.warn()

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show that the keys scroll the cards now."""
        super().focusInEvent(event)
        show_ring(self)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Tell less where the cards do not fit side by side, then go on below."""
        super().resizeEvent(event)
        if self.width() != self._fitted:
            self._fit_line()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Fit the line anew when the cards want more room or less."""
        if event.type() == QEvent.Type.LayoutRequest:
            self._fit_line()
        return super().eventFilter(watched, event)

    def _fit_line(self) -> None:
        """Be as high as the cards need, two lines of them at most; tell as much as one line holds.

        With more systems than that the rest is scrolled to. A matter of safety that needs a line of
        its own takes none of theirs.
        """
        if not self._is_flat:
            return
        self._fitted = self.width()
        self._show_cards(self._detail)
        self._detail = self._detail_that_fits()
        self._show_cards(self._detail)
        sides, cards = self._line.contentsMargins(), self.cards
        tallest = max((card.sizeHint().height() for card in cards), default=0)
        two_lines = sides.top() + 2 * tallest + GRID + sides.bottom()
        if not (self.danger.isHidden() or self._line.stands_beside(self.danger, self.width())):
            two_lines += self.danger.sizeHint().height() + GRID
        height = self._line.heightForWidth(self.width())
        # A bar that stays from before would take width, and so need more lines, and so stay.
        is_whole = height <= two_lines or not cards
        bar = Qt.ScrollBarPolicy
        self.setVerticalScrollBarPolicy(
            bar.ScrollBarAlwaysOff if is_whole else bar.ScrollBarAsNeeded
        )
        self.setFixedHeight(min(height, two_lines) if cards else height)

    def _detail_that_fits(self) -> Detail:
        """Return how much the cards can tell at this width."""
        beside = [] if self.danger.isHidden() else [self.danger.sizeHint().width()]
        brief = list(beside)
        for card, show in self._in_use():
            brief.append(card.width_as(Detail.BRIEF, show))
            if self._line.width_of_line(brief) > self.width():
                break
        else:
            return Detail.BRIEF
        widest = max([*self._widths_as(Detail.TERSE), *beside], default=0)
        return Detail.TERSE if self._line.width_of_line([widest]) <= self.width() else Detail.TIGHT

    def _widths_as(self, detail: Detail) -> list[int]:
        """Return how wide each card is where it tells as much as `detail`."""
        return [card.width_as(detail, show) for card, show in self._in_use()]

    def _show_cards(self, detail: Detail) -> None:
        for _card, show in self._in_use():
            show(detail)

    def _in_use(self) -> Iterator[tuple[SystemCard, Callable[[Detail], None]]]:
        """Give each card of a system, and what shows the system on it."""
        systems, formatter = self._bridge.assessment.systems, self._bridge.formatter
        for card, system in zip(self._cards, systems, strict=False):
            stopped = self._is_stopped
            yield card, partial(card.show_system, system, formatter, stopped=stopped)

    def refresh(self) -> None:
        """Show what was worked out from the job."""
        assessment = self._bridge.assessment
        systems = assessment.systems
        while len(self._cards) < len(systems):
            card = SystemCard()
            self._cards.append(card)
            self._line.addWidget(card)
        for at, card in enumerate(self._cards):
            card.setVisible(at < len(systems))
        self._none.setVisible(not systems)
        self._none.setText(_("The verdict appears here as soon as there is a system and a test."))
        hides = assessment.house.would_hide
        self._hides.setVisible(hides and not self._is_flat)
        if hides and not self._is_flat:
            text = _("Taken together the systems would pass. Each one is judged by itself.")
            self._hides.say(Glyph.NOTE, "", text)
        if self._is_flat:
            self._fit_line()
        else:
            self._show_cards(Detail.FULL)
        self._announce()

    def warn(self) -> None:
        """Say beside the verdicts that a matter of safety is open: no verdict speaks of that.

        What somebody went past is told more quietly, and stays as long as its answer does.
        """
        codes = (SAFETY_STOP, ACKNOWLEDGED_STOP)
        found = [one for one in self._bridge.findings if one.code in codes]
        stops = sorted(found, key=lambda one: codes.index(one.code))
        warned = (self._is_flat, *stops[:1])
        if warned == self._warned:
            return
        self._warned = warned
        if self._is_stopped is not bool(stops):
            self._is_stopped = bool(stops)
            self.refresh()
        if stops:
            text, brief = stops[0].what, _("acknowledged, not cleared")
            if stops[0].code == SAFETY_STOP:
                text = _("Not about leakage, and it comes first: {what}").format(what=text)
                brief = _("safety first")
            glyph, word = level_of(stops[0].nature)
            self.danger.setToolTip(text if self._is_flat else "")
            self.danger.set_wraps(not self._is_flat)
            self.danger.say(glyph, word, brief if self._is_flat else text)
        else:
            self.danger.hide()
        self._fit_line()

    def show_now(self) -> None:
        """Put what has changed on the screen before anything else is done."""
        for kind in (QEvent.Type.LayoutRequest, QEvent.Type.UpdateRequest):
            QCoreApplication.sendPostedEvents(None, kind.value)

    def _announce(self) -> None:
        signs = [(one.name, system_sign_of(one)) for one in self._bridge.assessment.systems]
        pairs = [(name, beside_stop(sign, stopped=self._is_stopped)[1]) for name, sign in signs]
        told = "; ".join(labeled(name, word) for name, word in pairs)
        if self._is_stopped and told:
            told = labeled(_("Safety first"), told)
        if told != self._told:
            self._told = told
            self.verdict_changed.emit(told)
