"""Closed lists of answers of the safety walk, with the words shown for each."""

from __future__ import annotations

from enum import StrEnum

from deskapp.i18n import N_


class ApplianceKind(StrEnum):
    """What an appliance does."""

    FURNACE = "furnace"
    BOILER = "boiler"
    WATER_HEATER = "water_heater"
    ROOM_HEATER = "room_heater"
    FIREPLACE = "fireplace"
    STOVE = "stove"
    RANGE = "range"
    DRYER = "dryer"
    OTHER = "other"


class Fuel(StrEnum):
    """What an appliance runs on."""

    NATURAL_GAS = "natural_gas"
    PROPANE = "propane"
    OIL = "oil"
    WOOD = "wood"
    ELECTRIC = "electric"
    OTHER = "other"


class Vent(StrEnum):
    """How the fumes of an appliance get out."""

    NATURAL_DRAFT = "natural_draft"
    INDUCED = "induced"
    POWER = "power"
    SEALED = "sealed"
    UNVENTED = "unvented"
    NONE_NEEDED = "none_needed"


class AppliancePlace(StrEnum):
    """Where an appliance stands."""

    CLOSET = "closet"
    MECHANICAL_ROOM = "mechanical_room"
    LIVING_SPACE = "living_space"
    BASEMENT = "basement"
    GARAGE = "garage"
    ATTIC = "attic"
    CRAWLSPACE = "crawlspace"
    OUTDOORS = "outdoors"


class AlarmPanel(StrEnum):
    """Whether those who watch a fire alarm panel know of the test."""

    NONE_THERE = "none_there"
    TOLD = "told"
    NOT_TOLD = "not_told"


class Tracer(StrEnum):
    """What made the leaks visible."""

    CORROSIVE = "corrosive"
    GLYCOL = "glycol"
    THEATRICAL_FOG = "theatrical_fog"
    INCENSE = "incense"
    THREAD = "thread"


LABELS: dict[type[StrEnum], dict[str, str]] = {
    ApplianceKind: {
        "furnace": N_("Furnace"),
        "boiler": N_("Boiler"),
        "water_heater": N_("Water heater"),
        "room_heater": N_("Room heater"),
        "fireplace": N_("Fireplace"),
        "stove": N_("Wood or pellet stove"),
        "range": N_("Cooking range"),
        "dryer": N_("Clothes dryer"),
        "other": N_("Other appliance"),
    },
    Fuel: {
        "natural_gas": N_("Natural gas"),
        "propane": N_("Propane"),
        "oil": N_("Oil"),
        "wood": N_("Wood or pellets"),
        "electric": N_("Electric"),
        "other": N_("Other fuel"),
    },
    Vent: {
        "natural_draft": N_("Natural draft (atmospheric)"),
        "induced": N_("Induced draft (fan-assisted)"),
        "power": N_("Power vented"),
        "sealed": N_("Sealed combustion"),
        "unvented": N_("Burns fuel without a vent"),
        "none_needed": N_("No vent needed (electric)"),
    },
    AppliancePlace: {
        "closet": N_("Closet"),
        "mechanical_room": N_("Mechanical room"),
        "living_space": N_("Living space"),
        "basement": N_("Basement"),
        "garage": N_("Garage"),
        "attic": N_("Attic"),
        "crawlspace": N_("Crawl space"),
        "outdoors": N_("Outdoors"),
    },
    AlarmPanel: {
        "none_there": N_("There is no panel"),
        "told": N_("Told"),
        "not_told": N_("Not told"),
    },
    Tracer: {
        "corrosive": N_("Corrosive smoke pen (titanium tetrachloride)"),
        "glycol": N_("Puff of water and glycol"),
        "theatrical_fog": N_("Theatrical fog"),
        "incense": N_("Incense or a smoke stick"),
        "thread": N_("Feather or thread, no smoke"),
    },
}
