"""Waivers: each condition asked of the job, and whether a test is therefore not asked for."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from deskapp.domain.choices import CHOICE_LABELS, YesNo
from deskapp.domain.fields import field_at
from deskapp.domain.measured import Measured, si_of
from deskapp.domain.paths import get
from deskapp.i18n import _
from deskapp.limits.case import Undecided
from deskapp.limits.conditions import ALL_INSIDE, ConditionAnswer, all_inside, unanswered
from deskapp.limits.digits import shown, symbol, telling_decimals, written
from deskapp.limits.judge import PRESSURE_TOLERANCE, compare
from deskapp.limits.words import status_text
from deskapp.units.convert import exact_in

if TYPE_CHECKING:
    from deskapp.domain.job import Job
    from deskapp.domain.limit import (
        Answered,
        Below,
        Edition,
        Stated,
        TightHouse,
        TotalWithin,
        Waiver,
        WaiverCondition,
    )
    from deskapp.domain.system import DuctSystem
    from deskapp.limits.case import Case, Comparison

CLIMATE_ZONE, AIR_CHANGES = "site.climate_zone", "house.air_changes_50"
_ZONE = re.compile(r"(?<!\d)([1-8])(?!\d)")
_SYSTEM = "systems.*."


@dataclass(frozen=True, slots=True)
class WaiverCase:
    """What waivers are asked of: the job, one of its systems, and that system's total leakage.

    `total` is the latest test of total leakage that could be worked out, if there is one.
    """

    job: Job
    system: DuctSystem
    total: Case | None = None
    unit: str = "cfm"


@dataclass(frozen=True, slots=True)
class WaiverCheck:
    """A waiver, whether it holds (None: a fact is missing), and the answers that tell why."""

    waiver: Waiver
    holds: bool | None
    answers: tuple[ConditionAnswer, ...]

    @property
    def why(self) -> str:
        """What decides: what speaks for it, or what is missing, or what speaks against it."""
        clauses = [answer.why for answer in self.answers if answer.holds is self.holds]
        return "; ".join(dict.fromkeys(clauses))

    @property
    def text(self) -> str:
        """The waiver in words, with its clause and status, whether or not it holds."""
        status = status_text(
            self.waiver.status, self.waiver.verified_by, self.waiver.verified_on
        ).rstrip(".")
        return _("{clause}: {text} ({status}.) {why}.").format(
            clause=self.waiver.clause,
            text=_(self.waiver.text),
            status=status,
            why=self.why[:1].upper() + self.why[1:],
        )


def check_waivers(edition: Edition, facts: WaiverCase) -> tuple[WaiverCheck, ...]:
    """Hold every waiver of `edition` against the job."""
    return tuple(check_waiver(waiver, facts) for waiver in edition.waivers)


def check_waiver(waiver: Waiver, facts: WaiverCase) -> WaiverCheck:
    """Hold a waiver against the job: one way whose conditions all hold is enough.

    Where none does, what is told comes from the ways that could still hold, or from all of them.
    """
    ways = [tuple(_ask(condition, facts) for condition in way) for way in waiver.ways]
    for answers in ways:
        if all(answer.holds for answer in answers):
            return WaiverCheck(waiver, True, answers)
    open_ways = [
        answers for answers in ways if not any(answer.holds is False for answer in answers)
    ]
    holds = None if open_ways else False
    return WaiverCheck(waiver, holds, _all(open_ways or ways))


def _all(ways: Iterable[tuple[ConditionAnswer, ...]]) -> tuple[ConditionAnswer, ...]:
    return tuple(answer for answers in ways for answer in answers)


def _ask(condition: WaiverCondition, facts: WaiverCase) -> ConditionAnswer:
    return _ASK[condition.kind](condition, facts)


def _value(path: str, facts: WaiverCase) -> Any:
    if path.startswith(_SYSTEM):
        return get(facts.system, path.removeprefix(_SYSTEM))
    return get(facts.job, path)


def _label(path: str) -> str:
    return _(field_at(path).label)


def _answered(condition: Answered, facts: WaiverCase) -> ConditionAnswer:
    path = condition.field
    if path == ALL_INSIDE:
        return all_inside(condition.value == YesNo.YES, facts.system)
    given = _value(path, facts)
    if given is None:
        return unanswered(path)
    words = CHOICE_LABELS[type(given)]
    if given == condition.value:
        return ConditionAnswer(True, f"{_label(path)}: {_(words[given.value])}")
    text = _("{field}: asked is {wanted}, here it is {given}")
    wanted = _(words[condition.value])
    return ConditionAnswer(
        False, text.format(field=_label(path), wanted=wanted, given=_(words[given.value]))
    )


def _below(condition: Below, facts: WaiverCase) -> ConditionAnswer:
    path, unit = condition.field, condition.unit
    value: Measured | None = _value(path, facts)
    if si_of(value) is None:
        return unanswered(path)
    assert value is not None
    try:
        size = exact_in(value, unit)
    except ValueError:
        return unanswered(path)
    decimals = telling_decimals(unit, size, condition.value)
    sign = "<" if size < condition.value else "≥"
    text = f"{_label(path)}: {shown(size, decimals)} {sign} {written(condition.value)}"
    return ConditionAnswer(size < condition.value, f"{text} {symbol(unit)}".rstrip())


def _tight_house(condition: TightHouse, facts: WaiverCase) -> ConditionAnswer:
    typed = facts.job.site.climate_zone
    if not typed:
        return unanswered(CLIMATE_ZONE)
    found = _ZONE.search(typed)
    if found is None:
        text = _('"{field}" reads “{typed}”, which names no zone from 1 to 8')
        return ConditionAnswer(None, text.format(field=_label(CLIMATE_ZONE), typed=typed))
    zone = int(found[1])
    limit = next((one.air_changes for one in condition.limits if zone in one.zones), None)
    if limit is None:
        text = _("{field}: nothing is said about zone {zone}")
        return ConditionAnswer(False, text.format(field=_label(CLIMATE_ZONE), zone=zone))
    value = facts.job.house.air_changes_50
    if si_of(value) is None:
        return unanswered(AIR_CHANGES)
    assert value is not None
    rate = exact_in(value, "1")
    text = _("{field}: {rate} {sign} {limit} in zone {zone}").format(
        field=_label(AIR_CHANGES),
        rate=written(rate),
        sign="≤" if rate <= limit else ">",
        limit=written(limit),
        zone=zone,
    )
    return ConditionAnswer(rate <= limit, text)


def _total_within(condition: TotalWithin, facts: WaiverCase) -> ConditionAnswer:
    total = facts.total
    if total is None:
        return ConditionAnswer(
            None, _("no test of the total leakage of this system gives a result yet")
        )
    if abs(total.target_pressure - condition.pressure_pa) > PRESSURE_TOLERANCE:
        text = _("the total leakage is not worked out for {pressure} Pa")
        return ConditionAnswer(None, text.format(pressure=written(condition.pressure_pa)))
    result = compare(condition.rule, total, facts.unit)
    if isinstance(result, Undecided):
        return ConditionAnswer(None, result.reason.rstrip("."))
    return _compared(result)


def _compared(result: Comparison) -> ConditionAnswer:
    decimals = telling_decimals(result.unit, result.measured, result.limit)
    text = _("total leakage {measured} {sign} {limit} {unit}").format(
        measured=shown(result.measured, decimals),
        sign="≤" if result.is_met else ">",
        limit=shown(result.limit, decimals),
        unit=symbol(result.unit),
    )
    return ConditionAnswer(result.is_met, text)


def _stated(condition: Stated, facts: WaiverCase) -> ConditionAnswer:
    compliance = facts.job.compliance
    claimed, reason = compliance.exemption_claimed, compliance.exemption_reason.strip()
    if claimed is YesNo.YES and reason:
        text = _("{what}: claimed, with the reason “{reason}”")
        return ConditionAnswer(True, text.format(what=_(condition.text), reason=reason))
    if claimed is YesNo.NO:
        return ConditionAnswer(False, _("{what}: not claimed").format(what=_(condition.text)))
    text = _("{what}: no field records it; claim the exemption and give the reason")
    return ConditionAnswer(None, text.format(what=_(condition.text)))


_ASK: dict[str, Callable[[Any, WaiverCase], ConditionAnswer]] = {
    "answer": _answered,
    "below": _below,
    "tight_house": _tight_house,
    "total_within": _total_within,
    "stated": _stated,
}
