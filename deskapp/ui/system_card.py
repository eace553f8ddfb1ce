"""The card of one system beside or below the page: its verdict, measured value and limit."""

from __future__ import annotations

import re
from enum import StrEnum
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QVBoxLayout, QWidget

from deskapp.i18n import _, labeled, language
from deskapp.session.outcome_words import outcome_words
from deskapp.ui.glyphs import Glyph
from deskapp.ui.marks import Mark, Notice
from deskapp.ui.outcome_signs import beside_stop, close_words, system_sign_of
from deskapp.ui.scale_bar import ScaleBar
from deskapp.ui.theme import GRID
from deskapp.ui.words import Card, Size, Words

if TYPE_CHECKING:
    from collections.abc import Callable

    from deskapp.domain.result import LimitOutcome, SystemResult
    from deskapp.units.display import Formatter

PANE = 42
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
_DIGIT = re.compile(r"\d")
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

    def show_outcome(self, outcome: LimitOutcome, formatter: Formatter, detail: Detail) -> None:
        """Show one outcome."""
        brief, terse = detail is not Detail.FULL, detail in _SHORT
        words = outcome_words(outcome, formatter)
        self._bar.setVisible(words is not None and not brief)
        self._margin.setWordWrap(not brief)
        self._margin.setVisible(not brief or (words is None and not terse))
        self._source.setVisible(not brief)
        parts = (outcome.edition, outcome.rule_text)
        source = " · ".join(part for part in parts if part)
        covers = "" if words is None else words.covers
        small = (covers, _BETWEEN.sub("\N{NO-BREAK SPACE}", source))
        self._source.setText("\n".join(line for line in small if line))
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
        return wanted <= em * PANE - 8 * GRID


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
        self.remark = Notice()
        self._column.addWidget(self.remark)
        self._column.addStretch(1)
        self._lines: list[_OutcomeLine] = []
        self._shown: tuple[object, ...] = ()
        self._detail: Detail | None = None
        self._shape: tuple[object, ...] = ()
        self._widths: dict[Detail, int] = {}

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
    ) -> None:
        """Show the result of one system; `stopped` says that a safety stop is open beside it."""
        wanted = (system, formatter, detail, stopped, language())
        is_new = wanted != self._shown
        self._shown = wanted  # even where it is equal: the very same one is compared faster
        if not is_new:
            return
        brief = detail is not Detail.FULL
        sign = system_sign_of(system)
        glyph, word = beside_stop(sign, stopped=stopped)
        if system.remarks and brief:
            word = _("{verdict}, with a remark").format(verdict=word)
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
        if system.remarks and not brief:
            self.remark.say(Glyph.CHECK, "", "\n".join(system.remarks))
        else:
            self.remark.hide()
        while len(self._lines) < len(system.outcomes):
            line = _OutcomeLine()
            self._column.insertWidget(self._column.count() - 1, line)
            self._lines.append(line)
        for at, line in enumerate(self._lines):
            line.setVisible(at < len(system.outcomes))
            if at < len(system.outcomes):
                line.show_outcome(system.outcomes[at], formatter, detail)
        if brief:
            self._forget_sizes()
        self.updateGeometry()
        tip = _all_words(system, word, formatter) if brief else ""
        if tip != self.toolTip():
            self.setToolTip(tip)

    def width_as(self, detail: Detail, show: Callable[[Detail], None]) -> int:
        """Return how wide the card is in a line where it tells as much as `detail`.

        Measured with the help of `show`, once for each shape of its words: digits are as good as
        equally wide, so another number takes no other room.
        """
        shape = (_DIGIT.sub("0", self.toolTip()), self.font())
        if shape != self._shape:
            self._shape = shape
            self._widths.clear()
        if detail not in self._widths:
            show(detail)
            self._widths[detail] = self.sizeHint().width()
        return self._widths[detail]

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
            parts = (f"{words.measured} {words.unsure}".strip(), words.limit, words.margin)
            told = ", ".join(parts)
            told = f"{told}. {words.covers}" if words.covers else told
        lines += [outcome.edition, told]
    if len(lines) == 1:
        lines.append(system.reason)
    lines += system.remarks
    return "\n".join(line for line in lines if line)
