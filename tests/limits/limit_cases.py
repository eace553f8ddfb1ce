"""Builders: what a person typed, a system, a test, a rule to judge by."""

from __future__ import annotations

from typing import Any

from pydantic import TypeAdapter

from deskapp.domain.choices import Metric, Stage, WorkKind, YesNo
from deskapp.domain.limit import Edition, LimitRow, Rule, Verification
from deskapp.domain.measured import Measured
from deskapp.domain.result import LimitOutcome
from deskapp.domain.system import DuctSystem
from deskapp.domain.trial import LeakageTest, SetUp
from deskapp.limits.case import Case
from deskapp.limits.judge import judge
from deskapp.units.convert import from_unit

RULE: TypeAdapter[Rule] = TypeAdapter(Rule)


def typed(value: float, unit: str) -> Measured:
    return Measured(si=from_unit(value, unit), unit=unit, typed=f"{value!r} {unit}")


def rule(kind: str, **numbers: Any) -> Rule:
    return RULE.validate_python({"kind": kind, **numbers})


def row(made: Rule, pressure_pa: float | None = 25.0, **more: Any) -> LimitRow:
    return LimitRow(
        **{
            "id": "only",
            "title": "Invented row",
            "clause": "1",
            "metric": Metric.TOTAL,
            "pressure_pa": pressure_pa,
            "rule": made,
            "status": Verification.USER,
            "source": "invented",
            **more,
        }
    )


def edition(*rows: LimitRow, unit: str = "cfm") -> Edition:
    return Edition(id="invented", body="Invented", title="Invented", unit=unit, rows=rows)


def case(flow: float, unit: str = "cfm", pressure: float = 25.0, **facts: Any) -> Case:
    """One worked-out test; `area`, `surface`, `fan` as (value, unit), `first` in `unit`."""
    names = {"area": "area", "surface": "duct_surface", "fan": "fan_flow"}
    given: dict[str, Any] = {
        names[name]: typed(*facts.pop(name)) for name in tuple(facts) if name in names
    }
    if "first" in facts:
        given["first_flow"] = from_unit(facts.pop("first"), unit)
    return Case(flow=from_unit(flow, unit), target_pressure=pressure, **given, **facts)


def outcome(
    made: Rule, of: Case, pressure_pa: float | None = 25.0, unit: str = "cfm"
) -> LimitOutcome:
    only = row(made, pressure_pa)
    return judge(edition(only, unit=unit), only, of)


def system(**facts: Any) -> DuctSystem:
    return DuctSystem(**{"key": "s", **facts})


def trial(
    stage: Stage | None = Stage.ROUGH_IN, metric: Metric | None = Metric.TOTAL
) -> LeakageTest:
    return LeakageTest(key="t", system="s", setup=SetUp(stage=stage, metric=metric))


NEW, ALTERED = WorkKind.NEW, WorkKind.ALTERED
YES, NO = YesNo.YES, YesNo.NO
