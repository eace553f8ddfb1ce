"""What the share delivered is worked out from, with every assumption listed."""

from __future__ import annotations

from dataclasses import dataclass

from deskapp.assess import delivery_defaults as taken
from deskapp.assess.delivery_defaults import Surroundings
from deskapp.domain.choices import CHOICE_LABELS, DuctLocation
from deskapp.domain.measured import Measured, si_of
from deskapp.domain.result_parts import Assumption
from deskapp.domain.site import House
from deskapp.domain.system import DuctSystem
from deskapp.i18n import N_, _
from deskapp.physics import delivery, operating
from deskapp.units.kinds import Kind

_SURFACE_SOURCE = N_("ANSI/RESNET/ICC 301-2022, default duct surface; read in a secondary source")
_PRESSURE_SOURCE = N_(
    "Half of the plenum pressure: ASHRAE Standard 152, default; from memory, not checked"
)


@dataclass(frozen=True, slots=True)
class Season:
    """Temperatures of one season, K: rooms, and around the supply and the return ducts."""

    room: float
    supply_space: float
    return_space: float


@dataclass(frozen=True, slots=True)
class DeliveryInputs:
    """All that is known or taken of one system; `assumptions` tells each of it.

    Flow in m3/s, surfaces in m2, thermal resistances in m2 K/W, pressures in Pa as sizes.
    Surfaces are None where neither they nor the floor area are known; then only the leakage flows
    can be told.
    """

    fan_flow: float | None
    supply_surface: float | None
    return_surface: float | None
    supply_resistance: float
    return_resistance: float
    supply_pressure: float
    return_pressure: float
    winter: Season
    summer: Season
    surroundings: Surroundings
    assumptions: tuple[Assumption, ...]


class _Ledger:
    """Takes each number as entered or by default, and writes it down."""

    def __init__(self) -> None:
        self.rows: list[Assumption] = []

    def take(
        self,
        name: str,
        label: str,
        kind: Kind,
        entered: Measured | None,
        default: float,
        source: str = taken.HOUSE_RULE,
    ) -> float:
        """Return the entered value, or the default."""
        value = si_of(entered)
        given = value is not None
        used = default if value is None else value
        self.rows.append(
            Assumption(
                id=name,
                label=label,
                value=used,
                kind=kind,
                is_given=given,
                source=_("As entered") if given else _(source),
            )
        )
        return used


def delivery_inputs(house: House, system: DuctSystem) -> DeliveryInputs:
    """Return what is known or taken of a system for the owner's figures."""
    ledger = _Ledger()
    around = taken.SURROUNDINGS.get(system.duct_location or DuctLocation.SEVERAL, taken.UNKNOWN)
    location = _(CHOICE_LABELS[DuctLocation][system.duct_location or DuctLocation.SEVERAL])
    ledger.rows.append(
        Assumption(
            id="location",
            label=_("Where the ducts run"),
            text=location,
            is_given=system.duct_location is not None,
            source=_("As entered") if system.duct_location else _(taken.HOUSE_RULE),
        )
    )
    fan_flow = _fan_flow(ledger, system)
    supply_surface, return_surface = _surfaces(ledger, system)
    return DeliveryInputs(
        fan_flow=fan_flow,
        supply_surface=supply_surface,
        return_surface=return_surface,
        supply_resistance=ledger.take(
            "supply_resistance",
            _("Supply duct insulation"),
            Kind.RESISTANCE,
            system.supply_resistance,
            taken.RESISTANCE,
        ),
        return_resistance=ledger.take(
            "return_resistance",
            _("Return duct insulation"),
            Kind.RESISTANCE,
            system.return_resistance,
            taken.RESISTANCE,
        ),
        supply_pressure=_pressure(ledger, "supply", system.supply_plenum_pressure),
        return_pressure=_pressure(ledger, "return", system.return_plenum_pressure),
        winter=_winter(ledger, house, system, around),
        summer=_summer(ledger, house, system, around),
        surroundings=around,
        assumptions=(*ledger.rows, _regain(around)),
    )


def _fan_flow(ledger: _Ledger, system: DuctSystem) -> float | None:
    capacity = si_of(system.cooling_capacity)
    if si_of(system.fan_flow) is None and not capacity:
        return None
    default = (capacity or 0.0) / taken.TON_W * taken.FLOW_PER_TON
    source = N_("400 cfm for each ton of cooling; common practice, no source")
    value = ledger.take(
        "fan_flow", _("Air handler flow"), Kind.FLOW, system.fan_flow, default, source
    )
    return value if value > 0.0 else None


