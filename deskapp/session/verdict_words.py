"""A result in words for a terminal, and as plain data for other programs."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from deskapp.domain.finding import Finding, Level, Nature
from deskapp.domain.limit import Verification
from deskapp.domain.result import LimitOutcome, SystemResult, TestResult, Verdict
from deskapp.i18n import N_, _
from deskapp.session.job_status import dangers, gone_past, open_dangers
from deskapp.session.limit_words import STATUS_WORDS
from deskapp.units.convert import to_unit
from deskapp.units.kinds import Kind
from deskapp.units.when import CLOCK_UNREADABLE

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from deskapp.domain.result import Assessment
    from deskapp.units.display import Formatter

VERDICT_WORDS = {
    Verdict.PASS: N_("meets the limit"),
    Verdict.FAIL: N_("does not meet the limit"),
    Verdict.NONE: N_("no verdict"),
}
_NATURE_WORDS = {
    Nature.DANGER: N_("Danger"),
    Nature.PAST: N_("Danger"),
    Nature.STOP: N_("Must be mended"),
    Nature.CHECK: N_("Check"),
    Nature.NOTE: N_("Note"),
}
_FLOW_UNITS = ("m3/s", "L/s", "m3/h", "cfm")


def verdict_text(
    assessment: Assessment, formatter: Formatter, findings: Iterable[Finding] = ()
) -> str:
    """Return the verdict of a job as lines of text, with the arithmetic of each limit.

    `findings` adds what else was found out about the job, such as texts that could not be read;
    notes are left out.
    """
    return "\n".join(_lines(assessment, formatter, findings))


def _lines(
    assessment: Assessment, formatter: Formatter, findings: Iterable[Finding]
) -> Iterator[str]:
    name = assessment.job_number or _("without a number")
    yield _("Job {name}: {verdict}").format(name=name, verdict=_(VERDICT_WORDS[assessment.verdict]))
    told = tuple(findings)
    unsafe = dangers(told)
    for danger in unsafe:
        yield "  " + danger
    if unsafe:
        yield "  " + _("The verdict speaks of duct leakage alone.")
    if assessment.reason:
        yield "  " + assessment.reason
    for system in assessment.systems:
        yield ""
        yield from _system_lines(system, assessment, formatter)
    if len(assessment.systems) > 1:
        yield from _house_lines(assessment, formatter)
    heard = heard_once(told, assessment.findings)
    telling = [finding for finding in heard if finding.level is not Level.NOTE]
    if telling:
        yield ""
    for finding in telling:
        yield f"{_(_NATURE_WORDS[finding.nature])}: {finding.text}"


def heard_once(findings: Iterable[Finding], others: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return `findings`, and those of `others` that are not about a text already spoken of."""
    told = tuple(findings)
    unread = {
        finding.path
        for finding in told
        if finding.path and (finding.level is Level.STOP or finding.code == CLOCK_UNREADABLE)
    }
    rest = (one for one in others if one.code != "unread" or one.path not in unread)
    return tuple(dict.fromkeys((*told, *rest)))


def _system_lines(
    system: SystemResult, assessment: Assessment, formatter: Formatter
) -> Iterator[str]:
    yield f"{system.name}: {_(VERDICT_WORDS[system.verdict])}"
    test = assessment.test(system.test)
    if test is not None and test.flow is not None:
        yield "  " + _measured(test, test.flow, formatter)
    for outcome in system.outcomes:
        yield from _outcome_lines(outcome)
    for remark in (system.reason, *system.remarks):
        if remark:
            yield "  " + remark


def _measured(test: TestResult, flow: float, formatter: Formatter) -> str:
    text = _("Leakage {flow}").format(flow=formatter.both(Kind.FLOW, flow))
    if test.target_pressure is not None:
        pressure = formatter.show(Kind.PRESSURE, test.target_pressure)
        text = _("{measured} at {pressure}").format(measured=text, pressure=pressure)
    if test.flow_per_area is not None:
        text += f", {formatter.both(Kind.FLOW_PER_AREA, test.flow_per_area)}"
    return text


def _outcome_lines(outcome: LimitOutcome) -> Iterator[str]:
    place = f"{outcome.edition}, {outcome.clause}" if outcome.clause else outcome.edition
    yield f"  {place}: {_(VERDICT_WORDS[outcome.verdict])}"
    if outcome.rule_text:
        yield f"    {outcome.rule_text}"
    for line in outcome.lines:
        yield f"    {line}"
    if outcome.status is Verification.SECONDARY or outcome.status is Verification.MEMORY:
        yield f"    {_(STATUS_WORDS[outcome.status])}"


def _house_lines(assessment: Assessment, formatter: Formatter) -> Iterator[str]:
    house = assessment.house
    if house.flow is None:
        return
    yield ""
    yield _("All systems together {flow}; codes judge each system by itself.").format(
        flow=formatter.both(Kind.FLOW, house.flow)
    )
    if house.would_hide:
        yield _("Taken together they would meet the limit, though not each one does.")


def verdict_json(assessment: Assessment, findings: Iterable[Finding] = ()) -> dict[str, Any]:
    """Return the verdict of a job as data for `json.dumps`: unrounded numbers, units in the names.

    `safety` names the stops left open, and those somebody went past that are not cleared: the
    verdict speaks of leakage alone. Flows are given in m3/s, L/s, m3/h and cfm; what a limit
    compares is in the limit's own unit.
    """
    told = tuple(findings)
    return {
        "job": assessment.job_number,
        "verdict": assessment.verdict.value,
        "reason": assessment.reason,
        "safety": {"open": [*open_dangers(told)], "acknowledged": [*gone_past(told)]},
        "systems": [_system_data(system, assessment) for system in assessment.systems],
        "findings": [
            finding.model_dump(mode="json") for finding in heard_once(told, assessment.findings)
        ],
    }


def _system_data(system: SystemResult, assessment: Assessment) -> dict[str, Any]:
    test = assessment.test(system.test)
    return {
        "key": system.system,
        "name": system.name,
        "verdict": system.verdict.value,
        "reason": system.reason,
        "remarks": [*system.remarks],
        "test": None if test is None else _test_data(test),
        "limits": [_outcome_data(outcome) for outcome in system.outcomes],
    }


def _test_data(test: TestResult) -> dict[str, Any]:
    flow = test.flow
    return {
        "key": test.test,
        "target_pressure_Pa": test.target_pressure,
        "flow": None if flow is None else {unit: to_unit(flow, unit) for unit in _FLOW_UNITS},
        "flow_per_area_cfm_per_100_ft2": None
        if test.flow_per_area is None
        else to_unit(test.flow_per_area, "cfm/100ft2"),
        "fraction_of_fan_flow": test.fan_fraction,
        "extrapolated": test.extrapolated,
    }


def _outcome_data(outcome: LimitOutcome) -> dict[str, Any]:
    return outcome.model_dump(
        mode="json",
        include={
            *("edition", "body", "clause", "row", "rule_text", "verdict", "reason"),
            *("measured", "limit_value", "margin", "unit", "status", "source"),
        },
    )
