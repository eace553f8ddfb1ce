"""A fan checked between calibrations against a hole of known size, and its drift over the years."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from deskapp.physics.constants import SHARP_EDGE_COEFFICIENT, STANDARD_DENSITY
from deskapp.physics.flow_device import orifice_flow
from deskapp.physics.guards import (
    OutOfRangeError,
    require_between,
    require_finite,
    require_not_negative,
    require_positive,
)
from deskapp.physics.line import fit_line
from deskapp.physics.student import student_quantile

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

DAYS_PER_YEAR = 365.2425
"""Mean length of a year of the Gregorian calendar, in days [1]."""

USUAL_TOLERANCE = 0.07
"""Disagreement within which a fan is called unchanged when no other tolerance is given [1].

About what the hole and the fan can disagree by in the field together; common practice, no
source."""


@dataclass(frozen=True, slots=True)
class FieldCheckOutcome:
    """Outcome of one check: flows in m3/s, `share_off` and `tolerance` as shares of the flow."""

    expected: float
    indicated: float
    share_off: float
    tolerance: float
    within: bool


@dataclass(frozen=True, slots=True)
class Drift:
    """How the share off changes with time, by a line of least squares through the checks.

    `per_year` is its slope [1/a], `at_last` the line on the day of the last check [1]; `lowest`
    and `highest` hold the slope with 95% and are None when there are two checks only.
    """

    per_year: float
    at_last: float
    lowest: float | None
    highest: float | None
    count: int


def share_off(indicated: float, expected: float) -> float:
    """How far an indicated flow lies above the expected one, as a share of the expected.

    Args:
        indicated: flow the fan shows, corrected for air density [m3/s].
        expected: flow expected through the hole [m3/s].

    Returns:
        The share, 0.05 for 5% too high, negative for too low [1].

    Range: any positive expected flow.

    Raises:
        ValueError: the indicated flow is negative, the expected one is not positive, or a value
            is not finite.

    Source: definition of relative deviation.
    """
    require_not_negative("indicated", indicated)
    require_positive("expected", expected)
    return (indicated - expected) / expected


def check_against_hole(
    area: float,
    pressure: float,
    indicated: float,
    tolerance: float = USUAL_TOLERANCE,
    discharge_coefficient: float = SHARP_EDGE_COEFFICIENT,
    density: float = STANDARD_DENSITY,
) -> FieldCheckOutcome:
    """Hold the flow a fan shows against the flow through a hole in a plate over its duct.

    Plain floats only.

    Args:
        area: area of the hole, a sharp edge in a thin flat plate [m2].
        pressure: pressure difference across the plate, as a size [Pa].
        indicated: flow the fan shows, corrected for air density [m3/s].
        tolerance: largest disagreement, as a share of the expected flow [1].
        discharge_coefficient: about 0.60 to 0.61 for a sharp edge, or as certified [1].
        density: density of the air upstream of the hole [kg/m3].

    Returns:
        Expected flow, share off and whether it lies within the tolerance [FieldCheckOutcome].

    Range: hole small against the plate, no wind on it. A check between calibrations; it replaces
        none.

    Raises:
        ValueError: an argument is negative or not finite, the expected flow is zero, or the
            tolerance is above 0.5.

    Source: orifice equation, see flow_device.orifice_flow; checking with a hole of known size is
        common practice, no source.
    """
    require_positive("area", area)
    require_positive("pressure", pressure)
    require_between("tolerance", tolerance, 0.0, 0.5)
    expected = orifice_flow(area, discharge_coefficient, pressure, density)
    off = share_off(indicated, expected)
    return FieldCheckOutcome(
        expected=expected,
        indicated=indicated,
        share_off=off,
        tolerance=tolerance,
        within=abs(off) <= tolerance,
    )


def drift(days: Sequence[date], shares_off: Sequence[float]) -> Drift:
    """Drift of a fan over its field checks, by least squares on time.

    Plain floats only.

    Args:
        days: day of each check, in any order, two or more of them distinct [date].
        shares_off: share off found on each of these days, signed [1].

    Returns:
        Slope per year and its interval [Drift].

    Range: a steady drift; a fan that was dropped jumps instead. Below a year or so between first
        and last check the scatter of the checks outweighs the drift.

    Raises:
        ValueError: fewer than two checks, unequal counts, one day only, or a share not finite.

    Source: ordinary least squares; Student's interval of the slope.
    """
    if len(days) < 2:
        raise OutOfRangeError("number of days", len(days), "2 or more")
    if len(shares_off) != len(days):
        allowed = f"{len(days)}, as many as days"
        raise OutOfRangeError("number of shares_off", len(shares_off), allowed)
    for place, share in enumerate(shares_off):
        require_finite(f"shares_off[{place}]", share)
    first, last = min(days), max(days)
    if first == last:
        raise OutOfRangeError("days", first, "at least two distinct days")
    years = [(day - first).days / DAYS_PER_YEAR for day in days]
    line = fit_line(years, shares_off)
    error = line.slope_error
    half = None if error is None else student_quantile(0.975, line.degrees) * error
    return Drift(
        per_year=line.slope,
        at_last=line.at(max(years)),
        lowest=None if half is None else line.slope - half,
        highest=None if half is None else line.slope + half,
        count=len(days),
    )
