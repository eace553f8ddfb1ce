"""Budgets against the uncertainties library, analytic slopes, Monte Carlo and a published one."""

from __future__ import annotations

from collections.abc import Callable
from math import inf, log, nan
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from deskapp.physics.guards import OutOfRangeError, require_exponent, require_not_negative
from deskapp.physics.uncertainty import (
    Input,
    accuracy_half_width,
    budget,
    combined,
    from_half_width,
    of_mean,
)

Model = Callable[[dict[str, Any]], Any]

values = st.floats(0.1, 100.0)
small = st.floats(0.001, 0.05)


def power_law(x: dict[str, Any]) -> Any:
    return x["flow"] * (25.0 / x["pressure"]) ** x["exponent"] / x["area"]


def with_uncertainties(model: Model, inputs: list[Input]) -> tuple[Any, dict[str, Any]]:
    """Result of the uncertainties library and its variables by name."""
    variables = {one.name: ufloat(one.value, one.standard_uncertainty) for one in inputs}
    return model(variables), variables


@given(
    st.tuples(values, values, st.floats(0.5, 1.0), values),
    st.lists(small, min_size=4, max_size=4),
)
def test_that_a_budget_agrees_with_the_uncertainties_library(
    measured: tuple[float, float, float, float], shares: list[float]
) -> None:
    names = ("flow", "pressure", "exponent", "area")
    inputs = [
        Input(name, value, value * share)
        for name, value, share in zip(names, measured, shares, strict=True)
    ]
    ours = budget(power_law, inputs)
    theirs, variables = with_uncertainties(power_law, inputs)
    assert ours.value == pytest.approx(theirs.nominal_value, rel=1e-12)
    assert ours.standard_uncertainty == pytest.approx(theirs.std_dev, rel=1e-9, abs=1e-15)
    for row in ours.rows:
        slope = theirs.derivatives[variables[row.name]]
        assert row.sensitivity == pytest.approx(slope, rel=1e-9, abs=1e-10 * abs(ours.value))


def test_that_the_slopes_are_the_analytic_ones() -> None:
    inputs = [
        Input("flow", 98.0, 2.8),
        Input("pressure", 24.2, 0.14),
        Input("exponent", 0.6, 0.03),
        Input("area", 20.0, 0.1),
    ]
    found = budget(power_law, inputs)
    analytic = {
        "flow": found.value / 98.0,
        "pressure": -0.6 * found.value / 24.2,
        "exponent": log(25.0 / 24.2) * found.value,
        "area": -found.value / 20.0,
    }
    for row in found.rows:
        assert row.sensitivity == pytest.approx(analytic[row.name], rel=1e-10)


def test_that_the_end_gauge_of_the_guide_has_its_printed_budget() -> None:
    # ISO/IEC Guide 98-3:2008 (GUM), H.1, end-gauge calibration: 25, 9.7, 2.9 and 16.6 nm make
    # 32 nm; from memory, not checked against the text. Lengths in nm, temperatures in °C.
    length = 50_000_623.0

    def gauge(x: dict[str, float]) -> float:
        expansion = x["coefficients"] * x["temperature"] + x["standard"] * x["difference"]
        return x["length"] + x["comparison"] - length * expansion

    inputs = [
        Input("length", length, 25.0),
        Input("comparison", 215.0, 9.7),
        Input("coefficients", 0.0, from_half_width(1e-6)),
        Input("difference", 0.0, from_half_width(0.05)),
        Input("standard", 11.5e-6, 1.2e-6),
        Input("temperature", -0.1, 0.41),
    ]
    found = budget(gauge, inputs)
    parts = {row.name: row.contribution for row in found.rows}
    assert round(parts["length"]) == 25
    assert round(parts["comparison"], 1) == 9.7
    assert round(parts["coefficients"], 1) == 2.9
    assert round(parts["difference"], 1) == 16.6
    assert parts["standard"] == pytest.approx(0.0, abs=1e-6)
    assert parts["temperature"] == pytest.approx(0.0, abs=1e-6)
    assert round(found.standard_uncertainty) == 32


def test_that_a_monte_carlo_run_finds_the_same_uncertainty() -> None:
    # ISO/IEC Guide 98-3, supplement 1, with rectangular inputs; 400 000 trials.
    widths = {"flow": 4.9, "pressure": 0.25, "exponent": 0.05, "area": 0.2}
    middle = {"flow": 98.0, "pressure": 24.2, "exponent": 0.6, "area": 20.0}
    inputs = [Input(name, middle[name], from_half_width(widths[name])) for name in middle]
    generator = np.random.default_rng(2)
    drawn = {
        name: generator.uniform(middle[name] - widths[name], middle[name] + widths[name], 400_000)
        for name in middle
    }
    trials = power_law(drawn)
    found = budget(power_law, inputs)
    assert found.standard_uncertainty == pytest.approx(float(np.std(trials)), rel=5e-3)
    assert found.value == pytest.approx(float(np.mean(trials)), rel=1e-3)
    covered = np.mean(np.abs(trials - found.value) <= found.expanded_uncertainty)
    # Mostly one rectangular input: k = 2 covers more than the 95 % of a normal distribution.
    assert 0.95 < float(covered) <= 1.0


