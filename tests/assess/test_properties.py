"""What must hold for any leakage: order, scale, and the same verdict in any unit."""

from __future__ import annotations

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from multi import curve_test, flow_readings, job_of, made_test, result_of
from typed import pa, readings, typed

from deskapp.assess.evaluate import evaluate
from deskapp.domain.choices import Metric
from deskapp.domain.job import Job
from deskapp.domain.measured import Measured
from deskapp.domain.paths import put
from deskapp.domain.result import Verdict
from deskapp.domain.walk import entries
from deskapp.units.convert import to_unit
from deskapp.units.kinds import Kind

PRESSURES = (15.0, 20.0, 30.0, 40.0, 50.0)
OTHER_UNITS = {"Pa": "inH2O", "cfm": "m3/h", "ft2": "m2", "ft3": "L"}


def spaced(values: list[float] | tuple[float, ...]) -> str:
    return " ".join(f"{value:.6f}" for value in values)


def power_law(coefficient: float, exponent: float) -> str:
    return spaced([coefficient * p**exponent for p in PRESSURES])


@settings(max_examples=60, deadline=None)
@given(coefficient=st.floats(1.0, 100.0), exponent=st.floats(0.52, 0.95))
def test_that_a_curve_finds_the_leakage_it_was_made_from(
    coefficient: float, exponent: float
) -> None:
    rows = flow_readings(spaced(PRESSURES), power_law(coefficient, exponent))
    result = result_of(job_of(curve_test(rows)))
    assert result.exponent == pytest.approx(exponent, abs=1e-5)
    assert to_unit(result.flow or 0, "cfm") == pytest.approx(coefficient * 25**exponent, rel=1e-5)


@settings(max_examples=60, deadline=None)
@given(
    flows=st.lists(st.floats(50.0, 150.0), min_size=5, max_size=5),
    factor=st.floats(0.1, 10.0),
)
def test_that_the_flow_scales_with_the_readings(flows: list[float], factor: float) -> None:
    once = result_of(job_of(curve_test(flow_readings(spaced(PRESSURES), spaced(flows)))))
    more = [factor * flow for flow in flows]
    scaled = result_of(job_of(curve_test(flow_readings(spaced(PRESSURES), spaced(more)))))
    assume(once.flow is not None and scaled.flow is not None)
    assert scaled.flow == pytest.approx(factor * (once.flow or 0), rel=1e-4)


@settings(max_examples=60, deadline=None)
@given(held=st.floats(12.0, 50.0), lower=st.floats(1.0, 300.0), upper=st.floats(1.0, 300.0))
def test_that_more_flow_at_one_pressure_is_more_leakage(
    held: float, lower: float, upper: float
) -> None:
    assume(lower < upper - 1e-3)
    flows = [
        result_of(job_of(made_test(flow_readings(f"{held:.4f}", f"{flow:.4f}")))).flow or 0
        for flow in (lower, upper)
    ]
    assert flows[0] < flows[1]


@settings(max_examples=60, deadline=None)
@given(flow=st.floats(10.0, 300.0), low=st.floats(12.0, 50.0), high=st.floats(12.0, 50.0))
def test_that_the_same_flow_at_a_higher_pressure_is_less_leakage(
    flow: float, low: float, high: float
) -> None:
    assume(low < high - 1e-3)
    flows = [
        result_of(job_of(made_test(flow_readings(f"{held:.4f}", f"{flow:.4f}")))).flow or 0
        for held in (low, high)
    ]
    assert flows[0] > flows[1]


@settings(max_examples=60, deadline=None)
@given(held=st.floats(50.01, 2400.0), flow=st.floats(10.0, 300.0))
def test_that_no_flow_is_drawn_from_more_than_twice_the_target(held: float, flow: float) -> None:
    """The target is 25 Pa; the bound of twice the target is a house rule."""
    job = job_of(made_test(flow_readings(f"{held:.4f}", f"{flow:.4f}")))
    assessment = evaluate(job)
    assert result_of(job).flow is None
    assert "pressure_too_high" in {finding.code for finding in assessment.findings}


