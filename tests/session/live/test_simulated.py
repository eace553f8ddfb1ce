"""The simulation against the formulas it is meant to follow. All figures are invented.

Stationary deviation and correlation of a first-order autoregressive process: G. E. P. Box and
G. M. Jenkins, Time Series Analysis (1970), chapter 3; from memory, not checked against the text.
"""

from __future__ import annotations

import statistics
from dataclasses import replace
from itertools import pairwise
from math import exp

import pytest

from deskapp.session.live.comma_lines import CommaReader
from deskapp.session.live.reader import LineIntake
from deskapp.session.live.samples import Sample
from deskapp.session.live.simulated import (
    HEADER,
    Move,
    SimulatedCase,
    SimulatedSystem,
    recorded,
)

# Q = 0.006 p^0.6: 0.0414 m3/s at 25 Pa. Ring: 0.01 m3/s at 1 Pa, exponent 0.5.
CALM = SimulatedCase(0.006, 0.6, 0.01, resolution=1e-4)


def samples(case: SimulatedCase, seed: int, moves: list[Move], seconds: float) -> list[Sample]:
    intake = LineIntake(CommaReader())
    found = [intake.take(line, 0.0) for line in recorded(case, seed, moves, seconds)]
    assert intake.tally.refused == 0
    return [sample for sample in found if sample is not None]


def test_that_the_stream_begins_with_its_header_and_carries_the_time():
    lines = list(recorded(CALM, 1, [], 2.0))
    assert lines[0] == HEADER
    assert [line.split(",")[0] for line in lines[1:]] == ["0.500", "1.000", "1.500", "2.000"]


def test_that_without_noise_the_readings_obey_the_hidden_laws():
    last = samples(CALM, 1, [Move(0.0, 25.0)], 120.0)[-1]
    assert last.fan_signal is not None
    assert last.duct_pressure == pytest.approx(-25.0, abs=1e-3)
    leakage = 0.006 * abs(last.duct_pressure) ** 0.6
    assert 0.01 * last.fan_signal**0.5 == pytest.approx(leakage, rel=1e-4)


def test_that_the_pressure_follows_the_hand_with_the_lag():
    # After one time constant of 3 s a first-order lag has gone 1 - 1/e of the way.
    found = samples(CALM, 1, [Move(10.0, 30.0), Move(40.0, 0.0)], 43.0)
    at = {sample.seconds: sample.duct_pressure for sample in found}
    assert at[10.0] == 0.0
    assert at[13.0] == pytest.approx(-30.0 * (1.0 - exp(-1.0)), abs=1e-3)
    assert at[43.0] == pytest.approx(-30.0 * exp(-1.0), abs=0.01)


def test_that_a_small_fan_stops_short_of_the_target():
    # Q = 0.03 m3/s is reached at (0.03 / 0.006)^(1/0.6) = 14.62 Pa.
    weak = replace(CALM, largest_flow=0.03, direction=1)
    assert weak.highest_pressure == pytest.approx(14.62, abs=0.005)
    last = samples(weak, 1, [Move(0.0, 25.0)], 120.0)[-1]
    assert last.duct_pressure == pytest.approx(14.62, abs=0.005)


def test_that_gusts_have_their_deviation_and_their_correlation_time():
    gusty = replace(CALM, gust=2.0, gust_time=3.0)
    values = [sample.duct_pressure for sample in samples(gusty, 3, [], 6_000.0)]
    # 6000 s hold about 6000 / (2 * 3 s) = 1000 independent values: the mean is known to 0.06 Pa,
    # the deviation to 2.2 %; three times that is allowed.
    assert statistics.fmean(values) == pytest.approx(0.0, abs=0.19)
    assert statistics.stdev(values) == pytest.approx(2.0, rel=0.07)
    earlier, later = zip(*pairwise(values), strict=True)
    assert statistics.correlation(earlier, later) == pytest.approx(exp(-0.5 / 3.0), abs=0.02)


def test_that_the_gauge_adds_white_noise_to_pressure_and_signal():
    noisy = replace(CALM, noise=0.5, signal_noise=0.02)
    found = samples(noisy, 4, [Move(0.0, 25.0)], 5_000.0)[200:]
    ducts = [sample.duct_pressure for sample in found]
    signals = [sample.fan_signal for sample in found if sample.fan_signal is not None]
    assert statistics.stdev(ducts) == pytest.approx(0.5, rel=0.03)
    assert statistics.stdev(signals) / statistics.fmean(signals) == pytest.approx(0.02, rel=0.03)
    earlier, later = zip(*pairwise(ducts), strict=True)
    assert statistics.correlation(earlier, later) == pytest.approx(0.0, abs=0.03)


def test_that_the_baseline_is_there_and_drifts():
    drifting = replace(CALM, baseline=-1.0, drift=0.01)
    found = samples(drifting, 1, [], 100.0)
    assert found[0].duct_pressure == pytest.approx(-1.0 + 0.005, abs=1e-4)
    assert found[-1].duct_pressure == pytest.approx(0.0, abs=1e-4)


def test_that_the_gauge_shows_steps_of_its_resolution():
    coarse = replace(CALM, resolution=0.5, noise=1.0)
    assert {sample.duct_pressure % 0.5 for sample in samples(coarse, 1, [], 50.0)} == {0.0}


def test_that_a_seed_gives_one_stream_and_another_seed_another():
    noisy = replace(CALM, noise=0.2, gust=0.2)
    first, again, other = (list(recorded(noisy, seed, [], 10.0)) for seed in (7, 7, 8))
    assert first == again != other


def test_that_a_hand_never_sets_a_pressure_below_zero():
    system = SimulatedSystem(CALM, 1)
    system.set_pressure = -50.0
    assert system.next_line().split(",")[1] in ("0", "-0")


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("lag", 0.0),
        ("interval", 0.0),
        ("resolution", -1.0),
        ("gust", -1.0),
        ("noise", float("nan")),
        ("coefficient", 0.0),
        ("ring_exponent", 2.0),
        ("direction", 0),
        ("largest_flow", float("inf")),
    ],
)
def test_that_what_cannot_be_is_refused(name, value):
    with pytest.raises(ValueError, match=name.removeprefix("ring_")):
        replace(CALM, **{name: value})
