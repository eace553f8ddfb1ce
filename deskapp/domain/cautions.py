"""Which cautions a job calls for."""

from __future__ import annotations

import operator
from collections.abc import Callable, Iterable
from typing import cast

from deskapp.domain import paths
from deskapp.domain.job import Job
from deskapp.domain.measured import Day, Measured
from deskapp.domain.vocabulary import (
    Audience,
    Caution,
    CautionConditions,
    CautionLevel,
    Condition,
    Operator,
)
from deskapp.units.convert import exact_in

_COMPARE: dict[Operator, Callable[[float, float], bool]] = {
    Operator.ABOVE: operator.gt,
    Operator.AT_LEAST: operator.ge,
    Operator.BELOW: operator.lt,
    Operator.AT_MOST: operator.le,
}
_ORDER = {level: place for place, level in enumerate(CautionLevel)}


def cautions_for(
    job: Job, cautions: Iterable[Caution], audience: Audience = Audience.BOTH
) -> tuple[Caution, ...]:
    """Return the cautions whose conditions hold for `job`, the most urgent first.

    `audience` keeps those meant for that reader; BOTH keeps all. A value that could not be read
    counts as not answered, so it never hides a caution that asks for an answer.
    """
    fitting = (
        caution
        for caution in cautions
        if Audience.BOTH in (audience, caution.audience) or caution.audience is audience
        if applies(caution.when, job)
    )
    return tuple(sorted(fitting, key=lambda caution: _ORDER[caution.level]))


def applies(when: CautionConditions, job: Job) -> bool:
    """Say whether all conditions of `when` hold, one of its alternatives, and none it excludes."""
    return (
        all(_holds(condition, job) for condition in when.all)
        and (not when.any or any(_holds(condition, job) for condition in when.any))
        and (not when.same_row or _one_row_fits(when.same_row, job))
        and not any(_holds(condition, job) for condition in when.none)
    )


def _one_row_fits(conditions: tuple[Condition, ...], job: Job) -> bool:
    """Say whether all conditions, on fields of one list, hold together in one of its rows."""
    columns = [paths.expand(job, condition.field) for condition in conditions]
    return any(
        all(
            _value_fits(condition, value, job)
            for condition, (_path, value) in zip(conditions, row, strict=True)
        )
        for row in zip(*columns, strict=True)
    )


def _holds(condition: Condition, job: Job) -> bool:
    return any(
        _value_fits(condition, value, job) for _path, value in paths.expand(job, condition.field)
    )


def _value_fits(condition: Condition, value: object, job: Job) -> bool:
    answered = _is_answered(value)
    match condition.operator:
        case Operator.ANSWERED:
            return answered
        case Operator.UNANSWERED:
            return not answered
        case Operator.IS:
            return answered and value == condition.value
        case Operator.IS_NOT:
            return not answered or value != condition.value
        case Operator.BELOW_FIELD | Operator.NOT_BELOW_FIELD:
            wanted = condition.operator is Operator.BELOW_FIELD
            return answered and _is_below(value, str(condition.value), job) is wanted
        case _:
            if not answered:
                return False
            number = exact_in(cast("Measured", value), condition.unit)
            return _COMPARE[condition.operator](number, cast("float", condition.value))


def _is_answered(value: object) -> bool:
    if isinstance(value, Measured):
        return value.si is not None
    if isinstance(value, Day):
        return value.value is not None
    return value is not None and value != ""


def _is_below(value: object, other_path: str, job: Job) -> bool | None:
    """Say whether `value` lies below another one; None where one of the two is not known."""
    other = paths.get(job, other_path)
    if not isinstance(other, Measured) or other.si is None:
        return None
    if not isinstance(value, Measured) or value.si is None:
        return None
    return value.si < other.si
