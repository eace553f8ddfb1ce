"""Numbers in the lines: short, but unlike numbers always look unlike."""

from __future__ import annotations

import math

from hypothesis import assume, given
from hypothesis import strategies as st

from deskapp.limits.digits import rate, shown, telling_decimals, usual_decimals, written

flows = st.floats(min_value=1e-3, max_value=1e5)


@given(measured=flows, limit=flows)
def test_that_unlike_numbers_look_unlike(measured: float, limit: float) -> None:
    assume(abs(measured - limit) > 1e-12 * limit)
    decimals = telling_decimals("cfm", measured, limit)
    assert shown(measured, decimals) != shown(limit, decimals)


def test_that_a_borderline_value_gets_the_digits_it_needs() -> None:
    assert telling_decimals("cfm/100ft2", 4.004, 4.0) == 3
    assert telling_decimals("cfm", 60.8004, 60.8) == 4
    assert telling_decimals("cfm", 54.2, 60.8) == 1


def test_that_equal_numbers_get_the_usual_digits() -> None:
    assert telling_decimals("cfm", 60.8, 60.8) == 1


def test_that_the_last_bit_ends_the_search() -> None:
    assert telling_decimals("cfm", math.nextafter(60.8, 99.0), 60.8) <= 17


def test_that_small_numbers_keep_three_digits() -> None:
    assert shown(0.0081, usual_decimals("L/s/m2", 0.0081)) == "0.00810"
    assert shown(0.442, usual_decimals("L/s/m2", 0.442)) == "0.442"
    assert usual_decimals("cfm", 0.0) == 1


def test_that_numbers_are_written_as_codes_print_them() -> None:
    assert (rate(4.0), rate(0.08), written(1520.0), written(0.009)) == (
        "4.0",
        "0.08",
        "1,520",
        "0.009",
    )
    assert written(1528.5) == "1,528.5"


def test_that_a_negative_number_has_a_true_minus_sign() -> None:
    assert shown(-5.25, 1) == "\N{MINUS SIGN}5.3"
    assert shown(-0.01, 1) == "0.0"
