"""How likely a measured value keeps a limit, given its uncertainty: for information only.

The codes apply simple acceptance, measured value against limit, and so does the verdict. What is
worked out here never changes it.
"""

from __future__ import annotations

from math import erfc

from deskapp.physics.guards import (
    bare_number,
    require_finite,
    require_not_negative,
)


def probability_of_conformity(
    limit: float, value: float, standard_uncertainty: float, upper: bool = True
) -> float:
    """Probability that the true value keeps a limit, when the error is normally distributed.

    Args:
        limit: the limit [x].
        value: measured value [x].
        standard_uncertainty: standard uncertainty of the value [x].
        upper: true when the value may be at most the limit, false when at least [1].

    Returns:
        The probability, 0.5 for a value on the limit [1].

    Range: no knowledge of the value but the measurement. Without uncertainty it is 1 or 0, a
        value on the limit keeping it.

    Raises:
        ValueError: the uncertainty is negative, or a value is not finite.

    Source: JCGM 106:2012, normal distribution with one limit; from memory, checked in the tests
        against another implementation.
    """
    require_finite("limit", limit)
    require_finite("value", value)
    require_not_negative("standard_uncertainty", standard_uncertainty)
    margin = limit - value if upper else value - limit
    if bare_number(standard_uncertainty) == 0.0:
        return 1.0 if bare_number(margin) >= 0.0 else 0.0
    return 0.5 * erfc(-float(margin / standard_uncertainty) / 2.0**0.5)


def too_close(limit: float, value: float, expanded_uncertainty: float) -> bool:
    """Whether a limit lies within the expanded uncertainty of a measured value.

    Args:
        limit: the limit [x].
        value: measured value [x].
        expanded_uncertainty: expanded uncertainty of the value, k = 2 [x].

    Returns:
        True when the value is nearer to the limit than its uncertainty, on either side [1].

    Range: a limit exactly one uncertainty away is not too close.

    Raises:
        ValueError: the uncertainty is negative, or a value is not finite.

    Source: ILAC-G8:09/2019, guard band as wide as the expanded uncertainty, taken on both sides;
        from memory, not checked against the text.
    """
    require_finite("limit", limit)
    require_finite("value", value)
    require_not_negative("expanded_uncertainty", expanded_uncertainty)
    return bool(abs(value - limit) < expanded_uncertainty)
