"""The budget of a leakage result against worked parts, the uncertainties library and trials."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.constants import foot, minute
from uncertainties import ufloat

from deskapp.physics.guards import OutOfRangeError
from deskapp.physics.leakage_budget import (
    BudgetPart,
    Estimate,
    LeakageCase,
    flow_budget,
)
from deskapp.physics.leakage_curve import fit, flow_at
from deskapp.physics.uncertainty import Budget, from_half_width

CFM = foot**3 / minute

# Invented: 98 cfm at 24.2 Pa; accuracies as bounds, any place inside as likely.
WORKED = LeakageCase(
    flow=98.0 * CFM,
    target_pressure=25.0,
    reading=Estimate(24.2, from_half_width(0.25)),
    exponent=Estimate(0.6, from_half_width(0.05)),
    calibration=from_half_width(0.05),
)
# Invented: every part present, depressurizing.
FULL = replace(
    WORKED,
    reading=Estimate(-24.6, 0.15),
    baseline=Estimate(-0.4, 0.2),
    signal=Estimate(32.4, 0.3),
    signal_exponent=0.48,
    air_density=Estimate(1.05, 0.012),
    repeats=0.4 * CFM,
    residual_flow=0.6 * CFM,
)


def parts(found: Budget) -> dict[str, float]:
    return {row.name: row.contribution / abs(found.value) for row in found.rows}


def by_hand(case: LeakageCase, x: dict[BudgetPart, Any]) -> Any:
    """The model written out once more, for numbers or arrays of any sort."""
    flow = case.flow * x[BudgetPart.FAN_CALIBRATION]
    if case.signal is not None:
        flow = flow * (x[BudgetPart.FAN_SIGNAL] / case.signal.value) ** case.signal_exponent
    if case.air_density is not None:
        flow = flow / (x[BudgetPart.AIR_DENSITY] / case.air_density.value) ** 0.5
    flow = flow + x[BudgetPart.REPEATS] + x[BudgetPart.RESIDUAL_FLOW]
    induced = x[BudgetPart.DUCT_PRESSURE] - x[BudgetPart.BASELINE]
    squared = case.target_pressure**2 / (induced * induced)
    return flow * squared ** (x[BudgetPart.EXPONENT] / 2.0)


def inputs_of(case: LeakageCase) -> dict[BudgetPart, Estimate]:
    return {
        BudgetPart.FAN_CALIBRATION: Estimate(1.0, case.calibration),
        BudgetPart.FAN_SIGNAL: case.signal or Estimate(1.0),
        BudgetPart.AIR_DENSITY: case.air_density or Estimate(1.0),
        BudgetPart.REPEATS: Estimate(0.0, case.repeats),
        BudgetPart.RESIDUAL_FLOW: Estimate(0.0, case.residual_flow),
        BudgetPart.DUCT_PRESSURE: case.reading,
        BudgetPart.BASELINE: case.baseline,
        BudgetPart.EXPONENT: case.exponent,
    }


def test_that_the_parts_are_those_worked_outside() -> None:
    # Worked with the uncertainties library.
    found = flow_budget(WORKED)
    assert found.value / CFM == pytest.approx(99.9311, abs=5.1e-5)
    assert found.standard_uncertainty / CFM == pytest.approx(2.90836, abs=5.1e-6)
    assert found.standard_uncertainty / found.value == pytest.approx(0.02910, abs=5.1e-6)
    share = parts(found)
    assert share[BudgetPart.FAN_CALIBRATION] == pytest.approx(0.02887, abs=5.1e-6)
    assert share[BudgetPart.DUCT_PRESSURE] == pytest.approx(0.00358, abs=5.1e-6)
    assert share[BudgetPart.EXPONENT] == pytest.approx(0.00094, abs=5.1e-6)
    assert sum(row.share for row in found.rows) == pytest.approx(1.0, rel=1e-12)


def test_that_the_parts_follow_the_written_formula() -> None:
    # (u(Q25)/Q25)^2 = (u(Q)/Q)^2 + (n u(P)/P)^2 + (ln(25/P) u(n))^2, law of propagation of the
    # GUM on the power law.
    found = flow_budget(WORKED)
    share = parts(found)
    assert share[BudgetPart.DUCT_PRESSURE] == pytest.approx(
        0.6 * from_half_width(0.25) / 24.2, rel=1e-9
    )
    by_exponent = np.log(25.0 / 24.2) * from_half_width(0.05)
    assert share[BudgetPart.EXPONENT] == pytest.approx(by_exponent, rel=1e-9)


@pytest.mark.parametrize("case", [WORKED, FULL], ids=["flow read", "every part"])
def test_that_the_budget_agrees_with_the_uncertainties_library(case: LeakageCase) -> None:
    variables = {
        part: ufloat(one.value, one.standard_uncertainty) if one.standard_uncertainty else one.value
        for part, one in inputs_of(case).items()
    }
    found, theirs = flow_budget(case), by_hand(case, variables)
    assert found.value == pytest.approx(theirs.nominal_value, rel=1e-12)
    assert found.standard_uncertainty == pytest.approx(theirs.std_dev, rel=1e-9)
    slopes = {row.name: row.sensitivity for row in found.rows}
    for variable, slope in theirs.derivatives.items():
        name = next(part for part, one in variables.items() if one is variable)
        assert slopes[name] == pytest.approx(slope, rel=1e-9)


def test_that_a_monte_carlo_run_finds_the_same_budget() -> None:
    # ISO/IEC Guide 98-3, supplement 1: 400 000 trials of every part, normally distributed.
    generator = np.random.default_rng(3)
    drawn = {
        part: generator.normal(one.value, one.standard_uncertainty, 400_000)
        for part, one in inputs_of(FULL).items()
    }
    trials = by_hand(FULL, drawn)
    found = flow_budget(FULL)
    assert found.value == pytest.approx(float(np.mean(trials)), rel=1e-3)
    assert found.standard_uncertainty == pytest.approx(float(np.std(trials)), rel=5e-3)
    covered = float(np.mean(np.abs(trials - found.value) <= found.expanded_uncertainty))
    assert covered == pytest.approx(0.954, abs=0.003)


def test_that_each_part_has_its_row_and_a_flow_read_has_no_signal() -> None:
    assert {row.name for row in flow_budget(FULL).rows} == set(BudgetPart)
    rows = [row.name for row in flow_budget(WORKED).rows]
    assert BudgetPart.FAN_SIGNAL not in rows
    assert BudgetPart.AIR_DENSITY not in rows


def test_that_a_target_that_was_held_owes_nothing_to_the_exponent() -> None:
    held = replace(WORKED, reading=Estimate(25.0, 0.1))
    share = {row.name: row.share for row in flow_budget(held).rows}
    assert share[BudgetPart.EXPONENT] == pytest.approx(0.0, abs=1e-12)


@given(st.floats(10.0, 24.0), st.floats(0.001, 0.9))
def test_that_the_exponent_matters_more_the_further_the_target_is(
    induced: float, nearer: float
) -> None:
    def share_at(pressure: float) -> float:
        return parts(flow_budget(replace(WORKED, reading=Estimate(pressure, 0.1))))[
            BudgetPart.EXPONENT
        ]

    assert share_at(induced) > share_at(induced + nearer)


@given(st.floats(0.001, 1000.0))
def test_that_the_relative_budget_does_not_depend_on_the_unit_of_flow(scale: float) -> None:
    scaled = replace(
        FULL,
        flow=FULL.flow * scale,
        repeats=FULL.repeats * scale,
        residual_flow=FULL.residual_flow * scale,
    )
    here, there = flow_budget(FULL), flow_budget(scaled)
    expected = here.standard_uncertainty / here.value
    assert there.standard_uncertainty / there.value == pytest.approx(expected, rel=1e-9)
    assert [row.share for row in there.rows] == pytest.approx(
        [row.share for row in here.rows], rel=1e-6, abs=1e-12
    )


def test_that_depressurizing_has_the_budget_of_pressurizing() -> None:
    turned = replace(FULL, reading=Estimate(24.6, 0.15), baseline=Estimate(0.4, 0.2))
    assert flow_budget(turned).standard_uncertainty == pytest.approx(
        flow_budget(FULL).standard_uncertainty, rel=1e-12
    )


def test_that_a_signal_counts_half_when_the_exponent_of_the_ring_is_not_given() -> None:
    # Pressure difference device, exponent 0.5: 1 % of signal is 0.5 % of flow.
    share = parts(flow_budget(replace(WORKED, signal=Estimate(32.4, 0.324))))
    assert share[BudgetPart.FAN_SIGNAL] == pytest.approx(0.005, rel=1e-9)


def test_that_no_leakage_at_all_still_has_an_uncertainty() -> None:
    found = flow_budget(replace(WORKED, flow=0.0, repeats=0.5 * CFM))
    assert found.value == 0.0
    assert found.standard_uncertainty == pytest.approx(0.5 * CFM * (25.0 / 24.2) ** 0.6, rel=1e-9)


def test_that_a_curve_brings_the_error_of_its_fit() -> None:
    # Invented readings; the fit leaves 0.134602 % at 25 Pa (worked with scipy), the gauge 0.6 % of
    # a quarter pascal in 25 Pa.
    pressures = [15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0]
    flows = [74.2, 87.6, 100.9, 112.1, 124.0, 133.8, 144.1, 153.2]
    curve = fit(pressures, [flow * CFM for flow in flows])
    at_target = flow_at(curve, 25.0)
    assert at_target.log_error is not None
    found = flow_budget(
        LeakageCase(
            flow=at_target.flow,
            target_pressure=25.0,
            reading=Estimate(25.0, from_half_width(0.25)),
            exponent=Estimate(curve.exponent),
            calibration=0.0,
            repeats=at_target.flow * at_target.log_error,
        )
    )
    gauge = curve.exponent * from_half_width(0.25) / 25.0
    expected = (0.00134602**2 + gauge**2) ** 0.5
    assert found.standard_uncertainty / found.value == pytest.approx(expected, rel=1e-5)


@pytest.mark.parametrize(
    ("change", "named"),
    [
        ({"flow": -0.01}, "flow"),
        ({"flow": float("nan")}, "flow"),
        ({"target_pressure": 0.0}, "target_pressure"),
        ({"reading": Estimate(0.0)}, "induced_pa"),
        ({"reading": Estimate(24.0, -0.1)}, "standard_uncertainty of duct_pressure"),
        ({"baseline": Estimate(1e308)}, "baseline"),
        ({"exponent": Estimate(1.3)}, "exponent"),
        ({"calibration": -0.1}, "standard_uncertainty of fan_calibration"),
        ({"signal": Estimate(0.0, 0.1)}, "signal"),
        ({"repeats": float("inf")}, "standard_uncertainty of repeats"),
    ],
)
def test_that_a_case_out_of_range_is_named(change: dict[str, Any], named: str) -> None:
    with pytest.raises(OutOfRangeError, match=named):
        flow_budget(replace(WORKED, **change))
