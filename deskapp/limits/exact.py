"""From SI to the unit of a code, without the last-bit noise of the conversion."""

from __future__ import annotations

import math
from fractions import Fraction
from functools import lru_cache

from deskapp.units.convert import from_unit, to_unit

_SIGNIFICANT = 12


def in_code_unit(si: float, unit: str) -> float:
    """Return the SI value `si` in `unit`, so that a reading exactly at a limit meets it.

    A value typed in cfm and kept as SI can come back from a plain division one bit too great. Here
    the result is the short decimal number that leads to the very same SI value, if there is one,
    and otherwise the smallest number that leads to at least that SI value. No two SI values ever
    change places, and nothing is rounded that could be told apart.

    Args:
        si: value in the SI unit of the kind; finite, zero or more.
        unit: a unit id without an offset, such as ``"cfm"``.

    Raises:
        ValueError: unknown unit id.
    """
    value = to_unit(si, unit)
    if si <= 0:
        return value
    while from_unit(value, unit) < si:
        value = math.nextafter(value, math.inf)
    lower = math.nextafter(value, -math.inf)
    while from_unit(lower, unit) >= si:
        value, lower = lower, math.nextafter(lower, -math.inf)
    short = float(f"{value:.{_SIGNIFICANT}g}")
    return short if from_unit(short, unit) == si else value


@lru_cache(maxsize=512)
def as_written(value: float) -> Fraction:
    """Return the decimal number a person would write for `value`, exactly (0.29 is 29/100)."""
    return Fraction(str(value))


def product(*factors: float, over: float = 1.0) -> float:
    """Multiply the numbers as written and divide by `over`; rounded once, to the nearest float.

    Plain floats give 0.29 * 100 = 28.999999999999996, and 29.0 would then miss its limit.
    """
    result = Fraction(1)
    for factor in factors:
        result *= as_written(factor)
    return float(result / as_written(over))
