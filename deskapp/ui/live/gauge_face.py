"""The face of a live reading: large number, trace, steadiness, countdown, ring and flow."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QProgressBar, QVBoxLayout

from deskapp.i18n import _
from deskapp.session.live.live_words import aim_words, steadiness_words
from deskapp.ui.glyphs import Glyph
from deskapp.ui.live.trace import Trace
from deskapp.ui.marks import Notice
from deskapp.ui.theme import GRID, sized
from deskapp.ui.words import Card, Size, Words
from deskapp.units.display import NO_VALUE
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from deskapp.session.live.watch import LiveView, Plan
    from deskapp.units.display import Formatter

_LARGE = 3.4
_BESIDE = 34
"""Letters that the words get beside the number."""


class GaugeFace(Card):
    """Shows one `LiveView` after the other."""

    def __init__(self, formatter: Formatter) -> None:
        super().__init__()
        self._formatter = formatter
        self._plan: Plan | None = None
        self.number = Words(NO_VALUE, wraps=False)
        self.number.setFont(sized(self.number.font(), _LARGE, strong=True))
        self.number.setAccessibleName(_("Induced pressure"))
        self.target = Words(muted=True)
        self.target.setText(
            _("Nothing is read yet. Say where the readings come from, then start reading.")
        )
        self.aim = Words(size=Size.STRONG)
        self.trace = Trace()
        self.steadiness = Words()
        self.countdown = QProgressBar()
        self.countdown.setTextVisible(False)
        self.countdown.setFixedHeight(10)
        self.countdown.setAccessibleName(_("Averaging"))
        self.flow = Words(muted=True)
        self.ring = Notice()
        self.tally = Notice()
        self._lay_out()

    def begin(
        self, plan: Plan, *, for_baseline: bool = False, in_place_of: Plan | None = None
    ) -> None:
        """Show nothing yet of a stream that is read by `plan`.

        `for_baseline` says that the baseline is read, which has no target; `in_place_of` is what
        the test asks for where `plan` is that of a training.
        """
        self._plan = plan
        self.number.setText(NO_VALUE)
        if for_baseline:
            self.target.setText(_("A baseline has no target: the fan stays off and covered."))
        else:
            self.target.setText(self._target_words(plan, in_place_of))
        wanted = None if plan.target is None else plan.target + plan.baseline
        shown = self._formatter.show_optional(Kind.PRESSURE, wanted, "Pa")
        self.trace.clear()
        self.trace.aim_at(wanted, _("target: gauge shows {pressure}").format(pressure=shown))
        self.countdown.setRange(0, round(1000 * plan.averaging_time))
        self.countdown.setValue(0)
        for words in (self.aim, self.steadiness, self.flow):
            words.setText("")
        for notice in (self.ring, self.tally):
            notice.hide()

    def show_view(self, view: LiveView) -> None:
        """Show where things stand."""
        if self._plan is None:
            return
        formatter = self._formatter
        self.number.setText(formatter.show_optional(Kind.PRESSURE, view.induced, "Pa", 1))
        self.aim.setText(aim_words(view, self._plan, formatter))
        if view.progress is not None:
            self.steadiness.setText(steadiness_words(view.progress, formatter))
            self.countdown.setValue(round(1000 * view.progress.averaged))
        self.flow.setText(self._flow_words(view))
        _tell(self.ring, "" if view.ring_fit is None else view.ring_fit.text)
        _tell(self.tally, view.tally.text)
        self.trace.update()

    def _flow_words(self, view: LiveView) -> str:
        if view.progress is None:
            return ""
        formatter, parts = self._formatter, list[str]()
        signal = view.progress.window.fan_signal
        if signal is not None:
            shown = formatter.show(Kind.PRESSURE, signal, "Pa", 1)
            parts.append(_("Fan signal {signal}").format(signal=shown))
        if view.flow is not None and (signal is None or view.ring_fit is not None):
            shown = formatter.show(Kind.FLOW, view.flow)
            parts.append(_("about {flow} through the fan").format(flow=shown))
        return ", ".join(parts)

    def _target_words(self, plan: Plan, in_place_of: Plan | None) -> str:
        if plan.target is None:
            return _("No target: enter target pressure and direction of the test to see one.")
        target = self._formatter.show(Kind.PRESSURE, plan.target, "Pa")
        baseline = self._formatter.show(Kind.PRESSURE, plan.baseline, "Pa")
        if in_place_of is None:
            words = _("induced pressure; target {target}; baseline taken off: {baseline}")
            return words.format(target=target, baseline=baseline)
        words = _(
            "induced pressure; target of this training {target}, drawn anew for each one; baseline"
            " of this training taken off: {baseline}."
        )
        said = words.format(target=target, baseline=baseline)
        if in_place_of.target is None:
            return said
        own = self._formatter.show(Kind.PRESSURE, in_place_of.target, "Pa")
        of_test = _("The target of the test is {target}.").format(target=own)
        return f"{said} {of_test}"

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(2 * GRID, 2 * GRID, 2 * GRID, 2 * GRID)
        column.setSpacing(GRID)
        self._head = head = QHBoxLayout()
        head.setSpacing(2 * GRID)
        self.number.setMinimumWidth(self.number.fontMetrics().horizontalAdvance("−000.0 Pa"))
        head.addWidget(self.number)
        beside = QVBoxLayout()
        beside.addStretch(1)
        beside.addWidget(self.aim)
        beside.addWidget(self.target)
        beside.addStretch(1)
        head.addLayout(beside, 1)
        column.addLayout(head)
        column.addWidget(self.trace, 1)
        column.addWidget(self.countdown)
        column.addWidget(self.steadiness)
        column.addWidget(self.flow)
        column.addWidget(self.ring)
        column.addWidget(self.tally)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Put the words below the number where there is no room beside it."""
        super().resizeEvent(event)
        least = self.number.minimumWidth() + self.fontMetrics().averageCharWidth() * _BESIDE
        ways = QBoxLayout.Direction
        fits = self.width() >= least
        self._head.setDirection(ways.LeftToRight if fits else ways.TopToBottom)


def _tell(notice: Notice, text: str) -> None:
    if text:
        notice.say(Glyph.CHECK, "", text)
    else:
        notice.hide()
