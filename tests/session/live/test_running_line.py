"""Checked against scipy.stats.linregress (SciPy) and the statistics module of Python."""

from __future__ import annotations

import random
import statistics

import pytest
from scipy.stats import linregress

from deskapp.session.live.running_line import RunningLine


def points(seed: int, count: int, start: float) -> list[tuple[float, float]]:
    chance = random.Random(seed)
    return [(start + 0.1 * n, 25.0 + 0.02 * n + chance.gauss(0.0, 0.4)) for n in range(count)]


@pytest.mark.parametrize(("count", "start"), [(3, 0.0), (50, 86_400.0), (2_000, 1.7e9)])
def test_that_the_line_is_that_of_another_implementation(count, start):
    made = points(count, count, start)
    line = RunningLine()
    for x, y in made:
        line.add(x, y)
    shifted = [x - start for x, _ in made]
    values = [y for _, y in made]
    reference = linregress(shifted, values)
    # At 1.7e9 s (a count of seconds since 1970) 0.1 s is itself known to 2e-7 s only.
    tolerance = {"rel": 1e-9 if start < 1e9 else 1e-4}
    assert line.slope == pytest.approx(reference.slope, **tolerance)
    assert line.slope_error == pytest.approx(reference.stderr, **tolerance)
    assert line.mean == pytest.approx(statistics.fmean(values), rel=1e-12)
    assert line.deviation == pytest.approx(statistics.stdev(values), rel=1e-9)
    assert line.span == pytest.approx(0.1 * (count - 1), **tolerance)


def test_that_the_scatter_is_what_the_line_leaves():
    line = RunningLine()
    for x, y in [(0.0, 0.0), (1.0, 2.0), (2.0, 1.0)]:
        line.add(x, y)
    # By hand: slope 0.5 through (1, 1); residuals -0.5, 1, -0.5; squares 1.5 over one degree.
    assert (line.slope, line.mean) == (0.5, 1.0)
    assert line.scatter == pytest.approx(1.5**0.5)


def test_that_few_points_or_one_moment_give_zeros_and_no_error():
    line = RunningLine()
    figures = (line.span, line.mean, line.deviation, line.slope, line.scatter, line.slope_error)
    assert figures == (0.0,) * 6
    for _ in range(3):
        line.add(1.0, 7.0)
    assert (line.mean, line.deviation, line.slope, line.slope_error) == (7.0, 0.0, 0.0, 0.0)
