"""What speaks against trusting a fitted leakage curve, as numbers; words come later."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import log

from deskapp.physics.guards import OutOfRangeError
from deskapp.physics.leakage_curve import DISTINCT_PRESSURES, Curve
from deskapp.physics.line import fit_line
from deskapp.physics.student import student_quantile

RESOLUTION = 1e-9
"""Smallest scatter of ln Q told from rounding [1].

Keeps a point's distance finite when all the others lie on one line to the last digit."""


class Doubt(StrEnum):
    """A kind of doubt about a curve."""

    TOO_FEW_POINTS = "too_few_points"
    NARROW_SPAN = "narrow_span"
    EXPONENT_LOW = "exponent_low"
    EXPONENT_HIGH = "exponent_high"
    LOW_R_SQUARED = "low_r_squared"
    POINT_OFF_LINE = "point_off_line"


@dataclass(frozen=True, slots=True)
class CurveDoubt:
    """One doubt: what was found, the bound it passed, and the point it is about, if any.

    `value` and `bound` are plain numbers: a count of points, the ratio of highest to lowest
    pressure, an exponent, r squared, or a studentized residual. `index` counts from 0.
    """

    doubt: Doubt
    value: float
    bound: float
    index: int | None = None


@dataclass(frozen=True, slots=True)
class CurveRules:
    """Bounds within which a curve raises no doubt; None asks nothing.

    All are plain numbers: `smallest_pressure_ratio` is highest over lowest pressure,
    `significance` the probability of naming a point off the line where none is.
    """

    fewest_points: int
    smallest_pressure_ratio: float | None
    lowest_exponent: float
    highest_exponent: float
    lowest_r_squared: float | None
    significance: float


DUCT_RULES = CurveRules(
    fewest_points=5,
    smallest_pressure_ratio=2.0,
    lowest_exponent=0.5,
    highest_exponent=1.0,
    lowest_r_squared=0.98,
    significance=0.05,
)
"""Bounds for ducts and small enclosures.

Source: points, exponents and r squared as ISO 9972:2015 and ASTM E779 ask of envelopes, from
memory, not checked against the text; the pressure ratio of 2 and the significance of 5% for the
whole set of points are house rules, common practice, no source."""

RING_RULES = CurveRules(
    fewest_points=5,
    smallest_pressure_ratio=4.0,
    lowest_exponent=0.45,
    highest_exponent=0.55,
    lowest_r_squared=0.999,
    significance=0.05,
)
"""Bounds for the pairs of signal and flow on the certificate of a fan ring.

House rules of this program: a pressure difference device has an exponent near 0.5, and a usable
range of signal spans a ratio of 4 or more; common practice, no source."""


def doubts(curve: Curve, rules: CurveRules = DUCT_RULES) -> tuple[CurveDoubt, ...]:
    """List what speaks against a curve, each with its numbers.

    Plain floats only. A point off the line is named, never dropped.

    Args:
        curve: a fitted curve [Curve].
        rules: bounds to hold it against [CurveRules].

    Returns:
        The doubts; empty when there is none [CurveDoubt].

    Range: any fitted curve.

    Raises:
        ValueError: the significance of the rules is outside 0.001 to 0.5.

    Source: the bounds carry their own, see DUCT_RULES; points off the line as in off_line.
    """
    found: list[CurveDoubt] = []
    if curve.count < rules.fewest_points:
        found.append(CurveDoubt(Doubt.TOO_FEW_POINTS, curve.count, rules.fewest_points))
    ratio, smallest = max(curve.pressures) / min(curve.pressures), rules.smallest_pressure_ratio
    if smallest is not None and ratio < smallest:
        found.append(CurveDoubt(Doubt.NARROW_SPAN, ratio, smallest))
    if curve.exponent < rules.lowest_exponent:
        found.append(CurveDoubt(Doubt.EXPONENT_LOW, curve.exponent, rules.lowest_exponent))
    if curve.exponent > rules.highest_exponent:
        found.append(CurveDoubt(Doubt.EXPONENT_HIGH, curve.exponent, rules.highest_exponent))
    squared, lowest = curve.r_squared, rules.lowest_r_squared
    if squared is not None and lowest is not None and squared < lowest:
        found.append(CurveDoubt(Doubt.LOW_R_SQUARED, squared, lowest))
    return (*found, *off_line(curve, rules.significance))


def studentized_residuals(curve: Curve) -> tuple[float | None, ...]:
    """Distance of each point from the curve of the other points, in standard errors.

    Plain floats only.

    Args:
        curve: a fitted curve [Curve].

    Returns:
        One number for each point; None where the others are fewer than three or share one
        pressure, so that they have no scatter or no line [1].

    Range: any fitted curve; meaningful from five points.

    Raises:
        ValueError: never, for a curve that fit has made.

    Source: externally studentized residual, R. D. Cook and S. Weisberg, Residuals and Influence
        in Regression, 1982; from memory, checked in the tests against another implementation.
    """
    return tuple(_left_out(curve, index) for index in range(curve.count))


def off_line(curve: Curve, significance: float = 0.05) -> tuple[CurveDoubt, ...]:
    """Name the points that lie further off the curve of the others than chance explains.

    Plain floats only.

    Args:
        curve: a fitted curve [Curve].
        significance: probability of naming any point of a sound set [1].

    Returns:
        A doubt for each such point, with its studentized residual and the bound [CurveDoubt].

    Range: four points or more; two points off the line together can hide each other.

    Raises:
        ValueError: the significance is outside 0.001 to 0.5.

    Source: externally studentized residual with Bonferroni's bound, R. D. Cook and S. Weisberg,
        Residuals and Influence in Regression, 1982; from memory, checked in the tests against
        another implementation.
    """
    if not 0.001 <= significance <= 0.5:
        raise OutOfRangeError("significance", significance, "0.001 to 0.5")
    if curve.count < 4:
        return ()
    bound = student_quantile(1.0 - significance / (2.0 * curve.count), curve.count - 3)
    return tuple(
        CurveDoubt(Doubt.POINT_OFF_LINE, distance, bound, index)
        for index, distance in enumerate(studentized_residuals(curve))
        if distance is not None and abs(distance) > bound
    )


def _left_out(curve: Curve, index: int) -> float | None:
    """Distance of one point from the line of the others over the error of that distance."""
    others = [place for place in range(curve.count) if place != index]
    pressures = [curve.pressures[place] for place in others]
    if len(others) < 3 or max(pressures) < DISTINCT_PRESSURES * min(pressures):
        return None
    line = fit_line(
        [log(pressure) for pressure in pressures],
        [log(curve.flows[place]) for place in others],
    )
    x, y = log(curve.pressures[index]), log(curve.flows[index])
    scatter = max((line.sum_residuals / line.degrees) ** 0.5, RESOLUTION)
    return (y - line.at(x)) / (scatter * (1.0 + line.leverage(x)) ** 0.5)
