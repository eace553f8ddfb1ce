"""Jobs with tests at several pressures, in both directions, of one side or of the house itself."""

from __future__ import annotations

from typing import Any

from typed import EDITION, FAN, GAUGE, cfm, ft2, pa

from deskapp.assess.evaluate import evaluate
from deskapp.domain.choices import (
    AreaSource,
    Direction,
    FlowBasis,
    Method,
    Metric,
    Reference,
    Stage,
    YesNo,
)
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Compliance, Job
from deskapp.domain.limit import ChosenLimit
from deskapp.domain.result import TestResult
from deskapp.domain.site import House
from deskapp.domain.system import DuctSystem
from deskapp.domain.trial import Ambient, LeakageTest, Reading, SetUp

EIGHT_PRESSURES = "15 20 25 30 35 40 45 50"
EIGHT_FLOWS = "74.2 87.6 100.9 112.1 124.0 133.8 144.1 153.2"
"""Invented points; every figure expected of them was worked out with scipy and statsmodels."""


def flow_readings(pressures: str, flows: str) -> tuple[Reading, ...]:
    """Readings of a gauge that shows a flow, in cfm."""
    return tuple(
        Reading(duct_pressure=pa(p), indicated_flow=cfm(q))
        for p, q in zip(pressures.split(), flows.split(), strict=True)
    )


def made_test(rows: tuple[Reading, ...], key: str = "t1", **other: Any) -> LeakageTest:
    """A test with flows as indicated, target 25 Pa; `other` are set-up fields and a few more."""
    outer = {
        "system": other.pop("system", "s1"),
        "ambient": other.pop("ambient", Ambient()),
        "house_pressure": other.pop("house_pressure", None),
        "duct_to_house_pressure": other.pop("duct_to_house_pressure", None),
        "baseline_before": pa(other.pop("baseline", "0")),
    }
    outer["baseline_after"] = other.pop("baseline_after", outer["baseline_before"])
    setup: dict[str, Any] = {
        "stage": Stage.ROUGH_IN,
        "metric": Metric.TOTAL,
        "direction": Direction.PRESSURIZE,
        "reference": Reference.HOUSE_OPEN,
        "target_pressure": pa("25"),
        "flow_basis": FlowBasis.AS_INDICATED,
    }
    return LeakageTest(key=key, setup=SetUp(**{**setup, **other}), readings=rows, **outer)


def curve_test(rows: tuple[Reading, ...], key: str = "t1", **other: Any) -> LeakageTest:
    """A test at several pressures."""
    return made_test(rows, key, method=Method.SEVERAL_PRESSURES, **other)


def job_of(*tests: LeakageTest, house: House | None = None, **facts: Any) -> Job:
    """One system of 2,000 ft2 with its air handler in place, judged at 4 cfm per 100 ft2."""
    system = {
        "key": "s1",
        "name": "System 1",
        "area_served": ft2("2,000"),
        "air_handler_installed": YesNo.YES,
        **facts,
    }
    return Job(
        number="T-2",
        house=house or House(floor_area=ft2("2,000"), area_source=AreaSource.MEASURED),
        systems=(DuctSystem(**system),),
        gauges=(GAUGE,),
        fans=(FAN,),
        tests=tests,
        compliance=Compliance(limits=(ChosenLimit(key="l1", edition=EDITION),)),
    )


def result_of(job: Job, key: str = "t1") -> TestResult:
    found = evaluate(job).test(key)
    assert found is not None
    return found


def found_codes(job: Job, level: Level | None = None) -> set[str]:
    return {found.code for found in evaluate(job).findings if level in (None, found.level)}


def found_one(job: Job, code: str) -> Finding:
    found = [finding for finding in evaluate(job).findings if finding.code == code]
    assert len(found) == 1, [finding.code for finding in evaluate(job).findings]
    return found[0]
