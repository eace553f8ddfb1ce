"""Whether a pressure is steady while samples arrive, and its average once it was long enough.

A plain state machine: the only time it knows is that of the samples. It keeps the longest stretch
of the latest past that is steady as a whole, up to the averaging time. Where that is shorter than
the look back, the latest few seconds say what is the matter. A stretch that is steady over the
whole averaging time is captured, and a new one begins: no sample counts in two averages.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass
from enum import StrEnum
from math import isfinite
from typing import TYPE_CHECKING

from deskapp.physics.statistics import mean, sample_standard_deviation
from deskapp.session.live.stretch import ONE_MOMENT_S, Stretch, stretch_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from deskapp.session.live.rules import LiveRules
    from deskapp.session.live.samples import Sample

MOST_SAMPLES = 100_000
"""Samples kept of one stretch; an hour at 25 a second."""

MOST_AT_ONCE = 300
"""Samples kept of one moment, where the clock of a stream stands still."""

_TINY = 1e-9
_PARTS = 10


class Steadiness(StrEnum):
    """What can be said of the pressure right now."""

    WAITING = "waiting"  # too few samples yet
    SETTLING = "settling"
    TOO_GUSTY = "too gusty"
    STEADY = "steady"


class Restart(StrEnum):
    """Why an average that was under way began anew."""

    STEP = "step"
    GAP = "gap"
    TIME_WENT_BACK = "time went back"
    UNSTEADY = "unsteady"


@dataclass(frozen=True, slots=True)
class Window:
    """The latest past: mean [Pa], scatter about the line [Pa], drift [Pa], samples and span [s].

    `deviation_limit` and `drift_limit` are what steady allows at this mean [Pa]. `fan_signal` [Pa]
    and `flow` [m3/s] are means as well, None where not every sample carries them.
    """

    mean: float
    scatter: float
    drift: float
    count: int
    seconds: float
    deviation_limit: float
    drift_limit: float
    fan_signal: float | None
    flow: float | None


@dataclass(frozen=True, slots=True)
class Capture:
    """One average over a steady stretch.

    Pressures in Pa, flow in m3/s; None where not every sample carried the value. `deviation` is
    the standard deviation of the duct pressure of single samples [Pa], `signal_deviation` that of
    the fan signal; `count` samples reach over `seconds`, which begin at `began` [s].
    """

    duct_pressure: float
    fan_signal: float | None
    flow: float | None
    house_pressure: float | None
    deviation: float
    signal_deviation: float | None
    count: int
    seconds: float
    began: float


@dataclass(frozen=True, slots=True)
class AveragingProgress:
    """What is known after one sample.

    `averaged` seconds of the average are in, `remaining` are to go. `capture` is set on the one
    sample that completes an average, `restarted` on the one that made it begin anew.
    """

    state: Steadiness
    window: Window
    averaged: float
    remaining: float
    capture: Capture | None = None
    restarted: Restart | None = None


class SteadyWatch:
    """Follows one stream of samples.

    Args of the constructor: the house rules, and the averaging time [s].
    Raises ValueError unless the averaging time is above 0 and finite.
    """

    def __init__(self, rules: LiveRules, averaging_time: float) -> None:
        if not isfinite(averaging_time) or averaging_time <= 0.0:
            raise ValueError(f"averaging_time is {averaging_time}; allowed: above 0 s")
        self.averaging_time = averaging_time
        self._rules = rules
        self._look_back = min(rules.look_back, averaging_time)
        self._kept: deque[Sample] = deque(maxlen=MOST_SAMPLES)
        self._was_steady = False

    def restart(self) -> None:
        """Forget all samples, as for a new reading."""
        self._kept.clear()
        self._was_steady = False

    def take(self, sample: Sample) -> AveragingProgress:
        """Take the next sample and say where things stand."""
        restarted = self._broken_off(sample)
        self._kept.append(sample)
        self._let_go(self.averaging_time)
        if self._took_a_step():
            restarted = Restart.STEP
        state = self._cut_to_steady()
        if self._was_steady and state is not Steadiness.STEADY:
            restarted = restarted or Restart.UNSTEADY
        self._was_steady = state is Steadiness.STEADY
        window = self._window()
        averaged = min(self._span(), self.averaging_time) if self._was_steady else 0.0
        capture = None
        if self._was_steady and self._span() >= self.averaging_time - _TINY:
            capture = _average(list(self._kept))
            self.restart()
        remaining = 0.0 if capture else self.averaging_time - averaged
        return AveragingProgress(state, window, averaged, remaining, capture, restarted)

    def _span(self) -> float:
        return self._kept[-1].seconds - self._kept[0].seconds

    def _broken_off(self, sample: Sample) -> Restart | None:
        """Begin anew where `sample` does not go on from the one before; say why."""
        if not self._kept:
            return None
        passed = sample.seconds - self._kept[-1].seconds
        if 0.0 <= passed <= self._rules.longest_gap:
            return None
        self.restart()
        return Restart.GAP if passed > 0.0 else Restart.TIME_WENT_BACK

    def _let_go(self, seconds: float) -> None:
        """Let go of samples older than `seconds`, but keep enough of them to judge by."""
        kept, oldest = self._kept, self._kept[-1].seconds - seconds
        while len(kept) > self._rules.fewest_samples and kept[1].seconds <= oldest + _TINY:
            kept.popleft()
        if self._span() <= ONE_MOMENT_S and len(kept) > MOST_AT_ONCE:
            kept.popleft()

    def _took_a_step(self) -> bool:
        """Keep only what lies beyond a step, if the latest samples took one from a steady state."""
        rules = self._rules
        recent = self._latest(self._look_back)
        before, after = recent[: -rules.step_samples], recent[-rules.step_samples :]
        if len(before) < rules.fewest_samples:
            return False
        stretch = stretch_of(before)
        if self._judged(stretch) is not Steadiness.STEADY:
            return False
        size = max(rules.step_floor, rules.step_share * abs(stretch.mean))
        size = max(size, rules.step_deviations * stretch.scatter)
        away = [sample.duct_pressure - stretch.mean for sample in after]
        if not (min(away) > size or max(away) < -size):
            return False
        self._kept.clear()
        self._kept.extend(after)
        return True

    def _cut_to_steady(self) -> Steadiness:
        """Cut the stretch from its beginning until it is steady, down to the look back."""
        while True:
            stretch = stretch_of(list(self._kept))
            if self._is_too_short(stretch):
                return Steadiness.WAITING
            state = self._judged(stretch)
            if state is Steadiness.STEADY:
                return state
            shorter = max(stretch.seconds * (1.0 - 1.0 / _PARTS), self._look_back)
            before = len(self._kept)
            self._let_go(shorter)
            if len(self._kept) == before:
                return state

    def _is_too_short(self, stretch: Stretch) -> bool:
        few = stretch.count < self._rules.fewest_samples
        return few or stretch.seconds < self._look_back - _TINY

    def _judged(self, stretch: Stretch) -> Steadiness:
        error = self._rules.drift_doubt * stretch.slope_error * stretch.seconds
        if abs(stretch.drift) - error > self._drift_limit(stretch.mean):
            return Steadiness.SETTLING
        if stretch.scatter > self._deviation_limit(stretch.mean):
            return Steadiness.TOO_GUSTY
        return Steadiness.STEADY

    def _drift_limit(self, level: float) -> float:
        return max(self._rules.drift_floor, self._rules.drift_share * abs(level))

    def _deviation_limit(self, level: float) -> float:
        return max(self._rules.deviation_floor, self._rules.deviation_share * abs(level))

    def _latest(self, seconds: float) -> list[Sample]:
        """Return the latest samples, reaching over `seconds` where there are so many."""
        oldest = self._kept[-1].seconds - seconds
        latest: list[Sample] = []
        for sample in reversed(self._kept):
            latest.append(sample)
            if sample.seconds <= oldest + _TINY and len(latest) >= self._rules.fewest_samples:
                break
        return latest[::-1]

    def _window(self) -> Window:
        recent = self._latest(self._look_back)
        stretch = stretch_of(recent)
        return Window(
            mean=stretch.mean,
            scatter=stretch.scatter,
            drift=stretch.drift,
            count=stretch.count,
            seconds=stretch.seconds,
            deviation_limit=self._deviation_limit(stretch.mean),
            drift_limit=self._drift_limit(stretch.mean),
            fan_signal=_mean_and_deviation([sample.fan_signal for sample in recent])[0],
            flow=_mean_and_deviation([sample.flow for sample in recent])[0],
        )


def averages(samples: Iterable[Sample], rules: LiveRules, averaging_time: float) -> list[Capture]:
    """Return every average that a recording holds, one after the other."""
    watch = SteadyWatch(rules, averaging_time)
    taken = (watch.take(sample).capture for sample in samples)
    return [capture for capture in taken if capture is not None]


def _average(run: Sequence[Sample]) -> Capture:
    ducts = [sample.duct_pressure for sample in run]
    signal, signal_deviation = _mean_and_deviation([sample.fan_signal for sample in run])
    return Capture(
        duct_pressure=mean(ducts),
        fan_signal=signal,
        flow=_mean_and_deviation([sample.flow for sample in run])[0],
        house_pressure=_mean_and_deviation([sample.house_pressure for sample in run])[0],
        deviation=sample_standard_deviation(ducts),
        signal_deviation=signal_deviation,
        count=len(run),
        seconds=run[-1].seconds - run[0].seconds,
        began=run[0].seconds,
    )


def _mean_and_deviation(values: Sequence[float | None]) -> tuple[float | None, float | None]:
    """Return mean and standard deviation; None for both where a value is missing."""
    known = [value for value in values if value is not None]
    if len(known) < len(values) or not known:
        return None, None
    return mean(known), sample_standard_deviation(known) if len(known) > 1 else 0.0
