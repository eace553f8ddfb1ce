"""Typed values of this package: what there is to say about one, and how to write one anew."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.domain.checks import out_of_range
from deskapp.domain.finding import Finding, Level
from deskapp.domain.measured import Day, Measured
from deskapp.i18n import _
from deskapp.session.messages import unread_finding
from deskapp.session.typed import default_unit, read
from deskapp.units.convert import to_unit
from deskapp.units.numbers import write_decimals

if TYPE_CHECKING:
    from collections.abc import Iterator

    from deskapp.domain.field_spec import FieldSpec
    from deskapp.session.settings import Preferences


def findings_about(
    spec: FieldSpec, path: str, value: object, preferences: Preferences, label: str = ""
) -> Iterator[Finding]:
    """Yield what there is to say about one value: text not read, or a value out of its range."""
    name = label or _(spec.label)
    unread = unread_finding(spec, path, value, preferences, name)
    if unread is not None:
        yield unread
    elif isinstance(value, Measured):
        yield from out_of_range(path, spec, value, name)


def left_empty(path: str, label: str, needed: str, mend: str) -> Finding:
    """Return the stop about a field that was left empty and without which nothing can be said."""
    what = _("{label}: nothing is typed yet.").format(label=label)
    return Finding(
        level=Level.STOP, code="missing", path=path, what=what, allowed=needed, mend=mend
    )


def as_typed(
    spec: FieldSpec, si: float, preferences: Preferences, significant: int, unit: str = ""
) -> Measured:
    """Return `si` as though somebody had typed it, with so many significant digits.

    The value kept is the one that the text stands for, so that the two never part.
    """
    unit = unit or default_unit(spec, preferences.unit_system)
    digits, power, exponent = f"{to_unit(si, unit):.{significant}g}".partition("e")
    digits = write_decimals(digits, preferences.number_style)
    text = f"{digits}{power}{exponent} {preferences.formatter.label(unit)}".strip()
    value = read(spec, text, preferences)
    if not isinstance(value, Measured) or value.si is None:
        raise ValueError(f"{si} cannot be written as {spec.path}")
    return value


def is_read(value: Measured | Day | None) -> bool:
    """Say whether something was typed and could be read."""
    if isinstance(value, Day):
        return value.value is not None
    return value is not None and value.si is not None
