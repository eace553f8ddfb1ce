"""The arithmetic of one test, line by line, for anyone who wants to follow it."""

from __future__ import annotations

from collections.abc import Iterator
from statistics import geometric_mean

from deskapp.assess.air_at_fan import air_through_leaks
from deskapp.assess.house_air import standard_step
from deskapp.assess.readings import Conditions
from deskapp.assess.run import Run
from deskapp.domain.job import Job
from deskapp.domain.measured import si_of
from deskapp.domain.result import ReadingResult, Step, StepInput, TestResult
from deskapp.domain.trial import LeakageTest
from deskapp.i18n import _
from deskapp.physics import constants
from deskapp.units.display import in_sentences
from deskapp.units.kinds import Kind
from deskapp.units.numbers import restyled


def steps(
    job: Job, test: LeakageTest, runs: tuple[Run, ...], result: TestResult
) -> tuple[Step, ...]:
    """Return the lines that lead from the readings to the result of a test."""
    told = [_baseline(test, runs[0].setting.conditions)]
    for run in runs:
        told += [step for step in _run(test, run) if len(runs) == 1 or step not in told]
    if len(runs) > 1:
        told.append(_both(runs, result))
    return (*told, *_shares(job, test, result))


def _run(test: LeakageTest, run: Run) -> Iterator[Step]:
    """Yield the lines of one direction."""
    conditions = run.setting.conditions
    yield from run.setting.fan_air.steps
    yield from run.setting.house_air.steps
    for reading in run.readings:
        if reading.flow_at_target is not None:
            yield from _reading(test, conditions, reading)
    if conditions.several:
        yield from _curve(run)
    else:
        yield from standard_step(run.setting.house_air, run.exponent)
        yield from _mean(run)


def _curve(run: Run) -> Iterator[Step]:
    curve = run.curve
    if curve is None:
        return
    source = _("Least squares of ln Q on ln P; ASTM E779, ISO 9972:2015 (from memory)")
    yield Step(
        label=_("Exponent of the curve"),
        formula="n = Σ(x − x̄)(y − ȳ) / Σ(x − x̄)², x = ln P, y = ln Q",
        value=curve.exponent,
        kind=Kind.NUMBER,
        source=source,
    )
    yield Step(
        label=_("Coefficient of the curve: its flow at 1 Pa"),
        formula=_("C = Q̄ / P̄^n, with geometric means of the readings"),
        inputs=(
            _input("Q̄", geometric_mean(point.flow for point in curve.points), Kind.FLOW),
            _input("P̄", geometric_mean(point.pressure for point in curve.points), Kind.PRESSURE),
            _input("n", curve.exponent, Kind.NUMBER),
        ),
        value=curve.coefficient,
        kind=Kind.COEFFICIENT,
        source=source,
    )
    yield from standard_step(run.setting.house_air, run.exponent)
    yield Step(
        label=_("Leakage at the target pressure, from the curve"),
        formula="Q = C · Pₜ^n",
        inputs=(
            _input("C", curve.coefficient, Kind.COEFFICIENT),
            _input("Pₜ", curve.target_pressure, Kind.PRESSURE),
            _input("n", curve.exponent, Kind.NUMBER),
        ),
        value=run.flow,
        kind=Kind.FLOW,
    )


def _both(runs: tuple[Run, ...], result: TestResult) -> Step:
    return Step(
        label=_("Mean of both directions"),
        formula="(Q₊ + Q₋) / 2",
        inputs=tuple(
            _input(symbol, run.flow, Kind.FLOW)
            for symbol, run in zip(("Q₊", "Q₋"), runs, strict=False)
        ),
        value=result.flow,
        kind=Kind.FLOW,
    )


def _input(symbol: str, value: float | None, kind: Kind, unit: str = "") -> StepInput:
    """Return an input; with a `unit`, in which the formula holds, the usual one beside it."""
    return StepInput(symbol=symbol, value=value or 0.0, kind=kind, unit=unit, beside=bool(unit))


def _baseline(test: LeakageTest, conditions: Conditions) -> Step:
    known = (("b₁", test.baseline_before), ("b₂", test.baseline_after))
    inputs = tuple(
        _input(symbol, si_of(value), Kind.PRESSURE)
        for symbol, value in known
        if si_of(value) is not None
    )
    return Step(
        label=_("Baseline"),
        formula="b = (b₁ + b₂) / 2" if len(inputs) == 2 else "b",
        inputs=inputs,
        value=conditions.baseline,
        kind=Kind.PRESSURE,
    )


