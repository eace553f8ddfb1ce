"""Checked against scipy.stats.linregress (SciPy), and by hand."""

from __future__ import annotations

import random
import statistics

import pytest
from scipy.stats import linregress

from deskapp.session.live.samples import Sample
from deskapp.session.live.stretch import MOST_JUDGED, stretch_of


def made(count: int, start: float) -> list[Sample]:
    chance = random.Random(count)
    return [Sample(start + 0.1 * n, 25.0 + 0.02 * n + chance.gauss(0.0, 0.4)) for n in range(count)]


@pytest.mark.parametrize(("count", "start"), [(3, 0.0), (50, 86_400.0), (300, 1.7e9)])
def test_that_slope_and_mean_are_those_of_another_implementation(count, start):
    samples = made(count, start)
    values = [sample.duct_pressure for sample in samples]
    found = stretch_of(samples)
    reference = linregress([sample.seconds - start for sample in samples], values)
    # At 1.7e9 s (a count of seconds since 1970) 0.1 s is itself known to 2e-7 s only.
    assert found.slope == pytest.approx(reference.slope, rel=1e-9 if start < 1e9 else 1e-4)
    assert found.mean == pytest.approx(statistics.fmean(values), rel=1e-12)
    assert found.seconds == pytest.approx(0.1 * (count - 1), rel=1e-6)
    assert found.drift == pytest.approx(found.slope * found.seconds)


def test_that_values_that_know_nothing_of_each_other_keep_their_standard_error():
    # Residuals that take turns are negatively correlated; nothing is widened.
    samples = [Sample(float(n), 25.0 + 0.1 * (-1) ** n) for n in range(40)]
    values = [sample.duct_pressure for sample in samples]
    reference = linregress(range(40), values)
    assert stretch_of(samples).slope_error == pytest.approx(reference.stderr, rel=1e-9)


def test_that_values_that_resemble_their_neighbors_make_the_slope_less_sure():
    # By hand: values 0 0 1 1 1 1 0 0 have no slope; mean 0.5; residuals -.5 -.5 .5 .5 .5 .5 -.5 -.5
    # give sum of squares 2, neighboring products (1 - 1 + 1 + 1 + 1 - 1 + 1) / 4 = 0.75, r = 0.375.
    samples = [Sample(float(n), p) for n, p in enumerate([0.0, 0.0, 1.0, 1.0, 1.0, 1.0, 0.0, 0.0])]
    found = stretch_of(samples)
    assert found.scatter == pytest.approx((2.0 / 6.0) ** 0.5)
    plain = found.scatter / 42.0**0.5
    assert found.slope_error == pytest.approx(plain * ((1.0 + 0.375) / (1.0 - 0.375)) ** 0.5)


def test_that_a_long_stretch_is_judged_by_evenly_spaced_samples():
    samples = made(10 * MOST_JUDGED + 7, 0.0)
    found = stretch_of(samples)
    assert (found.count, found.seconds) == (3007, pytest.approx(300.6))
    assert found.slope == pytest.approx(0.2, rel=0.01)
    assert found.scatter == pytest.approx(0.4, rel=0.15)


def test_that_few_samples_or_one_moment_have_no_slope_and_no_scatter():
    for samples in (
        [Sample(1.0, 7.0)],
        [Sample(1.0, 6.0), Sample(2.0, 8.0)],
        [Sample(1.0, 7.0)] * 9,
    ):
        found = stretch_of(samples)
        assert (found.mean, found.slope, found.slope_error, found.scatter) == (7.0, 0.0, 0.0, 0.0)
