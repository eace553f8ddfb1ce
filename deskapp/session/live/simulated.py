"""A simulated duct system, fan and gauge, for training and for tests.

It never controls a fan and does not pretend to: `set_pressure` stands for what a person would do
by hand at the fan. What comes out are the comma-separated lines a real instrument might send, so
that everything from the reader to the average is exercised. Gusts and baseline move what the gauge
shows, not the flow through the fan; all flows are at the density of the calibration.
"""

from __future__ import annotations

import random
from dataclasses import dataclass
from math import exp, expm1
from typing import TYPE_CHECKING

from deskapp.physics.flow_device import ring_flow, signal_for_flow
from deskapp.physics.guards import require_not_negative, require_positive

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

HEADER = "time [s],duct pressure [Pa],fan signal [Pa],house pressure [Pa]"
"""First line of every simulated stream."""


@dataclass(frozen=True, slots=True)
class SimulatedCase:
    """What is hidden from the one who measures, and how the weather is. All of it is invented.

    Leakage is `coefficient` * pressure ** `exponent` [m3/s]; the ring likewise of the fan signal.
    `direction` is 1 to pressurize, -1 to depressurize. Gusts come as an autoregressive process of
    first order with standard deviation `gust` [Pa] and correlation time `gust_time` [s]; the gauge
    adds white noise `noise` [Pa], and `signal_noise` as a share of the fan signal [1]. The
    baseline is at `baseline` [Pa] and drifts by `drift` [Pa/s]. The pressure follows the person's
    hand with the time constant `lag` [s], and the fan moves `largest_flow` at most [m3/s]. The
    gauge shows steps of `resolution` [Pa] every `interval` [s].

    Raises ValueError for a value that cannot be.
    """

    coefficient: float
    exponent: float
    ring_coefficient: float
    ring_exponent: float = 0.5
    direction: int = -1
    baseline: float = 0.0
    drift: float = 0.0
    gust: float = 0.0
    gust_time: float = 2.0
    noise: float = 0.0
    signal_noise: float = 0.0
    lag: float = 3.0
    largest_flow: float = 1.0
    resolution: float = 0.1
    interval: float = 0.5

    def __post_init__(self) -> None:
        for name in ("gust_time", "lag", "largest_flow", "resolution", "interval"):
            require_positive(name, getattr(self, name))
        for name in ("gust", "noise", "signal_noise"):
            require_not_negative(name, getattr(self, name))
        if self.direction not in (-1, 1):
            raise ValueError(f"direction is {self.direction}; allowed: 1 or -1")
        ring_flow(self.ring_coefficient, self.ring_exponent, 1.0)
        self.leakage(1.0)

    def leakage(self, pressure: float) -> float:
        """Return the true leakage at an induced pressure, as a size [m3/s]."""
        return ring_flow(self.coefficient, self.exponent, abs(pressure))

    @property
    def highest_pressure(self) -> float:
        """Return the highest induced pressure the fan can hold, as a size [Pa]."""
        return signal_for_flow(self.coefficient, self.exponent, self.largest_flow)


@dataclass(frozen=True, slots=True)
class Move:
    """What the person does by hand: from `at` on [s] the fan is set for this pressure [Pa].

    The pressure is a size; 0 stands for a fan that is off and covered.
    """

    at: float
    pressure: float


class SimulatedSystem:
    """A running simulation; the same case and seed give the same lines."""

    def __init__(self, case: SimulatedCase, seed: int) -> None:
        self.case = case
        self.set_pressure = 0.0
        self._chance = random.Random(seed)
        self._induced = 0.0
        self._gust = self._chance.gauss(0.0, case.gust)
        self._steps = 0

    @property
    def seconds(self) -> float:
        """Simulated time [s]."""
        return self._steps * self.case.interval

    def next_line(self) -> str:
        """Let one interval pass and return what the gauges show."""
        case = self.case
        self._steps += 1
        goal = min(max(self.set_pressure, 0.0), case.highest_pressure)
        self._induced += (goal - self._induced) * -expm1(-case.interval / case.lag)
        keep = exp(-case.interval / case.gust_time)
        self._gust = keep * self._gust + case.gust * (1.0 - keep**2) ** 0.5 * self._normal()
        outside = case.baseline + case.drift * self.seconds + self._gust
        duct = case.direction * self._induced + outside + case.noise * self._normal()
        signal = signal_for_flow(
            case.ring_coefficient, case.ring_exponent, case.leakage(self._induced)
        )
        signal *= 1.0 + case.signal_noise * self._normal()
        house = case.noise * self._normal()
        shown = ",".join(self._shown(value) for value in (duct, signal, house))
        return f"{self.seconds:.3f},{shown}"

    def _normal(self) -> float:
        return self._chance.gauss(0.0, 1.0)

    def _shown(self, pressure: float) -> str:
        """Return a pressure in the steps the gauge shows."""
        steps = round(pressure / self.case.resolution)
        return f"{steps * self.case.resolution:.4f}".rstrip("0").rstrip(".")


def recorded(
    case: SimulatedCase, seed: int, moves: Sequence[Move], seconds: float
) -> Iterator[str]:
    """Yield the lines of a simulated test, header first, as fast as they are asked for.

    Args:
        case: what is hidden.
        seed: of the noise.
        moves: what the person does, in order of time.
        seconds: simulated length [s].
    """
    system = SimulatedSystem(case, seed)
    yield HEADER
    while system.seconds < seconds:
        follow(system, moves)
        yield system.next_line()


def follow(system: SimulatedSystem, moves: Sequence[Move]) -> None:
    """Set the fan as the last move that is due asks for."""
    due = [move for move in moves if move.at <= system.seconds]
    if due:
        system.set_pressure = due[-1].pressure
