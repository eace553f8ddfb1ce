"""From a simulated stream to the leakage at 25 Pa: the hidden truth must come back.

Stream over TCP, line splitter, reader, steadiness, average, ring flow, baseline, conversion to the
target or fit of the curve. The truth is that of the simulation, which the chain does not know; the
fit is checked against scipy.stats.linregress as well.
"""

from __future__ import annotations

from dataclasses import replace
from math import exp, log

import pytest
from scipy.stats import linregress

from deskapp.physics.flow_device import ring_flow
from deskapp.physics.leakage_curve import fit, flow_at
from deskapp.physics.target import baseline_mean, flow_at_target, induced_pressure
from deskapp.session.live.comma_lines import CommaReader
from deskapp.session.live.simulated import Move, SimulatedCase, SimulatedSystem
from deskapp.session.live.sources import from_tcp
from deskapp.session.live.steadiness import Capture
from deskapp.session.live.training_server import TrainingServer
from deskapp.session.live.watch import LiveWatch, Plan

RING = (0.0113267, 0.5)  # 24.0 cfm at 1 Pa
AVERAGING_S = 20.0
HOLD_S = 60.0


def hidden(seed: int) -> SimulatedCase:
    """A duct system that differs with each seed; noise and gusts of a calm day."""
    exponent = 0.55 + 0.02 * (seed % 7)
    flow = 0.07 + 0.008 * (seed % 5)
    return SimulatedCase(
        coefficient=flow / 25.0**exponent,
        exponent=exponent,
        ring_coefficient=RING[0],
        direction=1 if seed % 2 else -1,
        baseline=0.6,
        drift=0.05 / 60.0,
        gust=0.2,
        gust_time=1.5,
        noise=0.15,
        signal_noise=0.01,
        lag=3.0,
        largest_flow=0.6,
        interval=0.2,
    )


def captures(case: SimulatedCase, seed: int, pressures: list[float], rules, formatter):
    """The last average of each pressure held, for 60 s each, as the stream gives them."""
    moves = [Move(HOLD_S * place, pressure) for place, pressure in enumerate(pressures)]
    watch = LiveWatch(CommaReader(), rules, Plan(AVERAGING_S), formatter)
    server = TrainingServer(
        SimulatedSystem(case, seed), moves, pace=0.0, longest=HOLD_S * len(pressures)
    )
    with server, from_tcp(*server.address) as source:
        view = watch.take(source)
    assert view.tally.refused == 0
    held: dict[int, Capture] = {}
    for capture in view.captures:
        held[int(capture.began // HOLD_S)] = capture
        assert capture.began % HOLD_S + capture.seconds < HOLD_S + 1.0
    assert sorted(held) == list(range(len(pressures)))
    return [held[place] for place in range(len(pressures))]


def points(found: list[Capture]) -> tuple[list[float], list[float]]:
    """Induced pressures and ring flows of the averages with the fan on; the ends are baselines."""
    baseline = baseline_mean(found[0].duct_pressure, found[-1].duct_pressure)
    on = [one for one in found if one.fan_signal is not None and one.fan_signal > 5.0]
    induced = [induced_pressure(one.duct_pressure, baseline) for one in on]
    signals = [one.fan_signal for one in on if one.fan_signal is not None]
    return induced, [ring_flow(*RING, signal) for signal in signals]


@pytest.mark.parametrize("seed", range(6))
def test_that_three_repeats_at_the_target_give_the_truth_within_one_percent(rules, formatter, seed):
    # Gusts of 0.2 Pa lasting 1.5 s leave 0.2 (2 * 1.5 / 20)^0.5 = 0.08 Pa in a mean of 20 s; three
    # readings and two baselines leave 0.07 Pa, 0.2 % of the flow. Gauge noise leaves less.
    case = hidden(seed)
    found = captures(case, seed, [0.0, 25.0, 0.0, 24.0, 0.0, 26.0, 0.0], rules, formatter)
    induced, flows = points(found)
    target = 25.0 * case.direction
    at_target = [
        flow_at_target(flow, target, pressure, 0.60)
        for flow, pressure in zip(flows, induced, strict=True)
    ]
    measured = sum(at_target) / len(at_target)
    assert measured == pytest.approx(case.leakage(25.0), rel=0.01)


@pytest.mark.parametrize("seed", range(4))
def test_that_five_pressures_give_flow_and_exponent_of_the_hidden_curve(rules, formatter, seed):
    case = hidden(seed)
    pressures = [0.0, 10.0, 18.0, 25.0, 38.0, 50.0, 0.0]
    induced, flows = points(captures(case, seed, pressures, rules, formatter))
    curve = fit(induced, flows)
    assert flow_at(curve, 25.0).flow == pytest.approx(case.leakage(25.0), rel=0.01)
    assert curve.exponent == pytest.approx(case.exponent, abs=0.02)
    reference = linregress([log(abs(one)) for one in induced], [log(flow) for flow in flows])
    assert curve.exponent == pytest.approx(reference.slope, rel=1e-9)
    assert curve.coefficient == pytest.approx(exp(reference.intercept), rel=1e-9)


def test_that_a_fan_too_small_is_averaged_where_it_stands(rules, formatter):
    # The fan moves 0.06 m3/s, which holds less than 25 Pa; the power law leads to the target.
    case = hidden(1)
    weak = replace(case, largest_flow=0.06)
    found = captures(weak, 1, [0.0, 25.0, 0.0], rules, formatter)
    (pressure,), (flow,) = points(found)
    assert abs(pressure) == pytest.approx(weak.highest_pressure, abs=0.3)
    assert abs(pressure) < 22.0
    at_target = flow_at_target(flow, 25.0, abs(pressure), case.exponent)
    assert at_target == pytest.approx(case.leakage(25.0), rel=0.02)
