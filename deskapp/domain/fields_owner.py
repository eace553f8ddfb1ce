"""Fields behind the owner's figures: duct surfaces, insulation, surroundings, pressures, bills."""

from __future__ import annotations

from deskapp.domain.field_spec import FieldSpec, Span
from deskapp.domain.field_words import quantity, text
from deskapp.i18n import N_
from deskapp.units.kinds import Kind

_SURFACE = Span(0, 1_000_000, "ft2")
_RESISTANCE = Span(0.1, 60, "h.ft2.degF/Btu")
_TEMPERATURE = Span(-76, 212, "degF")
_PRESSURE = Span(0, 2_500, "Pa")


def _surface(path: str, label: str, help_text: str) -> FieldSpec:
    return quantity(
        path, Kind.AREA, label, help_text, allowed=_SURFACE, example="400 ft2", rare=True
    )


def _resistance(path: str, label: str) -> FieldSpec:
    words = N_("R-value of the duct wall with its air films; R-6 ducts are 6 h ft2 F/Btu.")
    usual = Span(0.5, 12, "h.ft2.degF/Btu")
    return quantity(
        path,
        Kind.RESISTANCE,
        label,
        words,
        allowed=_RESISTANCE,
        usual=usual,
        example="6",
        rare=True,
    )


def _temperature(path: str, label: str, help_text: str = "") -> FieldSpec:
    return quantity(
        path,
        Kind.TEMPERATURE,
        label,
        help_text,
        allowed=_TEMPERATURE,
        usual=Span(-40, 160, "degF"),
        example="50 °F",
        rare=True,
    )


def _plenum(path: str, label: str) -> FieldSpec:
    words = N_("While the system runs, without a sign; 50 Pa is taken if left empty.")
    usual = Span(5, 250, "Pa")
    return quantity(
        path,
        Kind.PRESSURE,
        label,
        words,
        allowed=_PRESSURE,
        usual=usual,
        example="50 Pa",
        rare=True,
    )


DELIVERY: tuple[FieldSpec, ...] = (
    _surface(
        "systems.*.supply_surface",
        N_("Supply duct surface"),
        N_("Outside the rooms; 27% of the floor area served is taken if left empty."),
    ),
    _surface(
        "systems.*.return_surface",
        N_("Return duct surface"),
        N_("Outside the rooms; 5% of the floor area for each return is taken if left empty."),
    ),
    _resistance("systems.*.supply_resistance", N_("Supply duct insulation")),
    _resistance("systems.*.return_resistance", N_("Return duct insulation")),
    _temperature("systems.*.supply_space_winter", N_("Around the supply ducts, heating season")),
    _temperature("systems.*.return_space_winter", N_("Around the return ducts, heating season")),
    _temperature("systems.*.supply_space_summer", N_("Around the supply ducts, cooling season")),
    _temperature("systems.*.return_space_summer", N_("Around the return ducts, cooling season")),
    _plenum("systems.*.supply_plenum_pressure", N_("Supply plenum pressure")),
    _plenum("systems.*.return_plenum_pressure", N_("Return plenum pressure")),
)

OWNER: tuple[FieldSpec, ...] = (
    _temperature("house.room_winter", N_("Rooms in the heating season")),
    _temperature("house.room_summer", N_("Rooms in the cooling season")),
    _temperature(
        "house.outdoor_winter",
        N_("Outdoors in the heating season"),
        N_("The usual temperature while the heating runs, not the coldest night."),
    ),
    _temperature("house.outdoor_summer", N_("Outdoors in the cooling season")),
    quantity(
        "house.bill_low",
        Kind.NUMBER,
        N_("Yearly heating and cooling bill, lowest"),
        N_("Money for a year as the owner tells it, before the work. Leave empty if not known."),
        allowed=Span(0, 10_000_000, "1"),
        example="1600",
        rare=True,
    ),
    quantity(
        "house.bill_high",
        Kind.NUMBER,
        N_("Yearly heating and cooling bill, highest"),
        N_("Money for a year; the same amount again, or empty, if it is known exactly."),
        allowed=Span(0, 10_000_000, "1"),
        example="2000",
        rare=True,
    ),
    text("house.currency", N_("Currency of the bill"), N_("Such as $ or €."), rare=True),
)
