"""Water in air and the heat it holds, for cooling."""

from __future__ import annotations

from deskapp.physics.air import COLDEST_K, HOTTEST_K
from deskapp.physics.guards import (
    require_between,
)


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
