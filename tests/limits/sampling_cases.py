"""Builders of sampling plans; projects, units and outcomes are invented."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

from deskapp.domain.sampling import (
    SampleUnit,
    SamplingPlan,
    SamplingRule,
    UnitCheck,
    UnitList,
)
from deskapp.limits.sampling import load_sampling_rules
from deskapp.limits.sampling_record import draw_next, record
from deskapp.limits.sampling_steps import StepKind, next_step

RULES, PROBLEMS = load_sampling_rules(Path(__file__).parents[2] / "resources" / "sampling")
START = date(2026, 3, 2)


def shipped(rule_id: str) -> SamplingRule:
    return next(rule for rule in RULES if rule.id == rule_id)


def plan(rule: SamplingRule, count: int, kinds: tuple[str, ...] = ("",)) -> SamplingPlan:
    units = tuple(
        SampleUnit(key=f"u{n}", name=f"Unit {n}", kind=kinds[n % len(kinds)])
        for n in range(1, count + 1)
    )
    return SamplingPlan(
        project="Invented court",
        feature="Duct leakage",
        threshold="at most 40 cfm at 25 Pa",
        rule=rule,
        unit_list=UnitList(units=units),
    )


def check(of: SamplingPlan, unit: str, met: bool) -> SamplingPlan:
    day = START + timedelta(days=len(of.checks))
    return record(of, UnitCheck(unit=unit, met=met, checked_on=day))


def check_drawn(of: SamplingPlan, *outcomes: bool) -> SamplingPlan:
    """Check the units the next step names, in order, with these outcomes (the last one repeats)."""
    for position, unit in enumerate(next_step(of).units):
        of = check(of, unit, outcomes[min(position, len(outcomes) - 1)])
    return of


def carried_out(
    of: SamplingPlan, meets: Callable[[str, int], bool], seed: int = 7, most: int = 2000
) -> SamplingPlan:
    """Follow every step to the end; `meets` says how a unit fares at its nth check."""
    times: dict[str, int] = {}
    for _step in range(most):
        step = next_step(of)
        if step.kind is StepKind.DONE:
            return of
        if step.kind is StepKind.DRAW:
            of = draw_next(of, seed + len(of.draws), START + timedelta(days=len(of.checks)))
            continue
        for unit in step.units:
            times[unit] = times.get(unit, 0) + 1
            of = check(of, unit, meets(unit, times[unit]))
    raise AssertionError(f"not done after {most} steps")
