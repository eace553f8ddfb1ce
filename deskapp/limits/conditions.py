"""The conditions a row can set, each asked of the job's facts: yes, no, or not known."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from deskapp.domain.choices import CHOICE_LABELS, YesNo
from deskapp.domain.fields import field_at
from deskapp.domain.limit import LimitRow
from deskapp.domain.measured import si_of
from deskapp.domain.system import DuctSystem
from deskapp.domain.trial import LeakageTest
from deskapp.i18n import _, language
from deskapp.limits.digits import written
from deskapp.units.convert import exact_in


@dataclass(frozen=True, slots=True)
class ConditionAnswer:
    """Whether one condition of a row holds; None if a fact is missing. `why` is a short clause.

    `field` is the path of the field it asks, such as ``systems.*.returns``.
    """

    holds: bool | None
    why: str
    field: str = ""


ALL_INSIDE = "systems.*.all_ducts_inside"

Condition = Callable[[LimitRow, DuctSystem, LeakageTest], ConditionAnswer | None]


def stage(row: LimitRow, _system: DuctSystem, test: LeakageTest) -> ConditionAnswer | None:
    """The stage of the test."""
    return _one_of(row.stages, test.setup.stage, "tests.*.setup.stage")


def metric(row: LimitRow, _system: DuctSystem, test: LeakageTest) -> ConditionAnswer | None:
    """Total leakage or leakage to outside."""
    return _one_of((row.metric,), test.setup.metric, "tests.*.setup.metric")


def work(row: LimitRow, system: DuctSystem, _test: LeakageTest) -> ConditionAnswer | None:
    """New, altered or existing system."""
    return _one_of(row.works, system.work, "systems.*.work")


def air_handler(row: LimitRow, system: DuctSystem, _test: LeakageTest) -> ConditionAnswer | None:
    """Whether the air handler was in place during the test."""
    path, wanted = "systems.*.air_handler_installed", row.air_handler_installed
    return None if wanted is None else yes_or_no(wanted, system.air_handler_installed, path)


def inside(row: LimitRow, system: DuctSystem, _test: LeakageTest) -> ConditionAnswer | None:
    """Whether all ducts and the air handler lie inside the thermal envelope."""
    return None if row.all_inside is None else all_inside(row.all_inside, system)


def all_inside(wanted: bool, system: DuctSystem) -> ConditionAnswer:
    """Say whether all ducts and the air handler lie inside, where that is `wanted` or not."""
    path, given = ALL_INSIDE, system.all_ducts_inside
    if system.air_handler_inside is YesNo.NO:
        if given is YesNo.YES:
            text = _("“{inside}” and “{handler}” contradict each other")
            handler = _(field_at("systems.*.air_handler_inside").label)
            return ConditionAnswer(
                None, text.format(inside=_(field_at(path).label), handler=handler), path
            )
        given = YesNo.NO
    return yes_or_no(wanted, given, path)


def returns(row: LimitRow, system: DuctSystem, _test: LeakageTest) -> ConditionAnswer | None:
    """The number of ducted returns."""
    if row.returns_min is None and row.returns_max is None:
        return None
    count = si_of(system.returns)
    if count is None:
        return unanswered("systems.*.returns")
    wanted = _span(row.returns_min, row.returns_max)
    holds = (row.returns_min is None or count >= row.returns_min) and (
        row.returns_max is None or count <= row.returns_max
    )
    return _answer("systems.*.returns", holds, wanted, written(count))


def area(row: LimitRow, system: DuctSystem, _test: LeakageTest) -> ConditionAnswer | None:
    """The floor area served, against the thresholds of the row."""
    if row.area_above_ft2 is None and row.area_up_to_ft2 is None:
        return None
    path = "systems.*.area_served"
    if system.area_served is None or system.area_served.si is None:
        return unanswered(path)
    try:
        size = exact_in(system.area_served, "ft2")
    except ValueError:
        return unanswered(path)
    holds = (row.area_above_ft2 is None or size > row.area_above_ft2) and (
        row.area_up_to_ft2 is None or size <= row.area_up_to_ft2
    )
    bounds: list[str] = []
    if row.area_above_ft2 is not None:
        bounds.append(_("above {area} ft²").format(area=written(row.area_above_ft2)))
    if row.area_up_to_ft2 is not None:
        bounds.append(_("up to {area} ft²").format(area=written(row.area_up_to_ft2)))
    return _answer(path, holds, ", ".join(bounds), f"{written(size)} ft²")


CONDITIONS: tuple[Condition, ...] = (metric, stage, work, air_handler, inside, area, returns)


def _one_of(
    allowed: tuple[StrEnum, ...], given: StrEnum | None, path: str
) -> ConditionAnswer | None:
    return _held_against(allowed, given, path, language()) if allowed else None


def yes_or_no(wanted: bool, given: YesNo | None, path: str) -> ConditionAnswer:
    """Hold the answer `given` to a yes-or-no field against the one `wanted`."""
    return _held_against((YesNo.YES if wanted else YesNo.NO,), given, path, language())


@lru_cache(maxsize=4096)
def _held_against(
    allowed: tuple[StrEnum, ...], given: StrEnum | None, path: str, _language: str
) -> ConditionAnswer:
    """Say whether `given` is one of those allowed, in words that are kept for the next row.

    A list of all limits asks this thousands of times, and there are few different answers.
    """
    if given is None:
        return unanswered(path)
    wanted = _(" or ").join(_choice(choice) for choice in allowed)
    return _answer(path, given in allowed, wanted, _choice(given))


def _choice(choice: StrEnum) -> str:
    return _(CHOICE_LABELS[type(choice)][choice.value])


def _span(least: int | None, most: int | None) -> str:
    if most is None:
        return _("{count} or more").format(count=least)
    if not least:
        return _("at most {count}").format(count=most)
    return _("{least} to {most}").format(least=least, most=most)


def _answer(path: str, holds: bool, wanted: str, given: str) -> ConditionAnswer:
    label = _(field_at(path).label)
    if holds:
        return ConditionAnswer(True, _("{field}: {given}").format(field=label, given=given), path)
    text = _("{field}: the row is for {wanted}, here it is {given}")
    return ConditionAnswer(False, text.format(field=label, wanted=wanted, given=given), path)


def unanswered(path: str) -> ConditionAnswer:
    """Say that the field at `path` is not answered."""
    text = _("“{field}” is not answered").format(field=_(field_at(path).label))
    return ConditionAnswer(None, text, path)
