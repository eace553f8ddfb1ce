"""The share of heating and cooling that reaches the rooms, for one set of inputs."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from deskapp.assess import delivery_defaults as taken
from deskapp.assess.delivery_inputs import DeliveryInputs, Season
from deskapp.domain.measured import si_of
from deskapp.domain.owner_result import LeakBasis
from deskapp.domain.system import DuctSystem
from deskapp.physics import duct_delivery, moist_air, operating
from deskapp.physics.duct_delivery import Delivery, Side


@dataclass(frozen=True, slots=True)
class Leaks:
    """Leakage of both sides to outside while the system runs, m3/s."""

    supply: float
    returns: float


@dataclass(frozen=True, slots=True)
class Seen:
    """What the owner's figures take from a test: flow m3/s at `pressure` Pa, and its exponent.

    `supply_share` is the supply's part of the leakage, None where nothing tells; `sides_tested`
    says that tests of the sides do, and not figures entered beside the test.
    """

    test: str
    flow: float
    pressure: float
    exponent: float
    supply_share: float | None = None
    sides_tested: bool = False


TIGHT = Leaks(0.0, 0.0)
"""Ducts without any leakage to outside."""


@dataclass(frozen=True, slots=True)
class View:
    """One system and what is taken of it.

    `outside_share` is the part of the measured leakage that goes outside; `default_share` the
    supply's part of it where no test tells. `regain` is the part of the losses that comes back to
    the rooms, `pressure_factor` multiplies the pressures of operation.
    """

    system: DuctSystem
    inputs: DeliveryInputs
    basis: LeakBasis
    outside_share: float
    default_share: float
    regain: float
    pressure_factor: float = 1.0


def leaks_of(view: View, seen: Seen) -> Leaks:
    """Return the leakage of both sides to outside while the system runs."""
    flow = seen.flow * view.outside_share
    share = view.default_share if seen.supply_share is None else seen.supply_share

    def running(part: float, held: float) -> float:
        at = view.pressure_factor * held
        return operating.operating_leakage(flow * part, seen.pressure, at, seen.exponent)

    return Leaks(
        running(share, view.inputs.supply_pressure),
        running(1.0 - share, view.inputs.return_pressure),
    )


def heating(view: View, leaks: Leaks) -> Delivery | None:
    """Return the share of heating delivered; None where an input is missing or out of range."""
    capacity = si_of(view.system.heating_output)
    ducts = _ducts(view, leaks, view.inputs.winter)
    if not capacity or capacity <= 0.0 or ducts is None:
        return None
    return _heating_of(ducts, capacity)


def cooling(view: View, leaks: Leaks) -> Delivery | None:
    """Return the share of cooling delivered; None where an input is missing or out of range."""
    capacity = si_of(view.system.cooling_capacity)
    ducts = _ducts(view, leaks, view.inputs.summer)
    if not capacity or capacity <= 0.0 or ducts is None:
        return None
    return _cooling_of(ducts, capacity)


def share_of(found: Delivery | None) -> float | None:
    """Return a share that can be told: ducts that deliver less than nothing have none."""
    if found is None or not 0.0 < found.effectiveness <= 1.0:
        return None
    return found.effectiveness


@lru_cache(maxsize=256)
def _heating_of(ducts: duct_delivery.DeliverySystem, capacity: float) -> Delivery | None:
    try:
        return duct_delivery.heating_delivery(ducts, capacity)
    except (ValueError, OverflowError):
        return None


@lru_cache(maxsize=256)
def _cooling_of(ducts: duct_delivery.DeliverySystem, capacity: float) -> Delivery | None:
    try:
        around, room = (
            moist_air.moist_air_enthalpy(temperature, taken.MOISTURE)
            for temperature in (ducts.returns.space_k, ducts.room_k)
        )
        return duct_delivery.cooling_delivery(ducts, capacity, taken.SENSIBLE_SHARE, around - room)
    except (ValueError, OverflowError):
        return None


def _ducts(view: View, leaks: Leaks, season: Season) -> duct_delivery.DeliverySystem | None:
    known = view.inputs
    if known.fan_flow is None or known.supply_surface is None or known.return_surface is None:
        return None
    return duct_delivery.DeliverySystem(
        supply=Side(
            surface=known.supply_surface,
            resistance=known.supply_resistance,
            leak_flow=leaks.supply,
            space_k=season.supply_space,
            regain=view.regain,
        ),
        returns=Side(
            surface=known.return_surface,
            resistance=known.return_resistance,
            leak_flow=leaks.returns,
            space_k=season.return_space,
            regain=view.regain,
        ),
        room_k=season.room,
        fan_flow=known.fan_flow,
    )
