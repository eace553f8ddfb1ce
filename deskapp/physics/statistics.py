"""Mean and scatter of repeated readings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.physics.guards import OutOfRangeError, is_plain, require_finite, require_positive

if TYPE_CHECKING:
    from collections.abc import Sequence


def mean(values: Sequence[float]) -> float:
    """Arithmetic mean.

    Args:
        values: one or more readings of one quantity [x].

    Returns:
        Their mean [x].

    Range: finite values.

    Raises:
        ValueError: there is no value, or one is not finite.

    Source: ISO/IEC Guide 98-3:2008 (GUM), 4.2.1; from memory, not checked against the text.
    """
    _require_readings(values, 1)
    return _total(values) / len(values)


def spread(values: Sequence[float]) -> float:
    """Largest less smallest reading, as a share of their mean.

    Args:
        values: two or more readings of one positive quantity [x].

    Returns:
        The share, 0.006 for 0.6% [1].

    Range: a positive mean. One reading alone has no spread.

    Raises:
        ValueError: there are fewer than two values, one is not finite, or the mean is not positive.

    Source: common practice, no source.
    """
    _require_readings(values, 2)
    middle = mean(values)
    require_positive("mean of values", middle)
    return (max(values) - min(values)) / middle


def sample_standard_deviation(values: Sequence[float]) -> float:
    """Standard deviation of a sample, with N - 1 below the line.

    Args:
        values: two or more readings of one quantity [x].

    Returns:
        Sample standard deviation [x].

    Range: finite values.

    Raises:
        ValueError: there are fewer than two values, or one is not finite.

    Source: ISO/IEC Guide 98-3:2008 (GUM), 4.2.2; from memory, not checked against the text.
    """
    _require_readings(values, 2)
    middle = mean(values)
    return (_total([(value - middle) ** 2 for value in values]) / (len(values) - 1)) ** 0.5


def _total(values: Sequence[float]) -> float:
    """Add without starting from a bare 0, which a number with a unit would refuse."""
    total = values[0]
    for value in values[1:]:
        total = total + value
    return total


def _require_readings(values: Sequence[float], fewest: int) -> None:
    if len(values) < fewest:
        raise OutOfRangeError("number of values", len(values), f"{fewest} or more")
    for place, value in enumerate(values):
        if not is_plain(value):
            require_finite(f"values[{place}]", value)
