"""One moment of a stream of measured values."""

from __future__ import annotations

import math
from dataclasses import dataclass

LARGEST = 1e9
"""Larger pressures and flows than this, in size, come from a broken line, not from a gauge."""

LATEST_S = 1e12
"""Later times than this are no times; seconds since 1970 lie well below [s]."""


@dataclass(frozen=True, slots=True)
class Sample:
    """What the gauges showed at one moment; None for what the stream does not carry.

    `seconds` counts from any beginning [s]; `duct_pressure` is signed, ducts against their
    reference [Pa]; `fan_signal` is the pressure at the fan's flow sensor [Pa]; `flow` is a flow
    the gauge itself worked out [m3/s]; `house_pressure` is house against outside, signed [Pa].

    Raises ValueError for a value that is not finite or larger than any gauge shows.
    """

    seconds: float
    duct_pressure: float
    fan_signal: float | None = None
    flow: float | None = None
    house_pressure: float | None = None

    def __post_init__(self) -> None:
        _require("seconds", self.seconds, LATEST_S)
        _require("duct_pressure", self.duct_pressure, LARGEST)
        for name in ("fan_signal", "flow", "house_pressure"):
            value: float | None = getattr(self, name)
            if value is not None:
                _require(name, value, LARGEST)


def _require(name: str, value: float, largest: float) -> None:
    if not math.isfinite(value) or abs(value) > largest:
        raise ValueError(f"{name} is {value}; allowed: a number up to {largest:g}")
