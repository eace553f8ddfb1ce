"""Density, pressure and viscosity of the air the fan moves.

The functions with an empirical fit (exp, or constants that hide a unit) take plain floats only.
"""

from __future__ import annotations

from math import exp, log

from deskapp.physics.constants import (
    GAS_CONSTANT_DRY_AIR,
    STANDARD_PRESSURE_PA,
)
from deskapp.physics.guards import OutOfRangeError, bare_number, require_between, require_positive

COLDEST_K = 223.15
"""Lowest air temperature accepted here, -50 °C [K]."""

HOTTEST_K = 353.15
"""Highest air temperature accepted here, 80 °C [K]."""

LOWEST_ELEVATION_M = -500.0
"""Lowest site accepted, in line with the table of the Handbook [m]."""

HIGHEST_ELEVATION_M = 10_000.0
"""Highest site accepted, in line with the table of the Handbook [m]."""

VAPOR_DEFICIT = 0.37802
"""1 - (molar mass of water / molar mass of dry air) [1].

Source: ISO 9972:2015, annex on air density; from memory, not checked against the text."""


def saturation_vapor_pressure(temperature_k: float) -> float:
    """Pressure of water vapor in air saturated over liquid water.

    Plain floats only.

    Args:
        temperature_k: air temperature [K].

    Returns:
        Saturation vapor pressure [Pa].

    Range: 223.15 K to 353.15 K; within 0.4% of the ASHRAE tables from 0 °C to 50 °C and 1% up
        to 80 °C. Below freezing it is the value over supercooled water, not over ice; the density
        of air moves by less than 0.02% for it.

    Raises:
        ValueError: the temperature is outside that range or not finite.

    Source: ISO 9972:2015, annex on air density; from memory, not checked against the text.
    """
    require_between("temperature_k", temperature_k, COLDEST_K, HOTTEST_K)
    return exp(59.484085 - 6790.4985 / temperature_k - 5.02802 * log(temperature_k))


def air_density(
    temperature_k: float,
    pressure_pa: float,
    vapor_pressure_pa: float,
    gas_constant: float = GAS_CONSTANT_DRY_AIR,
) -> float:
    """Density of air whose water-vapor pressure is known: ideal-gas mixture.

    Args:
        temperature_k: air temperature [K].
        pressure_pa: barometric pressure [Pa].
        vapor_pressure_pa: partial pressure of water vapor, 0 for dry air [Pa].
        gas_constant: specific gas constant of dry air [J/(kg K)].

    Returns:
        Air density [kg/m3].

    Range: 223.15 K to 353.15 K; vapor pressure from 0 to the barometric pressure.

    Raises:
        ValueError: an argument is outside its range or not finite.

    Source: ISO 9972:2015, annex on air density; from memory, not checked against the text.
    """
    require_between("temperature_k", temperature_k, COLDEST_K, HOTTEST_K)
    require_positive("pressure_pa", pressure_pa)
    require_positive("gas_constant", gas_constant)
    if not 0.0 <= bare_number(vapor_pressure_pa) <= bare_number(pressure_pa):
        allowed = f"0 to the barometric pressure {pressure_pa}"
        raise OutOfRangeError("vapor_pressure_pa", vapor_pressure_pa, allowed)
    return (pressure_pa - VAPOR_DEFICIT * vapor_pressure_pa) / (gas_constant * temperature_k)


def moist_air_density(
    temperature_k: float, pressure_pa: float, relative_humidity: float = 0.0
) -> float:
    """Density of air from temperature, barometric pressure and relative humidity.

    Plain floats only.

    Args:
        temperature_k: air temperature [K].
        pressure_pa: barometric pressure [Pa].
        relative_humidity: relative humidity, 0.5 for 50% [1].

    Returns:
        Air density [kg/m3].

    Range: 223.15 K to 353.15 K, relative humidity 0 to 1. Within 0.1% of two reference
        libraries (psychrolib, CoolProp) from -10 °C to 60 °C, 0.2% in the rest of the range.

    Raises:
        ValueError: an argument is outside its range, or the vapor would exceed the pressure.

    Source: ISO 9972:2015, annex on air density; from memory, not checked against the text.
    """
    require_between("relative_humidity", relative_humidity, 0.0, 1.0)
    vapor = relative_humidity * saturation_vapor_pressure(temperature_k)
    return air_density(temperature_k, pressure_pa, vapor)


def standard_pressure(elevation_m: float) -> float:
    """Barometric pressure of the standard atmosphere at an elevation.

    Plain floats only.

    Args:
        elevation_m: elevation above sea level [m].

    Returns:
        Barometric pressure [Pa].

    Range: -500 m to 10 000 m; within 1 Pa of the printed table.

    Raises:
        ValueError: the elevation is outside that range or not finite.

    Source: ASHRAE Handbook—Fundamentals 2017, chapter 1, standard atmosphere; the same formula as
        ISO 2533:1975. Equation from memory; table values checked in the tests.
    """
    require_between("elevation_m", elevation_m, LOWEST_ELEVATION_M, HIGHEST_ELEVATION_M)
    return STANDARD_PRESSURE_PA * (1.0 - 2.25577e-5 * elevation_m) ** 5.2559
