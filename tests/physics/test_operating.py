"""Leakage while the system runs, against figures worked outside and its own scaling."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.constants import foot, minute

from deskapp.physics.guards import OutOfRangeError
from deskapp.physics.operating import half_plenum_pressure, operating_leakage
from deskapp.physics.target import flow_at_target

CFM = foot**3 / minute

flows = st.floats(1e-4, 1.0)
pressures = st.floats(1.0, 500.0)
exponents = st.floats(0.5, 1.0)


@pytest.mark.parametrize(
    ("plenum_pa", "cfm"),
    # 50 cfm at 25 Pa, power law with 0.6 worked outside; half of the plenum pressure after
    # ASHRAE Standard 152 (from memory, not checked against the text).
    [(25.0, 32.988), (100.0, 75.786), (125.0, 86.643)],
)
def test_that_50_cfm_at_25_pascal_leak_as_worked_outside(plenum_pa: float, cfm: float) -> None:
    flow = operating_leakage(50.0 * CFM, 25.0, half_plenum_pressure(plenum_pa), 0.6)
    assert flow / CFM == pytest.approx(cfm, abs=6e-4)


@given(flows, pressures, pressures, exponents)
def test_that_it_is_the_power_law_of_the_target_correction(
    flow: float, test: float, operating: float, exponent: float
) -> None:
    here = operating_leakage(flow, test, operating, exponent)
    assert here == pytest.approx(flow_at_target(flow, operating, test, exponent), rel=1e-12)


@given(flows, pressures, exponents, st.floats(1.001, 5.0))
def test_that_a_higher_pressure_loses_more(
    flow: float, operating: float, exponent: float, more: float
) -> None:
    higher = operating_leakage(flow, 25.0, operating * more, exponent)
    assert higher > operating_leakage(flow, 25.0, operating, exponent)


def test_that_a_system_without_pressure_leaks_nothing() -> None:
    assert operating_leakage(0.02, 25.0, half_plenum_pressure(0.0)) == 0.0


@pytest.mark.parametrize(
    ("arguments", "named"),
    [
        ((0.02, 0.0, 50.0), "test_pressure"),
        ((0.02, 25.0, -50.0), "operating_pressure"),
        ((0.02, 25.0, 50.0, 1.2), "exponent"),
    ],
)
def test_that_a_value_out_of_range_is_named(arguments: tuple[float, ...], named: str) -> None:
    with pytest.raises(OutOfRangeError, match=named):
        operating_leakage(*arguments)
