"""Absurd numbers anywhere in a job: explained or set aside, never an exception or a silent NaN."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from multi import curve_test, flow_readings, job_of, made_test
from pydantic import BaseModel
from typed import cfm, ft2, pa, readings, typed

from deskapp.assess.evaluate import evaluate
from deskapp.domain.arrival import ArrivalItem
from deskapp.domain.choices import (
    AreaSource,
    Direction,
    DuctLocation,
    FlowBasis,
    Method,
    Metric,
    Part,
)
from deskapp.domain.field_spec import Form
from deskapp.domain.fields import FIELDS
from deskapp.domain.job import Job
from deskapp.domain.later import Later
from deskapp.domain.measured import Measured
from deskapp.domain.paths import put
from deskapp.domain.repair import Rereading
from deskapp.domain.result import Assessment
from deskapp.domain.safety import Appliance
from deskapp.domain.screening import Register
from deskapp.domain.site import House
from deskapp.domain.trial import Ambient
from deskapp.units.kinds import Kind

ABSURD = (-1e308, 1e308, -1.0, 0.0, -0.0, 5e-324, 1e-9, 0.5, 1.0, 273.0, 1e6, 1e300)
QUANTITIES = [
    field.path.replace("*", "0")
    for field in FIELDS
    if field.form is Form.QUANTITY and not field.path.startswith("safety")
]


def full_job() -> Job:
    """Curve to outside, both sides, a repeat and the house itself; bills, zones and registers."""
    signals = "36.8 69.5 105.3 162.2 204.3"
    outside = curve_test(
        readings("15 25 35 50 60", signals),
        "t1",
        ring="small",
        metric=Metric.OUTSIDE,
        target_pressure=pa("50"),
        house_pressure=pa("50"),
        duct_to_house_pressure=pa("0.3"),
        flow_basis=FlowBasis.ACTUAL_AIR,
        exponent=typed("0.6", Kind.NUMBER),
        exponent_uncertainty=typed("0.05", Kind.NUMBER),
        ambient=Ambient(
            indoor_temperature=typed("70 °F", Kind.TEMPERATURE),
            outdoor_temperature=typed("40 °F", Kind.TEMPERATURE),
        ),
    )
    tests = (
        outside,
        made_test(flow_readings("25 25", "200 202"), "t2"),
        made_test(flow_readings("25 25", "120 121"), "t3", part=Part.SUPPLY),
        made_test(flow_readings("25 25", "80 81"), "t4", part=Part.RETURN),
        curve_test(
            flow_readings("10 20 30 -15 -25 -35", "110 172 224 140 196 245"),
            "t5",
            metric=Metric.ENVELOPE,
            system="",
            direction=Direction.BOTH,
            target_pressure=pa("50"),
            ambient=outside.ambient,
        ),
    )
    house = House(
        floor_area=ft2("2,000"),
        area_source=AreaSource.PLANS,
        volume=typed("16,000 ft3", Kind.VOLUME),
        bill_low=typed("1600", Kind.NUMBER),
        bill_high=typed("2000", Kind.NUMBER),
    )
    job = job_of(
        *tests,
        house=house,
        fan_flow=cfm("1,200"),
        duct_surface=ft2("400"),
        heating_output=typed("40 kBtu/h", Kind.POWER),
        cooling_capacity=typed("3 tons", Kind.POWER),
        duct_location=DuctLocation.ATTIC,
    )
    return with_other_rows(job)


def with_other_rows(job: Job) -> Job:
    """A row in each of the lists that no test needs."""
    reread = Rereading(
        key="q1",
        test="t2",
        duct_pressure=pa("25"),
        fan_signal=pa("64"),
        indicated_flow=cfm("192"),
        ring="medium",
    )
    return job.model_copy(
        update={
            "registers": (Register(key="p1", pan_before=pa("3")),),
            "rereadings": (reread,),
            "appliances": (Appliance(key="b1"),),
            "arrival": (ArrivalItem(key="a1"),),
        }
    )


FULL = full_job()


def numbers_in(value: object) -> list[float]:
    """Every number anywhere in a result."""
    if isinstance(value, float):
        return [value]
    if isinstance(value, Later):
        return numbers_in(value.value)
    if isinstance(value, BaseModel):
        return [x for name in type(value).model_fields for x in numbers_in(getattr(value, name))]
    if isinstance(value, tuple):
        return [x for row in value for x in numbers_in(row)]
    return []


def assert_sound(assessment: Assessment) -> None:
    assert all(math.isfinite(number) for number in numbers_in(assessment))
    for result in assessment.tests:
        assert result.flow is None or 0.0 <= result.flow < 1e7
    for finding in assessment.findings:
        assert finding.what.strip()


def test_that_the_full_job_uses_every_part_of_the_assessment() -> None:
    assessment = evaluate(FULL)
    assert [result.flow is not None for result in assessment.tests] == [True] * 5
    assert assessment.tests[0].curve is not None
    assert assessment.tests[4].envelope is not None
    assert assessment.ledgers[0].rows[0].gain is not None
    assert assessment.systems[0].sides
    owner = assessment.systems[0].owner
    assert owner is not None
    assert owner.cost_high is not None
    assert_sound(assessment)


@pytest.mark.parametrize("path", QUANTITIES)
def test_that_an_absurd_number_never_raises_and_leaves_no_nan(path: str) -> None:
    for value in ABSURD:
        job = put(FULL, path, Measured(si=value, unit="", typed=str(value)))
        assert_sound(evaluate(job))


@pytest.mark.parametrize("path", QUANTITIES)
def test_that_a_cleared_or_unread_number_never_raises(path: str) -> None:
    assert_sound(evaluate(put(FULL, path, None)))
    unread = evaluate(put(FULL, path, Measured(si=None, typed="about ten")))
    assert_sound(unread)
    assert any(finding.code == "unread" for finding in unread.findings)


CHOSEN: list[tuple[str, Any]] = [
    (field.path.replace("*", "0"), answer)
    for field in FIELDS
    if field.choices is not None and not field.path.startswith(("safety", "leaks"))
    for answer in (*field.choices, None)
]


@pytest.mark.parametrize(("path", "answer"), CHOSEN)
def test_that_every_answer_to_every_question_can_be_assessed(path: str, answer: Any) -> None:
    assert_sound(evaluate(put(FULL, path, answer)))


@settings(max_examples=150, deadline=None)
@given(
    pressures=st.lists(st.floats(-200, 200), min_size=0, max_size=8),
    flows=st.lists(st.floats(0, 5000), min_size=8, max_size=8),
    direction=st.sampled_from([*Direction, None]),
    method=st.sampled_from([*Method, None]),
    metric=st.sampled_from([*Metric, None]),
    target=st.sampled_from([1.0, 10.0, 25.0, 50.0, 400.0]),
)
def test_that_any_readings_are_assessed_without_an_exception(
    pressures: list[float],
    flows: list[float],
    direction: Direction | None,
    method: Method | None,
    metric: Metric | None,
    target: float,
) -> None:
    rows = flow_readings(
        " ".join(f"{p:.6f}" for p in pressures),
        " ".join(f"{q:.6f}" for q in flows[: len(pressures)]),
    )
    test = made_test(
        rows, direction=direction, method=method, metric=metric, target_pressure=pa(str(target))
    )
    assessment = evaluate(job_of(test, duct_surface=ft2("400"), fan_flow=cfm("1,200")))
    assert_sound(assessment)