@given(st.lists(st.tuples(values, st.floats(0.001, 0.5)), min_size=1, max_size=6))
def test_that_the_shares_sum_to_one(pairs: list[tuple[float, float]]) -> None:
    inputs = [
        Input(f"x{place}", value, value * share) for place, (value, share) in enumerate(pairs)
    ]
    found = budget(lambda x: sum(x.values()), inputs)
    assert sum(row.share for row in found.rows) == pytest.approx(1.0, rel=1e-12)
    assert combined([row.contribution for row in found.rows]) == found.standard_uncertainty
    assert found.expanded_uncertainty == 2.0 * found.standard_uncertainty


def test_that_exact_inputs_leave_no_uncertainty_and_no_share() -> None:
    found = budget(lambda x: 2.0 * x["a"], [Input("a", 3.0, 0.0)])
    assert (found.value, found.standard_uncertainty) == (6.0, 0.0)
    assert found.rows[0].share == 0.0
    assert found.rows[0].sensitivity == pytest.approx(2.0)


def test_that_a_result_of_zero_has_an_uncertainty_too() -> None:
    found = budget(lambda x: x["a"] - x["b"], [Input("a", 1.0, 0.1), Input("b", 1.0, 0.1)])
    assert found.value == 0.0
    assert found.standard_uncertainty == pytest.approx(0.1 * 2.0**0.5)


def test_that_the_slope_is_found_on_one_side_where_the_other_does_not_exist() -> None:
    def at_both_ends(x: dict[str, float]) -> float:
        require_not_negative("flow", x["flow"])
        require_exponent("exponent", x["exponent"])
        return x["flow"] * 3.0 + 2.0 ** x["exponent"]

    found = budget(at_both_ends, [Input("flow", 0.0, 0.01), Input("exponent", 1.0, 0.05)])
    assert found.rows[0].sensitivity == pytest.approx(3.0, rel=1e-9)
    assert found.rows[1].sensitivity == pytest.approx(2.0 * log(2.0), rel=1e-9)


def test_that_a_budget_without_inputs_is_a_bare_number() -> None:
    found = budget(lambda _: 4.0, [])
    assert (found.value, found.standard_uncertainty, found.rows) == (4.0, 0.0, ())


@pytest.mark.parametrize(
    ("inputs", "named"),
    [
        ([Input("a", 1.0, -0.1)], "standard_uncertainty of a"),
        ([Input("a", 1.0, nan)], "standard_uncertainty of a"),
        ([Input("a", nan, 0.1)], "a is nan"),
        ([Input("a", inf, 0.1)], "a is inf"),
        ([Input("a", 1e308, 0.1)], "a is 1e"),
        ([Input("a", 1.0, 0.1), Input("a", 2.0, 0.1)], "names of inputs"),
    ],
)
def test_that_an_input_without_sense_is_named(inputs: list[Input], named: str) -> None:
    with pytest.raises(OutOfRangeError, match=named):
        budget(lambda x: x["a"], inputs)


def test_that_a_result_without_a_size_is_named() -> None:
    with pytest.raises(OutOfRangeError, match="result of model"):
        budget(lambda x: x["a"] * nan, [Input("a", 1.0, 0.1)])


def test_that_a_model_that_does_not_hold_says_why() -> None:
    def never(x: dict[str, float]) -> float:
        require_exponent("exponent", x["a"])
        return x["a"]

    with pytest.raises(OutOfRangeError, match="exponent"):
        budget(never, [Input("a", 3.0, 0.1)])


@pytest.mark.parametrize("factor", [0.5, 5.0, nan])
def test_that_a_coverage_factor_out_of_range_is_named(factor: float) -> None:
    with pytest.raises(OutOfRangeError, match="coverage_factor"):
        budget(lambda x: x["a"], [Input("a", 1.0, 0.1)], factor)


def test_that_bounds_have_the_deviation_of_evenly_spread_values() -> None:
    # A fine even grid over the bounds: variance a^2 / 3.
    grid = np.linspace(-0.25, 0.25, 100_001)
    assert from_half_width(0.25) == pytest.approx(float(np.std(grid)), rel=1e-4)


def test_that_the_mean_of_repeats_is_known_better_than_one() -> None:
    # NIST Statistical Reference Datasets, NumAcc1 has deviation 1 exactly (values from memory).
    assert of_mean([10_000_001.0, 10_000_003.0, 10_000_002.0]) == pytest.approx(3.0**-0.5)


@pytest.mark.parametrize(
    ("reading", "half_width"),
    # Gauge of 1 % of reading or 0.25 Pa, whichever is greater: ANSI/RESNET/ICC 380, from memory,
    # not checked against the text.
    [(10.0, 0.25), (25.0, 0.25), (50.0, 0.5), (250.0, 2.5)],
)
def test_that_the_greater_accuracy_counts(reading: float, half_width: float) -> None:
    assert accuracy_half_width(reading, 0.01, 0.25) == pytest.approx(half_width)


@pytest.mark.parametrize("parts", [[], [0.1, -0.1], [nan]])
def test_that_contributions_without_sense_are_named(parts: list[float]) -> None:
    with pytest.raises(OutOfRangeError, match="contributions"):
        combined(parts)
