"""Water in air and the heat it holds, for cooling."""

from __future__ import annotations

from deskapp.physics.air import COLDEST_K, HOTTEST_K
from deskapp.physics.guards import (
    OutOfRangeError,
    bare_number,
    require_between,
    require_not_negative,
    require_positive,
)

WATER_TO_AIR = 0.621945
"""Molar mass of water over that of dry air [1].

Source: ASHRAE Handbook—Fundamentals 2017, chapter 1; from memory, not checked against the text."""


def humidity_ratio(vapor_pressure_pa: float, pressure_pa: float) -> float:
    """Mass of water vapor per mass of dry air.

    Args:
        vapor_pressure_pa: partial pressure of water vapor [Pa].
        pressure_pa: barometric pressure [Pa].

    Returns:
        Humidity ratio [1].

    Range: vapor pressure up to half of the barometric pressure.

    Raises:
        ValueError: the vapor pressure is negative or above that, or a value is not finite.

    Source: ASHRAE Handbook—Fundamentals 2017, chapter 1; from memory, checked in the tests against
        a reference library.
    """
    require_positive("pressure_pa", pressure_pa)
    require_not_negative("vapor_pressure_pa", vapor_pressure_pa)
    if bare_number(vapor_pressure_pa / pressure_pa) > 0.5:
        allowed = f"0 to half of the barometric pressure {pressure_pa}"
        raise OutOfRangeError("vapor_pressure_pa", vapor_pressure_pa, allowed)
    return WATER_TO_AIR * vapor_pressure_pa / (pressure_pa - vapor_pressure_pa)


def moist_air_enthalpy(temperature_k: float, moisture: float) -> float:
    """Enthalpy of moist air per mass of dry air, zero for dry air at 0 °C.

    Plain floats only.

    Args:
        temperature_k: air temperature [K].
        moisture: humidity ratio [1].

    Returns:
        Enthalpy [J/kg].

    Range: 223.15 K to 353.15 K, humidity ratio 0 to 0.5; only differences have a meaning.

    Raises:
        ValueError: an argument is outside that range or not finite.

    Source: ASHRAE Handbook—Fundamentals 2017, chapter 1 (h = 1.006 t + W (2501 + 1.86 t) in
        kJ/kg); from memory, checked in the tests against a reference library.
    """
    require_between("temperature_k", temperature_k, COLDEST_K, HOTTEST_K)
    require_between("moisture", moisture, 0.0, 0.5)
    celsius = float(temperature_k - 273.15)
    return 1006.0 * celsius + moisture * (2_501_000.0 + 1860.0 * celsius)
