"""The air tightness of the house itself, from a test with the fan in a door panel."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from deskapp.assess import curve as curves
from deskapp.assess.run import Run
from deskapp.domain.choices import Metric
from deskapp.domain.job import Job
from deskapp.domain.later import Later
from deskapp.domain.measured import Measured, si_of
from deskapp.domain.result import TestResult
from deskapp.domain.result_parts import EnvelopeResult
from deskapp.domain.step import Step, StepInput
from deskapp.i18n import _
from deskapp.physics import envelope, leakage
from deskapp.physics.constants import SHARP_EDGE_COEFFICIENT
from deskapp.physics.statistics import mean
from deskapp.units.kinds import Kind

REFERENCE_PA = 50.0
"""Pressure at which the tightness of a house is stated."""

SECONDS_PER_HOUR = 3600.0


def with_tightness(job: Job, runs: tuple[Run, ...], result: TestResult) -> TestResult:
    """Return the result with the tightness of the house; as it is for ducts or without a flow."""
    if result.metric is not Metric.ENVELOPE or result.flow is None or result.flow <= 0.0:
        return result
    try:
        found = _tightness(job, runs)
    except ValueError:
        return result

    def write() -> tuple[Step, ...]:
        return (*result.steps, *_steps(job, found))

    return result.model_copy(update={"envelope": found, "trace": Later(write)})


def _tightness(job: Job, runs: tuple[Run, ...]) -> EnvelopeResult:
    house = job.house
    coefficients = [_coefficient(run) for run in runs]

    def over_runs(what: Callable[[float, float], float]) -> float:
        return mean([what(c, run.exponent) for c, run in zip(coefficients, runs, strict=True)])

    flow = over_runs(lambda c, n: envelope.curve_flow(c, n, REFERENCE_PA))
    low, high = _interval(runs)
    volume = _above_zero(house.volume)
    return EnvelopeResult(
        flow_50=flow,
        flow_50_low=low,
        flow_50_high=high,
        air_changes_50=SECONDS_PER_HOUR * envelope.air_change_rate(flow, volume)
        if volume
        else None,
        per_floor_area=_per(flow, house.floor_area),
        per_envelope_area=_per(flow, house.envelope_area),
        leakage_area_4=over_runs(lambda c, n: envelope.curve_leakage_area(c, n, 4.0, 1.0)),
        leakage_area_10=over_runs(
            lambda c, n: envelope.curve_leakage_area(c, n, 10.0, SHARP_EDGE_COEFFICIENT)
        ),
        coefficient=coefficients[0] if len(runs) == 1 else None,
        exponent=mean([run.exponent for run in runs]),
        is_standard=all(run.setting.house_air.density is not None for run in runs),
        has_curve=all(run.curve is not None for run in runs),
    )


def _coefficient(run: Run) -> float:
    """Return the flow at 1 Pa of a direction, at standard air where the air is known."""
    if run.curve is not None:
        return run.curve.coefficient * run.setting.house_air.to_standard(run.exponent)
    return (run.flow or 0.0) / (run.setting.conditions.target or REFERENCE_PA) ** run.exponent


def _interval(runs: tuple[Run, ...]) -> tuple[float | None, float | None]:
    """Return the interval of the flow at 50 Pa that the curves leave."""
    lows: list[float] = []
    highs: list[float] = []
    for run in runs:
        if run.curve is None:
            return None, None
        drawn = curves.draw(
            run.setting.conditions.path,
            list(run.used),
            REFERENCE_PA,
            run.setting.direction,
            strict=True,
        )
        curve = drawn.curve
        if curve is None or curve.flow_low is None or curve.flow_high is None:
            return None, None
        factor = run.setting.house_air.to_standard(run.exponent)
        lows.append(curve.flow_low * factor)
        highs.append(curve.flow_high * factor)
    return mean(lows), mean(highs)


def _above_zero(value: Measured | None) -> float | None:
    si = si_of(value)
    return si if si is not None and si > 0.0 else None


def _per(flow: float, area: Measured | None) -> float | None:
    si = _above_zero(area)
    return leakage.flow_per_area(flow, si) if si else None


def _steps(job: Job, found: EnvelopeResult) -> Iterator[Step]:
    source = _("ISO 9972:2015 (from memory, text not checked)")
    flow = StepInput(symbol="Q₅₀", value=found.flow_50, kind=Kind.FLOW)
    yield Step(
        label=_("Leakage of the house at 50 Pa"),
        formula="Q₅₀ = C · 50^n",
        inputs=(StepInput(symbol="n", value=found.exponent or 0.0, kind=Kind.NUMBER),),
        value=found.flow_50,
        kind=Kind.FLOW,
        source=source,
    )
    if found.air_changes_50 is not None:
        yield Step(
            label=_("Air changes per hour at 50 Pa"),
            formula="n₅₀ = 3600 · Q₅₀ / V",
            inputs=(
                flow,
                StepInput(symbol="V", value=si_of(job.house.volume) or 0.0, kind=Kind.VOLUME),
            ),
            value=found.air_changes_50,
            kind=Kind.NUMBER,
            source=source,
        )
    yield Step(
        label=_("Effective leakage area at 4 Pa"),
        formula="A = C · 4^n · √(ρ₀ / (2 · 4 Pa))",
        inputs=(StepInput(symbol="n", value=found.exponent or 0.0, kind=Kind.NUMBER),),
        value=found.leakage_area_4,
        kind=Kind.AREA,
        source=_("ASTM E779 (from memory, text not checked)"),
    )
