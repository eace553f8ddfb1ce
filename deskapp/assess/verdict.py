"""Each system judged by each chosen limit."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from deskapp.assess.area_base import AREA_SERVED, impossible_area
from deskapp.assess.area_guardian import side_by_side
from deskapp.assess.asked_for import not_made, outcome_without_row, with_waivers
from deskapp.assess.change import in_common
from deskapp.assess.conformity import Pair, informed
from deskapp.assess.memo import Memo
from deskapp.assess.nothing_told import undecided
from deskapp.assess.untested import untested
from deskapp.domain.choices import FanFlowMethod, Metric
from deskapp.domain.job import Job
from deskapp.domain.limit import ChosenLimit, LimitRow
from deskapp.domain.result import LimitOutcome, SystemResult, TestResult, Verdict
from deskapp.domain.system import DuctSystem
from deskapp.domain.trial import LeakageTest
from deskapp.i18n import _
from deskapp.limits.case import Case
from deskapp.limits.judge import Comparisons, judge
from deskapp.limits.select import RowChoice, choose_row
from deskapp.limits.waivers import WaiverCase
from deskapp.units.display import words_key

SAME_PRESSURE_PA = 0.5
"""Tests whose targets differ by more are not compared as before and after."""


def whole_tests(job: Job, system: DuctSystem) -> tuple[LeakageTest, ...]:
    """Return the tests a system can be judged by: not those of its supply or return alone."""
    return tuple(test for test in job.tests_of(system.key) if test.setup.is_whole)


def judge_system(
    job: Job,
    system: DuctSystem,
    results: dict[str, TestResult],
    *,
    nominal: bool = True,
    memo: Memo | None = None,
) -> SystemResult:
    """Judge one system by every chosen limit, from its latest test of each metric.

    A test that has no result yet takes no verdict away: a system that failed has failed until a
    test says otherwise, and one that passed is as it was until something is read.

    With `nominal`, a fan flow that is not given follows from the capacities where an edition says
    so; it is turned off where one of these values was set aside. A `memo` spares choosing the row
    of a limit again where no set-up has changed.
    """
    tests = whole_tests(job, system)
    name = system.name or _("unnamed system")
    if not tests:
        return untested(job, system, name)
    worked = _Worked(job, system, tests, results, nominal, memo or Memo())
    judged = _judged(worked, name)
    open_still = waiting(tests, results)
    told = tuple(test for test in tests if test not in open_still)
    if judged.verdict is not Verdict.NONE or not open_still or not told:
        return judged
    before = _judged(replace(worked, tests=told), name)
    stands = (
        (Verdict.FAIL,)
        if any(test.was_read for test in open_still)
        else (Verdict.FAIL, Verdict.PASS)
    )
    return before if before.verdict in stands else judged


def waiting(
    tests: Iterable[LeakageTest], results: dict[str, TestResult]
) -> tuple[LeakageTest, ...]:
    """Return the tests whose readings give no result yet."""
    return tuple(
        test for test in tests if results[test.key].flow is None and not results[test.key].refused
    )


def _judged(worked: _Worked, name: str) -> SystemResult:
    """Judge a system by the tests that `worked` holds."""
    job, system, tests, results = worked.job, worked.system, worked.tests, worked.results
    latest = _latest(tests)
    limits = job.compliance.limits
    outcomes: list[LimitOutcome] = []
    for limit in limits:
        facts = WaiverCase(job, system, worked.total(limit), limit.edition.unit)
        own = tuple(_by_limit(limit, worked, latest))
        outcomes += with_waivers(limit, own, facts)
        outcomes += not_made(limit, latest, own, facts)
    areas = side_by_side(
        system,
        outcomes,
        results,
        lambda other: [
            outcome
            for limit in limits
            for outcome in _by_limit(limit, replace(worked, system=other), latest)
        ],
    )
    verdict, reason = _combined(limits, tuple(outcomes))
    read = [at for at, test in enumerate(tests) if test.was_read]
    last = read[-1] if read else len(tests) - 1
    return SystemResult(
        system=system.key,
        name=name,
        test=tests[last].key,
        earlier=tuple(test.key for test in tests[:last]),
        outcomes=tuple(outcomes),
        areas=areas,
        verdict=verdict,
        reason=reason,
    )


def _latest(tests: tuple[LeakageTest, ...]) -> tuple[LeakageTest, ...]:
    by_metric: dict[Metric | None, LeakageTest] = {}
    for test in tests:
        by_metric[test.setup.metric] = test
    return tuple(test for test in tests if by_metric[test.setup.metric] is test)


@dataclass(frozen=True, slots=True)
class _Worked:
    """A system with its tests worked out."""

    job: Job
    system: DuctSystem
    tests: tuple[LeakageTest, ...]
    results: dict[str, TestResult]
    nominal: bool
    memo: Memo

    def row(self, limit: ChosenLimit, test: LeakageTest) -> RowChoice:
        """Return the row of `limit` for a test; it follows from its set-up, not its readings."""
        return self.memo.kept(
            "row",
            (words_key(), limit, self.system, test.setup),
            lambda: choose_row(limit.edition, self.system, test, limit.row),
        )

    def case(self, limit: ChosenLimit, test: LeakageTest) -> Case | None:
        """Return what a rule of `limit` is given, or None if the readings give no result."""
        result = self.results[test.key]
        if result.flow is None or result.target_pressure is None or result.refused:
            return None
        first = self.first(test)
        system = self.system
        return Case(
            flow=result.flow,
            target_pressure=result.target_pressure,
            area=system.area_served,
            fan_flow=system.fan_flow,
            nominal=limit.edition.nominal_flow if self._may_be_nominal else None,
            cooling_capacity=system.cooling_capacity,
            heating_output=system.heating_output,
            duct_surface=system.duct_surface,
            first_flow=self._flow_of_first(first),
            extrapolated=result.extrapolated,
        )

    def _flow_of_first(self, first: LeakageTest | None) -> float | None:
        """Return what a reduction is counted from; a result that tells nothing cannot be that."""
        result = self.results[first.key] if first else None
        return None if result is None or result.refused else result.flow

    def first(self, test: LeakageTest) -> LeakageTest | None:
        """Return the first test of the same metric and target, if that is another one."""
        result = self.results[test.key]
        return next(
            (
                other
                for other in self.tests
                if other is not test
                and other.setup.metric is test.setup.metric
                and same_target(self.results[other.key], result)
            ),
            None,
        )

    def pair(self, test: LeakageTest) -> Pair:
        """Return the result of a test beside that of the first like it."""
        first = self.first(test)
        if first is None:
            return Pair(self.results[test.key])
        shared = in_common(self.job, first.setup, test.setup)
        return Pair(self.results[test.key], self.results[first.key], shared)

    def total(self, limit: ChosenLimit) -> Case | None:
        """Return the latest test of total leakage that gives a result."""
        for test in reversed(self.tests):
            case = self.case(limit, test) if test.setup.metric is Metric.TOTAL else None
            if case is not None:
                return case
        return None

    @property
    def _may_be_nominal(self) -> bool:
        """A flow said to be measured or designed is asked for, not replaced."""
        asked_for = (FanFlowMethod.MEASURED, FanFlowMethod.DESIGN)
        return self.nominal and self.system.fan_flow_method not in asked_for


def _by_limit(
    limit: ChosenLimit, worked: _Worked, latest: tuple[LeakageTest, ...]
) -> Iterator[LimitOutcome]:
    no_row: list[LimitOutcome] = []
    found = False
    for test in reversed(latest):
        choice = worked.row(limit, test)
        row = choice.row
        if row is None:
            no_row.append(outcome_without_row(limit, test, choice))
            continue
        found = True
        case = worked.case(limit, test)
        if case is None:
            yield _without_result(limit, row, test, worked.results[test.key])
            continue
        compared = Comparisons(case, limit.edition.unit)
        outcome = judge(limit.edition, row, case, limit.key, compared)
        note = " ".join(part for part in (choice.reason, outcome.note) if part)
        pair = worked.pair(test)
        sureness = informed(outcome, row, case, compared, pair)
        known = {"test": test.key, "note": note, "against": choice.reason, **sureness}
        known["field"] = outcome.field or choice.field
        told = outcome.model_copy(update=known)
        held = undecided(told, row, pair)
        if held:
            yield _without_verdict(limit, row, test, held)
            continue
        wrong = impossible_area(worked.system.area_served, worked.job.house.floor_area)
        if wrong and _rests_on_area(limit, worked, test, told):
            told = _without_verdict(limit, row, test, wrong)
            told = told.model_copy(update={"field": AREA_SERVED})
        yield told
    if not found and no_row:
        yield no_row[0]


def _rests_on_area(
    limit: ChosenLimit, worked: _Worked, test: LeakageTest, told: LimitOutcome
) -> bool:
    """Say whether a verdict would be another one, or none, if the area were not known."""
    without = worked.system.model_copy(update={"area_served": None})
    bare = replace(worked, system=without)
    row, case = bare.row(limit, test).row, bare.case(limit, test)
    if row is None or case is None or row.id != told.row:
        return True
    return judge(limit.edition, row, case, limit.key).verdict is not told.verdict


def _without_result(
    limit: ChosenLimit, row: LimitRow, test: LeakageTest, result: TestResult
) -> LimitOutcome:
    """Return the outcome of a test without a result that could be judged, and why it has none."""
    why = result.refused or result.held or _("The readings give no result yet.")
    told = _without_verdict(limit, row, test, why)
    return told.model_copy(update={"field": result.held_by}) if result.held_by else told


def _without_verdict(
    limit: ChosenLimit, row: LimitRow, test: LeakageTest, why: str
) -> LimitOutcome:
    """Return the outcome of a test that decides nothing."""
    return LimitOutcome(
        limit=limit.key,
        test=test.key,
        edition=limit.edition.name,
        body=limit.edition.body,
        clause=row.clause,
        row=row.id,
        reason=why,
        field="tests.*.readings.0.duct_pressure",
        status=row.status,
        source=_(row.source),
        note=_(row.note),
    )


def same_target(one: TestResult, other: TestResult) -> bool:
    """Say whether two results are stated at one pressure."""
    if one.target_pressure is None or other.target_pressure is None:
        return False
    return abs(one.target_pressure - other.target_pressure) <= SAME_PRESSURE_PA


def _combined(
    limits: tuple[ChosenLimit, ...], outcomes: tuple[LimitOutcome, ...]
) -> tuple[Verdict, str]:
    """Combine: every chosen limit must be met; of alternative rows of one limit, any one."""
    if not limits:
        return Verdict.NONE, _("No limit is chosen to judge by.")
    verdicts: list[Verdict] = []
    reason = ""
    for limit in limits:
        own = [outcome for outcome in outcomes if outcome.limit == limit.key]
        verdict = _of_limit(limit, own)
        verdicts.append(verdict)
        if verdict is Verdict.NONE and not reason:
            reason = next((outcome.reason for outcome in own if outcome.reason), "")
    if Verdict.FAIL in verdicts:
        return Verdict.FAIL, ""
    if Verdict.NONE in verdicts:
        return Verdict.NONE, reason
    return Verdict.PASS, ""


def _of_limit(limit: ChosenLimit, outcomes: list[LimitOutcome]) -> Verdict:
    """Combine the outcomes of one limit; rows that are alternatives count as one.

    A test that is waived counts neither for nor against.
    """
    by_group: dict[str, set[Verdict]] = {}
    for outcome in outcomes:
        if outcome.is_waived:
            continue
        row = limit.edition.row(outcome.row)
        group = (row.alternative_to or row.id) if row else ""
        by_group.setdefault(group, set()).add(outcome.verdict)
    combined = {_either(verdicts) for verdicts in by_group.values()}
    if Verdict.FAIL in combined:
        return Verdict.FAIL
    return Verdict.PASS if combined == {Verdict.PASS} else Verdict.NONE


def _either(verdicts: set[Verdict]) -> Verdict:
    """Meeting one alternative is enough; one undecided may still be met."""
    for verdict in (Verdict.PASS, Verdict.NONE):
        if verdict in verdicts:
            return verdict
    return Verdict.FAIL


def house_flow(
    job: Job, results: dict[str, TestResult], systems: tuple[SystemResult, ...]
) -> tuple[float | None, bool]:
    """Return the total leakage of all systems, m3/s, and whether it would hide a system that fails.

    It hides one when the total stays within the sum of the systems' limits although a system is
    above its own. None when a system has no total-leakage result.
    """
    total, allowed = 0.0, 0.0
    limits_known = True
    for system in systems:
        tests = [
            test
            for test in job.tests_of(system.system)
            if test.setup.metric is Metric.TOTAL and test.setup.is_whole and test.was_read
        ]
        flow = results[tests[-1].key].flow if tests else None
        if flow is None:
            return None, False
        total += flow
        totals = {test.key for test in tests}
        flows = [o.limit_flow for o in system.outcomes if o.limit_flow and o.test in totals]
        limits_known = limits_known and bool(flows)
        allowed += min(flows, default=0.0)
    fails = any(system.verdict is Verdict.FAIL for system in systems)
    return total, fails and limits_known and len(systems) > 1 and total <= allowed
