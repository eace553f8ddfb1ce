"""Tests in both directions, averaged. Flows are invented; sums by hand."""

from __future__ import annotations

import pytest
from multi import curve_test, flow_readings, found_codes, found_one, job_of, made_test, result_of

from deskapp.domain.choices import Direction
from deskapp.domain.finding import Level
from deskapp.domain.paths import put
from deskapp.units.convert import to_unit

BOTH = Direction.BOTH


def cfm_of(flow: float | None) -> float:
    assert flow is not None
    return to_unit(flow, "cfm")


def test_that_the_result_is_the_mean_of_the_two_means() -> None:
    # Three readings one way and one the other: (100 + 110) / 2, not the mean of all four.
    rows = flow_readings("25 25 25 -25", "99 100 101 110")
    result = result_of(job_of(made_test(rows, direction=BOTH)))
    assert cfm_of(result.flow) == pytest.approx(105.0)
    up, down = result.directions
    assert (up.direction, up.readings) == (Direction.PRESSURIZE, 3)
    assert (down.direction, down.readings) == (Direction.DEPRESSURIZE, 1)
    assert cfm_of(up.flow) == pytest.approx(100.0)
    assert cfm_of(down.flow) == pytest.approx(110.0)
    assert up.spread == pytest.approx(0.02)
    assert [row.index for row in result.readings] == [0, 1, 2, 3]


def test_that_the_sign_is_taken_after_the_baseline() -> None:
    # A baseline of +2 Pa: 27 - 2 = 25 one way, -23 - 2 = -25 the other.
    rows = flow_readings("27 -23", "100 110")
    result = result_of(job_of(made_test(rows, direction=BOTH, baseline="2")))
    assert cfm_of(result.flow) == pytest.approx(105.0)
    assert [one.mean_induced_pressure for one in result.directions] == pytest.approx([25, 25])


def test_that_a_baseline_beyond_a_reading_turns_its_direction() -> None:
    # A baseline of 30 Pa (a strong wind): 55 - 30 = 25 one way, 5 - 30 = -25 the other.
    rows = flow_readings("55 5", "100 110")
    result = result_of(job_of(made_test(rows, direction=BOTH, baseline="30")))
    assert [one.readings for one in result.directions] == [1, 1]
    assert cfm_of(result.flow) == pytest.approx(105.0)


def test_that_a_missing_direction_is_asked_for_and_gives_no_result() -> None:
    job = job_of(made_test(flow_readings("25 25", "100 101"), direction=BOTH))
    finding = found_one(job, "one_direction")
    assert finding.level is Level.STOP
    assert "depressurized" in finding.what
    assert result_of(job).flow is None
    other = put(job, "tests.0.readings", flow_readings("-25 -25", "100 101"))
    assert "pressurized" in found_one(other, "one_direction").what


def test_that_both_directions_draw_two_curves() -> None:
    rows = flow_readings(
        "15 25 35 50 60 -15 -25 -35 -50 -60",
        "57.6 79.2 97.5 121.0 135.8 59.3 81.6 100.4 124.6 139.9",
    )
    job = job_of(curve_test(rows, direction=BOTH))
    result = result_of(job)
    assert result.curve is None
    curves = [one.curve for one in result.directions]
    assert all(curve is not None and len(curve.points) == 5 for curve in curves)
    flows = [curve.flow_at_target for curve in curves if curve]
    assert result.flow == pytest.approx(sum(flow or 0 for flow in flows) / 2)
    assert found_codes(job, Level.STOP) == set()
    readings_of = [point.reading for curve in curves if curve for point in curve.points]
    assert readings_of == list(range(10))


def test_that_the_scatter_of_both_directions_is_combined() -> None:
    rows = flow_readings("25 25 -25 -25", "99 101 108 112")
    result = result_of(job_of(made_test(rows, direction=BOTH)))
    assert result.budget is not None
    repeats = next(row for row in result.budget.rows if row.id == "repeats")
    # By hand: u of means 1 and 2 cfm, scaled to the common mean of 105: 1.05 and 105 * 2 / 110.
    by_hand = (1.05**2 + (105 * 2 / 110) ** 2) ** 0.5 / 2
    assert to_unit(repeats.contribution, "cfm") == pytest.approx(by_hand, rel=1e-6)


def test_that_a_pressure_near_zero_is_told_in_either_direction() -> None:
    job = job_of(made_test(flow_readings("25 -4", "100 40"), direction=BOTH))
    assert "pressure_too_low" in found_codes(job, Level.STOP)
    assert result_of(job).flow is None
