"""Values as a tester enters them: typed text, read by the program itself."""

from __future__ import annotations

from deskapp.domain.field_spec import Form
from deskapp.domain.fields import FIELDS
from deskapp.domain.measured import Measured
from deskapp.domain.trial import Reading
from deskapp.units.entry import Quantity, parse
from deskapp.units.kinds import Kind
from deskapp.units.numbers import NumberStyle


def typed(text: str, kind: Kind) -> Measured:
    """Read one typed text with the default unit of its kind."""
    default = next(
        f.units.ip for f in FIELDS if f.form is Form.QUANTITY and f.kind is kind and f.units
    )
    read = parse(text, kind, default, NumberStyle.POINT)
    assert isinstance(read, Quantity), read
    return Measured(si=read.si, unit=read.unit, typed=text)


def pa(text: str) -> Measured:
    return typed(text, Kind.PRESSURE)


def cfm(text: str) -> Measured:
    return typed(text, Kind.FLOW)


def ft2(text: str) -> Measured:
    return typed(text, Kind.AREA)


def readings(pressures: str, signals: str) -> tuple[Reading, ...]:
    return tuple(
        Reading(duct_pressure=pa(p), fan_signal=pa(s))
        for p, s in zip(pressures.split(), signals.split(), strict=True)
    )
