"""One test worked out, from its readings to the leakage at the target pressure."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import Any

from deskapp.assess import curve_findings, trial_steps
from deskapp.assess.air_at_fan import air_at_fan, air_through_leaks
from deskapp.assess.house_air import house_air
from deskapp.assess.memo import Memo
from deskapp.assess.readings import Conditions, Worked, is_blank, work_out
from deskapp.assess.run import EXPONENT_RANGE, REACHED, Run, Setting, work_out_run
from deskapp.domain.choices import Direction, Method, Metric, Part
from deskapp.domain.finding import Finding
from deskapp.domain.instrument import Fan, Ring
from deskapp.domain.job import Job
from deskapp.domain.later import Later
from deskapp.domain.measured import si_of
from deskapp.domain.result import ReadingResult, TestResult
from deskapp.domain.result_parts import DirectionResult
from deskapp.domain.trial import LeakageTest, Reading
from deskapp.physics import constants, leakage, statistics, target

__all__ = ["EXPONENT_RANGE", "REACHED", "Trial", "baseline_of", "ring_of", "work_out_test"]

HOUSE_EXPONENT = 0.65
"""Exponent assumed for the leakage of a house when none was measured. ANSI/RESNET/ICC 380 and 301,
one-point test; from memory, not checked against the text."""

HOLE_COEFFICIENT = 0.6
"""Discharge coefficient of the sharp-edged hole that leakage is likened to."""

LARGEST_SPREAD = 0.05
"""Spread of repeats that earns a finding. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Trial:
    """A test worked out, what is to be said about it, and the runs its result rests on."""

    result: TestResult
    findings: tuple[Finding, ...]
    runs: tuple[Run, ...] = ()


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


def work_out_test(
    job: Job,
    position: int,
    *,
    blocked: bool = False,
    reading_path: str = "",
    beside: object = None,
    memo: Memo | None = None,
) -> Trial:
    """Work out the test at `position` of a job whose values are all usable.

    `blocked` says that a value of this test was set aside; then no result is drawn from the rest.
    `reading_path` is where its one reading stands, if not among the readings of the test.
    A `memo` spares readings that have not changed; `beside` stands for all of the job but its
    tests.
    """
    test = job.tests[position]
    kept = (memo or Memo()).kept
    parts = (test.setup, test.ambient, test.baseline_before, test.baseline_after, beside)

    def setting(way: Direction | None) -> Setting:
        parts_of_way = (position, way, test.was_read, *parts)
        return kept("setting", parts_of_way, lambda: _setting(job, position, way))

    def reading_worked(index: int, reading: Reading, conditions: Conditions) -> Worked:
        path = reading_path or f"tests.{position}.readings.{index}"
        work = partial(work_out, path, index, reading, conditions)
        return kept("reading", (path, reading, conditions), work)

    settings = tuple(setting(way) for way in _directions(test))
    worked = [
        (place, reading_worked(index, reading, settings[place].conditions))
        for index, reading in enumerate(test.readings)
        if not is_blank(reading)
        for place in (_place(reading, settings),)
    ]
    blocked = blocked or any(not reading.usable for _place_of, reading in worked)
    strict = test.setup.metric is Metric.ENVELOPE
    runs = tuple(
        work_out_run(
            setting,
            tuple(reading for where, reading in worked if where == place),
            blocked=blocked,
            strict=strict,
        )
        for place, setting in enumerate(settings)
    )
    result = _result(job, test, runs)
    findings = (
        *(finding for one in settings for finding in one.fan_air.findings),
        *(finding for one in settings for finding in one.house_air.findings),
        *(finding for _place_of, reading in worked for finding in reading.findings),
        *(finding for run in runs for finding in run.findings),
        *_missing_direction(position, runs),
    )
    return Trial(result, findings, runs)


def _directions(test: LeakageTest) -> tuple[Direction | None, ...]:
    if test.setup.direction is Direction.BOTH:
        return Direction.PRESSURIZE, Direction.DEPRESSURIZE
    return (test.setup.direction,)


def _setting(job: Job, position: int, direction: Direction | None) -> Setting:
    test = job.tests[position]
    fan = job.fan(test.setup.fan)
    several = test.setup.method is Method.SEVERAL_PRESSURES
    exponent = si_of(test.setup.exponent)
    if exponent is None:
        is_house = test.setup.metric is Metric.ENVELOPE
        exponent = HOUSE_EXPONENT if is_house else target.RESIDENTIAL_EXPONENT
    wanted = si_of(test.setup.target_pressure)
    fan_air = air_at_fan(job, position, fan, direction)
    through = house_air(position, test, direction, fan_air)
    conditions = Conditions(
        path=f"tests.{position}",
        direction=test.setup.direction,
        baseline=baseline_of(test),
        target=wanted if wanted is not None and wanted > 0 else None,
        exponent=exponent,
        ring=ring_of(fan, test),
        density_factor=fan_air.factor,
        several=several,
        house_factor=through.factor * (1.0 if several else through.to_standard(exponent)),
    )
    return Setting(direction, conditions, fan_air, through)


