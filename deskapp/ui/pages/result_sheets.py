"""The sheets of the result page: what stands on each, and what each follows from."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout

from deskapp.domain.choices import CHOICE_LABELS, Metric, Part
from deskapp.domain.stops import ACKNOWLEDGED_STOP, SAFETY_STOP
from deskapp.i18n import _, labeled, language
from deskapp.ui.glyphs import Glyph
from deskapp.ui.levels import verdict_of
from deskapp.ui.limits.explained import Explained
from deskapp.ui.marks import Mark, Notice
from deskapp.ui.outcome_signs import beside_stop, system_sign_of
from deskapp.ui.pages.budget_block import budget_fold
from deskapp.ui.pages.curve_block import curves_of
from deskapp.ui.pages.more_results import SidesBlock, more_of
from deskapp.ui.pages.owner_block import OwnerBlock
from deskapp.ui.pages.result_parts import Arithmetic, OutcomeBlock, how_sure, result_facts
from deskapp.ui.side_scroll import SideScroll
from deskapp.ui.tables import FactGrid, FactTable, thin_line
from deskapp.ui.theme import GRID
from deskapp.ui.words import Card, Size, Words

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from deskapp.domain.result import SystemResult, TestResult
    from deskapp.ui.bridge import Bridge
    from deskapp.units.display import Formatter


_READINGS_IN_A_PIECE = 3


class ResultSheet(NamedTuple):
    """One sheet: all that it follows from, and what fills its card piece by piece."""

    follows_from: tuple[object, ...]
    fill: Callable[[Card], Iterator[None]]


class Sheets:
    """The sheets of a job as it stands: the house, each system, and tests of the house itself."""

    def __init__(self, bridge: Bridge) -> None:
        self._bridge = bridge
        self._assessment = bridge.assessment
        self._formatter = bridge.formatter
        codes = (SAFETY_STOP, ACKNOWLEDGED_STOP)
        self._stops = tuple(one for one in bridge.findings if one.code in codes)
        self._job = bridge.editor.job

    def plan(self) -> Iterator[ResultSheet]:
        """Yield the sheets in order."""
        beside = (language(), self._formatter, bool(self._stops))
        assessment = self._assessment
        if self._stops:
            yield ResultSheet(("stops", *beside, self._stops), self._stopped)
        if len(assessment.systems) > 1:
            job = (assessment.verdict, assessment.reason, assessment.house)
            yield ResultSheet(("house", *beside, *job), self._house)
        for system in assessment.systems:
            facts = (system, self._job.system(system.system), self._job.compliance)
            tests = tuple(self._told(test.key) for test in self._job.tests_of(system.system))
            known = ("system", *beside, *facts, *tests)
            yield ResultSheet(known, partial(self._system, system))
        for result in assessment.tests:
            if result.metric is Metric.ENVELOPE:
                known = ("itself", *beside, result, self._title_of(result))
                yield ResultSheet(known, partial(self._house_itself, result))

    def _told(self, key: str) -> tuple[object, ...]:
        result = self._assessment.test(key)
        return (result, self._title_of(result) if result is not None else "")

    def _stopped(self, card: Card) -> Iterator[None]:
        """Say what stands above all verdicts while a matter of safety is open or was gone past."""
        column = _column(card)
        is_open = any(stop.code == SAFETY_STOP for stop in self._stops)
        glyph = Glyph.STOP if is_open else Glyph.CHECK
        column.addLayout(_headed(glyph, _("Safety first")))
        for stop in self._stops:
            column.addWidget(Words(f"{stop.what} {stop.allowed}".strip()))
        column.addWidget(Words(_("The verdicts below speak of duct leakage alone."), Size.STRONG))
        yield

    def _house(self, card: Card) -> Iterator[None]:
        from deskapp.units.kinds import Kind

        assessment, formatter = self._assessment, self._formatter
        column = _column(card)
        glyph, word = verdict_of(assessment.verdict)
        title = _("Whole job: {verdict}").format(verdict=word)
        if bool(self._stops):
            glyph, word = beside_stop((glyph, word), stopped=True)
            title = _("Whole job · {verdict}").format(verdict=word)
        column.addLayout(_headed(glyph, title))
        text = assessment.reason or _("The job passes when every system passes by itself.")
        column.addWidget(Words(text))
        house = assessment.house
        rows = [
            (label, formatter.show(kind, value))
            for label, kind, value in (
                (_("Area of all systems"), Kind.AREA, house.system_area),
                (_("Leakage of all systems"), Kind.FLOW, house.flow),
                (_("Per floor area"), Kind.FLOW_PER_AREA, house.flow_per_area),
            )
            if value is not None
        ]
        if rows:
            column.addWidget(FactGrid(rows))
        if house.would_hide:
            notice = Notice(Size.BODY)
            text = _("The systems taken together would pass; that decides nothing here.")
            notice.say(Glyph.NOTE, _("Note"), text)
            column.addWidget(notice)
        yield

    def _system(self, system: SystemResult, card: Card) -> Iterator[None]:
        assessment, formatter = self._assessment, self._formatter
        column = _column(card)
        glyph, word = beside_stop(system_sign_of(system), stopped=bool(self._stops))
        title = f"{system.name} · {word}" if bool(self._stops) else labeled(system.name, word)
        column.addLayout(_headed(glyph, title))
        told = {outcome.reason for outcome in system.outcomes}
        if system.reason and system.reason not in told:
            column.addWidget(Words(system.reason))
        for remark in system.remarks:
            notice = Notice(Size.BODY)
            column.addWidget(notice)
            notice.say(Glyph.CHECK, _("Check"), remark)
        for outcome in system.outcomes:
            column.addWidget(OutcomeBlock(outcome, formatter))
            column.addWidget(Explained(self._bridge, system.system, outcome))
            yield
        keys = dict.fromkeys((*(o.test for o in system.outcomes if o.test), system.test))
        for key in keys:
            yield from self._add_test(column, assessment.test(key))
        for sides in system.sides:
            _part(column)
            column.addWidget(SidesBlock(sides, formatter))
        for key in system.earlier:
            if key not in keys:
                self._add_earlier(column, assessment.test(key))
        yield
        if system.owner is not None:
            _part(column)
            column.addWidget(OwnerBlock(system.owner, formatter))
            yield

    def _house_itself(self, result: TestResult, card: Card) -> Iterator[None]:
        column = _column(card)
        column.addWidget(Words(_("Air tightness of the house itself"), Size.HEADING))
        yield from self._add_test(column, result)

    def _add_test(self, column: QVBoxLayout, result: TestResult | None) -> Iterator[None]:
        formatter = self._formatter
        if result is None:
            return
        _part(column)
        column.addWidget(Words(self._title_of(result), Size.HEADING))
        kind = _kind_of(result)
        if kind:
            column.addWidget(Words(kind, muted=True))
        if result.flow is None and not result.readings:
            column.addWidget(Words(_("No reading of this test is complete yet."), muted=True))
        if result.refused:
            notice = Notice(Size.BODY)
            column.addWidget(notice)
            notice.say(Glyph.STOP, _("No verdict from this test"), result.refused)
        if result.held and result.readings:
            notice = Notice(Size.BODY)
            column.addWidget(notice)
            notice.say(Glyph.STOP, _("No result from this test"), result.held)
        is_house = result.envelope is not None
        rows = how_sure(result, formatter) if is_house else result_facts(result, formatter)
        facts, more = [FactGrid(rows)] if rows else [], more_of(result, formatter)
        blocks = [*more, *facts] if is_house else [*facts, *more]
        for block in (*blocks, *curves_of(result, formatter)):
            column.addWidget(block)
            yield
        if result.readings:
            yield from _add_readings(column, result, formatter)
            if result.not_corrected:
                notice = Notice(Size.BODY)
                column.addWidget(notice)
                notice.say(Glyph.CHECK, "", result.not_corrected)
            yield
        fold = budget_fold(result, formatter)
        if fold is not None:
            column.addWidget(fold)
        if result.steps:
            column.addWidget(Arithmetic(result.steps, formatter))
        yield

    def _add_earlier(self, column: QVBoxLayout, result: TestResult | None) -> None:
        formatter = self._formatter
        if result is None:
            return
        _part(column)
        title = _("Earlier: {test}").format(test=self._title_of(result))
        column.addWidget(Words(title, Size.STRONG))
        facts = result_facts(result, formatter)
        if facts:
            column.addWidget(FactGrid(facts[:2]))
        elif result.flow is None and not result.readings:
            column.addWidget(Words(_("No reading of this test is complete yet."), muted=True))

    def _title_of(self, result: TestResult) -> str:
        for at, test in enumerate(self._bridge.editor.job.tests):
            if test.key == result.test:
                label = test.label or _("Test {n}").format(n=at + 1)
                day = self._bridge.shown_text(f"tests.{at}.tested_on")
                return f"{label}, {day}" if day else label
        return ""


def _kind_of(result: TestResult) -> str:
    """Return what was measured, in words."""
    parts = [_(CHOICE_LABELS[Metric][result.metric])] if result.metric is not None else []
    if result.part is not Part.WHOLE:
        parts.append(_(CHOICE_LABELS[Part][result.part]))
    return ". ".join(parts)


def _column(card: Card) -> QVBoxLayout:
    column = QVBoxLayout(card)
    column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
    column.setSpacing(12)
    return column


def _part(column: QVBoxLayout) -> None:
    """Part what comes next from what stands above it."""
    column.addSpacing(4)
    column.addWidget(thin_line())
    column.addSpacing(4)


def _headed(glyph: Glyph, text: str) -> QHBoxLayout:
    row = QHBoxLayout()
    row.setSpacing(10)
    row.addWidget(Mark(glyph, 28), 0, Qt.AlignmentFlag.AlignVCenter)
    row.addWidget(Words(text, Size.HEADING), 1)
    return row


def _add_readings(column: QVBoxLayout, result: TestResult, formatter: Formatter) -> Iterator[None]:
    """Put the readings into a table, a few in each piece."""
    from deskapp.units.kinds import Kind

    head = (
        _("Reading"),
        _("Pressure held"),
        _("Fan signal"),
        _("Flow shown"),
        _("Flow of the air at the fan"),
        _("Factor to target"),
        _("Flow at target"),
    )
    table = FactTable(head)
    column.addWidget(SideScroll(table))
    show = formatter.show_optional
    for made, reading in enumerate(result.readings, 1):
        table.add(
            (
                str(reading.index + 1),
                show(Kind.PRESSURE, reading.induced_pressure),
                show(Kind.PRESSURE, reading.fan_signal),
                show(Kind.FLOW, reading.indicated_flow),
                show(Kind.FLOW, reading.actual_flow),
                show(Kind.NUMBER, reading.target_factor, digits=4),
                show(Kind.FLOW, reading.flow_at_target),
            )
        )
        if made % _READINGS_IN_A_PIECE == 0:
            yield
