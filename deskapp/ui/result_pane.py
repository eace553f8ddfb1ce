"""The result as it stands, always in view: one card for each system."""

from __future__ import annotations

import re
from enum import StrEnum
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt, Signal
from PySide6.QtGui import QPalette, QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QFrame,
    QHBoxLayout,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from deskapp.domain.stops import ACKNOWLEDGED_STOP, SAFETY_STOP
from deskapp.i18n import _, labeled, language
from deskapp.session.outcome_words import outcome_words
from deskapp.ui.card_layout import CardLayout
from deskapp.ui.glyphs import Glyph
from deskapp.ui.levels import level_of
from deskapp.ui.marks import Mark, Notice
from deskapp.ui.outcome_signs import beside_stop, close_words, system_sign_of
from deskapp.ui.scale_bar import ScaleBar
from deskapp.ui.theme import GRID
from deskapp.ui.words import Card, Size, Words

if TYPE_CHECKING:
    from deskapp.domain.result import LimitOutcome, SystemResult
    from deskapp.ui.bridge import Bridge
    from deskapp.units.display import Formatter

_UNBOUND = 16_777_215
_PANE = 42
"""Letters that stand side by side in the pane."""


class Detail(StrEnum):
    """How much a card tells: all below each other, one line, or what fits into a short line.

    In a tight one not even that fits, and the verdict goes on below.
    """

    FULL = "full"
    BRIEF = "brief"
    TERSE = "terse"
    TIGHT = "tight"


_NAME = {Detail.BRIEF: 24, Detail.TERSE: 11, Detail.TIGHT: 11}
_SHORT = (Detail.TERSE, Detail.TIGHT)
"""Letters of the name of a system in a line of cards."""
_BETWEEN = re.compile(r"(?<=\d) (?=%|Pa\b|cfm\b|L/s\b)")
"""The space between a number and its unit, at which no line ends."""
_LONG, _SHORTEST = 20, 6
"""Letters of a verdict beyond which it goes on in a line below, in a short or tight line."""


class _OutcomeLine(QWidget):
    """One limit: measured against allowed, the scale, and what is to spare.

    Unless in full detail all stands in one line, without the scale.
    """

    def __init__(self) -> None:
        super().__init__()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        self._measured = Words(size=Size.HEADING, wraps=False)
        self._unsure = Words(muted=True, wraps=False)
        self._limit = Words(wraps=False)
        values = QHBoxLayout()
        values.setSpacing(GRID)
        for part in (self._measured, self._unsure):
            values.addWidget(part, 0, Qt.AlignmentFlag.AlignBaseline)
        values.addStretch(1)
        values.addWidget(self._limit, 0, Qt.AlignmentFlag.AlignBaseline)
        column.addLayout(values)
        self._bar = ScaleBar()
        self._margin = Words()
        self.close_call = Notice()
        self._source = Words(size=Size.SMALL, muted=True)
        self._source.setContentsMargins(0, 4, 0, 0)
        for part in (self._bar, self._margin, self.close_call, self._source):
            column.addWidget(part)

    def show_outcome(
        self, outcome: LimitOutcome, formatter: Formatter, detail: Detail, named: frozenset[str]
    ) -> None:
        """Show one outcome; an edition that is `named` above is not named again."""
        brief, terse = detail is not Detail.FULL, detail in _SHORT
        words = outcome_words(outcome, formatter)
        self._bar.setVisible(words is not None and not brief)
        self._margin.setWordWrap(not brief)
        self._margin.setVisible(not brief or (words is None and not terse))
        self._source.setVisible(not brief)
        parts = (outcome.edition, outcome.rule_text)
        source = " · ".join(part for part in parts if part and part not in named)
        self._source.setText(_BETWEEN.sub("\N{NO-BREAK SPACE}", source))
        self._measured.setVisible(words is not None)
        self._measured.resize_words(Size.STRONG if terse else Size.HEADING)
        self._limit.setVisible(words is not None and brief and not terse)
        self._unsure.setVisible(words is not None and bool(words.unsure) and not brief)
        if outcome.too_close and not brief:
            self.close_call.say(Glyph.CHECK, "", close_words(outcome, formatter))
        else:
            self.close_call.hide()
        if words is None or outcome.measured is None or outcome.limit_value is None:
            self._margin.setText(outcome.reason or outcome.waiver)
            return
        self._measured.setText(words.measured)
        self._unsure.setText(words.unsure)
        self._limit.setText(words.limit)
        lines = [words.limit, words.margin]
        if not brief and words.unsure and not self._holds_both():
            self._unsure.hide()
            lines.insert(0, words.unsure)
        self._margin.setText("\n".join(lines))
        texts = (words.measured, words.limit)
        self._bar.show_values(outcome.measured, outcome.limit_value, outcome.verdict, texts)

    def _holds_both(self) -> bool:
        """Say whether the result and how sure it is stand side by side in a card."""
        em = self.fontMetrics().averageCharWidth()
        wanted = self._measured.sizeHint().width() + GRID + self._unsure.sizeHint().width()
        return wanted <= em * _PANE - 8 * GRID


