"""A stretch of samples judged as a whole: mean, slope, scatter, and how sure the slope is."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from deskapp.physics.line import fit_line

if TYPE_CHECKING:
    from collections.abc import Sequence

    from deskapp.session.live.samples import Sample

MOST_JUDGED = 300
"""Samples a stretch is judged by; of a longer one, evenly spaced ones are taken."""

ONE_MOMENT_S = 1e-6
"""Samples no further apart than this are of one moment and have no slope [s]."""

_CLOSEST_TO_ONE = 0.95


@dataclass(frozen=True, slots=True)
class Stretch:
    """What the duct pressure did over a stretch.

    `mean` [Pa]; `slope` of the line of least squares and its standard error [Pa/s]; `scatter`,
    the standard deviation about that line [Pa]; `count` samples over `seconds`.
    """

    mean: float
    slope: float
    slope_error: float
    scatter: float
    count: int
    seconds: float

    @property
    def drift(self) -> float:
        """How far the line moves over the stretch, signed [Pa]."""
        return self.slope * self.seconds


def stretch_of(samples: Sequence[Sample]) -> Stretch:
    """Return what the duct pressure did over one or more samples in order of time.

    Neighboring values of a gusty pressure resemble each other, which makes a slope look surer
    than it is. Its standard error is widened by ((1 + r) / (1 - r))^0.5 with r the correlation of
    neighboring residuals, where that is above zero.

    Source: the effective number of independent values n (1 - r) / (1 + r), B. D. Santer et al.,
    Journal of Geophysical Research 105 (2000), equation 6; from memory, not checked against the
    text. Line and standard error are those of `deskapp.physics.line`.
    """
    count, seconds = len(samples), samples[-1].seconds - samples[0].seconds
    step = -(-count // MOST_JUDGED)
    judged = samples[count - 1 :: -step][::-1]
    values = [sample.duct_pressure for sample in judged]
    mean = sum(values) / len(values)
    begin = judged[0].seconds
    if len(judged) < 3 or judged[-1].seconds - begin <= ONE_MOMENT_S:
        return Stretch(mean, 0.0, 0.0, 0.0, count, seconds)
    line = fit_line([sample.seconds - begin for sample in judged], values)
    widened = _widening(line.residuals, line.sum_residuals)
    error, scatter = line.slope_error or 0.0, line.residual_deviation or 0.0
    return Stretch(mean, line.slope, error * widened, scatter, count, seconds)


def _widening(residuals: Sequence[float], sum_of_squares: float) -> float:
    if sum_of_squares <= 0.0:
        return 1.0
    alike = sum(earlier * later for earlier, later in pairwise(residuals)) / sum_of_squares
    alike = min(max(alike, 0.0), _CLOSEST_TO_ONE)
    return ((1.0 + alike) / (1.0 - alike)) ** 0.5
