"""Share of heating and cooling that a duct system delivers, after ASHRAE Standard 152.

The printed equations are in inch-pound units: flow in cfm with a factor of 60, density in lb/ft3,
specific heat in Btu/(lb °F), resistance in h ft2 °F/Btu. Here every quantity is in SI units, so
that the factor of 60 falls away: flow * density * specific heat is W/K either way. For entry,
1 h ft2 °F/Btu = 0.17611 m2 K/W, 1 Btu/h = 0.29307 W, 1 Btu/lb = 2326 J/kg.

Throughout, a difference of temperature is the room less the space that a duct runs through, and
so positive in winter. Supply and return are told apart by the first word of each argument.
"""

from __future__ import annotations

from math import e

from deskapp.physics.guards import (
    OutOfRangeError,
    bare_number,
    require_between,
    require_finite,
    require_not_negative,
    require_positive,
)

SPECIFIC_HEAT_AIR = 1004.832
"""Specific heat of air, 0.24 Btu/(lb °F) [J/(kg K)].

Source: the rounded value used with ASHRAE Standard 152; read in a secondary source, not checked
against the text."""

SUPPLY_SURFACE_SHARE = 0.27
"""Default supply duct surface per floor area served [1].

Source: ANSI/RESNET/ICC 301-2022, default duct surface areas; read in a secondary source, not
checked against the text."""

RETURN_SURFACE_SHARE = 0.05
"""Default return duct surface per floor area served, for each return [1].

Source: as SUPPLY_SURFACE_SHARE."""

LARGEST_RETURN_SHARE = 0.25
"""Largest default return duct surface per floor area served [1].

Source: as SUPPLY_SURFACE_SHARE."""


def default_supply_surface(floor_area: float) -> float:
    """Supply duct surface to assume when nobody has measured it.

    Args:
        floor_area: floor area the system serves [m2].

    Returns:
        Outer surface of the supply ducts [m2].

    Range: houses; an assumption that must be printed as one.

    Raises:
        ValueError: the area is not positive or not finite.

    Source: ANSI/RESNET/ICC 301-2022, default duct surface areas; read in a secondary source, not
        checked against the text.
    """
    require_positive("floor_area", floor_area)
    return SUPPLY_SURFACE_SHARE * floor_area


def default_return_surface(floor_area: float, returns: float) -> float:
    """Return duct surface to assume when nobody has measured it.

    Args:
        floor_area: floor area the system serves [m2].
        returns: number of return grilles, 0 for a system without return ducts [1].

    Returns:
        Outer surface of the return ducts [m2].

    Range: houses; an assumption that must be printed as one. From five returns it stays the same.

    Raises:
        ValueError: the area is not positive, the number is negative or above 1000, or a value is
            not finite.

    Source: ANSI/RESNET/ICC 301-2022, default duct surface areas; read in a secondary source, not
        checked against the text.
    """
    require_positive("floor_area", floor_area)
    require_between("returns", returns, 0.0, 1000.0)
    return min(RETURN_SURFACE_SHARE * float(returns), LARGEST_RETURN_SHARE) * floor_area


def carried_share(fan_flow: float, leak_flow: float) -> float:
    """Share of the fan's air that a side of the ducts carries to its end: (Q - Q_leak) / Q.

    Args:
        fan_flow: flow of the air handler [m3/s].
        leak_flow: leakage of that side to outside, at operating pressure [m3/s].

    Returns:
        The share a, 1 without leakage [1].

    Range: leakage from none to the whole fan flow.

    Raises:
        ValueError: the fan flow is not positive, the leakage is negative or above it, or a value
            is not finite.

    Source: ASHRAE Standard 152, with equation 6-23; read in a secondary source, not checked
        against the text.
    """
    require_positive("fan_flow", fan_flow)
    require_not_negative("leak_flow", leak_flow)
    share = (fan_flow - leak_flow) / fan_flow
    if bare_number(share) < 0.0:
        raise OutOfRangeError("leak_flow", leak_flow, f"0 to the fan flow {fan_flow}")
    return share


