"""A fan against a hole, and its drift, against fluids, worked flows and scipy."""

from __future__ import annotations

from datetime import date, timedelta
from math import pi

import pytest
from fluids.flow_meter import flow_meter_discharge
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats
from scipy.constants import foot, inch, minute

from deskapp.physics.field_check import (
    DAYS_PER_YEAR,
    USUAL_TOLERANCE,
    check_against_hole,
    drift,
    share_off,
)
from deskapp.physics.guards import OutOfRangeError

CFM = foot**3 / minute
FOUR_INCH = pi / 4.0 * (4.0 * inch) ** 2
DAYS = [date(2021, 3, 1), date(2022, 2, 20), date(2023, 3, 8), date(2024, 3, 3), date(2025, 2, 27)]
OFF = [0.004, -0.003, 0.012, 0.015, 0.021]


@pytest.mark.parametrize(
    ("coefficient", "pressure", "density", "cfm"),
    # Orifice equation, ASHRAE Handbook—Fundamentals (from memory, not checked against the text),
    # for a round hole of 4 inches, worked outside.
    [
        (0.6, 25.0, 1.2041, 66.4184),
        (0.611, 25.0, 1.2041, 67.6361),
        (0.6, 50.0, 1.2041, 93.9299),
        (0.6, 25.0, 1.0, 72.8819),
    ],
)
def test_that_the_expected_flow_is_the_one_worked_outside(
    coefficient: float, pressure: float, density: float, cfm: float
) -> None:
    found = check_against_hole(FOUR_INCH, pressure, cfm * CFM, 0.07, coefficient, density)
    assert found.expected / CFM == pytest.approx(cfm, abs=6e-5)
    assert found.share_off == pytest.approx(0.0, abs=1e-6)
    assert found.within


def test_that_the_expected_flow_agrees_with_the_fluids_library() -> None:
    diameter = 4.0 * inch
    mass_flow = flow_meter_discharge(
        D=1000.0 * diameter, Do=diameter, P1=101_350.0, P2=101_325.0, rho=1.18, C=0.611
    )
    found = check_against_hole(FOUR_INCH, 25.0, 0.03, density=1.18)
    assert found.expected == pytest.approx(mass_flow / 1.18, rel=1e-9)


@pytest.mark.parametrize(
    ("indicated", "within"),
    # Expected 67.6361 cfm; 7 % of it is 4.7345 cfm.
    [(62.90, False), (62.91, True), (67.6, True), (72.37, True), (72.38, False)],
)
def test_that_the_tolerance_decides_on_both_sides(indicated: float, within: bool) -> None:
    found = check_against_hole(FOUR_INCH, 25.0, indicated * CFM)
    assert found.tolerance == USUAL_TOLERANCE
    assert found.within is within


def test_that_a_share_on_the_tolerance_is_within_it() -> None:
    found = check_against_hole(FOUR_INCH, 25.0, 0.0335)
    again = check_against_hole(FOUR_INCH, 25.0, 0.0335, tolerance=abs(found.share_off))
    assert again.within


def test_that_an_invented_fan_reads_5_percent_high() -> None:
    assert share_off(105.0, 100.0) == pytest.approx(0.05)
    assert share_off(95.0, 100.0) == pytest.approx(-0.05)


def test_that_the_drift_agrees_with_scipy() -> None:
    # Invented checks over four years.
    years = [(day - DAYS[0]).days / DAYS_PER_YEAR for day in DAYS]
    theirs = stats.linregress(years, OFF)
    found = drift(DAYS, OFF)
    assert found.per_year == pytest.approx(theirs.slope, rel=1e-9)
    assert found.at_last == pytest.approx(theirs.intercept + theirs.slope * years[-1], rel=1e-9)
    half = stats.t.ppf(0.975, 3) * theirs.stderr
    assert found.lowest == pytest.approx(theirs.slope - half, rel=1e-9)
    assert found.highest == pytest.approx(theirs.slope + half, rel=1e-9)
    assert found.count == 5


def test_that_two_checks_give_a_slope_without_interval() -> None:
    found = drift([date(2023, 1, 1), date(2024, 1, 1)], [0.0, 0.01])
    assert found.per_year == pytest.approx(0.01 * DAYS_PER_YEAR / 365.0)
    assert found.at_last == pytest.approx(0.01)
    assert found.lowest is found.highest is None


def test_that_a_year_is_the_400th_part_of_400_years() -> None:
    found = drift([date(1601, 1, 1), date(2001, 1, 1)], [0.0, 4.0])
    assert found.per_year == pytest.approx(0.01, rel=1e-12)


@given(st.permutations(range(5)), st.integers(-3000, 3000))
def test_that_neither_order_nor_era_matters(order: list[int], later: int) -> None:
    found = drift(
        [DAYS[place] + timedelta(days=later) for place in order], [OFF[place] for place in order]
    )
    assert found.per_year == pytest.approx(drift(DAYS, OFF).per_year, rel=1e-9)
    assert found.at_last == pytest.approx(drift(DAYS, OFF).at_last, rel=1e-9)


@given(st.floats(1e-4, 1.0), st.floats(1e-4, 1.0), st.floats(0.01, 100.0))
def test_that_the_share_off_does_not_depend_on_the_unit(
    indicated: float, expected: float, scale: float
) -> None:
    scaled = share_off(indicated * scale, expected * scale)
    assert scaled == pytest.approx(share_off(indicated, expected), rel=1e-9, abs=1e-12)


@pytest.mark.parametrize(
    ("arguments", "named"),
    [
        ((0.0, 25.0, 0.03), "area"),
        ((FOUR_INCH, 0.0, 0.03), "pressure"),
        ((FOUR_INCH, 25.0, -0.03), "indicated"),
        ((FOUR_INCH, 25.0, 0.03, 0.6), "tolerance"),
        ((FOUR_INCH, 25.0, 0.03, 0.07, 1.2), "discharge_coefficient"),
        ((FOUR_INCH, 25.0, 0.03, 0.07, 0.6, 0.0), "density"),
        ((FOUR_INCH, 1e308, 0.03), "pressure"),
        ((FOUR_INCH, 25.0, float("nan")), "indicated"),
    ],
)
def test_that_a_check_out_of_range_is_named(arguments: tuple[float, ...], named: str) -> None:
    with pytest.raises(OutOfRangeError, match=named):
        check_against_hole(*arguments)


@pytest.mark.parametrize(
    ("days", "shares", "named"),
    [
        (DAYS[:1], OFF[:1], "number of days"),
        (DAYS[:2], OFF[:1], "number of shares_off"),
        ([DAYS[0], DAYS[0]], OFF[:2], "days"),
        (DAYS[:2], [0.01, float("nan")], r"shares_off\[1\]"),
    ],
)
def test_that_checks_without_a_drift_are_named(
    days: list[date], shares: list[float], named: str
) -> None:
    with pytest.raises(OutOfRangeError, match=named):
        drift(days, shares)
