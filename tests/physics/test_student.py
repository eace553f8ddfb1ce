"""Student's distribution against scipy and a printed table."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from deskapp.physics.guards import OutOfRangeError
from deskapp.physics.student import MOST_DEGREES, student_probability, student_quantile

DEGREES = [1, 2, 3, 4, 5, 6, 7, 8, 13, 30, 99, 100, 1001, MOST_DEGREES]

degrees_of_freedom = st.integers(1, 200)
probabilities = st.floats(1e-6, 1.0 - 1e-6)


@pytest.mark.parametrize("degrees", DEGREES)
@pytest.mark.parametrize("probability", [1e-6, 0.005, 0.025, 0.3, 0.51, 0.95, 0.975, 0.995, 0.9999])
def test_that_the_quantile_agrees_with_scipy(probability: float, degrees: int) -> None:
    theirs = stats.t.ppf(probability, degrees)
    assert student_quantile(probability, degrees) == pytest.approx(theirs, rel=1e-9)


@pytest.mark.parametrize("degrees", DEGREES)
@pytest.mark.parametrize("t", [-1e5, -3.0, -0.5, 0.0, 0.01, 1.0, 12.0, 1e6])
def test_that_the_probability_agrees_with_scipy(t: float, degrees: int) -> None:
    theirs = stats.t.cdf(t, degrees)
    assert student_probability(t, degrees) == pytest.approx(theirs, abs=1e-12)


@pytest.mark.parametrize(
    ("degrees", "printed"),
    # NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2, upper critical values at 0.975;
    # from memory, not checked against the page.
    [(1, 12.706), (2, 4.303), (3, 3.182), (4, 2.776), (6, 2.447), (10, 2.228), (30, 2.042)],
)
def test_that_the_quantile_is_the_printed_table(degrees: int, printed: float) -> None:
    assert round(student_quantile(0.975, degrees), 3) == printed


@given(probabilities, degrees_of_freedom)
def test_that_the_probability_of_a_quantile_is_the_one_asked_for(
    probability: float, degrees: int
) -> None:
    back = student_probability(student_quantile(probability, degrees), degrees)
    assert back == pytest.approx(probability, abs=1e-12)


@given(probabilities, degrees_of_freedom)
def test_that_the_distribution_is_even(probability: float, degrees: int) -> None:
    above = student_quantile(1.0 - probability, degrees)
    assert student_quantile(probability, degrees) == pytest.approx(-above, rel=1e-6, abs=1e-9)


@given(st.floats(0.6, 0.999), degrees_of_freedom)
def test_that_more_readings_narrow_the_interval(probability: float, degrees: int) -> None:
    assert student_quantile(probability, degrees + 1) < student_quantile(probability, degrees)


@pytest.mark.parametrize(
    ("probability", "degrees", "named"),
    [
        (0.0, 5, "probability"),
        (1.0, 5, "probability"),
        (0.975, 0, "degrees"),
        (0.975, 2.5, "degrees"),
        (0.975, MOST_DEGREES + 1, "degrees"),
    ],
)
def test_that_what_has_no_quantile_is_named(probability: float, degrees: float, named: str) -> None:
    with pytest.raises(OutOfRangeError, match=named):
        student_quantile(probability, degrees)
