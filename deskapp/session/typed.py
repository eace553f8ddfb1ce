"""Typed text to a value of the job, and a value of the job back to text, by the field table."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.domain.choices import CHOICE_LABELS
from deskapp.domain.field_spec import FieldSpec, Form
from deskapp.domain.fields import field_at, pattern_of
from deskapp.domain.measured import Day, Measured
from deskapp.i18n import N_, _
from deskapp.units.convert import to_unit
from deskapp.units.display import UnitSystem
from deskapp.units.entry import Problem, Quantity, parse
from deskapp.units.kinds import Kind
from deskapp.units.numbers import split_number, write_decimals
from deskapp.units.when import read_clock, read_day

if TYPE_CHECKING:
    from datetime import date

    from deskapp.session.settings import Preferences

Value = Measured | Day | str | None

# Fields that stand beside the field table: they belong to a row rather than to a form.
_BESIDE_THE_TABLE = {
    spec.path: spec
    for spec in (
        FieldSpec("leaks.*.photos.*.caption", Form.TEXT, N_("Caption")),
        FieldSpec("photos.*.caption", Form.TEXT, N_("Caption")),
        *(
            FieldSpec(path, Form.REFERENCE, N_("What it shows"), reference="photo_subjects")
            for path in ("leaks.*.photos.*.shows", "photos.*.shows")
        ),
        FieldSpec("tests.*.readings.*.note", Form.TEXT, N_("Note")),
    )
}


def spec_at(path: str) -> FieldSpec:
    """Return the field at `path`, of the field table or beside it. Raises KeyError for neither."""
    beside = _BESIDE_THE_TABLE.get(pattern_of(path))
    return beside if beside is not None else field_at(path)


def default_unit(spec: FieldSpec, system: UnitSystem) -> str:
    """Return the unit id meant where none is typed into a quantity field."""
    if spec.units is None:
        raise ValueError(f"{spec.path} holds no quantity")
    return spec.units.ip if system is UnitSystem.IP else spec.units.si


def read(spec: FieldSpec, text: str, preferences: Preferences) -> Value:
    """Return what `text` typed into a field stands for; text that cannot be read is kept in it."""
    text = storable(text)
    blank = not text.strip()
    if spec.form is Form.QUANTITY:
        return None if blank else _measured(spec, text, preferences)
    if spec.form is Form.DAY:
        day = _day(text, preferences)
        return None if blank else Day(value=None if isinstance(day, Problem) else day, typed=text)
    if spec.form is Form.CLOCK:
        clock = read_clock(text)
        return "" if blank else (text if isinstance(clock, Problem) else clock)
    if spec.form in (Form.TEXT, Form.PARAGRAPH):
        return "" if blank else text
    raise ValueError(f"{spec.path} is chosen from a list, not typed")


def storable(text: str) -> str:
    """Return `text` with halves of characters joined, or replaced where the other half is lost.

    Some systems hand over pasted text in such halves (lone surrogates), which no file can hold.
    """
    return text.encode("utf-16-le", "surrogatepass").decode("utf-16-le", "replace")


def _measured(spec: FieldSpec, text: str, preferences: Preferences) -> Measured:
    found = _parsed(spec, text, preferences)
    if isinstance(found, Problem):
        return Measured(si=None, typed=text)
    return Measured(si=found.si, unit=found.unit, typed=text)


def _parsed(spec: FieldSpec, text: str, preferences: Preferences) -> Quantity | Problem:
    kind = spec.kind or Kind.NUMBER
    unit = default_unit(spec, preferences.unit_system)
    return parse(text, kind, unit, preferences.number_style)


def problem_in(spec: FieldSpec, value: object, preferences: Preferences) -> Problem | None:
    """Return why the text kept in `value` could not be read; None if it was read, or is empty.

    A text that can be read by now (since the number style changed) is still asked about: it
    counts only once somebody has typed it again.
    """
    found: object = None
    if isinstance(value, Measured) and value.si is None and spec.form is Form.QUANTITY:
        found = _parsed(spec, value.typed, preferences)
    elif isinstance(value, Day) and value.value is None:
        found = _day(value.typed, preferences)
    elif spec.form is Form.CLOCK and isinstance(value, str) and value:
        clock = read_clock(value)
        return clock if isinstance(clock, Problem) else None
    else:
        return None
    if isinstance(found, Problem):
        return found
    typed = value.typed
    what = _("“{typed}” was not clear when it was typed.").format(typed=typed)
    return Problem("typed-earlier", typed, what, "", _("Type it once more."))


def text_to_edit(spec: FieldSpec, value: object, preferences: Preferences) -> str:
    """Return the text a field shows while it is edited: as typed, wherever that still reads alike.

    A number typed without a unit gets its unit written out where another unit is now meant by
    default, and is written anew where the number style has changed. So what the field shows
    always means the value it holds.
    """
    if isinstance(value, Measured):
        if value.si is None:
            return value.typed
        return _quantity_to_edit(spec, value, value.si, preferences)
    if isinstance(value, Day):
        return _day_to_edit(value, preferences)
    return "" if value is None else str(value)


def _day(text: str, preferences: Preferences) -> date | Problem:
    return read_day(text, preferences.number_style, preferences.unit_system)


def _day_to_edit(day: Day, preferences: Preferences) -> str:
    if day.value is None or (day.typed and _day(day.typed, preferences) == day.value):
        return day.typed
    return day.value.isoformat()


def _quantity_to_edit(spec: FieldSpec, value: Measured, si: float, preferences: Preferences) -> str:
    unit = value.unit if value.unit else default_unit(spec, preferences.unit_system)
    label = preferences.formatter.label(unit)
    candidates = [value.typed]
    parts = split_number(value.typed)
    if parts is not None and not parts[1]:
        candidates.append(f"{value.typed} {label}")
    for text in candidates:
        found = _parsed(spec, text, preferences)
        if isinstance(found, Quantity) and found.si == si:
            return text
    digits, power, exponent = f"{to_unit(si, unit):.12g}".partition("e")
    digits = write_decimals(digits, preferences.number_style)
    return f"{digits}{power}{exponent} {label}".strip()


def text_to_show(spec: FieldSpec, value: object, preferences: Preferences) -> str:
    """Return the text a field shows at rest: in the units and the style preferred, rounded."""
    formatter = preferences.formatter
    if isinstance(value, Measured):
        if value.si is None or spec.kind is None:
            return value.typed
        if spec.kind is Kind.COUNT:
            return f"{value.si:.0f}"
        return formatter.show(spec.kind, value.si, default_unit(spec, preferences.unit_system))
    if isinstance(value, Day):
        return value.typed if value.value is None else formatter.day(value.value)
    if value is None:
        return ""
    if spec.choices is not None:
        words = CHOICE_LABELS[spec.choices].get(str(value), "")
        return _(words) if words else str(value)
    return str(value)
