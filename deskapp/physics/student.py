"""Student's t distribution, for intervals drawn from few readings.

Written out here because the program itself runs without a statistics library.
"""

from __future__ import annotations

from math import atan, cos, pi, sin, tan

from deskapp.physics.guards import OutOfRangeError, require_between

MOST_DEGREES = 10_000
"""Most degrees of freedom taken here; far more than the readings of any test [1]."""

SMALLEST_TAIL = 1e-6
"""Probabilities are taken from this far above 0 to this far below 1 [1]."""


def student_probability(t: float, degrees: float) -> float:
    """Probability that a value of Student's distribution is at most t.

    Args:
        t: value of the distribution, of either sign [1].
        degrees: degrees of freedom, a whole number [1].

    Returns:
        The probability, 0.5 at t = 0 [1].

    Range: |t| up to 1e12, 1 to 10 000 degrees of freedom; absolute error below 1e-12.

    Raises:
        ValueError: an argument is outside that range, or the degrees are not a whole number.

    Source: M. Abramowitz and I. A. Stegun, Handbook of Mathematical Functions, 1964, 26.7.3 and
        26.7.4; from memory, checked in the tests against another implementation.
    """
    require_between("t", t, -1e12, 1e12)
    whole = _whole_degrees(degrees)
    angle = atan(float(t) / whole**0.5)
    inside = _probability_inside(abs(angle), whole)
    return (1.0 + inside) / 2.0 if angle > 0.0 else (1.0 - inside) / 2.0


def student_quantile(probability: float, degrees: float) -> float:
    """Value that a variable of Student's distribution stays below with a given probability.

    Args:
        probability: one-sided probability, 0.975 for a two-sided interval of 95% [1].
        degrees: degrees of freedom, a whole number [1].

    Returns:
        The quantile t [1].

    Range: probability 1e-6 to 1 - 1e-6, 1 to 10 000 degrees of freedom; relative error below 1e-9.

    Raises:
        ValueError: an argument is outside that range, or the degrees are not a whole number.

    Source: the distribution of student_probability, solved by halving an interval; M. Abramowitz
        and I. A. Stegun, Handbook of Mathematical Functions, 1964, 26.7.3 and 26.7.4; from
        memory, checked in the tests against another implementation.
    """
    require_between("probability", probability, SMALLEST_TAIL, 1.0 - SMALLEST_TAIL)
    whole = _whole_degrees(degrees)
    wanted = abs(2.0 * float(probability) - 1.0)
    low, high = 0.0, pi / 2.0
    for _ in range(80):
        middle = (low + high) / 2.0
        if _probability_inside(middle, whole) < wanted:
            low = middle
        else:
            high = middle
    size = whole**0.5 * tan((low + high) / 2.0) if wanted > 0.0 else 0.0
    return size if float(probability) > 0.5 else -size


def _probability_inside(angle: float, degrees: int) -> float:
    """Probability between -t and t, where tan(angle) = t / sqrt(degrees)."""
    sine, cosine = sin(angle), cos(angle)
    is_odd = degrees % 2 == 1
    term = cosine if is_odd else 1.0
    total = 0.0
    for power in range(3 if is_odd else 2, degrees + 1, 2):
        total += term
        term *= cosine * cosine * (power - 1) / power
    if is_odd:
        return 2.0 / pi * (angle + sine * total)
    return sine * total


def _whole_degrees(degrees: float) -> int:
    require_between("degrees", degrees, 1.0, MOST_DEGREES)
    number = float(degrees)
    if number != int(number):
        raise OutOfRangeError("degrees", degrees, f"a whole number from 1 to {MOST_DEGREES}")
    return int(number)