class SystemCard(Card):
    """The verdict on one system."""

    def __init__(self) -> None:
        super().__init__()
        self._column = QBoxLayout(QBoxLayout.Direction.TopToBottom, self)
        head = QHBoxLayout()
        head.setSpacing(10)
        self._mark = Mark(Glyph.NONE, 28)
        self._titles = titles = QBoxLayout(QBoxLayout.Direction.TopToBottom)
        titles.setSpacing(0)
        self._verdict = Words(size=Size.HEADING)
        self._name = Words()
        titles.addWidget(self._verdict)
        titles.addWidget(self._name, 1)
        head.addWidget(self._mark, 0, Qt.AlignmentFlag.AlignVCenter)
        head.addLayout(titles, 1)
        self._column.addLayout(head)
        self._reason = Words()
        self._column.addWidget(self._reason)
        self._column.addStretch(1)
        self._lines: list[_OutcomeLine] = []
        self._shown: tuple[object, ...] = ()
        self._detail: Detail | None = None

    @property
    def verdict(self) -> str:
        """The word shown."""
        return self._verdict.text()

    @property
    def text(self) -> str:
        """The reason shown where there is no verdict."""
        return self._reason.text()

    def show_system(
        self,
        system: SystemResult,
        formatter: Formatter,
        detail: Detail,
        *,
        stopped: bool = False,
        named: frozenset[str] = frozenset(),
    ) -> None:
        """Show the result of one system; `stopped` says that a safety stop is open beside it.

        `named` are the editions that cards above it name.
        """
        wanted = (system, formatter, detail, stopped, named, language())
        if wanted == self._shown:
            return
        self._shown = wanted
        brief = detail is not Detail.FULL
        sign = system_sign_of(system)
        glyph, word = beside_stop(sign, stopped=stopped)
        if detail is not self._detail:
            self._detail = detail
            self._put_in_one_line(detail)
        self._mark.show_glyph(glyph, word)
        # Where there is no verdict, none can be taken for more than one on leakage.
        is_none = detail in _SHORT and sign[0] is Glyph.NONE
        self._verdict.setText(sign[1] if is_none else word)
        # Never cut: a long one goes on below where the line is short.
        longest = {Detail.FULL: 0, Detail.TERSE: _LONG, Detail.TIGHT: _SHORTEST}.get(detail)
        text = self._verdict.text()
        self._verdict.setWordWrap(longest is not None and len(text) > longest)
        self._name.setText(self._shortened(system.name, detail))
        self.setAccessibleName(f"{system.name}: {word}")
        told = {outcome.reason for outcome in system.outcomes}
        self._reason.setText("" if system.reason in told else system.reason)
        self._reason.setVisible(bool(self._reason.text()) and detail not in _SHORT)
        while len(self._lines) < len(system.outcomes):
            line = _OutcomeLine()
            self._column.insertWidget(self._column.count() - 1, line)
            self._lines.append(line)
        for at, line in enumerate(self._lines):
            line.setVisible(at < len(system.outcomes))
            if at < len(system.outcomes):
                line.show_outcome(system.outcomes[at], formatter, detail, named)
        if brief:
            self._forget_sizes()
        self.updateGeometry()
        tip = _all_words(system, word, formatter) if brief else ""
        if tip != self.toolTip():
            self.setToolTip(tip)

    def _forget_sizes(self) -> None:
        """Have all sizes worked out anew: the room for a line of cards is measured right after.

        Rows inside a layout keep the sizes of what was hidden meanwhile until it is activated.
        """
        for part in (*self._lines, self):
            layout = part.layout()
            if layout is not None:
                layout.activate()

    def _shortened(self, name: str, detail: Detail) -> str:
        if detail is Detail.FULL:
            return name
        room = self.fontMetrics().averageCharWidth() * _NAME[detail]
        return self.fontMetrics().elidedText(name, Qt.TextElideMode.ElideRight, room)

    def _put_in_one_line(self, detail: Detail) -> None:
        brief, terse = detail is not Detail.FULL, detail in _SHORT
        ways = QBoxLayout.Direction
        way, gap = (ways.LeftToRight, 2) if brief else (ways.TopToBottom, 12)
        for layout in (self._titles, self._column):
            layout.setDirection(way)
        for words in (self._verdict, self._name, self._reason):
            words.setWordWrap(not brief)
        self._mark.resize_glyph(20 if terse else 28)
        self._verdict.resize_words(Size.STRONG if terse else Size.HEADING)
        self._titles.setSpacing(GRID if brief else 0)
        side = GRID if terse else 2 * GRID
        self._column.setContentsMargins(side, gap, side, gap)
        self._column.setSpacing((GRID if terse else 12) if brief else 6)


