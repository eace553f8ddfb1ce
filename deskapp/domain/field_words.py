"""Short builders that keep the field tables readable."""

from __future__ import annotations

from enum import StrEnum

from deskapp.domain.field_spec import FieldSpec, Form, Span, Units, When
from deskapp.units.kinds import Kind

_UNITS: dict[Kind, Units] = {
    Kind.PRESSURE: Units("Pa", "Pa"),
    Kind.FLOW: Units("cfm", "L/s"),
    Kind.COEFFICIENT: Units("cfm", "L/s"),
    Kind.AREA: Units("ft2", "m2"),
    Kind.LENGTH: Units("ft", "m"),
    Kind.VOLUME: Units("ft3", "m3"),
    Kind.TEMPERATURE: Units("degF", "degC"),
    Kind.FRACTION: Units("percent", "percent"),
    Kind.TIME: Units("s", "s"),
    Kind.POWER: Units("kBtu/h", "kW"),
    Kind.SPEED: Units("mph", "m/s"),
    Kind.CONCENTRATION: Units("ppm", "ppm"),
    Kind.DENSITY: Units("kg/m3", "kg/m3"),
    Kind.RESISTANCE: Units("h.ft2.degF/Btu", "m2.K/W"),
    Kind.NUMBER: Units("1", "1"),
    Kind.COUNT: Units("1", "1"),
}


def quantity(
    path: str,
    kind: Kind,
    label: str,
    help_text: str = "",
    *,
    units: Units | None = None,
    allowed: Span | None = None,
    usual: Span | None = None,
    needed: bool = False,
    example: str = "",
    rare: bool = False,
    shown_when: When | None = None,
) -> FieldSpec:
    """Return a field that holds a quantity of `kind`."""
    return FieldSpec(
        path,
        Form.QUANTITY,
        label,
        help_text,
        kind=kind,
        units=units or _UNITS[kind],
        allowed=allowed,
        usual=usual,
        needed=needed,
        example=example,
        rare=rare,
        shown_when=shown_when,
    )


def text(
    path: str,
    label: str,
    help_text: str = "",
    *,
    needed: bool = False,
    rare: bool = False,
    shown_when: When | None = None,
    recalled: bool = False,
) -> FieldSpec:
    """Return a field that holds one line of free text."""
    return FieldSpec(
        path,
        Form.TEXT,
        label,
        help_text,
        needed=needed,
        rare=rare,
        shown_when=shown_when,
        recalled=recalled,
    )


def paragraph(path: str, label: str, help_text: str = "", *, needed: bool = False) -> FieldSpec:
    """Return a field that holds several lines of free text."""
    return FieldSpec(path, Form.PARAGRAPH, label, help_text, needed=needed)


def choice(
    path: str,
    choices: type[StrEnum],
    label: str,
    help_text: str = "",
    *,
    needed: bool = False,
    rare: bool = False,
    shown_when: When | None = None,
) -> FieldSpec:
    """Return a field that holds one of a closed list of answers."""
    return FieldSpec(
        path,
        Form.CHOICE,
        label,
        help_text,
        choices=choices,
        needed=needed,
        rare=rare,
        shown_when=shown_when,
    )


def day(
    path: str,
    label: str,
    help_text: str = "",
    *,
    needed: bool = False,
    rare: bool = False,
    shown_when: When | None = None,
) -> FieldSpec:
    """Return a field that holds a calendar day."""
    return FieldSpec(
        path, Form.DAY, label, help_text, needed=needed, rare=rare, shown_when=shown_when
    )


def clock(path: str, label: str, help_text: str = "", *, needed: bool = False) -> FieldSpec:
    """Return a field that holds a time of day."""
    return FieldSpec(path, Form.CLOCK, label, help_text, needed=needed)


def reference(
    path: str,
    target: str,
    label: str,
    help_text: str = "",
    *,
    needed: bool = False,
    rare: bool = False,
    shown_when: When | None = None,
) -> FieldSpec:
    """Return a field that holds the key of a row of `target`."""
    return FieldSpec(
        path,
        Form.REFERENCE,
        label,
        help_text,
        reference=target,
        needed=needed,
        rare=rare,
        shown_when=shown_when,
    )