def _place(reading: Reading, settings: tuple[Setting, ...]) -> int:
    """Return which setting a reading belongs to: of two directions, the one its sign says."""
    pressure = si_of(reading.duct_pressure)
    if len(settings) < 2 or pressure is None:
        return 0
    return 0 if pressure >= settings[0].conditions.baseline else 1


def _missing_direction(position: int, runs: tuple[Run, ...]) -> tuple[Finding, ...]:
    if len(runs) < 2 or not any(run.readings for run in runs):
        return ()
    return tuple(
        curve_findings.one_direction(f"tests.{position}", pressurized=place == 1)
        for place, run in enumerate(runs)
        if not run.used
    )


def _result(job: Job, test: LeakageTest, runs: tuple[Run, ...]) -> TestResult:
    first = runs[0]
    conditions, density = first.setting.conditions, first.setting.fan_air
    bare = TestResult(
        test=test.key,
        system=test.system,
        metric=test.setup.metric,
        method=Method.SEVERAL_PRESSURES if conditions.several else Method.SINGLE_PRESSURE,
        part=test.setup.part or Part.WHOLE,
        direction=test.setup.direction,
        target_pressure=conditions.target,
        readings=_readings(runs),
        exponent=statistics.mean([run.exponent for run in runs]),
        air_density=density.density,
        calibration_density=density.calibration_density,
        density_factor=density.factor,
        not_corrected=next((one for run in runs if (one := run.setting.fan_air.not_corrected)), ""),
        curve=first.curve if len(runs) == 1 else None,
        directions=tuple(_direction(run) for run in runs) if len(runs) > 1 else (),
    )
    flows = [run.flow for run in runs if run.flow is not None]
    if len(flows) < len(runs):
        return bare
    flow = statistics.mean(flows)
    full = bare.model_copy(
        update={
            "flow": flow,
            "mean_induced_pressure": _mean([run.mean_pressure for run in runs]),
            "highest_pressure": min(run.highest_pressure or 0.0 for run in runs),
            "spread": max((run.spread for run in runs if run.spread is not None), default=None),
            "extrapolated": any(run.extrapolated for run in runs),
            **_flow_range(runs),
            **_values(
                job,
                test,
                flow,
                conditions.target or 0.0,
                air_through_leaks(bare) or constants.STANDARD_DENSITY,
            ),
        }
    )
    write = partial(trial_steps.steps, job, test, runs, full)
    return full.model_copy(update={"trace": Later(write)})


def _readings(runs: tuple[Run, ...]) -> tuple[ReadingResult, ...]:
    if len(runs) == 1:
        return runs[0].readings
    rows = [row for run in runs for row in run.readings]
    return tuple(sorted(rows, key=lambda row: row.index))


def _direction(run: Run) -> DirectionResult:
    return DirectionResult(
        direction=run.setting.direction or Direction.PRESSURIZE,
        readings=len(run.used),
        flow=run.flow,
        mean_induced_pressure=run.mean_pressure,
        highest_pressure=run.highest_pressure,
        spread=run.spread,
        curve=run.curve,
    )


def _mean(values: list[float | None]) -> float | None:
    known = [value for value in values if value is not None]
    return statistics.mean(known) if known and len(known) == len(values) else None


def _flow_range(runs: tuple[Run, ...]) -> dict[str, float | None]:
    """Return the range of the result where a target was not reached."""
    if not any(run.extrapolated for run in runs):
        return {"flow_low": None, "flow_high": None}
    return {
        "flow_low": _mean([run.low if run.extrapolated else run.flow for run in runs]),
        "flow_high": _mean([run.high if run.extrapolated else run.flow for run in runs]),
    }


def _values(
    job: Job, test: LeakageTest, flow: float, pressure: float, density: float
) -> dict[str, Any]:
    is_house = test.setup.metric is Metric.ENVELOPE
    system = None if is_house else job.system(test.system)
    area = si_of(system.area_served) if system else None
    fan_flow = si_of(system.fan_flow) if system else None
    surface = si_of(system.duct_surface) if system else None
    hole = (
        leakage.equivalent_orifice_area(flow, pressure, HOLE_COEFFICIENT, density)
        if flow > 0
        else 0.0
    )
    return {
        "flow_per_area": leakage.flow_per_area(flow, area) if area and area > 0 else None,
        "fan_fraction": leakage.fraction_of_fan_flow(flow, fan_flow)
        if fan_flow and fan_flow > 0
        else None,
        "flow_per_surface": leakage.flow_per_area(flow, surface)
        if surface and surface > 0
        else None,
        "hole_area": hole,
        "hole_diameter": leakage.round_hole_diameter(hole) if hole > 0 else 0.0,
    }
