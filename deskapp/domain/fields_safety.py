"""Fields of the safety walk, of appliances, and of what was changed on arrival."""

from __future__ import annotations

from deskapp.domain.choices import YesNo
from deskapp.domain.choices_safety import (
    AlarmPanel,
    ApplianceKind,
    AppliancePlace,
    Fuel,
    Tracer,
    Vent,
)
from deskapp.domain.field_spec import FieldSpec, Span, When
from deskapp.domain.field_words import choice, paragraph, quantity, text
from deskapp.i18n import N_
from deskapp.units.kinds import Kind

BURNS_FUEL = When("safety.combustion_appliances", ("yes",))

DANGERS: tuple[FieldSpec, ...] = (
    choice("safety.gas_smell", YesNo, N_("Smell of gas")),
    quantity(
        "safety.ambient_co",
        Kind.CONCENTRATION,
        N_("Carbon monoxide in the room air"),
        N_("On arrival, with a meter that was set to zero outdoors."),
        allowed=Span(0, 100_000, "ppm"),
        example="0 ppm",
    ),
    choice("safety.asbestos_suspected", YesNo, N_("Possible asbestos on ducts")),
    choice(
        "safety.vermiculite_suspected",
        YesNo,
        N_("Possible vermiculite"),
        N_("Loose gray or brown grains in the attic or in walls that ducts pass."),
    ),
    choice("safety.mold_suspected", YesNo, N_("Mold or animal waste in ducts")),
    choice("safety.fireplace", YesNo, N_("Fireplace or stove with ash")),
    choice(
        "safety.fire_out",
        YesNo,
        N_("Fire out and cold, ash covered or taken out"),
        shown_when=When("safety.fireplace", ("yes",)),
    ),
    choice("safety.lung_trouble", YesNo, N_("Someone here has lung trouble or asthma")),
)

ALARMS: tuple[FieldSpec, ...] = (
    choice("safety.co_alarm", YesNo, N_("Carbon monoxide alarm present")),
    choice("safety.smoke_alarm", YesNo, N_("Smoke alarm present")),
    choice(
        "safety.alarm_panel",
        AlarmPanel,
        N_("Fire alarm panel"),
        N_("Whoever watches it has to know before tracer smoke is used."),
    ),
)

BURNERS: tuple[FieldSpec, ...] = (
    choice("safety.combustion_appliances", YesNo, N_("Appliances that burn fuel in the building")),
    choice(
        "safety.burners_off",
        YesNo,
        N_("Burners off during the test"),
        N_("Turned off or locked out before a fan runs."),
        shown_when=BURNS_FUEL,
    ),
    choice(
        "safety.natural_draft_appliance",
        YesNo,
        N_("One of them vents by natural draft"),
        N_("Follows from the rows below where they are filled in."),
        rare=True,
    ),
    text("safety.appliances", N_("Which appliances, and where"), rare=True),
)

_ZONE = N_("Against outside, with its sign, with all exhaust fans on.")
_SPILLED = N_("The longest of all appliances, from the start of the burner; 0 if none spilled.")

BEFORE: tuple[FieldSpec, ...] = (
    quantity(
        "safety.zone_limit",
        Kind.PRESSURE,
        N_("Limit for the appliance zone"),
        N_("From the standard your technician works to."),
        allowed=Span(-200, 0, "Pa"),
        example="-2 Pa",
        shown_when=BURNS_FUEL,
    ),
    quantity(
        "safety.zone_pressure",
        Kind.PRESSURE,
        N_("Worst pressure in the appliance zone"),
        _ZONE,
        allowed=Span(-200, 200, "Pa"),
        shown_when=BURNS_FUEL,
    ),
    quantity(
        "safety.spillage_time",
        Kind.TIME,
        N_("Flue gas spilled for"),
        _SPILLED,
        allowed=Span(0, 3_600, "s"),
        shown_when=BURNS_FUEL,
    ),
)

NOTES: tuple[FieldSpec, ...] = (paragraph("safety.notes", N_("Safety notes")),)

TRACER: tuple[FieldSpec, ...] = (
    choice("safety.tracer", Tracer, N_("Tracer used"), N_("What made the leaks visible.")),
)

AFTER: tuple[FieldSpec, ...] = (
    quantity(
        "safety.ambient_co_after",
        Kind.CONCENTRATION,
        N_("Carbon monoxide in the room air, after the work"),
        allowed=Span(0, 100_000, "ppm"),
        example="0 ppm",
    ),
    quantity(
        "safety.zone_pressure_after",
        Kind.PRESSURE,
        N_("Worst pressure in the appliance zone, after the work"),
        _ZONE,
        allowed=Span(-200, 200, "Pa"),
    ),
    quantity(
        "safety.spillage_time_after",
        Kind.TIME,
        N_("Flue gas spilled for, after the work"),
        _SPILLED,
        allowed=Span(0, 3_600, "s"),
    ),
)

RESTORED: tuple[FieldSpec, ...] = (
    choice(
        "safety.equipment_restored",
        YesNo,
        N_("Equipment put back as it was found"),
        N_("Answered by itself when the list is confirmed."),
    ),
)

WALK: tuple[FieldSpec, ...] = (
    *DANGERS,
    *ALARMS,
    *BURNERS,
    *BEFORE,
    *NOTES,
    *TRACER,
    *AFTER,
    *RESTORED,
)

APPLIANCES: tuple[FieldSpec, ...] = (
    choice("appliances.*.kind", ApplianceKind, N_("Appliance")),
    choice("appliances.*.fuel", Fuel, N_("Fuel")),
    choice("appliances.*.vent", Vent, N_("Vent")),
    choice("appliances.*.place", AppliancePlace, N_("Stands in")),
    choice(
        "appliances.*.own_air",
        YesNo,
        N_("Own air supply"),
        N_("Its air comes from outdoors by a duct or openings of its own."),
    ),
)

FOUND: tuple[FieldSpec, ...] = (
    text("arrival.*.what", N_("What")),
    choice("arrival.*.changed", YesNo, N_("Changed")),
    text("arrival.*.was", N_("How it was")),
    quantity(
        "arrival.*.seals_on",
        Kind.COUNT,
        N_("Seals put on"),
        N_("Count them as they go on; as many have to come off."),
        allowed=Span(0, 1_000, "1"),
        example="12",
    ),
)

PUT_BACK: tuple[FieldSpec, ...] = (
    choice("arrival.*.undone", YesNo, N_("Put back")),
    quantity(
        "arrival.*.seals_off",
        Kind.COUNT,
        N_("Seals taken off"),
        allowed=Span(0, 1_000, "1"),
        example="12",
    ),
    text("arrival.*.explained", N_("If not put back: why, and who was told")),
)

ARRIVAL: tuple[FieldSpec, ...] = (*FOUND, *PUT_BACK)
