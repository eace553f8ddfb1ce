"""Probability of conformity against scipy, a published example and worked values."""

from __future__ import annotations

from math import inf, nan
from typing import TYPE_CHECKING

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from deskapp.physics.conformity import (
    probability_of_conformity,
    too_close,
)
from deskapp.physics.guards import OutOfRangeError

if TYPE_CHECKING:
    from collections.abc import Callable

UNITS = pint.UnitRegistry()

values = st.floats(-100.0, 100.0)
uncertainties = st.floats(0.01, 50.0)


@pytest.mark.parametrize(
    ("value", "uncertainty", "limit", "probability"),
    # Worked outside with scipy.stats.norm.
    [
        (3.8, 0.1, 4.0, 0.977250),
        (3.9, 0.1, 4.0, 0.841345),
        (4.0, 0.1, 4.0, 0.5),
        (96.0, 3.0, 100.0, 0.908789),
        (104.0, 3.0, 100.0, 0.091211),
    ],
)
def test_that_the_probability_is_the_worked_one(
    value: float, uncertainty: float, limit: float, probability: float
) -> None:
    ours = probability_of_conformity(limit, value, uncertainty)
    assert ours == pytest.approx(probability, abs=5.1e-7)


def test_that_the_breakdown_voltage_of_the_guide_conforms_with_92_percent() -> None:
    # JCGM 106:2012, example of a Zener diode with an upper limit of -5.40 V, measured -5.47 V,
    # standard uncertainty 0.05 V: probability 0.92; from memory, not checked against the text.
    assert round(probability_of_conformity(-5.40, -5.47, 0.05), 2) == 0.92


@given(values, values, uncertainties)
def test_that_the_probability_agrees_with_scipy(
    limit: float, value: float, uncertainty: float
) -> None:
    below = float(stats.norm.cdf(limit, loc=value, scale=uncertainty))
    above = float(stats.norm.sf(limit, loc=value, scale=uncertainty))
    assert probability_of_conformity(limit, value, uncertainty) == pytest.approx(
        below, rel=1e-9, abs=1e-300
    )
    assert probability_of_conformity(limit, value, uncertainty, upper=False) == pytest.approx(
        above, rel=1e-9, abs=1e-300
    )


@given(values, values, uncertainties)
def test_that_a_value_keeps_an_upper_or_else_a_lower_limit(
    limit: float, value: float, uncertainty: float
) -> None:
    below = probability_of_conformity(limit, value, uncertainty, upper=True)
    assert below + probability_of_conformity(limit, value, uncertainty, upper=False) == (
        pytest.approx(1.0, abs=1e-12)
    )


@given(values, values, uncertainties, st.floats(0.01, 10.0))
def test_that_more_leakage_never_makes_a_limit_likelier_kept(
    limit: float, value: float, uncertainty: float, more: float
) -> None:
    once = probability_of_conformity(limit, value, uncertainty)
    assert probability_of_conformity(limit, value + more, uncertainty) <= once


@pytest.mark.parametrize(("value", "probability"), [(3.9, 1.0), (4.0, 1.0), (4.1, 0.0)])
def test_that_a_value_without_uncertainty_is_simply_accepted_or_not(
    value: float, probability: float
) -> None:
    assert probability_of_conformity(4.0, value, 0.0) == probability


@pytest.mark.parametrize(
    ("value", "close"), [(3.75, False), (3.8, False), (3.85, True), (4.0, True), (4.15, True)]
)
def test_that_a_value_within_its_uncertainty_of_the_limit_is_too_close(
    value: float, close: bool
) -> None:
    # Limit 4, expanded uncertainty 0.2: 3.8 is as far as an acceptance limit with w = U.
    assert too_close(4.0, value, 0.1999999999) is close


def test_that_an_exact_value_is_never_too_close() -> None:
    assert too_close(4.0, 4.0, 0.0) is False


@given(values, values, st.floats(0.01, 10.0))
def test_that_close_values_are_those_outside_both_acceptance_limits(
    limit: float, value: float, uncertainty: float
) -> None:
    # JCGM 106:2012 (from memory, not checked against the text): a guard band as wide as U, k = 2.
    low, high = limit - 2.0 * uncertainty, limit + 2.0 * uncertainty
    if min(abs(value - low), abs(value - high)) > 1e-9:
        assert too_close(limit, value, 2.0 * uncertainty) is (low < value < high)


@pytest.mark.parametrize(
    ("factor", "risk", "digits"),
    # ILAC-G8:09/2019, specific risk by guard band; from memory, not checked against the text.
    [(0.0, 0.5, 3), (1.645, 0.05, 3), (2.0, 0.023, 3)],
)
def test_that_the_guard_band_bounds_the_risk_of_accepting_too_much(
    factor: float, risk: float, digits: int
) -> None:
    at_the_acceptance_limit = 4.0 - factor * 0.1
    found = 1.0 - probability_of_conformity(4.0, at_the_acceptance_limit, 0.1)
    assert round(found, digits) == risk
    assert found == pytest.approx(float(stats.norm.sf(factor)))


@given(values, values, uncertainties, st.floats(0.1, 10.0))
def test_that_the_unit_does_not_matter(
    limit: float, value: float, uncertainty: float, scale: float
) -> None:
    scaled = probability_of_conformity(limit * scale, value * scale, uncertainty * scale)
    assert scaled == pytest.approx(probability_of_conformity(limit, value, uncertainty), abs=1e-9)


def test_that_the_formulas_are_homogeneous() -> None:
    cfm, liters = UNITS("foot ** 3 / minute"), UNITS("liter / second")
    limit, value, uncertainty = 60.8 * cfm, (58.0 * cfm).to(liters), (2.0 * cfm).to(liters)
    plain = probability_of_conformity(60.8, 58.0, 2.0)
    assert probability_of_conformity(limit, value, uncertainty) == pytest.approx(plain, rel=1e-12)
    assert too_close(limit, value, 2.0 * uncertainty) is True


@pytest.mark.parametrize(
    "call",
    [
        lambda cfm, m: probability_of_conformity(60.8 * cfm, 58.0 * m, 2.0 * cfm),
        lambda cfm, m: probability_of_conformity(60.8 * cfm, 58.0 * cfm, 2.0 * m),
        lambda cfm, m: too_close(60.8 * cfm, 58.0 * cfm, 2.0 * m),
    ],
)
def test_that_mixed_kinds_are_refused(call: Callable[..., float]) -> None:
    with pytest.raises(pint.DimensionalityError):
        call(UNITS("foot ** 3 / minute"), UNITS.meter)


@pytest.mark.parametrize("bad", [nan, inf, 1e308])
@pytest.mark.parametrize("place", [0, 1, 2])
def test_that_a_number_without_a_size_is_named(bad: float, place: int) -> None:
    arguments = [4.0, 3.8, 0.1]
    arguments[place] = bad
    name = ("limit", "value", "uncertainty")[place]
    with pytest.raises(OutOfRangeError, match=name):
        probability_of_conformity(*arguments)
    with pytest.raises(OutOfRangeError, match=name):
        too_close(*arguments)


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: probability_of_conformity(4.0, 3.8, -0.1), "standard_uncertainty"),
        (lambda: too_close(4.0, 3.8, -0.1), "expanded_uncertainty"),
    ],
)
def test_that_a_value_out_of_range_is_named(call: Callable[[], float], named: str) -> None:
    with pytest.raises(OutOfRangeError, match=named):
        call()
