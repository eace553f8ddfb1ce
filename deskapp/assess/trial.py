"""One test worked out, from its readings to the leakage at the target pressure."""

from __future__ import annotations

from dataclasses import dataclass

from deskapp.assess import trial_findings as say
from deskapp.assess import trial_steps
from deskapp.assess.air_at_fan import AirAtFan, air_at_fan
from deskapp.assess.readings import Conditions, Worked, is_blank, work_out
from deskapp.domain.finding import Finding
from deskapp.domain.instrument import Fan, Ring
from deskapp.domain.job import Job
from deskapp.domain.measured import si_of
from deskapp.domain.result import ReadingResult, TestResult
from deskapp.domain.trial import LeakageTest
from deskapp.physics import constants, leakage, statistics, target

REACHED = 0.9
"""Share of the target below which a result is called extrapolated. House rule."""

EXPONENT_RANGE = (0.5, 0.7)
"""Exponents for the range printed with an extrapolated result. Common practice, no source."""

HOLE_COEFFICIENT = 0.6
"""Discharge coefficient of the sharp-edged hole that leakage is likened to."""

LARGEST_SPREAD = 0.05
"""Spread of repeats that earns a finding. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Trial:
    """A test worked out, and what is to be said about it."""

    result: TestResult
    findings: tuple[Finding, ...]


def ring_of(fan: Fan | None, test: LeakageTest) -> Ring | None:
    """Return the ring fitted; the fan's only ring if none is chosen."""
    if fan is None:
        return None
    if not test.setup.ring and len(fan.rings) == 1:
        return fan.rings[0]
    return next((ring for ring in fan.rings if ring.key == test.setup.ring), None)


def baseline_of(test: LeakageTest) -> float:
    """Return the mean baseline pressure, Pa; 0 if none was recorded."""
    before, after = si_of(test.baseline_before), si_of(test.baseline_after)
    known = [value for value in (before, after) if value is not None]
    if not known:
        return 0.0
    return target.baseline_mean(known[0], known[-1])


def work_out_test(job: Job, position: int, *, blocked: bool = False) -> Trial:
    """Work out the test at `position` of a job whose values are all usable.

    `blocked` says that a value of this test was set aside; then no result is drawn from the rest.
    """
    test = job.tests[position]
    fan = job.fan(test.setup.fan)
    exponent = si_of(test.setup.exponent)
    wanted = si_of(test.setup.target_pressure)
    density = air_at_fan(job, position, fan)
    conditions = Conditions(
        path=f"tests.{position}",
        direction=test.setup.direction,
        baseline=baseline_of(test),
        target=wanted if wanted is not None and wanted > 0 else None,
        exponent=target.RESIDENTIAL_EXPONENT if exponent is None else exponent,
        ring=ring_of(fan, test),
        density_factor=density.factor,
    )
    worked = tuple(
        work_out(index, reading, conditions)
        for index, reading in enumerate(test.readings)
        if not is_blank(reading)
    )
    result = _result(job, test, conditions, density, worked, blocked=blocked)
    findings = (
        *density.findings,
        *(finding for reading in worked for finding in reading.findings),
        *say.about_test(position, test, result, LARGEST_SPREAD),
    )
    return Trial(result, findings)


def _result(
    job: Job,
    test: LeakageTest,
    conditions: Conditions,
    density: AirAtFan,
    worked: tuple[Worked, ...],
    *,
    blocked: bool,
) -> TestResult:
    bare = TestResult(
        test=test.key,
        system=test.system,
        metric=test.setup.metric,
        target_pressure=conditions.target,
        readings=tuple(reading.result for reading in worked),
        exponent=conditions.exponent,
        air_density=density.density,
        calibration_density=density.calibration_density,
        density_factor=density.factor,
    )
    used = [reading.result for reading in worked if reading.complete]
    flows = [reading.flow_at_target for reading in used if reading.flow_at_target is not None]
    stands_in_the_way = blocked or any(not reading.usable for reading in worked)
    if not flows or len(flows) != len(used) or stands_in_the_way:
        return bare
    flow = statistics.mean(flows)
    pressures = [abs(reading.induced_pressure or 0.0) for reading in used]
    values = _values(job, test, flow, conditions.target or 0.0)
    mean_pressure = statistics.mean(pressures)
    extrapolated = mean_pressure < REACHED * (conditions.target or 0.0)
    low, high = _range(conditions, used) if extrapolated else (None, None)
    full = bare.model_copy(
        update={
            "flow": flow,
            "mean_induced_pressure": mean_pressure,
            "spread": statistics.spread(flows) if flow > 0 and len(flows) > 1 else None,
            "extrapolated": extrapolated,
            "flow_low": low,
            "flow_high": high,
            **values,
        }
    )
    steps = trial_steps.steps(job, test, conditions, density, full)
    return full.model_copy(update={"steps": steps})


def _values(job: Job, test: LeakageTest, flow: float, pressure: float) -> dict[str, float | None]:
    system = job.system(test.system)
    area = si_of(system.area_served) if system else None
    fan_flow = si_of(system.fan_flow) if system else None
    hole = (
        leakage.equivalent_orifice_area(
            flow, pressure, HOLE_COEFFICIENT, constants.STANDARD_DENSITY
        )
        if flow > 0
        else 0.0
    )
    return {
        "flow_per_area": leakage.flow_per_area(flow, area) if area and area > 0 else None,
        "fan_fraction": leakage.fraction_of_fan_flow(flow, fan_flow)
        if fan_flow and fan_flow > 0
        else None,
        "hole_area": hole,
        "hole_diameter": leakage.round_hole_diameter(hole) if hole > 0 else 0.0,
    }


def _range(conditions: Conditions, used: list[ReadingResult]) -> tuple[float, float]:
    """Return the lowest and highest mean flow at target over EXPONENT_RANGE."""
    wanted = conditions.target or 0.0
    means = [
        statistics.mean(
            [
                target.flow_at_target(
                    reading.actual_flow or 0.0, wanted, abs(reading.induced_pressure or 0.0), n
                )
                for reading in used
            ]
        )
        for n in EXPONENT_RANGE
    ]
    return min(means), max(means)
