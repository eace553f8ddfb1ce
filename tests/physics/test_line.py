"""Lines of least squares against a published data set, statsmodels and scipy."""

from __future__ import annotations

from typing import Any

import pytest
import statsmodels.api as sm
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import stats

from deskapp.physics.guards import OutOfRangeError
from deskapp.physics.line import FittedLine, fit_line

# F. J. Anscombe, Graphs in Statistical Analysis, The American Statistician 27(1), 1973; data and
# results from memory. All four sets give the same line.
X = [10.0, 8.0, 13.0, 9.0, 11.0, 14.0, 6.0, 4.0, 12.0, 7.0, 5.0]
X_FOUR = [8.0] * 7 + [19.0] + [8.0] * 3
ANSCOMBE = {
    "one": (X, [8.04, 6.95, 7.58, 8.81, 8.33, 9.96, 7.24, 4.26, 10.84, 4.82, 5.68]),
    "two": (X, [9.14, 8.14, 8.74, 8.77, 9.26, 8.10, 6.13, 3.10, 9.13, 7.26, 4.74]),
    "three": (X, [7.46, 6.77, 12.74, 7.11, 7.81, 8.84, 6.08, 5.39, 8.15, 6.42, 5.73]),
    "four": (X_FOUR, [6.58, 5.76, 7.71, 8.84, 8.47, 7.04, 5.25, 12.50, 5.56, 7.91, 6.89]),
}

numbers = st.floats(-50.0, 50.0)
point_sets = st.lists(st.tuples(numbers, numbers), min_size=3, max_size=12)


def line_through(points: list[tuple[float, float]]) -> FittedLine:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    assume(max(xs) - min(xs) > 0.01)
    return fit_line(xs, ys)


@pytest.mark.parametrize("name", ANSCOMBE)
def test_that_the_line_is_the_published_one(name: str) -> None:
    line = fit_line(*ANSCOMBE[name])
    assert line.slope == pytest.approx(0.5, abs=5e-4)
    assert line.intercept == pytest.approx(3.0, abs=5e-3)
    assert line.degrees == 9
    assert line.sum_residuals == pytest.approx(13.75, abs=0.03)
    assert line.slope_error == pytest.approx(0.118, abs=5e-4)
    assert line.r_squared == pytest.approx(0.667, abs=1e-3)


@pytest.mark.parametrize("name", ANSCOMBE)
def test_that_the_line_agrees_with_statsmodels_and_scipy(name: str) -> None:
    xs, ys = ANSCOMBE[name]
    line = fit_line(xs, ys)
    theirs: Any = sm.OLS(ys, sm.add_constant(xs)).fit()
    assert [line.intercept, line.slope] == pytest.approx(list(theirs.params), rel=1e-9)
    assert line.slope_error == pytest.approx(theirs.bse[1], rel=1e-9)
    assert line.r_squared == pytest.approx(theirs.rsquared, rel=1e-9)
    assert line.residuals == pytest.approx(list(theirs.resid), rel=1e-9, abs=1e-12)
    assert line.residual_deviation == pytest.approx(theirs.mse_resid**0.5, rel=1e-9)
    regression: Any = stats.linregress(xs, ys)
    assert line.slope == pytest.approx(regression.slope, rel=1e-9)


def test_that_two_points_give_a_line_without_errors() -> None:
    line = fit_line([1.0, 3.0], [2.0, 6.0])
    assert (line.slope, line.intercept, line.at(10.0)) == (2.0, 0.0, 20.0)
    assert line.residual_deviation is None
    assert line.slope_error is None


def test_that_a_level_line_explains_no_scatter() -> None:
    line = fit_line([1.0, 2.0, 4.0], [0.1, 0.1, 0.1])
    assert line.slope == pytest.approx(0.0, abs=1e-15)
    assert line.r_squared is None


@given(point_sets)
def test_that_the_residuals_sum_to_nothing(points: list[tuple[float, float]]) -> None:
    line = line_through(points)
    assert sum(line.residuals) == pytest.approx(0.0, abs=1e-7)


@given(point_sets, st.floats(-0.1, 0.1), st.floats(-0.1, 0.1))
def test_that_no_other_line_is_closer(
    points: list[tuple[float, float]], turn: float, shift: float
) -> None:
    line = line_through(points)
    other = sum((y - line.at(x) - turn * (x - line.mean_x) - shift) ** 2 for x, y in points)
    assert other >= line.sum_residuals * (1.0 - 1e-9) - 1e-9


@pytest.mark.parametrize(
    ("xs", "ys", "named"),
    [
        ([1.0], [1.0], "number of xs"),
        ([1.0, 2.0], [1.0], "number of ys"),
        ([2.0, 2.0, 2.0], [1.0, 2.0, 3.0], "xs is"),
        ([1.0, float("nan")], [1.0, 2.0], r"xs\[1\]"),
        ([1.0, 2.0], [1e308, 2.0], r"ys\[0\]"),
        ([0.0, 0.0], [1.0, 2.0], "xs is"),
    ],
)
def test_that_points_without_a_line_are_named(xs: list[float], ys: list[float], named: str) -> None:
    with pytest.raises(OutOfRangeError, match=named):
        fit_line(xs, ys)
