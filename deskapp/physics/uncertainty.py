"""Uncertainty after the GUM: what each input adds to the uncertainty of a result."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass
from typing import TYPE_CHECKING

from deskapp.physics.guards import (
    OutOfRangeError,
    require_between,
    require_finite,
    require_not_negative,
)
from deskapp.physics.statistics import sample_standard_deviation

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    Model = Callable[[dict[str, float]], float]

COVERAGE_FACTOR = 2.0
"""Coverage factor k of the expanded uncertainty, about 95% [1].

Source: ISO/IEC Guide 98-3:2008 (GUM), 6.3; from memory, not checked against the text."""

STEP = 1e-3
"""Step of the numerical slope, as a share of the input [1]; its error is that to the fourth."""

# Weights of the slope at multiples of the step: about the value, or beside it where the formula
# does not hold on the other side (a leakage of zero, an exponent of one).
_AROUND = ((-2, 1.0 / 12.0), (-1, -2.0 / 3.0), (1, 2.0 / 3.0), (2, -1.0 / 12.0))
_ABOVE = ((0, -25.0 / 12.0), (1, 4.0), (2, -3.0), (3, 4.0 / 3.0), (4, -0.25))
_BELOW = tuple((-place, -weight) for place, weight in _ABOVE)


@dataclass(frozen=True, slots=True)
class Input:
    """One input of a result: a name, its value and its standard uncertainty in the same unit."""

    name: str
    value: float
    standard_uncertainty: float


@dataclass(frozen=True, slots=True)
class Contribution:
    """What one input adds.

    `sensitivity` is the slope of the result on the input, `contribution` its size times the
    standard uncertainty, in the unit of the result; `share` is the part of the variance, so that
    the shares of a budget sum to 1 (or are all 0 when nothing is uncertain).
    """

    name: str
    value: float
    standard_uncertainty: float
    sensitivity: float
    contribution: float
    share: float


@dataclass(frozen=True, slots=True)
class Budget:
    """A result with its standard uncertainty, its expanded one, and the rows they come from.

    Value and uncertainties are in the unit of the result; `coverage_factor` is a plain number.
    """

    value: float
    standard_uncertainty: float
    coverage_factor: float
    rows: tuple[Contribution, ...]

    @property
    def expanded_uncertainty(self) -> float:
        """Expanded uncertainty, in the unit of the result."""
        return self.coverage_factor * self.standard_uncertainty


def budget(
    model: Model, inputs: Sequence[Input], coverage_factor: float = COVERAGE_FACTOR
) -> Budget:
    """Propagate the uncertainties of independent inputs to a result, to first order.

    Plain floats only.

    Args:
        model: gives the result from the values of the inputs by name [function].
        inputs: the inputs, each with a name of its own [Input].
        coverage_factor: k of the expanded uncertainty [1].

    Returns:
        The result with its uncertainty, one row for each input [Budget].

    Range: inputs independent of one another, and a model nearly straight within their
        uncertainties. Slopes are numerical, with a relative error below 1e-9 for smooth models.

    Raises:
        ValueError: two inputs share a name, a value is not finite, an uncertainty is negative, the
            coverage factor is outside 1 to 4, or the model does not hold at the values.

    Source: ISO/IEC Guide 98-3:2008 (GUM), 5.1.2; from memory, checked in the tests against
        another implementation.
    """
    require_between("coverage_factor", coverage_factor, 1.0, 4.0)
    names = [one.name for one in inputs]
    if len(set(names)) < len(names):
        raise OutOfRangeError("names of inputs", tuple(names), "a name of its own for each input")
    for one in inputs:
        require_finite(one.name, one.value)
        require_not_negative(f"standard_uncertainty of {one.name}", one.standard_uncertainty)
    values = {one.name: one.value for one in inputs}
    result = model(values)
    require_finite("result of model", result)
    slopes = [_slope(model, values, one) for one in inputs]
    parts = [
        abs(slope) * one.standard_uncertainty for slope, one in zip(slopes, inputs, strict=True)
    ]
    total = combined(parts) if parts else 0.0
    rows = tuple(
        Contribution(
            name=one.name,
            value=one.value,
            standard_uncertainty=one.standard_uncertainty,
            sensitivity=slope,
            contribution=part,
            share=(part / total) ** 2 if total > 0.0 else 0.0,
        )
        for one, slope, part in zip(inputs, slopes, parts, strict=True)
    )
    return Budget(result, total, coverage_factor, rows)


def combined(contributions: Sequence[float]) -> float:
    """Combine independent contributions: the root of the sum of their squares.

    Args:
        contributions: contributions to a standard uncertainty, one or more [x].

    Returns:
        Combined standard uncertainty [x].

    Range: independent contributions.

    Raises:
        ValueError: there is none, one is negative or not finite.

    Source: ISO/IEC Guide 98-3:2008 (GUM), 5.1.2; from memory, not checked against the text.
    """
    if len(contributions) < 1:
        raise OutOfRangeError("number of contributions", len(contributions), "1 or more")
    for place, part in enumerate(contributions):
        require_not_negative(f"contributions[{place}]", part)
    total = contributions[0] ** 2
    for part in contributions[1:]:
        total = total + part**2
    return total**0.5


def from_half_width(half_width: float) -> float:
    """Standard uncertainty of a value known to lie within bounds, any place being as likely.

    Args:
        half_width: half of the distance between the bounds, such as an accuracy of +-1 Pa [x].

    Returns:
        Standard uncertainty, half-width over the root of three [x].

    Range: bounds that are sure, without preference inside.

    Raises:
        ValueError: the half-width is negative or not finite.

    Source: ISO/IEC Guide 98-3:2008 (GUM), 4.3.7; from memory, not checked against the text.
    """
    require_not_negative("half_width", half_width)
    return half_width / 3.0**0.5


def of_mean(values: Sequence[float]) -> float:
    """Standard uncertainty of the mean of repeated readings, from their scatter.

    Args:
        values: two or more readings of one quantity [x].

    Returns:
        Sample standard deviation over the root of their number [x].

    Range: independent readings; from two or three the figure is itself uncertain.

    Raises:
        ValueError: there are fewer than two values, or one is not finite.

    Source: ISO/IEC Guide 98-3:2008 (GUM), 4.2.3; from memory, not checked against the text.
    """
    return sample_standard_deviation(values) / len(values) ** 0.5


def accuracy_half_width(reading: float, share_of_reading: float, smallest: float) -> float:
    """Accuracy of an instrument that states a share of reading or a fixed amount, the greater.

    Args:
        reading: what the instrument shows, as a size [x].
        share_of_reading: stated share of the reading, 0.01 for 1% [1].
        smallest: stated fixed amount [x].

    Returns:
        Half-width of the accuracy [x].

    Range: as the certificate or the specification states it.

    Raises:
        ValueError: an argument is negative or not finite, or the share is above 1.

    Source: the form in which ANSI/RESNET/ICC 380 states gauge accuracy; from memory, not checked
        against the text.
    """
    require_not_negative("reading", reading)
    require_between("share_of_reading", share_of_reading, 0.0, 1.0)
    require_not_negative("smallest", smallest)
    return max(share_of_reading * reading, smallest)


def _slope(model: Model, values: dict[str, float], one: Input) -> float:
    """Slope of the model on one input, on one side only where the other is out of range."""
    step = STEP * (abs(one.value) or one.standard_uncertainty or STEP)

    def slope_by(stencil: Sequence[tuple[int, float]]) -> float:
        total = 0.0
        for place, weight in stencil:
            total += weight * model({**values, one.name: one.value + place * step})
        return total / step

    for stencil in (_AROUND, _ABOVE):
        with suppress(OutOfRangeError):
            return slope_by(stencil)
    return slope_by(_BELOW)