def _reading(test: LeakageTest, conditions: Conditions, reading: ReadingResult) -> Iterator[Step]:
    row = _("reading {n}").format(n=reading.index + 1)
    pressure = si_of(test.readings[reading.index].duct_pressure)
    yield Step(
        label=_("Induced pressure, {row}").format(row=row),
        formula="P = p − b",
        inputs=(
            _input("p", pressure, Kind.PRESSURE),
            _input("b", conditions.baseline, Kind.PRESSURE),
        ),
        value=reading.induced_pressure,
        kind=Kind.PRESSURE,
    )
    ring = conditions.ring
    if ring is not None and reading.fan_signal is not None:
        yield Step(
            label=_("Flow from the ring, {row}").format(row=row),
            formula="Q = C · s^m",
            inputs=(
                _input("C", si_of(ring.coefficient), Kind.COEFFICIENT),
                _input("s", reading.fan_signal, Kind.PRESSURE),
                _input("m", si_of(ring.exponent), Kind.NUMBER),
            ),
            value=reading.indicated_flow,
            kind=Kind.FLOW,
            source=_("Calibration certificate of the fan"),
        )
    if conditions.density_factor != 1.0:
        yield Step(
            label=_("Flow of the air at the fan, {row}").format(row=row),
            formula="Q · √(ρ₀ / ρ)",
            inputs=(
                _input("Q", reading.indicated_flow, Kind.FLOW),
                _input("√(ρ₀ / ρ)", conditions.density_factor, Kind.NUMBER),
            ),
            value=reading.actual_flow,
            kind=Kind.FLOW,
        )
    if conditions.several:
        return
    yield Step(
        label=_("Flow at the target, {row}").format(row=row),
        formula="Qₜ = Q · (Pₜ / |P|)^n",
        inputs=(
            _input("Q", reading.actual_flow, Kind.FLOW),
            _input("Pₜ", conditions.target, Kind.PRESSURE),
            _input("P", reading.induced_pressure, Kind.PRESSURE),
            _input("n", conditions.exponent, Kind.NUMBER),
        ),
        value=reading.flow_at_target,
        kind=Kind.FLOW,
        source=_("Power law of leakage; n as entered, else assumed"),
    )


def _mean(run: Run) -> Iterator[Step]:
    flows = [row.flow_at_target for row in run.used if row.flow_at_target is not None]
    yield Step(
        label=_("Leakage at the target pressure"),
        formula=_("mean of the readings"),
        inputs=tuple(
            _input(f"Q{position}", flow, Kind.FLOW) for position, flow in enumerate(flows, 1)
        ),
        value=run.flow,
        kind=Kind.FLOW,
    )
    if run.spread is not None:
        yield Step(
            label=_("Spread of the readings"),
            formula=_("(largest − smallest) / mean"),
            value=run.spread,
            kind=Kind.FRACTION,
        )


def _shares(job: Job, test: LeakageTest, result: TestResult) -> Iterator[Step]:
    system = job.system(test.system)
    if system is not None and result.flow_per_area is not None:
        yield Step(
            label=_("Leakage per floor area served"),
            formula="Q / A",
            inputs=(
                _input("Q", result.flow, Kind.FLOW),
                _input("A", si_of(system.area_served), Kind.AREA),
            ),
            value=result.flow_per_area,
            kind=Kind.FLOW_PER_AREA,
        )
    if system is not None and result.fan_fraction is not None:
        yield Step(
            label=_("Leakage as a share of the air handler flow"),
            formula="Q / Qₐ",
            inputs=(
                _input("Q", result.flow, Kind.FLOW),
                _input("Qₐ", si_of(system.fan_flow), Kind.FLOW),
            ),
            value=result.fan_fraction,
            kind=Kind.FRACTION,
        )
    density = air_through_leaks(result)
    symbol = "ρ₀" if density is None else "ρ"
    through = constants.STANDARD_DENSITY if density is None else density
    yield Step(
        label=_("Equivalent sharp-edged hole"),
        formula=restyled(f"A = Q / (0.6 · √(2 · Pₜ / {symbol}))", in_sentences().style),
        inputs=(
            _input("Q", result.flow, Kind.FLOW, "m3/s"),
            _input("Pₜ", result.target_pressure, Kind.PRESSURE),
            _input(symbol, through, Kind.DENSITY, "kg/m3"),
        ),
        value=result.hole_area,
        kind=Kind.AREA,
        unit="m2",
        beside=True,
        source=_("Orifice equation, discharge coefficient 0.6 (from memory, text not checked)"),
    )
