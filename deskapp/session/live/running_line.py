"""Mean, scatter and slope of values that keep coming, without going over the old ones again."""

from __future__ import annotations


class RunningLine:
    """The line of least squares through points added one by one.

    Sums are kept about the running means, so times far from zero and long runs lose no digits.
    Source: B. P. Welford, Technometrics 4 (1962), extended to two variables; from memory, checked
    in the tests against another implementation.
    """

    def __init__(self) -> None:
        self.count = 0
        self.first: float | None = None
        self.last: float | None = None
        self._mean_x = self._mean_y = 0.0
        self._sum_xx = self._sum_xy = self._sum_yy = 0.0

    def add(self, x: float, y: float) -> None:
        """Take one more point; `x` must not be less than the one before."""
        if self.first is None:
            self.first = x
        self.last = x
        self.count += 1
        before_x, before_y = x - self._mean_x, y - self._mean_y
        self._mean_x += before_x / self.count
        self._mean_y += before_y / self.count
        self._sum_xx += before_x * (x - self._mean_x)
        self._sum_xy += before_x * (y - self._mean_y)
        self._sum_yy += before_y * (y - self._mean_y)

    @property
    def span(self) -> float:
        """How far the points reach, from the first to the last x."""
        return 0.0 if self.first is None or self.last is None else self.last - self.first

    @property
    def mean(self) -> float:
        """Mean of y; 0 without points."""
        return self._mean_y

    @property
    def deviation(self) -> float:
        """Standard deviation of y with N - 1 below the line; 0 for fewer than two points."""
        return (self._sum_yy / (self.count - 1)) ** 0.5 if self.count > 1 else 0.0

    @property
    def slope(self) -> float:
        """Slope of the line; 0 while all x are alike."""
        return self._sum_xy / self._sum_xx if self._sum_xx > 0.0 else 0.0

    @property
    def scatter(self) -> float:
        """Standard deviation about the line; 0 for fewer than three points."""
        if self.count < 3:
            return 0.0
        left = self._sum_yy - self.slope * self._sum_xy
        return (max(left, 0.0) / (self.count - 2)) ** 0.5

    @property
    def slope_error(self) -> float:
        """Standard error of the slope, for points whose errors know nothing of each other."""
        return self.scatter / self._sum_xx**0.5 if self._sum_xx > 0.0 else 0.0
