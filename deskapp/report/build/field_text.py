"""Entries of the job as printed, by the field table."""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING

from deskapp.domain import paths
from deskapp.domain.checks_dates import CLOCK
from deskapp.domain.choices import CHOICE_LABELS
from deskapp.domain.field_spec import FieldSpec, Form
from deskapp.domain.fields import field_at
from deskapp.domain.measured import Day, Measured, day_of
from deskapp.i18n import _
from deskapp.report.blocks import Fact
from deskapp.report.build.context import NOT_IN_JOB
from deskapp.report.plain_text import printable
from deskapp.units.display import UnitSystem
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from collections.abc import Collection

    from deskapp.domain.instrument import Fan, Gauge, Ring
    from deskapp.domain.job import Job
    from deskapp.report.build.context import Context
    from deskapp.units.display import Formatter

_EXPONENTS = ("tests.*.setup.exponent", "tests.*.setup.exponent_uncertainty")
_EXPONENT_DIGITS, _MOST_DIGITS, _ROUNDING = 2, 4, 1e-9


def fact(context: Context, path: str, needed: Collection[str]) -> Fact | None:
    """Return the entry at `path` with its label; None for an empty one that is not needed.

    `needed` holds the paths of needed entries that are empty.
    """
    label = _(field_at(path).label)
    value = entry(context, path)
    if value:
        value = " ".join((value, *_remark(context, path)))
        return Fact(label, value, path=path)
    if path in needed:
        return Fact(label, context.template.words.not_recorded, missing=True, path=path)
    return None


def _remark(context: Context, path: str) -> tuple[str, ...]:
    """Return what must be known beside an entry: that a certification did not hold."""
    if path != "tester.certification_expires":
        return ()
    expires = day_of(context.job.tester.certification_expires)
    days = [day for test in context.job.tests if (day := day_of(test.tested_on)) is not None]
    if expires is None:
        return ()
    if days and expires < max(days):
        return (_("(ran out before the test)"),)
    if expires < context.source.issued_on:
        return (_("(held on the day of the test)") if days else _("(has run out)"),)
    return ()


def entry(context: Context, path: str) -> str:
    """Return the entry at `path` as printed, empty if nothing was entered."""
    spec = field_at(path)
    value = paths.get(context.job, path)
    return printable(_written(context, spec, path, value))


def shown_quantity(formatter: Formatter, spec: FieldSpec, value: Measured) -> str:
    """Return a quantity in the reader's units; text that could not be read is printed as typed."""
    if value.si is None or spec.kind is None:
        return _("“{typed}” (could not be read)").format(typed=value.typed)
    if spec.kind is Kind.COUNT:
        return formatter.plain(spec.kind, value.si)
    if spec.path in _EXPONENTS:
        return exponent_text(formatter, value.si)
    unit = None
    if spec.units is not None:
        unit = spec.units.ip if formatter.system is UnitSystem.IP else spec.units.si
    return formatter.show(spec.kind, value.si, unit)


def exponent_text(formatter: Formatter, exponent: float) -> str:
    """Return an exponent with two decimals, or more where it has more."""
    digits = _EXPONENT_DIGITS
    while digits < _MOST_DIGITS and abs(round(exponent, digits) - exponent) > _ROUNDING:
        digits += 1
    return formatter.number(exponent, digits)


def choice_label(value: StrEnum | None) -> str:
    """Return the words of an answer; empty for none."""
    return _(CHOICE_LABELS[type(value)][value.value]) if value is not None else ""


def ring_name(formatter: Formatter, fan: Fan, ring: Ring) -> str:
    """Return a ring named by its flow range, by its place in the list where it has none."""
    low, high = (side.si if side else None for side in (ring.flow_low, ring.flow_high))
    if low is not None and high is not None:
        unit = formatter.unit_for(Kind.FLOW)
        start = formatter.show(Kind.FLOW, low, unit, 0)
        return _("{low} to {high}").format(
            low=start.removesuffix(formatter.label(unit)).rstrip(),
            high=formatter.show(Kind.FLOW, high, unit, 0),
        )
    return _("Ring {n}").format(n=fan.rings.index(ring) + 1)


def instrument_name(instrument: Gauge | Fan) -> str:
    """Return description and serial number."""
    serial = _("serial {serial}").format(serial=instrument.serial) if instrument.serial else ""
    return ", ".join(part for part in (instrument.description, serial) if part)


def _written(context: Context, spec: FieldSpec, path: str, value: object) -> str:
    formatter = context.formatter
    if isinstance(value, Measured):
        return shown_quantity(formatter, spec, value)
    if isinstance(value, Day):
        if value.value is None:
            return _("“{typed}” (could not be read)").format(typed=value.typed)
        return formatter.day(value.value)
    if isinstance(value, StrEnum):
        return choice_label(value)
    if spec.form is Form.CLOCK and isinstance(value, str) and value.strip():
        is_read = CLOCK.fullmatch(value) is not None
        return value if is_read else _("“{typed}” (could not be read)").format(typed=value.strip())
    if spec.form is Form.REFERENCE and isinstance(value, str):
        return _referred(context, spec.reference, path, value)
    return value.strip() if isinstance(value, str) else ""


def _referred(context: Context, reference: str, path: str, key: str) -> str:
    """Return what the row with `key` is called. Gauge, fan and ring may be the only ones there."""
    job, formatter = context.job, context.formatter
    match reference:
        case "systems":
            views = (view for view in context.systems if view.index != NOT_IN_JOB)
            return next((view.name for view in views if view.system.key == key), "")
        case "gauges":
            gauge = job.gauge(key)
            return instrument_name(gauge) if gauge else ""
        case "fans":
            fan = job.fan(key)
            return instrument_name(fan) if fan else ""
        case "tests":
            test = job.test(key)
            return test.label if test else ""
        case "rings":
            ring = _ring(job, path, key)
            return ring_name(formatter, *ring) if ring else ""
        case _:
            words = (*context.source.leak_locations, *context.source.materials)
            return next((_(one.label) for one in words if one.id == key), key)


def _ring(job: Job, path: str, key: str) -> tuple[Fan, Ring] | None:
    """Return the fan and its ring fitted in the set-up that `path` belongs to."""
    fan = job.fan(job.fan_key_at(path))
    if fan is None:
        return None
    if not key and len(fan.rings) == 1:
        return fan, fan.rings[0]
    return next(((fan, ring) for ring in fan.rings if ring.key == key), None)