def _surfaces(ledger: _Ledger, system: DuctSystem) -> tuple[float | None, float | None]:
    area = si_of(system.area_served)
    returns = si_of(system.returns)
    if (not area or area <= 0.0) and (
        si_of(system.supply_surface) is None or si_of(system.return_surface) is None
    ):
        return None, None
    floor = area or 1.0
    count = min(1000.0, 1.0 if returns is None else returns)
    supply = ledger.take(
        "supply_surface",
        _("Supply duct surface"),
        Kind.AREA,
        system.supply_surface,
        delivery.default_supply_surface(floor),
        _SURFACE_SOURCE,
    )
    back = ledger.take(
        "return_surface",
        _("Return duct surface"),
        Kind.AREA,
        system.return_surface,
        delivery.default_return_surface(floor, count),
        _SURFACE_SOURCE,
    )
    return supply, back


def _pressure(ledger: _Ledger, side: str, entered: Measured | None) -> float:
    """Return the pressure the leaks of a side see while the system runs: half of its plenum's."""
    label = _("Supply plenum pressure") if side == "supply" else _("Return plenum pressure")
    plenum = ledger.take(f"{side}_plenum", label, Kind.PRESSURE, entered, taken.PLENUM_PA)
    half = operating.half_plenum_pressure(plenum)
    words = (
        _("Pressure on the supply leaks while running")
        if side == "supply"
        else _("Pressure on the return leaks while running")
    )
    ledger.rows.append(
        Assumption(
            id=f"{side}_operating",
            label=words,
            value=half,
            kind=Kind.PRESSURE,
            source=_(_PRESSURE_SOURCE),
        )
    )
    return half


def _winter(ledger: _Ledger, house: House, system: DuctSystem, around: Surroundings) -> Season:
    room = ledger.take(
        "room_winter",
        _("Rooms in the heating season"),
        Kind.TEMPERATURE,
        house.room_winter,
        taken.ROOM_WINTER_K,
    )
    outdoor = ledger.take(
        "outdoor_winter",
        _("Outdoors in the heating season"),
        Kind.TEMPERATURE,
        house.outdoor_winter,
        taken.OUTDOOR_WINTER_K,
    )
    space = room + around.follows * (outdoor - room)
    supply = ledger.take(
        "supply_space_winter",
        _("Around the supply ducts, heating season"),
        Kind.TEMPERATURE,
        system.supply_space_winter,
        space,
    )
    back = ledger.take(
        "return_space_winter",
        _("Around the return ducts, heating season"),
        Kind.TEMPERATURE,
        system.return_space_winter,
        space,
    )
    return Season(room, supply, back)


def _summer(ledger: _Ledger, house: House, system: DuctSystem, around: Surroundings) -> Season:
    room = ledger.take(
        "room_summer",
        _("Rooms in the cooling season"),
        Kind.TEMPERATURE,
        house.room_summer,
        taken.ROOM_SUMMER_K,
    )
    outdoor = ledger.take(
        "outdoor_summer",
        _("Outdoors in the cooling season"),
        Kind.TEMPERATURE,
        house.outdoor_summer,
        taken.OUTDOOR_SUMMER_K,
    )
    space = room + around.follows * (outdoor - room) + around.sun
    supply = ledger.take(
        "supply_space_summer",
        _("Around the supply ducts, cooling season"),
        Kind.TEMPERATURE,
        system.supply_space_summer,
        space,
    )
    back = ledger.take(
        "return_space_summer",
        _("Around the return ducts, cooling season"),
        Kind.TEMPERATURE,
        system.return_space_summer,
        space,
    )
    return Season(room, supply, back)


def _regain(around: Surroundings) -> Assumption:
    return Assumption(
        id="regain",
        label=_("Part of the losses that comes back to the rooms"),
        value=around.regain,
        kind=Kind.FRACTION,
        text=_("{low} to {high}%").format(
            low=f"{100.0 * around.regain_low:g}", high=f"{100.0 * around.regain_high:g}"
        ),
        source=_(taken.HOUSE_RULE),
    )
