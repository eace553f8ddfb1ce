"""A training session on a simulated duct system, told line by line.

The one who trains sees pressure, target, steadiness and countdown as in a real test, and is told
the hidden leakage at the end. Nothing real is measured, and no fan is controlled.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from deskapp.i18n import _
from deskapp.physics.statistics import mean
from deskapp.physics.target import RESIDENTIAL_EXPONENT, flow_at_target
from deskapp.session.live.comma_lines import CommaReader
from deskapp.session.live.live_words import aim_words, steadiness_words
from deskapp.session.live.ring_fit import ring_laws
from deskapp.session.live.simulated import HEADER, SimulatedSystem
from deskapp.session.live.sources import Line
from deskapp.session.live.training_data import TARGET_PA, Training, draw_case
from deskapp.session.live.watch import LiveWatch, Plan
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from collections.abc import Callable

    from deskapp.session.live.rules import LiveRules
    from deskapp.session.live.steadiness import Capture
    from deskapp.session.live.watch import LiveView
    from deskapp.units.display import Formatter

REPEATS = 3

_LONGEST_WAIT_S = 240.0
_PAUSE_S = 10.0
_TELL_EVERY_S = 1.0


@dataclass(frozen=True, slots=True)
class TrainingResult:
    """How a session came out: the leakage at 25 Pa as measured, and the hidden one [m3/s].

    `measured` is None where the pressure did not become steady in time; `captures` are the
    averages it came from.
    """

    measured: float | None
    true: float
    captures: tuple[Capture, ...]

    @property
    def percent_off(self) -> float | None:
        """Return how far the measured flow lies above the true one [%]."""
        return None if self.measured is None else 100.0 * (self.measured / self.true - 1.0)


def run_training(
    training: Training,
    rules: LiveRules,
    formatter: Formatter,
    say: Callable[[str], None],
    *,
    seed: int,
    weather_id: str = "calm",
    averaging_time: float = 10.0,
    wait: Callable[[float], None] | None = None,
) -> TrainingResult:
    """Go through one test: baseline, three repeats at 25 Pa with the fan off between, baseline.

    Args:
        training: what to draw the hidden duct system from.
        rules: when a pressure counts as steady.
        formatter: writes the figures.
        say: takes each line that is told, such as `print`.
        seed: the same seed gives the same session.
        weather_id: one of the kinds of weather of the data.
        averaging_time: of each average [s].
        wait: called with each interval [s]; `time.sleep` for a session in real time, None for one
            as fast as it can be worked out.

    Raises KeyError for an unknown weather, ValueError for an averaging time not above 0.
    """
    session = _Session(training, rules, formatter, say, seed, weather_id, averaging_time, wait)
    return session.run()


class _Session:
    def __init__(
        self,
        training: Training,
        rules: LiveRules,
        formatter: Formatter,
        say: Callable[[str], None],
        seed: int,
        weather_id: str,
        averaging_time: float,
        wait: Callable[[float], None] | None,
    ) -> None:
        self._case, ring = draw_case(training, seed, weather_id)
        self._system = SimulatedSystem(self._case, seed)
        laws = ring_laws(training.fan, formatter)
        self._law = next(law for law in laws if law.key == ring.key)
        self._still = Plan(averaging_time, rings=laws, ring=ring.key)
        self._watch = LiveWatch(CommaReader(), rules, self._still, formatter)
        self._formatter, self._say, self._wait = formatter, say, wait

    def run(self) -> TrainingResult:
        """Measure, then tell what was hidden."""
        self._say(_("A simulated duct system; all of it is invented."))
        words = _("The fan has the ring for {range}.")
        self._say(words.format(range=self._law.words))
        self._watch.take([Line(HEADER, 0.0)])
        captures = self._captures()
        true = self._case.leakage(TARGET_PA)
        measured = None if captures is None else self._leakage(captures)
        result = TrainingResult(measured, true, tuple(captures or ()))
        self._tell(result)
        return result

    def _captures(self) -> list[Capture] | None:
        """Return baseline, repeats and baseline; None where one did not come."""
        before = self._captured(0.0, self._still, _("Baseline, fan off and covered."))
        if before is None:
            return None
        found = [before]
        held = Plan(
            self._still.averaging_time,
            target=self._case.direction * TARGET_PA,
            baseline=before.duct_pressure,
            rings=self._still.rings,
            ring=self._still.ring,
        )
        for repeat in range(1, REPEATS + 1):
            what = _("Reading {n} of {all}.").format(n=repeat, all=REPEATS)
            reading = self._captured(TARGET_PA, held, what)
            if reading is None:
                return None
            found.append(reading)
            self._system.set_pressure = 0.0
            self._pass(_PAUSE_S)
        after = self._captured(0.0, self._still, _("Baseline once more."))
        return None if after is None else [*found, after]

    def _captured(self, pressure: float, plan: Plan, what: str) -> Capture | None:
        """Set the fan by hand and wait for an average."""
        self._say(what)
        self._watch.replan(plan)
        self._system.set_pressure = pressure
        begun = told = self._system.seconds
        while self._system.seconds - begun < _LONGEST_WAIT_S:
            view = self._step()
            capture = view.progress.capture if view.progress is not None else None
            if capture is not None or self._system.seconds - told >= _TELL_EVERY_S:
                told = self._system.seconds
                self._say(self._line_of(view))
            if capture is not None:
                return capture
        self._say(_("The pressure did not become steady in time."))
        return None

    def _step(self) -> LiveView:
        if self._wait is not None:
            self._wait(self._case.interval)
        return self._watch.take([Line(self._system.next_line(), self._system.seconds)])

    def _pass(self, seconds: float) -> None:
        for _each in range(round(seconds / self._case.interval)):
            self._step()

    def _line_of(self, view: LiveView) -> str:
        if view.progress is None or view.sample is None:
            return ""
        clock = f"{view.sample.seconds:6.1f} s"
        pressure = self._formatter.show(Kind.PRESSURE, view.progress.window.mean, "Pa")
        state = steadiness_words(view.progress, self._formatter)
        aim = aim_words(view, self._watch.plan, self._formatter)
        ring = view.ring_fit.text if view.ring_fit is not None else ""
        return "  ".join(part for part in (clock, pressure, state, aim, ring) if part)

    def _leakage(self, captures: list[Capture]) -> float:
        """Return the mean leakage at the target [m3/s], by the ring that was fitted."""
        baseline = mean([captures[0].duct_pressure, captures[-1].duct_pressure])
        flows: list[float] = []
        for capture in captures[1:-1]:
            induced = abs(capture.duct_pressure - baseline)
            flow = self._law.flow(capture.fan_signal or 0.0)
            flows.append(flow_at_target(flow, TARGET_PA, induced, RESIDENTIAL_EXPONENT))
        return mean(flows)

    def _tell(self, result: TrainingResult) -> None:
        true = self._formatter.show(Kind.FLOW, result.true)
        if result.measured is None or result.percent_off is None:
            self._say(_("Nothing was measured; the hidden leakage is {true}.").format(true=true))
            return
        words = _("Measured {measured} at {target}; hidden was {true}. Off by {percent} %.")
        self._say(
            words.format(
                measured=self._formatter.show(Kind.FLOW, result.measured),
                target=self._formatter.show(Kind.PRESSURE, TARGET_PA, "Pa", 0),
                true=true,
                percent=self._formatter.number(result.percent_off, 1),
            )
        )
