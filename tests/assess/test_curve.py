"""Tests at several pressures, from the job to the curve and what is said about it.

The points are invented. Expected numbers: scipy.stats.linregress and statsmodels OLS with
get_prediction, run apart from the program.
"""

from __future__ import annotations

import math

import pytest
from multi import (
    EIGHT_FLOWS,
    EIGHT_PRESSURES,
    curve_test,
    flow_readings,
    found_codes,
    found_one,
    job_of,
    made_test,
    result_of,
)
from typed import pa, readings

from deskapp.assess.evaluate import evaluate
from deskapp.domain.choices import Direction, Method, Metric
from deskapp.domain.finding import Level
from deskapp.domain.job import Job
from deskapp.domain.paths import put
from deskapp.domain.result import Verdict
from deskapp.domain.result_parts import CurveResult
from deskapp.units.convert import to_unit


def eight_points() -> Job:
    return job_of(curve_test(flow_readings(EIGHT_PRESSURES, EIGHT_FLOWS)))


def curve_of(job: Job) -> CurveResult:
    curve = result_of(job).curve
    assert curve is not None
    return curve


def in_cfm(flow: float | None) -> float:
    assert flow is not None
    return to_unit(flow, "cfm")


def test_that_the_curve_is_the_one_of_ordinary_least_squares() -> None:
    curve = curve_of(eight_points())
    assert curve.exponent == pytest.approx(0.60558836, abs=1e-8)
    assert in_cfm(curve.coefficient) == pytest.approx(14.34533155, abs=1e-7)
    assert curve.r_squared == pytest.approx(0.99984236, abs=1e-8)
    assert curve.exponent_error == pytest.approx(0.00310432, abs=1e-8)
    assert curve.log_coefficient_error == pytest.approx(0.01065693, abs=1e-8)
    assert curve.exponent_low == pytest.approx(0.5979923, abs=1e-7)
    assert curve.exponent_high == pytest.approx(0.6131844, abs=1e-7)
    assert in_cfm(curve.coefficient_low) == pytest.approx(13.976090, abs=1e-6)
    assert in_cfm(curve.coefficient_high) == pytest.approx(14.724329, abs=1e-6)
    assert in_cfm(curve.flow_at_target) == pytest.approx(100.75968, abs=1e-5)
    assert in_cfm(curve.flow_low) == pytest.approx(100.42836, abs=1e-5)
    assert in_cfm(curve.flow_high) == pytest.approx(101.09209, abs=1e-5)
    assert in_cfm(curve.prediction_low) == pytest.approx(99.85903, abs=1e-5)
    assert in_cfm(curve.prediction_high) == pytest.approx(101.66846, abs=1e-5)
    assert curve.log_error == pytest.approx(0.00134602, abs=1e-8)


def test_that_the_result_is_the_flow_of_the_curve_at_the_target() -> None:
    result = result_of(eight_points())
    assert in_cfm(result.flow) == pytest.approx(100.75968, abs=1e-5)
    assert result.exponent == pytest.approx(0.60558836, abs=1e-8)
    assert result.method is Method.SEVERAL_PRESSURES
    assert (result.mean_induced_pressure, result.spread) == (None, None)
    assert result.highest_pressure == pytest.approx(50.0)
    assert not result.extrapolated


def test_that_the_table_of_readings_stays_complete() -> None:
    result = result_of(eight_points())
    assert len(result.readings) == 8
    for row, point in zip(result.readings, result.curve.points, strict=True):  # type: ignore[union-attr]
        assert row.index == point.reading
        assert row.target_factor == pytest.approx((25 / point.pressure) ** 0.60558836)
        assert row.flow_at_target == pytest.approx((row.actual_flow or 0) * row.target_factor)
        assert point.flow / point.curve_flow - 1 == pytest.approx(point.residual_percent / 100)


def test_that_the_curve_to_be_drawn_reaches_from_end_to_end_with_its_interval() -> None:
    curve = curve_of(eight_points())
    assert (curve.band[0].pressure, curve.band[-1].pressure) == pytest.approx((15.0, 50.0))
    for place in curve.band:
        assert place.flow == pytest.approx(curve.coefficient * place.pressure**curve.exponent)
        assert place.low is not None
        assert place.high is not None
        assert place.low < place.flow < place.high


def test_that_the_steps_lead_to_the_result() -> None:
    result = result_of(eight_points())
    last = next(step for step in result.steps if "from the curve" in step.label)
    assert last.value == result.flow
    by_symbol = {item.symbol: item.value for item in last.inputs}
    assert by_symbol["C"] * by_symbol["Pₜ"] ** by_symbol["n"] == pytest.approx(result.flow)


def test_that_fan_signals_of_a_ring_give_the_hand_worked_curve() -> None:
    # Invented; by hand from flows of 9.5 * sqrt(signal): n 0.617, 121.3 cfm at 50 Pa.
    rows = readings("15 25 35 50 60", "36.8 69.5 105.3 162.2 204.3")
    job = job_of(curve_test(rows, ring="small", target_pressure=pa("50")))
    assert curve_of(job).exponent == pytest.approx(0.617, abs=5e-4)
    assert in_cfm(result_of(job).flow) == pytest.approx(121.3, abs=0.05)


