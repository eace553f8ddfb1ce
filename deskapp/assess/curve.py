"""The leakage curve of a test at several pressures, and whether it may be trusted."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from deskapp.assess import curve_findings as say
from deskapp.domain.choices import Direction
from deskapp.domain.finding import Finding, Level
from deskapp.domain.result import ReadingResult
from deskapp.domain.result_parts import CurveBand, CurvePoint, CurveResult
from deskapp.physics import leakage_curve
from deskapp.physics.curve_doubts import CurveDoubt, Doubt, doubts
from deskapp.physics.leakage_curve import Curve, Interval, NoCurveError, NoInterval

BAND_STEPS = 16
"""The curve is given at so many steps of equal ratio, one point more than steps."""

LOWEST_EXPONENT, HIGHEST_EXPONENT = 0.5, 1.0
"""Exponents an opening can have: turbulent to laminar flow. ASTM E779 and ISO 9972:2015 void a test
outside of them; from memory, not checked against the text."""

USUAL_EXPONENT = 0.75
"""Ducts rarely have a greater exponent. Common practice, no source."""

_OF_EXPONENT = (Doubt.EXPONENT_LOW, Doubt.EXPONENT_HIGH)


@dataclass(frozen=True, slots=True)
class DrawnCurve:
    """A curve, or the reason why there is none; without `usable` no result is drawn from it."""

    curve: CurveResult | None
    findings: tuple[Finding, ...]
    usable: bool


def draw(
    path: str,
    readings: list[ReadingResult],
    target: float | None,
    direction: Direction | None,
    *,
    strict: bool,
) -> DrawnCurve:
    """Draw the curve through readings that have a pressure [Pa] and a flow [m3/s].

    `target` is the size [Pa] at which the flow is asked for; None where it is not known.
    With `strict`, an exponent an opening cannot have voids the curve, as the standards for houses
    ask; otherwise only where its interval lies outside as well.
    """
    points = tuple(
        (reading.index, reading.induced_pressure or 0.0, reading.actual_flow or 0.0)
        for reading in readings
    )
    try:
        result, found = _worked_out(points, target, direction)
    except NoCurveError as error:
        at_fault = None if error.place is None else readings[error.place]
        return DrawnCurve(None, (say.no_curve(path, error.reason, at_fault),), usable=False)
    void = _is_void(result, strict=strict)
    findings = tuple(
        say.doubted(path, one, result, void=void and one.doubt in _OF_EXPONENT) for one in found
    )
    if not strict:
        findings += tuple(say.unusual_exponent(path, result.exponent, USUAL_EXPONENT))
    if target is not None:
        sizes = [point.pressure for point in result.points]
        findings += tuple(say.target_outside(path, target, min(sizes), max(sizes)))
    usable = all(finding.level is not Level.STOP for finding in findings)
    return DrawnCurve(result, findings, usable)


@lru_cache(maxsize=64)
def _worked_out(
    points: tuple[tuple[int, float, float], ...],
    target: float | None,
    direction: Direction | None,
) -> tuple[CurveResult, tuple[CurveDoubt, ...]]:
    """Fit the points (reading, pressure, flow); kept, as most edits leave a curve as it is."""
    fitted = leakage_curve.fit([point[1] for point in points], [point[2] for point in points])
    found = doubts(fitted)
    return _result(fitted, found, [point[0] for point in points], target, direction), found


def _is_void(curve: CurveResult, *, strict: bool) -> bool:
    """Say whether no opening has such an exponent, taking its interval into account."""
    low, high = curve.exponent_low, curve.exponent_high
    if strict or low is None or high is None:
        return not LOWEST_EXPONENT <= curve.exponent <= HIGHEST_EXPONENT
    return high < LOWEST_EXPONENT or low > HIGHEST_EXPONENT


def _result(
    fitted: Curve,
    found: tuple[CurveDoubt, ...],
    indices: list[int],
    target: float | None,
    direction: Direction | None,
) -> CurveResult:
    errors = fitted.errors
    coefficient = leakage_curve.coefficient_interval(fitted)
    exponent = leakage_curve.exponent_interval(fitted)
    off = {one.index for one in found if one.doubt is Doubt.POINT_OFF_LINE}
    points = tuple(
        CurvePoint(
            reading=indices[place],
            pressure=pressure,
            flow=flow,
            curve_flow=flow / (1.0 + residual / 100.0),
            residual_percent=residual,
            is_off=place in off,
        )
        for place, (pressure, flow, residual) in enumerate(
            zip(fitted.pressures, fitted.flows, fitted.residuals_percent, strict=True)
        )
    )
    result = CurveResult(
        direction=direction,
        coefficient=fitted.coefficient,
        exponent=fitted.exponent,
        coefficient_low=_low(coefficient),
        coefficient_high=_high(coefficient),
        exponent_low=_low(exponent),
        exponent_high=_high(exponent),
        exponent_error=errors.exponent if errors else None,
        log_coefficient_error=errors.log_coefficient if errors else None,
        r_squared=fitted.r_squared,
        t_quantile=None if errors is None else errors.t_quantile,
        confidence=fitted.confidence,
        points=points,
        band=tuple(_band(fitted, target)),
    )
    return result if target is None else _at_target(result, fitted, target)


def _at_target(result: CurveResult, fitted: Curve, target: float) -> CurveResult:
    there = leakage_curve.flow_at(fitted, target)
    return result.model_copy(
        update={
            "target_pressure": target,
            "flow_at_target": there.flow,
            "flow_low": _low(there.mean),
            "flow_high": _high(there.mean),
            "prediction_low": _low(there.prediction),
            "prediction_high": _high(there.prediction),
            "log_error": there.log_error,
        }
    )


def _band(fitted: Curve, target: float | None) -> Iterator[CurveBand]:
    ends = (*fitted.pressures, *(() if target is None else (target,)))
    lowest, highest = min(ends), max(ends)
    for step in range(BAND_STEPS + 1):
        pressure = lowest * (highest / lowest) ** (step / BAND_STEPS)
        there = leakage_curve.flow_at(fitted, pressure)
        yield CurveBand(
            pressure=pressure, flow=there.flow, low=_low(there.mean), high=_high(there.mean)
        )


def _low(interval: Interval | NoInterval) -> float | None:
    return interval.lowest if isinstance(interval, Interval) else None


def _high(interval: Interval | NoInterval) -> float | None:
    return interval.highest if isinstance(interval, Interval) else None
