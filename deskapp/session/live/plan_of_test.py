"""What is to be read for a test of the job, or in a training session."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from deskapp.domain.choices import Direction
from deskapp.domain.measured import si_of
from deskapp.i18n import _
from deskapp.session.live.ring_fit import ring_laws
from deskapp.session.live.simulated import SimulatedCase, SimulatedSystem
from deskapp.session.live.training_data import TARGET_PA, Training, draw_case
from deskapp.session.live.training_server import TrainingServer
from deskapp.session.live.watch import Plan
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from deskapp.domain.instrument import Fan
    from deskapp.domain.job import Job
    from deskapp.domain.trial import LeakageTest
    from deskapp.units.display import Formatter

USUAL_AVERAGING_S = 10.0
"""Averaging time where the set-up of the test names none [s]. House rule."""


def plan_of_test(
    job: Job, position: int, formatter: Formatter, *, for_baseline: bool = False
) -> Plan:
    """Return what is to be read for the test at `position` of the job.

    The target takes its sign from the direction of the test; it is left open where the target
    pressure or the direction is not entered, in tests of both directions, and for a baseline.
    """
    test = job.tests[position]
    averaging = si_of(test.setup.averaging_time)
    averaging = averaging if averaging is not None and averaging > 0.0 else USUAL_AVERAGING_S
    if for_baseline:
        return Plan(averaging)
    fan = _fan_of(job, test)
    ring = test.setup.ring
    if not ring and fan is not None and len(fan.rings) == 1:
        ring = fan.rings[0].key
    return Plan(
        averaging,
        target=_target_of(test),
        baseline=si_of(test.baseline_before) or 0.0,
        rings=() if fan is None else ring_laws(fan, formatter),
        ring=ring,
    )


def _fan_of(job: Job, test: LeakageTest) -> Fan | None:
    if not test.setup.fan and len(job.fans) == 1:
        return job.fans[0]
    return next((fan for fan in job.fans if fan.key == test.setup.fan), None)


def _target_of(test: LeakageTest) -> float | None:
    target = si_of(test.setup.target_pressure)
    if target is None or target == 0.0:
        return None
    if test.setup.direction is Direction.PRESSURIZE:
        return abs(target)
    return -abs(target) if test.setup.direction is Direction.DEPRESSURIZE else None


@dataclass(frozen=True, slots=True)
class TrainingRun:
    """A simulated duct system that waits to be listened to, and what is to be read from it."""

    server: TrainingServer
    plan: Plan
    case: SimulatedCase

    def answer(self, formatter: Formatter) -> str:
        """Return what was hidden, to be told once the session is over."""
        words = _("The simulated ducts leak {flow} at {pressure}.")
        return words.format(
            flow=formatter.show(Kind.FLOW, self.case.leakage(TARGET_PA)),
            pressure=formatter.show(Kind.PRESSURE, TARGET_PA, "Pa"),
        )


def training_run(
    training: Training,
    seed: int,
    formatter: Formatter,
    weather_id: str = "calm",
    *,
    averaging_time: float = USUAL_AVERAGING_S,
    pace: float = 1.0,
) -> TrainingRun:
    """Draw a hidden duct system; the same for each seed. Its server is not started yet.

    Args:
        training: what to draw from.
        seed: of system and noise.
        formatter: names the rings.
        weather_id: one of the kinds of weather of the data; KeyError for another.
        averaging_time: of each average [s].
        pace: real seconds for each simulated one.
    """
    case, ring = draw_case(training, seed, weather_id)
    server = TrainingServer(SimulatedSystem(case, seed), pace=pace)
    laws = ring_laws(training.fan, formatter)
    plan = Plan(averaging_time, target=case.direction * TARGET_PA, rings=laws, ring=ring.key)
    return TrainingRun(server, plan, case)