def test_that_depressurizing_gives_the_same_curve() -> None:
    minus = " ".join(f"-{p}" for p in EIGHT_PRESSURES.split())
    rows = flow_readings(minus, EIGHT_FLOWS)
    job = job_of(curve_test(rows, direction=Direction.DEPRESSURIZE))
    assert result_of(job).flow == pytest.approx(result_of(eight_points()).flow)


def test_that_the_baseline_is_taken_off_every_point() -> None:
    shifted = " ".join(str(float(p) + 2.0) for p in EIGHT_PRESSURES.split())
    job = job_of(curve_test(flow_readings(shifted, EIGHT_FLOWS), baseline="2"))
    assert result_of(job).flow == pytest.approx(result_of(eight_points()).flow)


def test_that_a_point_off_the_line_is_named_and_kept() -> None:
    flows = EIGHT_FLOWS.replace("112.1", "125.0")
    job = job_of(curve_test(flow_readings(EIGHT_PRESSURES, flows)))
    finding = found_one(job, "point_off_line")
    assert finding.path == "tests.0.readings.3.duct_pressure"
    assert "above the curve" in finding.what
    curve = curve_of(job)
    assert [point.is_off for point in curve.points].count(True) == 1
    assert curve.points[3].is_off
    assert len(curve.points) == 8
    assert result_of(job).flow is not None


@pytest.mark.parametrize(
    ("pressures", "flows", "code"),
    [
        ("15 25 50", "57.6 79.2 121.0", "curve_too_few_points"),
        ("20 22 24 26 28", "63.5 67.3 71.0 74.4 77.8", "curve_narrow_span"),
        ("15 20 25 35 50", "60.0 95.0 80.0 130.0 115.0", "curve_low_r_squared"),
    ],
)
def test_that_a_weak_curve_is_told_and_still_gives_a_result(
    pressures: str, flows: str, code: str
) -> None:
    job = job_of(curve_test(flow_readings(pressures, flows)))
    assert code in found_codes(job, Level.CHECK)
    assert result_of(job).flow is not None


@pytest.mark.parametrize(
    ("pressures", "flows", "code"),
    [
        ("25", "100", "curve_too_few_points"),
        ("25 25 25 25 25", "100 101 99 100 100", "curve_one_pressure"),
        ("15 20 25 30 0", "74 87 100 112 10", "curve_not_a_size"),
        ("15 20 25 30 35", "74 87 100 112 0", "curve_not_a_size"),
        ("15 20 25 30 35", "1 10 100 1000 10000", "curve_absurd_exponent"),
        ("15 20 25 30 35 40", "10 13.4 16.7 20.1 23.3 80", "point_off_line"),
        ("15 20 25 30 35 40", "10 14.8 19.8 25.4 31 37.1", "curve_exponent_high"),
        ("15 20 25 30 35 40", "90 96 100 104 107 110", "curve_exponent_low"),
        ("4 5 6 7 8", "20 23 25.7 28.3 30.6", "pressure_too_low"),
        ("15 20 25 -30 35", "74 87 100 112 124", "wrong_direction"),
    ],
)
def test_that_points_no_curve_can_pass_are_explained_and_give_no_result(
    pressures: str, flows: str, code: str
) -> None:
    job = job_of(curve_test(flow_readings(pressures, flows)))
    assert code in found_codes(job)
    if code != "point_off_line":
        assert code in found_codes(job, Level.STOP)
        assert result_of(job).flow is None
        assert evaluate(job).verdict is Verdict.NONE
    for finding in evaluate(job).findings:
        if finding.code == code:
            assert finding.what
            assert finding.mend


def test_that_mixed_signs_without_a_direction_are_explained() -> None:
    job = job_of(curve_test(flow_readings("15 20 25 -30 35", "74 87 100 112 124"), direction=None))
    assert "curve_mixed_signs" in found_codes(job, Level.STOP)
    assert found_one(job, "curve_mixed_signs").path == "tests.0.readings.3.duct_pressure"
    assert result_of(job).flow is None


@pytest.mark.parametrize(
    ("pressures", "flows", "field"),
    [
        ("15 20 0 30 35", "74 87 100 112 124", "duct_pressure"),
        ("15 20 25 30 35", "74 87 0 112 124", "indicated_flow"),
    ],
)
def test_that_a_zero_in_a_curve_is_told_where_it_stands(
    pressures: str, flows: str, field: str
) -> None:
    job = job_of(curve_test(flow_readings(pressures, flows)))
    finding = found_one(job, "curve_not_a_size")
    assert finding.path == f"tests.0.readings.2.{field}"
    assert finding.what.startswith("Reading 3 (test 1)")


def test_that_scatter_is_told_at_the_reading_farthest_off() -> None:
    job = job_of(curve_test(flow_readings("15 20 25 30 35 40", "74 87 100 150 124 134")))
    finding = found_one(job, "curve_low_r_squared")
    assert finding.path == "tests.0.readings.3.duct_pressure"
    assert "reading 4" in finding.what.lower()


