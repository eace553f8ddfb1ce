"""How likely a measured value keeps a limit, given its uncertainty: for information only.

The codes apply simple acceptance, measured value against limit, and so does the verdict. What is
worked out here never changes it.
"""

from __future__ import annotations

from math import erfc

from deskapp.physics.guards import (
    bare_number,
    require_between,
    require_finite,
    require_not_negative,
)

GUARD_FACTOR_EXPANDED = 2.0
"""Guard factor of a guard band as wide as the expanded uncertainty with k = 2 [1].

Source: ILAC-G8:09/2019; from memory, not checked against the text."""

GUARD_FACTOR_FIVE_PERCENT = 1.645
"""Guard factor that leaves 5% of chance of accepting too much, right at the acceptance limit [1].

Source: JCGM 106:2012; from memory, not checked against the text."""


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


def acceptance_limit(
    limit: float,
    standard_uncertainty: float,
    guard_factor: float = GUARD_FACTOR_EXPANDED,
    upper: bool = True,
) -> float:
    """Value up to which a measurement would be accepted with a guard band: L - w, w = factor * u.

    Args:
        limit: the limit [x].
        standard_uncertainty: standard uncertainty of the value [x].
        guard_factor: width of the guard band in standard uncertainties, 0 for none [1].
        upper: true when the value may be at most the limit, false when at least [1].

    Returns:
        Acceptance limit; below zero when nothing measured could be accepted [x].

    Range: information for the reader; no code known to this program applies a guard band.

    Raises:
        ValueError: the uncertainty or factor is negative, the factor is above 10, or a value is
            not finite.

    Source: JCGM 106:2012 and ILAC-G8:09/2019 (guarded acceptance); from memory, not checked
        against the text.
    """
    require_finite("limit", limit)
    require_not_negative("standard_uncertainty", standard_uncertainty)
    require_between("guard_factor", guard_factor, 0.0, 10.0)
    width = guard_factor * standard_uncertainty
    return limit - width if upper else limit + width


def largest_false_acceptance(guard_factor: float) -> float:
    """Probability that a value right at the acceptance limit breaks the limit.

    Args:
        guard_factor: width of the guard band in standard uncertainties, 0 for none [1].

    Returns:
        The probability: 0.5 without guard band, 0.023 with a factor of 2 [1].

    Range: normally distributed error; a value further inside carries less.

    Raises:
        ValueError: the factor is negative, above 10 or not finite.

    Source: JCGM 106:2012 (specific consumer's risk); from memory, checked in the tests against
        another implementation.
    """
    require_between("guard_factor", guard_factor, 0.0, 10.0)
    return 0.5 * erfc(float(guard_factor) / 2.0**0.5)
