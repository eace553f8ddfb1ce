"""What is to be read for a test: target with its sign, baseline, averaging time, rings."""

from __future__ import annotations

import pytest

from deskapp.domain.choices import Direction
from deskapp.domain.instrument import Fan, Ring
from deskapp.domain.job import Job
from deskapp.domain.measured import Measured
from deskapp.domain.trial import LeakageTest, SetUp
from deskapp.session.live.plan_of_test import USUAL_AVERAGING_S, plan_of_test, training_run
from deskapp.session.live.training_data import Training
from deskapp.units.display import Formatter


def measured(si: float, unit: str) -> Measured:
    return Measured(si=si, unit=unit, typed=f"{si:g} {unit}")


def job_with(setup: SetUp, baseline: float | None = None) -> Job:
    """An invented job with one test and one fan of one ring."""
    ring = Ring(key="r1", coefficient=measured(0.005, "m3/s"), exponent=measured(0.5, "1"))
    before = None if baseline is None else measured(baseline, "Pa")
    test = LeakageTest(key="t1", setup=setup, baseline_before=before)
    return Job(fans=(Fan(key="f1", rings=(ring,)),), tests=(test,))


@pytest.mark.parametrize(
    ("direction", "target"),
    [
        (Direction.PRESSURIZE, 25.0),
        (Direction.DEPRESSURIZE, -25.0),
        (Direction.BOTH, None),
        (None, None),
    ],
)
def test_that_the_target_takes_its_sign_from_the_direction(
    direction: Direction | None, target: float | None, formatter: Formatter
) -> None:
    setup = SetUp(direction=direction, target_pressure=measured(25.0, "Pa"))
    assert plan_of_test(job_with(setup), 0, formatter).target == target


def test_that_averaging_time_baseline_and_the_only_ring_are_taken_from_the_job(
    formatter: Formatter,
) -> None:
    plan = plan_of_test(job_with(SetUp(averaging_time=measured(15.0, "s")), -1.2), 0, formatter)
    assert (plan.averaging_time, plan.baseline, plan.ring) == (15.0, -1.2, "r1")
    assert [law.key for law in plan.rings] == ["r1"]


def test_that_an_averaging_time_that_cannot_be_gives_way_to_the_usual_one(
    formatter: Formatter,
) -> None:
    plan = plan_of_test(job_with(SetUp(averaging_time=measured(0.0, "s"))), 0, formatter)
    assert plan.averaging_time == USUAL_AVERAGING_S


def test_that_a_baseline_has_no_target_and_nothing_taken_off(formatter: Formatter) -> None:
    setup = SetUp(direction=Direction.PRESSURIZE, target_pressure=measured(25.0, "Pa"))
    plan = plan_of_test(job_with(setup, -1.2), 0, formatter, for_baseline=True)
    assert (plan.target, plan.baseline, plan.rings) == (None, 0.0, ())


def test_that_a_training_aims_in_the_direction_of_the_system_drawn(
    training: Training, formatter: Formatter
) -> None:
    targets = {training_run(training, seed, formatter).plan.target for seed in range(20)}
    assert targets == {25.0, -25.0}
    assert training_run(training, 3, formatter).case == training_run(training, 3, formatter).case
