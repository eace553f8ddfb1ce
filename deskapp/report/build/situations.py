"""Which situations of a template hold for a job."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.assess.area_base import rests_on_estimate
from deskapp.assess.explain import unfit, unsettled_aspects
from deskapp.assess.pan import MEND, screen
from deskapp.domain.cautions import cautions_for
from deskapp.domain.checks_safety import burns_fuel, drafts_naturally
from deskapp.domain.choices import (
    BuildingType,
    CompliancePath,
    Direction,
    Metric,
    Stage,
    YesNo,
)
from deskapp.domain.finding import Level
from deskapp.domain.limit import EitherOf, PercentOfFanFlow, Verification
from deskapp.domain.measured import si_of
from deskapp.domain.raised_air import raised_air
from deskapp.domain.result import Verdict
from deskapp.domain.stops import open_stops
from deskapp.domain.vocabulary import CautionLevel, Operator
from deskapp.report.template_base import Situation as Is

if TYPE_CHECKING:
    from collections.abc import Iterator

    from deskapp.domain.job import Job
    from deskapp.domain.vocabulary import Audience
    from deskapp.report.build.report_input import ReportInput

_FEW = 2
_SPILLED = ("safety.spillage_time", "safety.spillage_time_after")
_SOON_S = 60.0
"""Seconds in which spillage has to end, as in the cautions about it. Older BPI technical standards;
from memory, not checked against the text."""
_VERDICTS = {
    Verdict.PASS: Is.VERDICT_PASS,
    Verdict.FAIL: Is.VERDICT_FAIL,
    Verdict.NONE: Is.VERDICT_NONE,
}


def situations_of(source: ReportInput, audience: Audience) -> frozenset[Is]:
    """Return the situations that hold."""
    dangers = any(
        caution.level is CautionLevel.DANGER
        for caution in cautions_for(source.job, source.cautions, audience)
    )
    return frozenset(
        (
            _VERDICTS[source.assessment.verdict],
            *((Is.DANGER,) if dangers else ()),
            *((Is.CO_RAISED,) if raised_air(source.job, source.cautions) else ()),
            *_of_stops(source),
            *_of_systems(source),
            *_of_tests(source),
            *_of_leaks(source.job),
            *_of_vents(source),
            *_of_answers(source.job),
            *_of_fumes(source),
            *_of_limits(source),
        )
    )


def _of_stops(source: ReportInput) -> Iterator[Is]:
    found = any(finding.level is Level.STOP for finding in source.assessment.findings)
    if found or open_stops(source.job, source.stops):
        yield Is.STOPPED
        if source.assessment.verdict is Verdict.PASS:
            yield Is.PASSES_NOT_FINAL


def _of_systems(source: ReportInput) -> Iterator[Is]:
    count = len(source.job.systems)
    yield (Is.NO_SYSTEMS, Is.ONE_SYSTEM)[count] if count < 2 else Is.SEVERAL_SYSTEMS
    if count > _FEW:
        yield Is.MANY_SYSTEMS
    if count == _FEW:
        yield Is.TWO_SYSTEMS
    if any(result.earlier for result in source.assessment.systems):
        yield Is.RETESTED
    if source.assessment.house.would_hide:
        yield Is.HOUSE_HIDES


def _of_tests(source: ReportInput) -> Iterator[Is]:
    results = source.assessment.tests
    if any(result.flow is not None for result in results):
        yield Is.TESTED
    latest = {system.test for system in source.assessment.systems}
    if any(result.extrapolated for result in results if result.test in latest):
        yield Is.EXTRAPOLATED
    setups = [test.setup for test in source.job.tests]
    stages = {setup.stage for setup in setups}
    if any(test.setup.stage is Stage.ROUGH_IN for test in source.job.tests if test.key in latest):
        yield Is.ROUGH_IN
    if stages & {Stage.BEFORE_REPAIR, Stage.AFTER_REPAIR}:
        yield Is.EXISTING_HOUSE
    if any(setup.metric is Metric.OUTSIDE for setup in setups):
        yield Is.TO_OUTSIDE
    if any(setup.direction is Direction.PRESSURIZE for setup in setups):
        yield Is.PRESSURIZED
    if any(setup.direction is Direction.DEPRESSURIZE for setup in setups):
        yield Is.DEPRESSURIZED


def _of_leaks(job: Job) -> Iterator[Is]:
    repaired = [leak.repaired for leak in job.leaks_found]
    if repaired:
        yield Is.LEAKS_FOUND
        if all(answer is YesNo.YES for answer in repaired):
            yield Is.LEAKS_ALL_SEALED
    if YesNo.NO in repaired:
        yield Is.LEAKS_OPEN
    if None in repaired:
        yield Is.LEAKS_UNANSWERED


def _of_vents(source: ReportInput) -> Iterator[Is]:
    """Yield whether a register still reads, by its latest reading, as one to be mended."""
    urgency = {band.id: band.urgency for band in source.pan_bands}
    readings = screen(source.job, source.pan_bands)
    if any(urgency.get(one.latest_band, 0) >= MEND for one in readings):
        yield Is.VENTS_OPEN


def _of_answers(job: Job) -> Iterator[Is]:
    needs_alarm = burns_fuel(job) or drafts_naturally(job)
    holds = {
        Is.BURNS_FUEL: burns_fuel(job),
        Is.NO_CO_ALARM: needs_alarm and job.safety.co_alarm is YesNo.NO,
        Is.CO_ALARM_UNKNOWN: needs_alarm and job.safety.co_alarm is None,
        Is.NATURAL_DRAFT: drafts_naturally(job),
        Is.NOT_RESTORED: job.safety.equipment_restored is YesNo.NO,
        Is.NOT_A_HOME: job.house.building_type is BuildingType.COMMERCIAL,
        Is.PROGRAM: job.compliance.path is CompliancePath.PROGRAM,
        Is.EXEMPTION_CLAIMED: job.compliance.exemption_claimed is YesNo.YES,
        Is.STATEMENT_GIVEN: bool(job.tester.statement.strip()),
        Is.PHOTOS: bool(job.photos),
    }
    yield from (situation for situation, holding in holds.items() if holding)


def _of_fumes(source: ReportInput) -> Iterator[Is]:
    """Yield whether fumes that spilled call for a caution, and whether they stopped after work."""
    called = cautions_for(source.job, source.cautions)
    conditions = (one for caution in called for one in caution.when.all)
    if any(one.field in _SPILLED and one.operator is Operator.ABOVE for one in conditions):
        yield Is.FUMES_SPILLED
        if _fumes_stopped(source.job):
            yield Is.FUMES_STOPPED


def _fumes_stopped(job: Job) -> bool:
    """Say whether fumes that spilled before the work stopped in time, or did not come, after it."""
    before, after = si_of(job.safety.spillage_time), si_of(job.safety.spillage_time_after)
    if before is None or after is None or before <= after:
        return False
    return after == 0.0 or after <= _SOON_S < before


def _of_limits(source: ReportInput) -> Iterator[Is]:
    if rests_on_estimate(source.job, source.assessment.systems):
        yield Is.AREA_ESTIMATED
    outcomes = [one for system in source.assessment.systems for one in system.outcomes]
    if any(outcome.status is Verification.MEMORY for outcome in outcomes):
        yield Is.FROM_MEMORY
    held = {outcome.limit for outcome in outcomes}
    chosen = source.job.compliance.limits
    if any(limit.edition.is_invented and limit.key in held for limit in chosen):
        yield Is.LIMIT_INVENTED
    if any(unfit(source.job, outcome) for outcome in outcomes):
        yield Is.LIMIT_MISFIT
    if any(unsettled_aspects(source.job, outcome) for outcome in outcomes):
        yield Is.LIMIT_UNSETTLED
    for limit in source.job.compliance.limits:
        for row in limit.edition.rows:
            rules = row.rule.rules if isinstance(row.rule, EitherOf) else (row.rule,)
            judged = any(one.limit == limit.key and one.row == row.id for one in outcomes)
            if judged and any(isinstance(rule, PercentOfFanFlow) for rule in rules):
                yield Is.FAN_FLOW_LIMIT
