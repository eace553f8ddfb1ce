"""Numbers in the lines of arithmetic: short, but never so short that the outcome looks wrong."""

from __future__ import annotations

import math

from deskapp.units.display import in_sentences
from deskapp.units.numbers import restyled
from deskapp.units.table import unit_named

_LEAST_DECIMALS = {"L/s/m2": 3, "cfm/100ft2": 2, "cfm/ft2": 3}
_MOST_DECIMALS = 17


def shown(value: float, decimals: int) -> str:
    """Return `value`, in whatever unit, with thousands grouped and a true minus sign."""
    return in_sentences().number(value, decimals)


def written(value: float) -> str:
    """Return `value` as it was written, thousands grouped: ``1,520``, ``0.009``, ``4``."""
    text = f"{int(value):,}" if value == int(value) else f"{value:,.10g}"
    return restyled(text, in_sentences().style)


def rate(value: float) -> str:
    """Return a rate as codes print it, with at least one decimal: ``4.0``."""
    text = f"{value:.1f}" if value == round(value, 1) else f"{value:.10g}"
    return restyled(text, in_sentences().style)


def usual_decimals(unit: str, *values: float) -> int:
    """Return the decimals for values in `unit`: the usual ones, or more to keep three digits."""
    least = _LEAST_DECIMALS.get(unit, 1)
    sizes = [abs(value) for value in values if value]
    if not sizes:
        return least
    return min(_MOST_DECIMALS, max(least, 2 - math.floor(math.log10(min(sizes)))))


def telling_decimals(unit: str, measured: float, limit: float) -> int:
    """Return the decimals at which two unlike numbers also look unlike: 4.004 beside 4.000."""
    decimals = usual_decimals(unit, limit)
    while (
        measured != limit
        and decimals < _MOST_DECIMALS
        and abs(measured - limit) < 2.0 * 10.0**-decimals
        and shown(measured, decimals) == shown(limit, decimals)
    ):
        decimals += 1
    return decimals


def symbol(unit: str) -> str:
    """Return the printed symbol of a unit id."""
    return unit_named(unit).label
