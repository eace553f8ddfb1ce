"""Fields of pressure-pan screening at the registers."""

from __future__ import annotations

from deskapp.domain.choices import DuctSide
from deskapp.domain.field_spec import FieldSpec, Span, When
from deskapp.domain.field_words import choice, quantity, reference, text
from deskapp.i18n import N_
from deskapp.units.kinds import Kind


def _pan(path: str, label: str) -> FieldSpec:
    return quantity(
        path,
        Kind.PRESSURE,
        label,
        N_("With a pan over the register and the house held at 50 Pa against outdoors."),
        allowed=Span(-200, 200, "Pa"),
        usual=Span(-50, 50, "Pa"),
        example="1.2 Pa",
    )


def _house(path: str, label: str) -> FieldSpec:
    return quantity(
        path,
        Kind.PRESSURE,
        label,
        N_("House against outdoors, with its sign; mostly −50 Pa."),
        allowed=Span(-200, 200, "Pa"),
        example="-50 Pa",
        shown_when=When("registers"),
    )


REGISTERS: tuple[FieldSpec, ...] = (
    reference("registers.*.system", "systems", N_("System")),
    text("registers.*.name", N_("Register"), N_("Such as Kitchen, north wall.")),
    choice("registers.*.side", DuctSide, N_("Side")),
    _pan("registers.*.pan_before", N_("Pan reading before")),
    _pan("registers.*.pan_after", N_("Pan reading after")),
)

SCREENING: tuple[FieldSpec, ...] = (
    _house("screening.house_pressure_before", N_("House pressure, pan readings before")),
    _house("screening.house_pressure_after", N_("House pressure, pan readings after")),
)