def conduction_share(
    surface: float, fan_flow: float, density: float, specific_heat: float, resistance: float
) -> float:
    """Share of a temperature difference left at the end of a duct: exp(-A / (Q rho c R)).

    Args:
        surface: outer surface of the ducts of that side [m2].
        fan_flow: flow of the air handler [m3/s].
        density: density of the air [kg/m3].
        specific_heat: specific heat of the air [J/(kg K)].
        resistance: thermal resistance of the duct wall with its films [m2 K/W].

    Returns:
        The share B, 1 for ducts without surface [1].

    Range: any duct; bare metal still has the resistance of its air films.

    Raises:
        ValueError: the surface is negative, another argument is not positive, or a value is not
            finite.

    Source: ASHRAE Standard 152, with equation 6-23; read in a secondary source, not checked
        against the text.
    """
    require_not_negative("surface", surface)
    require_positive("fan_flow", fan_flow)
    require_positive("density", density)
    require_positive("specific_heat", specific_heat)
    require_positive("resistance", resistance)
    # A power of e, unlike exp, also takes numbers that carry an uncertainty.
    return e ** -(surface / (fan_flow * density * specific_heat * resistance))


def equipment_rise(capacity: float, fan_flow: float, density: float, specific_heat: float) -> float:
    """Temperature rise of the air through the heating equipment: E / (Q rho c).

    Args:
        capacity: heat given to the air [W].
        fan_flow: flow of the air handler [m3/s].
        density: density of the air [kg/m3].
        specific_heat: specific heat of the air [J/(kg K)].

    Returns:
        Temperature rise; for cooling its negative is used, worked from the sensible capacity [K].

    Range: any equipment that moves air.

    Raises:
        ValueError: an argument is not positive or not finite.

    Source: ASHRAE Standard 152, with equation 6-23; read in a secondary source, not checked
        against the text.
    """
    require_positive("capacity", capacity)
    require_positive("fan_flow", fan_flow)
    require_positive("density", density)
    require_positive("specific_heat", specific_heat)
    return capacity / (fan_flow * density * specific_heat)


def heating_effectiveness(
    supply_carried: float,
    return_carried: float,
    supply_conduction: float,
    return_conduction: float,
    supply_difference: float,
    return_difference: float,
    rise: float,
) -> float:
    """Share of the heat made that reaches the rooms, before any is regained.

    DE = a_s B_s - a_s B_s (1 - a_r B_r) dT_r / dT_e - a_s (1 - B_s) dT_s / dT_e.

    Args:
        supply_carried: share a_s of the air the supply carries to the rooms [1].
        return_carried: share a_r of the air the return brings from the rooms [1].
        supply_conduction: share B_s left of the supply's temperature difference [1].
        return_conduction: share B_r left of the return's temperature difference [1].
        supply_difference: room less space around the supply ducts, signed [K].
        return_difference: room less space around the return ducts, signed [K].
        rise: temperature rise through the equipment [K].

    Returns:
        Delivery effectiveness, 1 for ducts that lose nothing [1].

    Range: steady heating; below zero when the ducts lose more than the equipment makes.

    Raises:
        ValueError: a share is outside 0 to 1, the rise is not positive, or a value is not finite.

    Source: ASHRAE Standard 152, equation 6-23; read in a secondary source, not checked against
        the text.
    """
    _require_part("supply_carried", supply_carried)
    _require_part("return_carried", return_carried)
    _require_part("supply_conduction", supply_conduction)
    _require_part("return_conduction", return_conduction)
    require_finite("supply_difference", supply_difference)
    require_finite("return_difference", return_difference)
    require_positive("rise", rise)
    reaching = supply_carried * supply_conduction
    by_return = reaching * (1.0 - return_carried * return_conduction) * return_difference / rise
    by_supply = supply_carried * (1.0 - supply_conduction) * supply_difference / rise
    return reaching - by_return - by_supply


def supply_plenum_difference(
    return_carried: float,
    return_conduction: float,
    supply_difference: float,
    return_difference: float,
    rise: float,
) -> float:
    """Supply plenum less the space around the supply ducts, from what the return brings.

    Args:
        return_carried: share a_r of the air the return brings from the rooms [1].
        return_conduction: share B_r left of the return's temperature difference [1].
        supply_difference: room less space around the supply ducts, signed [K].
        return_difference: room less space around the return ducts, signed [K].
        rise: temperature rise through the equipment, negative for cooling [K].

    Returns:
        Temperature difference, signed [K].

    Range: steady running, air of one specific heat.

    Raises:
        ValueError: a share is outside 0 to 1, or a value is not finite.

    Source: heat balance of the return plenum and of the equipment, the one that equation 6-23 of
        ASHRAE Standard 152 follows from; not checked against the text.
    """
    _require_part("return_carried", return_carried)
    _require_part("return_conduction", return_conduction)
    require_finite("supply_difference", supply_difference)
    require_finite("return_difference", return_difference)
    require_finite("rise", rise)
    return supply_difference - (1.0 - return_carried * return_conduction) * return_difference + rise


