"""Conversion to a code's unit: no last-bit noise, and never out of order."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from deskapp.limits.exact import in_code_unit, product
from deskapp.units.convert import from_unit

UNITS = ("cfm", "L/s", "m3/h", "inH2O")


@pytest.mark.parametrize("unit", UNITS)
@given(tenths=st.integers(min_value=1, max_value=1_000_000))
def test_that_a_typed_value_comes_back_as_typed(unit: str, tenths: int) -> None:
    value = tenths / 10
    assert in_code_unit(from_unit(value, unit), unit) == value


@given(
    si=st.floats(min_value=0.0, max_value=10.0, allow_subnormal=False),
    steps=st.integers(min_value=1, max_value=5),
)
def test_that_two_flows_never_change_places(si: float, steps: int) -> None:
    greater = si
    for _ in range(steps):
        greater = math.nextafter(greater, math.inf)
    assert in_code_unit(si, "cfm") <= in_code_unit(greater, "cfm")


def test_that_the_order_holds_across_a_thousand_neighbors_of_a_round_value() -> None:
    si = from_unit(80.0, "cfm")
    for _ in range(500):
        si = math.nextafter(si, 0.0)
    seen = [in_code_unit(si, "cfm")]
    for _ in range(1000):
        si = math.nextafter(si, math.inf)
        seen.append(in_code_unit(si, "cfm"))
    assert seen == sorted(seen)
    assert 80.0 in seen


@given(si=st.floats(min_value=1e-6, max_value=10.0))
def test_that_no_smaller_value_would_do(si: float) -> None:
    value = in_code_unit(si, "cfm")
    assert from_unit(value, "cfm") >= si
    is_short = value == float(f"{value:.12g}") and from_unit(value, "cfm") == si
    assert is_short or from_unit(math.nextafter(value, 0.0), "cfm") < si


def test_that_zero_stays_zero() -> None:
    assert in_code_unit(0.0, "cfm") == 0.0


def test_that_numbers_are_multiplied_as_written() -> None:
    assert 0.29 * 100 != 29.0  # the reason for this function
    assert product(0.29, 100.0) == 29.0
    assert product(0.07, 100.0) == 7.0
    assert product(4.0, 1520.0, over=100.0) == 60.8
