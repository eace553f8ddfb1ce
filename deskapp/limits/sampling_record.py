"""Draws and checks written down in a sampling plan, in the order in which they may come."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from deskapp.domain.sampling import Draw, SamplingPlan, UnitCheck
from deskapp.i18n import _
from deskapp.limits.sampling import SamplingProblem, pick
from deskapp.limits.sampling_steps import StepKind, next_step
from deskapp.units.display import day_in_words


def draw_next(plan: SamplingPlan, seed: int, on: date) -> SamplingPlan:
    """Return the plan with the units drawn that its next step asks for.

    Args:
        plan: a plan whose next step is a draw.
        seed: recorded with the draw; zero or more.
        on: the day of the draw.

    Raises:
        SamplingProblem: nothing is to be drawn now.
    """
    step = next_step(plan)
    if step.kind is not StepKind.DRAW or step.purpose is None:
        raise SamplingProblem(
            "no-draw", _("Nothing is to be drawn now. {text}").format(text=step.text)
        )
    kinds = {unit.key: unit.kind for unit in plan.unit_list.units}
    draw = Draw(
        purpose=step.purpose,
        seed=seed,
        pool=step.units,
        count=step.count,
        must_have=step.must_have,
        drawn=pick(step.units, step.count, seed, kinds, step.must_have),
        drawn_on=on,
        set_number=step.set_number,
    )
    return plan.model_copy(update={"draws": (*plan.draws, draw)})


def record(plan: SamplingPlan, check: UnitCheck) -> SamplingPlan:
    """Return the plan with one more check in its log.

    A unit that was not drawn may be checked all the same; it does not count, but if it does not
    meet the threshold it must be corrected. Raises SamplingProblem for a unit that is not in the
    list, one that met the threshold already, and a day before the unit was drawn or last checked.
    """
    unit = plan.unit_list.unit(check.unit)
    if unit is None:
        raise SamplingProblem("no-unit", _("That unit is not in the list. Choose one of the list."))
    earlier = [one for one in plan.checks if one.unit == check.unit]
    if earlier and earlier[-1].met:
        text = _("{unit} met the threshold on {day}; it needs no further check.")
        day = day_in_words(earlier[-1].checked_on)
        raise SamplingProblem("met-already", text.format(unit=unit.name, day=day))
    draw = plan.draw_of(check.unit)
    days = [one.checked_on for one in earlier] + ([draw.drawn_on] if draw else [])
    _not_before(days, check.checked_on, unit.name)
    return plan.model_copy(update={"checks": (*plan.checks, check)})


def _not_before(days: Iterable[date], day: date, name: str) -> None:
    last = max(days, default=day)
    if day < last:
        text = _(
            "{unit} cannot have been checked on {day}: it was drawn or last checked on {last}. "
            "Enter that day or a later one."
        )
        raise SamplingProblem(
            "too-early", text.format(unit=name, day=day_in_words(day), last=day_in_words(last))
        )
