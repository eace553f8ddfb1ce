"""The delivery of one whole duct system, step by step, from what is known of its two sides."""

from __future__ import annotations

from dataclasses import dataclass

from deskapp.physics import delivery
from deskapp.physics.constants import STANDARD_DENSITY
from deskapp.physics.guards import require_between

COLDEST_SPACE_K = 213.15
"""Coldest space a duct may run through here, -60 °C [K]."""

HOTTEST_SPACE_K = 373.15
"""Hottest space a duct may run through here, 100 °C [K]."""


@dataclass(frozen=True, slots=True)
class Side:
    """The supply or the return ducts of a system.

    `surface` in m2, `resistance` in m2 K/W, `leak_flow` to outside at operating pressure in m3/s,
    `space_k` the temperature around the ducts in K, `regain` the share of the losses that comes
    back to the rooms.
    """

    surface: float
    resistance: float
    leak_flow: float
    space_k: float
    regain: float = 0.0


@dataclass(frozen=True, slots=True)
class DeliverySystem:
    """What heating and cooling share: both sides, the room in K, the fan flow in m3/s, the air."""

    supply: Side
    returns: Side
    room_k: float
    fan_flow: float
    density: float = STANDARD_DENSITY
    specific_heat: float = delivery.SPECIFIC_HEAT_AIR


@dataclass(frozen=True, slots=True)
class Delivery:
    """Shares delivered, with and without regain, and the numbers they were worked from [1].

    `rise` is the temperature rise through the equipment [K], negative for cooling.
    """

    effectiveness: float
    without_regain: float
    supply_carried: float
    return_carried: float
    supply_conduction: float
    return_conduction: float
    rise: float


def heating_delivery(system: DeliverySystem, capacity: float) -> Delivery:
    """Work out the share of heating that reaches the rooms.

    Plain floats only.

    Args:
        system: both sides of the ducts, room, fan flow and air [DeliverySystem].
        capacity: heat given to the air [W].

    Returns:
        The shares and the numbers on the way [Delivery].

    Range: as delivery.heating_effectiveness.

    Raises:
        ValueError: a number is outside the range of its formula, which names it.

    Source: ASHRAE Standard 152, equations 6-23 and 6-40; read in a secondary source, not checked
        against the text.
    """
    parts = _parts(system)
    rise = delivery.equipment_rise(capacity, system.fan_flow, system.density, system.specific_heat)
    without = delivery.heating_effectiveness(
        *parts, _difference(system, system.supply), _difference(system, system.returns), rise
    )
    return _with_regain(system, parts, without, rise)


def cooling_delivery(
    system: DeliverySystem, capacity: float, sensible_share: float, return_enthalpy: float
) -> Delivery:
    """Work out the share of cooling that reaches the rooms.

    Plain floats only.

    Args:
        system: both sides of the ducts, room, fan flow and air [DeliverySystem].
        capacity: total cooling taken from the air, sensible and latent, positive [W].
        sensible_share: sensible part of that capacity [1].
        return_enthalpy: enthalpy of the air around the return less that of the rooms [J/kg].

    Returns:
        The shares and the numbers on the way [Delivery].

    Range: as delivery.cooling_effectiveness.

    Raises:
        ValueError: a number is outside the range of its formula, which names it.

    Source: ASHRAE Standard 152, equations 6-25 and 6-40; read in a secondary source, not checked
        against the text. The supply plenum follows from a heat balance.
    """
    require_between("sensible_share", sensible_share, 0.05, 1.0)
    parts = _parts(system)
    returns = _difference(system, system.returns)
    rise = -sensible_share * delivery.equipment_rise(
        capacity, system.fan_flow, system.density, system.specific_heat
    )
    plenum = delivery.supply_plenum_difference(
        parts[1], parts[3], _difference(system, system.supply), returns, rise
    )
    without = delivery.cooling_effectiveness(
        capacity,
        system.fan_flow,
        system.density,
        system.specific_heat,
        *parts,
        returns,
        return_enthalpy,
        plenum,
    )
    return _with_regain(system, parts, without, rise)


def _parts(system: DeliverySystem) -> tuple[float, float, float, float]:
    """Shares carried by supply and return, then shares left by conduction in both."""
    sides = (system.supply, system.returns)
    carried = [delivery.carried_share(system.fan_flow, side.leak_flow) for side in sides]
    left = [
        delivery.conduction_share(
            side.surface,
            system.fan_flow,
            system.density,
            system.specific_heat,
            side.resistance,
        )
        for side in sides
    ]
    return carried[0], carried[1], left[0], left[1]


def _difference(system: DeliverySystem, side: Side) -> float:
    require_between("room_k", system.room_k, COLDEST_SPACE_K, HOTTEST_SPACE_K)
    require_between("space_k", side.space_k, COLDEST_SPACE_K, HOTTEST_SPACE_K)
    return system.room_k - side.space_k


def _with_regain(
    system: DeliverySystem, parts: tuple[float, float, float, float], without: float, rise: float
) -> Delivery:
    supply_carried, return_carried, supply_conduction, return_conduction = parts
    effectiveness = delivery.effectiveness_with_regain(
        without,
        system.supply.regain,
        system.returns.regain,
        return_carried,
        return_conduction,
        _difference(system, system.returns),
        rise,
    )
    return Delivery(
        effectiveness=effectiveness,
        without_regain=without,
        supply_carried=supply_carried,
        return_carried=return_carried,
        supply_conduction=supply_conduction,
        return_conduction=return_conduction,
        rise=rise,
    )
