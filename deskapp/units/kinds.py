"""The kinds of quantity a field can hold."""

from __future__ import annotations

from enum import StrEnum


class Kind(StrEnum):
    """A kind of quantity; the comment gives the SI unit every value of it is kept in."""

    PRESSURE = "pressure"  # Pa
    FLOW = "flow"  # m3/s
    AREA = "area"  # m2
    LENGTH = "length"  # m
    VOLUME = "volume"  # m3
    TEMPERATURE = "temperature"  # K
    FRACTION = "fraction"  # 1 (50% is 0.5)
    TIME = "time"  # s
    POWER = "power"  # W
    SPEED = "speed"  # m/s
    CONCENTRATION = "concentration"  # 1 (1 ppm is 1e-6)
    DENSITY = "density"  # kg/m3
    COEFFICIENT = "coefficient"  # m3/s: flow at 1 Pa of fan signal
    FLOW_PER_AREA = "flow per area"  # m/s
    RESISTANCE = "thermal resistance"  # m2 K/W
    NUMBER = "number"  # 1
    COUNT = "count"  # 1, whole