def test_that_an_exponent_just_outside_is_a_check_where_chance_explains_it() -> None:
    # Exponent near 0.49 with wide scatter: its interval reaches above 0.5.
    flows = "75.0 84.0 97.0 104.0 112.0 121.0"
    job = job_of(curve_test(flow_readings("15 20 25 30 35 40", flows)))
    curve = curve_of(job)
    assert curve.exponent < 0.5
    assert curve.exponent_high is not None
    assert curve.exponent_high > 0.5
    assert "curve_exponent_low" in found_codes(job, Level.CHECK)
    assert result_of(job).flow is not None


def test_that_an_exponent_rare_among_ducts_is_a_check_and_of_a_house_none() -> None:
    rows = flow_readings("15 20 25 30 35 40", "50 63 75 86.5 97.5 108.5")
    job = job_of(curve_test(rows))
    assert 0.75 < curve_of(job).exponent < 1.0
    assert "curve_exponent_unusual" in found_codes(job, Level.CHECK)
    assert result_of(job).flow is not None
    house = job_of(curve_test(rows, metric=Metric.ENVELOPE, system=""))
    assert "curve_exponent_unusual" not in found_codes(house)


def test_that_a_low_point_is_told_and_stays_in() -> None:
    job = job_of(
        curve_test(flow_readings(f"8 {EIGHT_PRESSURES}", f"{14.345 * 8**0.6056:.2f} {EIGHT_FLOWS}"))
    )
    assert found_one(job, "point_low").path == "tests.0.readings.0.duct_pressure"
    assert len(curve_of(job).points) == 9


def test_that_a_curve_carried_up_to_the_target_says_how_sure_it_is() -> None:
    job = job_of(curve_test(flow_readings(EIGHT_PRESSURES, EIGHT_FLOWS), target_pressure=pa("100")))
    result, curve = result_of(job), curve_of(job)
    assert result.extrapolated
    assert result.flow_low == curve.flow_low
    assert result.flow_high == curve.flow_high
    # With k = 2 it reaches the upper end of the 95 % interval of the curve.
    above = (curve.flow_high or 0.0) - (result.flow or 0.0)
    assert result.extrapolation_uncertainty == pytest.approx(above, rel=1e-6)
    finding = found_one(job, "extrapolated")
    assert "50.0\N{NO-BREAK SPACE}Pa" in finding.what
    assert "k = 2" in finding.allowed


def test_that_a_target_below_every_reading_is_told() -> None:
    job = job_of(curve_test(flow_readings("30 35 40 45 50", "112.1 124.0 133.8 144.1 153.2")))
    assert "below every reading" in found_one(job, "target_below_points").what
    assert result_of(job).flow is not None


def test_that_a_reading_without_a_flow_is_left_out_and_told() -> None:
    job = put(eight_points(), "tests.0.readings.2.indicated_flow", None)
    assert "reading_incomplete" in found_codes(job, Level.CHECK)
    assert len(curve_of(job).points) == 7
    assert result_of(job).flow is not None


def test_that_an_older_test_without_a_method_is_taken_at_one_pressure() -> None:
    rows = flow_readings("24.2", "98")
    assert result_of(job_of(made_test(rows))).method is Method.SINGLE_PRESSURE
    assert result_of(job_of(made_test(rows))).curve is None


def test_that_the_sealed_ducts_pass_by_the_flow_of_the_curve() -> None:
    flows = " ".join(str(round(float(q) * 0.7, 2)) for q in EIGHT_FLOWS.split())
    job = job_of(curve_test(flow_readings(EIGHT_PRESSURES, flows)))
    outcome = evaluate(job).systems[0].outcomes[0]
    assert outcome.verdict is Verdict.PASS
    assert outcome.measured == pytest.approx(70.53, abs=0.02)


def test_that_twice_the_flow_doubles_the_coefficient_and_keeps_the_exponent() -> None:
    doubled = " ".join(str(2 * float(q)) for q in EIGHT_FLOWS.split())
    twice = curve_of(job_of(curve_test(flow_readings(EIGHT_PRESSURES, doubled))))
    once = curve_of(eight_points())
    assert twice.coefficient == pytest.approx(2 * once.coefficient)
    assert twice.exponent == pytest.approx(once.exponent)


def test_that_a_curve_through_two_points_claims_no_interval() -> None:
    job = job_of(curve_test(flow_readings("15 50", "57.6 121.0")))
    curve = curve_of(job)
    assert (curve.flow_low, curve.exponent_low, curve.log_error) == (None, None, None)
    assert math.isclose(curve.exponent, math.log(121.0 / 57.6) / math.log(50 / 15))
    repeats = next(row for row in result_of(job).budget.rows if row.id == "repeats")  # type: ignore[union-attr]
    assert repeats.is_assumed


def test_that_leakage_to_outside_takes_a_curve_as_well() -> None:
    rows = flow_readings(EIGHT_PRESSURES, EIGHT_FLOWS)
    job = job_of(curve_test(rows, metric=Metric.OUTSIDE, house_pressure=pa("25")))
    assert in_cfm(result_of(job).flow) == pytest.approx(100.76, abs=0.01)