def cooling_effectiveness(
    capacity: float,
    fan_flow: float,
    density: float,
    specific_heat: float,
    supply_carried: float,
    return_carried: float,
    supply_conduction: float,
    return_conduction: float,
    return_difference: float,
    return_enthalpy: float,
    plenum_difference: float,
) -> float:
    """Share of the cooling made that reaches the rooms, before any is regained.

    DE = a_s q / (-E) [ -E / q + (1 - a_r)(h_r - h_in) + a_r c (B_r - 1) dT_r
    + c (B_s - 1)(t_sp - t_amb,s) ], with q = Q rho.

    Args:
        capacity: total cooling taken from the air, sensible and latent, positive [W].
        fan_flow: flow of the air handler [m3/s].
        density: density of the air [kg/m3].
        specific_heat: specific heat of the air [J/(kg K)].
        supply_carried: share a_s of the air the supply carries to the rooms [1].
        return_carried: share a_r of the air the return brings from the rooms [1].
        supply_conduction: share B_s left of the supply's temperature difference [1].
        return_conduction: share B_r left of the return's temperature difference [1].
        return_difference: room less space around the return ducts, signed [K].
        return_enthalpy: enthalpy of the air around the return less that of the rooms [J/kg].
        plenum_difference: supply plenum less space around the supply ducts, signed [K].

    Returns:
        Delivery effectiveness, 1 for ducts that lose nothing [1].

    Range: steady cooling; below zero when the ducts take in more heat than the equipment removes.

    Raises:
        ValueError: a share is outside 0 to 1, a capacity, flow, density or specific heat is not
            positive, or a value is not finite.

    Source: ASHRAE Standard 152, equation 6-25; read in a secondary source, not checked against
        the text.
    """
    require_positive("capacity", capacity)
    require_positive("fan_flow", fan_flow)
    require_positive("density", density)
    require_positive("specific_heat", specific_heat)
    _require_part("supply_carried", supply_carried)
    _require_part("return_carried", return_carried)
    _require_part("supply_conduction", supply_conduction)
    _require_part("return_conduction", return_conduction)
    require_finite("return_difference", return_difference)
    require_finite("return_enthalpy", return_enthalpy)
    require_finite("plenum_difference", plenum_difference)
    made = -(capacity / (fan_flow * density))
    by_return_leak = (1.0 - return_carried) * return_enthalpy
    by_return = return_carried * specific_heat * (return_conduction - 1.0) * return_difference
    by_supply = specific_heat * (supply_conduction - 1.0) * plenum_difference
    return supply_carried * (made + by_return_leak + by_return + by_supply) / made


def effectiveness_with_regain(
    effectiveness: float,
    supply_regain: float,
    return_regain: float,
    return_carried: float,
    return_conduction: float,
    return_difference: float,
    rise: float,
) -> float:
    """Delivery effectiveness with the part of the duct losses that comes back to the rooms.

    DE + F_s (1 - DE) - (F_s - F_r - B_r (a_r F_s - F_r)) dT_r / dT_e.

    Args:
        effectiveness: delivery effectiveness without regain [1].
        supply_regain: share F_s of the supply's losses that is regained [1].
        return_regain: share F_r of the return's losses that is regained [1].
        return_carried: share a_r of the air the return brings from the rooms [1].
        return_conduction: share B_r left of the return's temperature difference [1].
        return_difference: room less space around the return ducts, signed [K].
        rise: temperature rise through the equipment, negative for cooling [K].

    Returns:
        Corrected delivery effectiveness [1].

    Range: regain from 0, ducts in the open, to 1, ducts inside the rooms.

    Raises:
        ValueError: a share is outside 0 to 1, the rise is zero, or a value is not finite.

    Source: ASHRAE Standard 152, equation 6-40; read in a secondary source, not checked against
        the text.
    """
    require_finite("effectiveness", effectiveness)
    _require_part("supply_regain", supply_regain)
    _require_part("return_regain", return_regain)
    _require_part("return_carried", return_carried)
    _require_part("return_conduction", return_conduction)
    require_finite("return_difference", return_difference)
    require_positive("size of rise", abs(bare_number(rise)))
    mixed = return_conduction * (return_carried * supply_regain - return_regain)
    by_return = (supply_regain - return_regain - mixed) * return_difference / rise
    return effectiveness + supply_regain * (1.0 - effectiveness) - by_return


def _require_part(name: str, value: float) -> None:
    """Raise OutOfRangeError unless the value lies between none and all."""
    require_between(name, value, 0.0, 1.0)
