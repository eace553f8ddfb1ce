"""Checks that an argument is a number the formulas hold for.

A formula here runs on floats, and just as well on numbers that carry a unit or an uncertainty.
The checks therefore look at the bare number inside, and never alter what they are given.

A budget makes hundreds of these checks for each reading that is typed, so a plain float in range,
which is what nearly all of them get, is let through first.
"""

from __future__ import annotations

from math import isfinite

SMALLEST = 1e-12
"""Smaller positive SI values than this are slips, not ducts; keeps every quotient finite."""

LARGEST = 1e12
"""Larger SI values than this are slips, not ducts; keeps every product finite."""


class OutOfRangeError(ValueError):
    """An argument lies outside the range its formula holds for."""

    def __init__(self, argument: str, value: object, allowed: str) -> None:
        super().__init__(f"{argument} is {value}; allowed: {allowed}")
        self.argument = argument
        self.value = value
        self.allowed = allowed


def bare_number(value: float) -> float:
    """Return the float inside a number that may carry a unit or an uncertainty."""
    if type(value) is float:
        return value
    without_unit = getattr(value, "magnitude", value)
    return float(getattr(without_unit, "nominal_value", without_unit))


def is_plain(value: float) -> bool:
    """Say whether a value is a plain float of a believable size."""
    return type(value) is float and -LARGEST <= value <= LARGEST


def require_finite(name: str, value: float) -> None:
    """Raise OutOfRangeError unless the value is a finite number of a believable size."""
    if type(value) is float and -LARGEST <= value <= LARGEST:
        return
    number = bare_number(value)
    if not isfinite(number) or abs(number) > LARGEST:
        raise OutOfRangeError(name, value, f"a number between {-LARGEST:g} and {LARGEST:g}")


def require_positive(name: str, value: float) -> None:
    """Raise OutOfRangeError unless the value is finite and above zero."""
    if type(value) is float and SMALLEST <= value <= LARGEST:
        return
    if not SMALLEST <= bare_number(value) <= LARGEST:
        raise OutOfRangeError(name, value, f"above 0 ({SMALLEST:g} to {LARGEST:g})")


def require_not_negative(name: str, value: float) -> None:
    """Raise OutOfRangeError unless the value is finite and zero or above."""
    if type(value) is float and 0.0 <= value <= LARGEST:
        return
    if not 0.0 <= bare_number(value) <= LARGEST:
        raise OutOfRangeError(name, value, f"0 or above, up to {LARGEST:g}")


def require_between(name: str, value: float, lowest: float, highest: float) -> None:
    """Raise OutOfRangeError unless lowest <= value <= highest."""
    if not lowest <= bare_number(value) <= highest:
        raise OutOfRangeError(name, value, f"{lowest:g} to {highest:g}")


def require_share(name: str, value: float) -> None:
    """Raise OutOfRangeError unless the value is above 0 and at most 1."""
    if not SMALLEST <= bare_number(value) <= 1.0:
        raise OutOfRangeError(name, value, "above 0, up to 1")


def require_exponent(name: str, value: float) -> None:
    """Raise OutOfRangeError unless the value can be the pressure exponent of a flow law."""
    require_between(name, value, 0.2, 1.0)
