"""Whether a pressure is steady while samples arrive, and its average once it was long enough.

A plain state machine: the only time it knows is that of the samples. Two stretches of the past are
looked at. The latest few seconds (`look_back`) decide what is said; the run of samples since these
were first steady becomes the average, if it is as steady as a whole over the averaging time. A
step, a gap in the stream or a gust begins a new run. No sample counts in two averages.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass
from enum import StrEnum
from math import isfinite
from typing import TYPE_CHECKING

from deskapp.session.live.running_line import RunningLine

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from deskapp.session.live.rules import LiveRules
    from deskapp.session.live.samples import Sample

MOST_SAMPLES = 500
"""Samples kept of the latest past; streams beyond 100 a second are never called steady."""

_TINY = 1e-9


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
    """The latest past: mean [Pa], scatter about the line [Pa], slope [Pa/s], samples and span [s].

    `deviation_limit` and `drift_limit` are what steady allows at this mean [Pa].
    """

    mean: float
    scatter: float
    slope: float
    count: int
    seconds: float
    deviation_limit: float
    drift_limit: float

    @property
    def drift(self) -> float:
        """How far the line moves within the window, signed [Pa]."""
        return self.slope * self.seconds


@dataclass(frozen=True, slots=True)
class Capture:
    """One average over a steady run.

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
class Progress:
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
        self._recent: deque[Sample] = deque(maxlen=MOST_SAMPLES)
        self._run: list[Sample] = []
        self._line = RunningLine()
        self._used_up_to: float | None = None

    def restart(self) -> None:
        """Forget all samples, as for a new reading."""
        self._recent.clear()
        self._end_run()
        self._used_up_to = None

    def take(self, sample: Sample) -> Progress:
        """Take the next sample and say where things stand."""
        restarted = self._broken_off(sample)
        self._recent.append(sample)
        self._trim()
        if restarted is None:
            restarted = self._after_step()
        line = _line_through(self._recent)
        state = self._judged(line, self._look_back)
        if state is Steadiness.STEADY:
            self._lengthen_run(sample)
            if self._line.count >= self._rules.fewest_samples:
                state = self._judged(self._line, 0.0)
        if state is not Steadiness.STEADY:
            restarted = restarted or (Restart.UNSTEADY if self._run else None)
            self._end_run()
        averaged = min(self._line.span, self.averaging_time)
        capture = self._complete() if self._is_long_enough() else None
        remaining = 0.0 if capture else self.averaging_time - averaged
        return Progress(state, self._window(line), averaged, remaining, capture, restarted)

    def _broken_off(self, sample: Sample) -> Restart | None:
        """Begin anew where `sample` does not go on from the one before; say why."""
        if not self._recent:
            return None
        passed = sample.seconds - self._recent[-1].seconds
        if 0.0 <= passed <= self._rules.longest_gap:
            return None
        self.restart()
        return Restart.GAP if passed > 0.0 else Restart.TIME_WENT_BACK

    def _trim(self) -> None:
        """Let go of samples older than the look back, but keep enough to judge by."""
        recent, oldest = self._recent, self._recent[-1].seconds - self._look_back
        while len(recent) > self._rules.fewest_samples and recent[1].seconds <= oldest + _TINY:
            recent.popleft()

    def _after_step(self) -> Restart | None:
        """Keep only what lies beyond a step, if the latest samples took one from a steady state."""
        rules = self._rules
        recent = list(self._recent)
        before, latest = recent[: -rules.step_samples], recent[-rules.step_samples :]
        line = _line_through(before)
        if self._judged(line, 0.0) is not Steadiness.STEADY:
            return None
        size = max(rules.step_floor, rules.step_share * abs(line.mean))
        size = max(size, rules.step_deviations * line.deviation)
        away = [sample.duct_pressure - line.mean for sample in latest]
        if not (min(away) > size or max(away) < -size):
            return None
        self._recent.clear()
        self._recent.extend(latest)
        self._end_run()
        return Restart.STEP

    def _judged(self, line: RunningLine, shortest: float) -> Steadiness:
        rules = self._rules
        if line.count < rules.fewest_samples or line.span < shortest - _TINY:
            return Steadiness.WAITING
        drift = (abs(line.slope) - rules.drift_doubt * line.slope_error) * line.span
        if drift > self._drift_limit(line.mean):
            return Steadiness.SETTLING
        if line.scatter > self._deviation_limit(line.mean):
            return Steadiness.TOO_GUSTY
        return Steadiness.STEADY

    def _drift_limit(self, mean: float) -> float:
        return max(self._rules.drift_floor, self._rules.drift_share * abs(mean))

    def _deviation_limit(self, mean: float) -> float:
        return max(self._rules.deviation_floor, self._rules.deviation_share * abs(mean))

    def _window(self, line: RunningLine) -> Window:
        limits = self._deviation_limit(line.mean), self._drift_limit(line.mean)
        return Window(line.mean, line.scatter, line.slope, line.count, line.span, *limits)

    def _lengthen_run(self, sample: Sample) -> None:
        """Add `sample` to the run; a new run begins with the recent samples not yet used."""
        fresh = [sample]
        if not self._run:
            used = self._used_up_to
            fresh = [one for one in self._recent if used is None or one.seconds > used]
        self._run += fresh
        for one in fresh:
            self._line.add(one.seconds, one.duct_pressure)

    def _is_long_enough(self) -> bool:
        enough = self._line.count >= self._rules.fewest_samples
        return enough and self._line.span >= self.averaging_time - _TINY

    def _complete(self) -> Capture:
        capture = _average(self._run)
        self._used_up_to = self._run[-1].seconds
        self._end_run()
        return capture

    def _end_run(self) -> None:
        self._run = []
        self._line = RunningLine()


def averages(samples: Iterable[Sample], rules: LiveRules, averaging_time: float) -> list[Capture]:
    """Return every average that a recording holds, one after the other."""
    watch = SteadyWatch(rules, averaging_time)
    taken = (watch.take(sample).capture for sample in samples)
    return [capture for capture in taken if capture is not None]


def _line_through(samples: Iterable[Sample]) -> RunningLine:
    line = RunningLine()
    for sample in samples:
        line.add(sample.seconds, sample.duct_pressure)
    return line


def _average(run: Sequence[Sample]) -> Capture:
    duct = _line_through(run)
    signal, signal_deviation = _mean_of([sample.fan_signal for sample in run])
    return Capture(
        duct_pressure=duct.mean,
        fan_signal=signal,
        flow=_mean_of([sample.flow for sample in run])[0],
        house_pressure=_mean_of([sample.house_pressure for sample in run])[0],
        deviation=duct.deviation,
        signal_deviation=signal_deviation,
        count=len(run),
        seconds=duct.span,
        began=run[0].seconds,
    )


def _mean_of(values: Sequence[float | None]) -> tuple[float | None, float | None]:
    """Return mean and standard deviation; None for both where a value is missing."""
    line = RunningLine()
    for place, value in enumerate(values):
        if value is None:
            return None, None
        line.add(float(place), value)
    return line.mean, line.deviation