def _all_words(system: SystemResult, word: str, formatter: Formatter) -> str:
    """Return all that a card says in full, its verdict as `word`, for one that says less."""
    lines = [labeled(system.name, word)]
    for outcome in system.outcomes:
        words = outcome_words(outcome, formatter)
        told = outcome.reason or outcome.waiver
        if words is not None:
            told = f"{words.measured} {words.unsure}, {words.limit}, {words.margin}"
        lines += [outcome.edition, told]
    if len(lines) == 1:
        lines.append(system.reason)
    return "\n".join(line for line in lines if line)


class ResultPane(QScrollArea):
    """Verdicts of all systems; beside the page in a wide window, below it in a narrow one.

    Signals: `verdict_changed` with the new words, to be announced.
    """

    verdict_changed = Signal(str)

    def __init__(self, bridge: Bridge) -> None:
        super().__init__()
        self._bridge = bridge
        self._is_flat = False
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
        self._measured: tuple[object, ...] = ()
        self._detail = Detail.FULL
        self._wanted_width = 0
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
            self.setMaximumWidth(_UNBOUND)
        else:
            self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAsNeeded)
            self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Expanding)
            self.setMinimumHeight(0)
            self.setMaximumHeight(_UNBOUND)
            self.setFixedWidth(em * _PANE)
        self.refresh()
        self.warn()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Tell less where the cards do not fit side by side, then go on below."""
        super().resizeEvent(event)
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
        assessment, stopped = self._bridge.assessment, not self.danger.isHidden()
        measured = (assessment.systems, self._bridge.formatter, language(), stopped)
        if measured != self._measured:
            self._measured = measured
            self._detail = Detail.BRIEF
            self._show_cards(Detail.BRIEF)
        if self._detail is Detail.BRIEF:
            self._wanted_width = self._line.line_width
        self._detail = Detail.BRIEF if self._wanted_width <= self.width() else Detail.TERSE
        self._show_cards(self._detail)
        if self._detail is Detail.TERSE and not self._line.holds_each(self.width()):
            self._detail = Detail.TIGHT
            self._show_cards(self._detail)
        sides, cards = self._line.contentsMargins(), self.cards
        tallest = max((card.sizeHint().height() for card in cards), default=0)
        two_lines = sides.top() + 2 * tallest + GRID + sides.bottom()
        if stopped and not self._line.stands_beside(self.danger, self.width()):
            two_lines += self.danger.sizeHint().height() + GRID
        height = self._line.heightForWidth(self.width())
        # A bar that stays from before would take width, and so need more lines, and so stay.
        is_whole = height <= two_lines or not cards
        bar = Qt.ScrollBarPolicy
        self.setVerticalScrollBarPolicy(
            bar.ScrollBarAlwaysOff if is_whole else bar.ScrollBarAsNeeded
        )
        self.setFixedHeight(min(height, two_lines) if cards else height)

    def _show_cards(self, detail: Detail) -> None:
        systems, formatter = self._bridge.assessment.systems, self._bridge.formatter
        named: frozenset[str] = frozenset()
        for card, system in zip(self._cards, systems, strict=False):
            card.show_system(system, formatter, detail, stopped=self._is_stopped, named=named)
            named |= {outcome.edition for outcome in system.outcomes}

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
