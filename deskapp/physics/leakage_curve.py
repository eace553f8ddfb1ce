"""The leakage curve Q = C dP^n through readings at several pressures, with its errors."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import exp, expm1, log
from typing import TYPE_CHECKING

from deskapp.physics.guards import OutOfRangeError, bare_number, require_positive
from deskapp.physics.line import FittedLine, fit_line
from deskapp.physics.student import student_quantile

if TYPE_CHECKING:
    from collections.abc import Sequence

DISTINCT_PRESSURES = 1.000001
"""Least ratio of highest to lowest pressure that makes a line [1]. Below it is one pressure."""

LARGEST_EXPONENT = 5.0
"""Largest exponent, as a size, that is still called a curve [1].

An opening passes air with an exponent between 0.5 and 1; far beyond, the readings say nothing
about leakage. House rule of this program; no published source."""

WIDEST_FACTOR = 1e6
"""An interval whose ends lie further from the value than this factor is not given [1]."""


class NoCurve(StrEnum):
    """Why no curve can be drawn through the readings."""

    TOO_FEW_POINTS = "too_few_points"
    UNEQUAL_COUNTS = "unequal_counts"
    NOT_A_SIZE = "not_a_size"
    MIXED_SIGNS = "mixed_signs"
    ONE_PRESSURE = "one_pressure"
    ABSURD_EXPONENT = "absurd_exponent"


class NoInterval(StrEnum):
    """Why there is no interval."""

    TWO_POINTS = "two_points"
    TOO_WIDE = "too_wide"


class NoCurveError(OutOfRangeError):
    """No curve can be drawn; `reason` says why, and `argument` names what is in the way.

    `place` is the position of the point at fault; None where no single one is.
    """

    def __init__(
        self,
        reason: NoCurve,
        argument: str,
        value: object,
        allowed: str,
        place: int | None = None,
    ) -> None:
        super().__init__(argument, value, allowed)
        self.reason = reason
        self.place = place


@dataclass(frozen=True, slots=True)
class Interval:
    """Two ends of an interval, in the unit of the value it belongs to."""

    lowest: float
    highest: float


@dataclass(frozen=True, slots=True)
class CurveErrors:
    """How well a curve is known: standard errors, and the quantile that widens them.

    `log_coefficient` is the standard error of ln C with C at 1 Pa; `covariance` is that of n and
    ln C; `residual_deviation` is the scatter of ln Q about the line; all plain numbers [1].
    """

    exponent: float
    log_coefficient: float
    covariance: float
    residual_deviation: float
    degrees: int
    t_quantile: float


@dataclass(frozen=True, slots=True)
class Curve:
    """A curve Q = C dP^n and the readings it was drawn from; see fit.

    `coefficient` in m3/(s Pa^n), in number the flow at 1 Pa; `pressures` as sizes in Pa; `flows`
    in m3/s; `residuals_percent` is how far each flow lies above the curve, in percent of the
    curve. `r_squared` is None when all flows are alike, `errors` when there are two points only.
    """

    coefficient: float
    exponent: float
    r_squared: float | None
    errors: CurveErrors | None
    confidence: float
    pressures: tuple[float, ...]
    flows: tuple[float, ...]
    residuals_percent: tuple[float, ...]
    line: FittedLine

    @property
    def count(self) -> int:
        """Number of points."""
        return len(self.pressures)


@dataclass(frozen=True, slots=True)
class CurveFlow:
    """Flow of a curve at one pressure [m3/s].

    `log_error` is the standard error of ln Q there, in number the relative standard uncertainty
    that the fit leaves; `mean` holds the true curve, `prediction` one more reading.
    """

    flow: float
    log_error: float | None
    mean: Interval | NoInterval
    prediction: Interval | NoInterval


def fit(
    pressures: Sequence[float],
    flows: Sequence[float],
    confidence: float = 0.95,
) -> Curve:
    """Fit Q = C dP^n by ordinary least squares of ln Q on ln dP.

    Plain floats only. All points weigh the same, and none is dropped.

    Args:
        pressures: induced pressures, all of one sign [Pa].
        flows: leakage flows at those pressures [m3/s].
        confidence: probability of the two-sided intervals [1].

    Returns:
        The curve, with errors when there are three points or more [Curve].

    Range: two or more distinct pressures; whether the points are good enough for a verdict is
        asked in curve_doubts.

    Raises:
        ValueError: a NoCurveError with its reason: fewer than two points, unequal counts, a value
            that is zero, of the wrong sign or size, one pressure only, or an exponent beyond 5.

    Source: ASTM E779 (annex on errors) and ISO 9972:2015 (annex C); from memory, not checked
        against the text. The E779 form of the standard errors is that of ordinary least squares.
    """
    if not 0.5 <= confidence <= 0.9999:
        raise OutOfRangeError("confidence", confidence, "0.5 to 0.9999")
    sizes = _sizes(pressures, flows)
    line = fit_line([log(pressure) for pressure in sizes], [log(flow) for flow in flows])
    if abs(line.slope) > LARGEST_EXPONENT:
        allowed = (
            f"readings whose exponent lies within {-LARGEST_EXPONENT:g} to {LARGEST_EXPONENT:g}"
        )
        raise NoCurveError(NoCurve.ABSURD_EXPONENT, "flows", tuple(flows), allowed)
    return Curve(
        coefficient=exp(line.intercept),
        exponent=line.slope,
        r_squared=line.r_squared,
        errors=_errors(line, confidence),
        confidence=confidence,
        pressures=sizes,
        flows=tuple(float(flow) for flow in flows),
        residuals_percent=tuple(100.0 * expm1(residual) for residual in line.residuals),
        line=line,
    )


def flow_at(curve: Curve, pressure: float) -> CurveFlow:
    """Flow of a curve at a pressure, with the interval of the curve and of one more reading.

    Plain floats only.

    Args:
        curve: a fitted curve [Curve].
        pressure: pressure difference, as a size [Pa].

    Returns:
        Flow, error and both intervals [CurveFlow].

    Range: sound between the lowest and highest pressure read; beyond, the intervals widen but do
        not know of a law that changes.

    Raises:
        ValueError: the pressure is not positive or not finite.

    Source: ASTM E779 (annex on errors) and ISO 9972:2015 (annex C) for the curve; prediction
        interval of ordinary least squares; from memory, checked in the tests against another
        implementation.
    """
    require_positive("pressure", pressure)
    x = log(pressure)
    flow = exp(curve.line.at(x))
    errors = curve.errors
    if errors is None:
        return CurveFlow(flow, None, NoInterval.TWO_POINTS, NoInterval.TWO_POINTS)
    leverage = curve.line.leverage(x)
    log_error = errors.residual_deviation * leverage**0.5
    one_more = errors.residual_deviation * (1.0 + leverage) ** 0.5
    return CurveFlow(
        flow,
        log_error,
        _around(flow, errors.t_quantile * log_error),
        _around(flow, errors.t_quantile * one_more),
    )


def coefficient_interval(curve: Curve) -> Interval | NoInterval:
    """Confidence interval of the coefficient C: C exp(-I) to C exp(+I), I = t * error of ln C.

    Plain floats only.

    Args:
        curve: a fitted curve [Curve].

    Returns:
        The interval in m3/(s Pa^n), or why there is none [Interval].

    Range: that of the exponent; C is the flow at 1 Pa, mostly far outside the readings.

    Raises:
        ValueError: never, for a curve that fit has made.

    Source: ASTM E779 (annex on errors) and ISO 9972:2015 (annex C); from memory, not checked
        against the text.
    """
    if curve.errors is None:
        return NoInterval.TWO_POINTS
    return _around(curve.coefficient, curve.errors.t_quantile * curve.errors.log_coefficient)


def exponent_interval(curve: Curve) -> Interval | NoInterval:
    """Confidence interval of the exponent n: n - I to n + I, I = t * error of n.

    Plain floats only.

    Args:
        curve: a fitted curve [Curve].

    Returns:
        The interval of n, a plain number, or why there is none [Interval].

    Range: any fitted curve of three points or more.

    Raises:
        ValueError: never, for a curve that fit has made.

    Source: ASTM E779 (annex on errors) and ISO 9972:2015 (annex C); from memory, not checked
        against the text.
    """
    if curve.errors is None:
        return NoInterval.TWO_POINTS
    half = curve.errors.t_quantile * curve.errors.exponent
    return Interval(curve.exponent - half, curve.exponent + half)


def _sizes(pressures: Sequence[float], flows: Sequence[float]) -> tuple[float, ...]:
    """Return the pressures as sizes, after making sure that a line can be drawn."""
    if len(pressures) < 2:
        few = NoCurve.TOO_FEW_POINTS
        raise NoCurveError(few, "number of pressures", len(pressures), "2 or more")
    if len(flows) != len(pressures):
        allowed = f"{len(pressures)}, as many as pressures"
        raise NoCurveError(NoCurve.UNEQUAL_COUNTS, "number of flows", len(flows), allowed)
    for place, (pressure, flow) in enumerate(zip(pressures, flows, strict=True)):
        _require_size("pressures", place, pressure, abs(bare_number(pressure)))
        _require_size("flows", place, flow, bare_number(flow))
    above = [place for place, pressure in enumerate(pressures) if pressure > 0.0]
    below = [place for place, pressure in enumerate(pressures) if pressure < 0.0]
    if above and below:
        allowed = "pressures all above 0, or all below 0"
        rarer = min(above, below, key=len)[0]
        raise NoCurveError(NoCurve.MIXED_SIGNS, "pressures", tuple(pressures), allowed, rarer)
    sizes = tuple(abs(float(pressure)) for pressure in pressures)
    if max(sizes) < DISTINCT_PRESSURES * min(sizes):
        allowed = "at least two distinct pressures"
        raise NoCurveError(NoCurve.ONE_PRESSURE, "pressures", tuple(pressures), allowed)
    return sizes


def _require_size(name: str, place: int, value: float, size: float) -> None:
    argument = f"{name}[{place}]"
    try:
        require_positive(argument, size)
    except OutOfRangeError as error:
        not_a_size = NoCurve.NOT_A_SIZE
        raise NoCurveError(not_a_size, argument, value, error.allowed, place) from error


def _errors(line: FittedLine, confidence: float) -> CurveErrors | None:
    scatter, exponent_error = line.residual_deviation, line.slope_error
    if scatter is None or exponent_error is None:
        return None
    return CurveErrors(
        exponent=exponent_error,
        log_coefficient=scatter * line.leverage(0.0) ** 0.5,
        covariance=-line.mean_x * exponent_error**2,
        residual_deviation=scatter,
        degrees=line.degrees,
        t_quantile=student_quantile((1.0 + confidence) / 2.0, line.degrees),
    )


def _around(value: float, log_half: float) -> Interval | NoInterval:
    """Interval whose ends lie a factor away on both sides, the same in ln."""
    if log_half > log(WIDEST_FACTOR):
        return NoInterval.TOO_WIDE
    return Interval(value * exp(-log_half), value * exp(log_half))
