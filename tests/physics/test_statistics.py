"""Mean and scatter against certified data and the standard library."""

from __future__ import annotations

import statistics as standard_library

import pytest
from hypothesis import given
from hypothesis import strategies as st

from deskapp.physics.statistics import mean, sample_standard_deviation, spread

readings = st.lists(st.floats(0.001, 1000.0), min_size=2, max_size=12)


def test_that_a_certified_set_gives_its_certified_values() -> None:
    # NIST Statistical Reference Datasets, univariate, NumAcc1: mean 10000002, deviation 1 (exact);
    # values from memory, and plain to see.
    certified = [10_000_001.0, 10_000_003.0, 10_000_002.0]
    assert mean(certified) == 10_000_002.0
    assert sample_standard_deviation(certified) == 1.0


def test_that_the_spread_is_the_widest_gap_over_the_mean() -> None:
    # By hand: (54.37 - 54.05) / 54.1633 = 0.591 %.
    assert 100.0 * spread([54.07, 54.05, 54.37]) == pytest.approx(0.591, abs=0.0005)


def test_that_one_reading_has_a_mean_and_no_spread() -> None:
    assert mean([54.07]) == 54.07
    with pytest.raises(ValueError, match="2 or more"):
        spread([54.07])


@given(readings)
def test_that_mean_and_deviation_agree_with_the_standard_library(values: list[float]) -> None:
    assert mean(values) == pytest.approx(standard_library.fmean(values), rel=1e-12)
    theirs = standard_library.stdev(values)
    assert sample_standard_deviation(values) == pytest.approx(theirs, rel=1e-9, abs=1e-9)


@given(readings.flatmap(lambda values: st.tuples(st.just(values), st.permutations(values))))
def test_that_the_order_of_the_readings_does_not_matter(
    both: tuple[list[float], list[float]],
) -> None:
    values, shuffled = both
    assert mean(shuffled) == pytest.approx(mean(values), rel=1e-12)
    assert spread(shuffled) == pytest.approx(spread(values), rel=1e-12)


@given(readings)
def test_that_the_mean_lies_between_the_readings(values: list[float]) -> None:
    slack = 1.0 + 1e-12
    assert min(values) / slack <= mean(values) <= max(values) * slack


@given(readings, st.floats(0.1, 10.0))
def test_that_the_spread_does_not_depend_on_the_unit(values: list[float], scale: float) -> None:
    scaled = [value * scale for value in values]
    assert spread(scaled) == pytest.approx(spread(values), rel=1e-9, abs=1e-12)