def test_that_a_pressure_well_above_the_target_is_remarked_on() -> None:
    """(25 / 36)^0.6 = 0.80; at 40 Pa the factor is 0.75."""
    near = evaluate(job_of(made_test(flow_readings("36", "60"))))
    far = evaluate(job_of(made_test(flow_readings("40", "60"))))
    assert "far_from_target" not in {finding.code for finding in near.findings}
    assert "far_from_target" in {finding.code for finding in far.findings}


@settings(max_examples=60, deadline=None)
@given(total=st.integers(100, 2000), outside=st.integers(100, 2000))
def test_that_a_verdict_never_rests_on_more_to_outside_than_in_all(
    total: int, outside: int
) -> None:
    tests = (
        made_test(flow_readings("25", str(total / 10)), "t1"),
        made_test(flow_readings("25", str(outside / 10)), "t2", metric=Metric.OUTSIDE),
    )
    assessment = evaluate(job_of(*tests))
    result = assessment.test("t2")
    assert result is not None
    stopped = any(finding.code == "outside_above_total" for finding in assessment.findings)
    assert stopped == bool(result.refused) == (outside > total)


def in_other_units(job: Job) -> Job:
    """The same job with every quantity typed in another unit."""
    for path, value in list(entries(job)):
        if isinstance(value, Measured) and value.si is not None and value.unit in OTHER_UNITS:
            unit = OTHER_UNITS[value.unit]
            other = Measured(si=value.si, unit=unit, typed=f"{to_unit(value.si, unit):.12g}")
            job = put(job, path, other)
    return job


@settings(max_examples=40, deadline=None)
@given(signals=st.lists(st.integers(300, 2400), min_size=3, max_size=3))
def test_that_numbers_and_verdict_do_not_depend_on_the_units_typed(signals: list[int]) -> None:
    rows = readings("24.8 25.1 25.0", spaced([signal / 10 for signal in signals]))
    job = job_of(made_test(rows, ring="small", exponent_uncertainty=typed("0.05", Kind.NUMBER)))
    one, other = evaluate(job), evaluate(in_other_units(job))
    first, second = one.systems[0].outcomes[0], other.systems[0].outcomes[0]
    assert first.verdict is second.verdict
    assume(first.measured is not None)
    assert first.measured == pytest.approx(second.measured, rel=1e-9)
    assert first.uncertainty == pytest.approx(second.uncertainty, rel=1e-9)
    assert first.probability == pytest.approx(second.probability, rel=1e-6, abs=1e-9)
    assert first.too_close == second.too_close


@settings(max_examples=40, deadline=None)
@given(half_width=st.floats(0.0, 0.2), signal=st.integers(300, 2400))
def test_that_a_wider_uncertainty_never_moves_the_verdict(half_width: float, signal: int) -> None:
    rows = readings("23.0 23.2 23.1", spaced([signal / 10] * 3))
    sure = job_of(made_test(rows, ring="small", exponent_uncertainty=typed("0", Kind.NUMBER)))
    unsure = put(
        sure,
        "tests.0.setup.exponent_uncertainty",
        Measured(si=half_width, unit="1", typed=f"{half_width}"),
    )
    one, other = evaluate(sure).systems[0], evaluate(unsure).systems[0]
    assert one.verdict is other.verdict is not Verdict.NONE
    assert (one.outcomes[0].measured, one.outcomes[0].margin) == (
        other.outcomes[0].measured,
        other.outcomes[0].margin,
    )
    assert (other.outcomes[0].uncertainty or 0) >= (one.outcomes[0].uncertainty or 0)


def test_that_a_target_twice_as_high_never_has_less_leakage() -> None:
    rows = flow_readings("25 25", "100 101")
    flows = [
        result_of(job_of(made_test(rows, target_pressure=pa(target)))).flow or 0
        for target in ("20", "25", "50", "100")
    ]
    assert flows == sorted(flows)
