"""The straight line of least squares through points, and how well it is known."""

from __future__ import annotations

from dataclasses import dataclass
from math import fsum
from typing import TYPE_CHECKING

from deskapp.physics.guards import OutOfRangeError, require_finite

if TYPE_CHECKING:
    from collections.abc import Sequence

DISTINCT = 1e-9
"""Share of their size by which the x of two points must differ to give a line [1].

Closer ones are one value seen through rounding."""


@dataclass(frozen=True, slots=True)
class FittedLine:
    """A fitted line y = intercept + slope x; see fit_line.

    Sums are taken about the means: `sum_xx` is the sum of (x - mean_x)^2, `sum_yy` likewise;
    `sum_residuals` is the sum of squared residuals. Each is in the units of the x and y fitted:
    `slope` in y per x, `intercept`, `mean_y` and `residuals` in y, `mean_x` in x.
    """

    slope: float
    intercept: float
    mean_x: float
    mean_y: float
    sum_xx: float
    sum_yy: float
    sum_residuals: float
    residuals: tuple[float, ...]

    @property
    def degrees(self) -> int:
        """Degrees of freedom: points less the two numbers that were fitted."""
        return len(self.residuals) - 2

    @property
    def r_squared(self) -> float | None:
        """Share of the scatter of y that the line explains; None when y does not vary."""
        if self.sum_yy == 0.0:
            return None
        return 1.0 - self.sum_residuals / self.sum_yy

    @property
    def residual_deviation(self) -> float | None:
        """Standard deviation about the line; None when only two points made it."""
        if self.degrees < 1:
            return None
        return (self.sum_residuals / self.degrees) ** 0.5

    @property
    def slope_error(self) -> float | None:
        """Standard error of the slope; None when only two points made the line."""
        scatter = self.residual_deviation
        return None if scatter is None else scatter / self.sum_xx**0.5

    def at(self, x: float) -> float:
        """Return y on the line."""
        return self.mean_y + self.slope * (x - self.mean_x)

    def leverage(self, x: float) -> float:
        """Return the variance of the line at x in units of the residual variance."""
        return 1.0 / len(self.residuals) + (x - self.mean_x) ** 2 / self.sum_xx


def fit_line(xs: Sequence[float], ys: Sequence[float]) -> FittedLine:
    """Fit a line by ordinary least squares; only y carries error.

    Plain floats only.

    Args:
        xs: abscissas, two or more of them distinct [x].
        ys: ordinates, one for each abscissa [y].

    Returns:
        The line with its sums and residuals [Line].

    Range: finite values of a believable size.

    Raises:
        ValueError: fewer than two points, unequal counts, all xs alike, or a value not finite.

    Source: ordinary least squares; the standard errors are those of ASTM E779 (annex) and ISO
        9972 (annex C), from memory, checked in the tests against another implementation.
    """
    if len(xs) < 2:
        raise OutOfRangeError("number of xs", len(xs), "2 or more")
    if len(ys) != len(xs):
        raise OutOfRangeError("number of ys", len(ys), f"{len(xs)}, as many as xs")
    for place, (x, y) in enumerate(zip(xs, ys, strict=True)):
        require_finite(f"xs[{place}]", x)
        require_finite(f"ys[{place}]", y)
    if max(xs) - min(xs) <= DISTINCT * max(abs(x) for x in xs):
        raise OutOfRangeError("xs", tuple(xs), "at least two distinct values")
    count = len(xs)
    mean_x, mean_y = fsum(xs) / count, fsum(ys) / count
    dx, dy = [x - mean_x for x in xs], [y - mean_y for y in ys]
    sum_xx = fsum(x * x for x in dx)
    slope = fsum(x * y for x, y in zip(dx, dy, strict=True)) / sum_xx
    residuals = tuple(y - slope * x for x, y in zip(dx, dy, strict=True))
    return FittedLine(
        slope=slope,
        intercept=mean_y - slope * mean_x,
        mean_x=mean_x,
        mean_y=mean_y,
        sum_xx=sum_xx,
        sum_yy=0.0 if max(ys) == min(ys) else fsum(y * y for y in dy),
        sum_residuals=fsum(residual * residual for residual in residuals),
        residuals=residuals,
    )
