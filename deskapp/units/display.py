"""Quantities and dates as printed on screen and paper; the only place that rounds."""

from __future__ import annotations

import math
import re
from collections.abc import Generator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from datetime import date, datetime
from decimal import ROUND_HALF_UP, Decimal
from enum import StrEnum
from functools import cache, lru_cache

from deskapp.i18n import ENGLISH, language
from deskapp.units.convert import to_unit
from deskapp.units.kinds import Kind
from deskapp.units.numbers import NumberStyle, restyled, usual_style, write_decimals
from deskapp.units.table import fits, unit_named

NO_VALUE = "–"
_GAP = "\N{NO-BREAK SPACE}"
_MINUS = "\N{MINUS SIGN}"

_FIRST_NUMBER = re.compile(r"[\d,.]*\d")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


class UnitSystem(StrEnum):
    """Which units are shown first."""

    IP = "ip"
    SI = "si"


# kind: (unit in inch-pound, unit in SI, second unit where both systems share the first)
_SHOWN_IN: dict[Kind, tuple[str, str, str | None]] = {
    Kind.PRESSURE: ("Pa", "Pa", "inH2O"),
    Kind.FLOW: ("cfm", "L/s", None),
    Kind.AREA: ("ft2", "m2", None),
    Kind.LENGTH: ("ft", "m", None),
    Kind.VOLUME: ("ft3", "m3", None),
    Kind.TEMPERATURE: ("degF", "degC", None),
    Kind.FRACTION: ("percent", "percent", None),
    Kind.TIME: ("s", "s", None),
    Kind.POWER: ("kBtu/h", "kW", None),
    Kind.SPEED: ("mph", "m/s", None),
    Kind.CONCENTRATION: ("ppm", "ppm", None),
    Kind.DENSITY: ("lb/ft3", "kg/m3", None),
    Kind.COEFFICIENT: ("cfm", "L/s", None),
    Kind.FLOW_PER_AREA: ("cfm/100ft2", "L/s/m2", None),
    Kind.RESISTANCE: ("h.ft2.degF/Btu", "m2.K/W", None),
    Kind.NUMBER: ("1", "1", None),
    Kind.COUNT: ("1", "1", None),
}
_EXTRA_DECIMALS = {Kind.COEFFICIENT: 3}
"""Decimals that a coefficient has beside those of its unit; zeros at its end are left out, as few
certificates print so many."""
_MORE_DECIMALS = {
    Kind.NUMBER: 0,
    Kind.COEFFICIENT: 1,
    Kind.FLOW_PER_AREA: 1,
    Kind.FLOW: 3,
    Kind.PRESSURE: 4,
}
_MORE_USUALLY = 2
_MOST_DIGITS = 7
_MANY_DIGITS = {Kind.FLOW: 5, Kind.AREA: 5, Kind.FLOW_PER_AREA: 5}
"""Decimals that a figure to go on with has beside the usual ones, and digits at most and least."""
_LARGEST_IN_FULL = 1e12
_LONGEST_UNGROUPED = 3
_GROUPED = 1000.0
_TRUE_DIGITS = 14
"""Digits of a number that hold more than the noise of binary arithmetic."""
_NOISE = 16
"""Smallest steps between two numbers by which a few sums and products may miss a half."""
_HALF = Decimal("0.5")


@dataclass(frozen=True, slots=True)
class Formatter:
    """Writes values for one reader: `system` picks the units, `style` the marks in numbers.

    Methods that take a value raise ValueError for one that is not finite and for a unit that does
    not fit the kind; both are mistakes in the caller.
    """

    system: UnitSystem
    style: NumberStyle

    def show(
        self, kind: Kind, si: float, unit: str | None = None, digits: int | None = None
    ) -> str:
        """Return ``54.2 cfm``: the SI value `si` in `unit` (or the usual one), with its symbol.

        `digits` sets the decimals and keeps trailing zeros; give it where the usual rounding would
        hide a difference that decides something. A no-break space stands before the symbol.
        """
        unit = self._fitting(kind, unit)
        decimals, trim = _places(kind, unit) if digits is None else (digits, False)
        number = self._written(to_unit(si, unit), decimals, trim=trim, shorten=digits is None)
        return self._with_label(number, unit)

    def to_go_on_with(self, kind: Kind, si: float, unit: str | None = None) -> str:
        """Return what `show` returns, with digits enough for a calculator to go on from there.

        Up to four decimals more than usual, seven digits at most, five of a flow or an area at
        least. Zeros beyond the usual decimals are left out: a figure stays as it was read.
        """
        unit = self._fitting(kind, unit)
        value = to_unit(si, unit)
        usual, trim = _places(kind, unit)
        least = 0 if trim or abs(value) >= _GROUPED else usual
        most = usual + _MORE_DECIMALS.get(kind, _MORE_USUALLY)
        if value:
            before = 1 + math.floor(math.log10(abs(value)))
            most = max(min(most, _MOST_DIGITS - before), _MANY_DIGITS.get(kind, 0) - before, least)
        return self._with_label(self._trimmed(value, most, least), unit)

    def give_or_take(self, kind: Kind, si: float, digits: int) -> str:
        """Return ``± 0.14 Pa``: an uncertainty with `digits` decimals and two digits at least."""
        size = abs(to_unit(si, self.unit_for(kind)))
        two = 1 - math.floor(math.log10(size)) if size else 0
        return f"±{_GAP}{self.show(kind, si, digits=max(digits, two))}"

    def give_or_take_little(self, kind: Kind, si: float, digits: int) -> str:
        """Return ``± 0.14 cfm``, or ``< 0.01 cfm`` where `digits` decimals would show none."""
        unit = self.unit_for(kind)
        least = 10.0**-digits
        if 0.0 < abs(to_unit(si, unit)) < least / 2:
            return f"<{_GAP}{self.in_unit(least, unit, digits)}"
        return f"±{_GAP}{self.show(kind, si, digits=digits)}"

    def show_optional(
        self, kind: Kind, si: float | None, unit: str | None = None, digits: int | None = None
    ) -> str:
        """Return what `show` returns, or a dash where there is no value."""
        return NO_VALUE if si is None else self.show(kind, si, unit, digits)

    def both(self, kind: Kind, si: float, digits: int | None = None) -> str:
        """Return ``54.2 cfm (25.6 L/s)``; just one value where both systems use one unit.

        Pressure shows in. w.c. second. `digits` sets the decimals of the first value.
        """
        inch_pound, metric, shared = _SHOWN_IN[kind]
        first = self.unit_for(kind)
        second = shared if inch_pound == metric else metric if first == inch_pound else inch_pound
        shown = self.show(kind, si, digits=digits)
        return shown if second is None else f"{shown} ({self.show(kind, si, second)})"

    def plain(
        self, kind: Kind, si: float, unit: str | None = None, digits: int | None = None
    ) -> str:
        """Return ``1234.5 cfm`` to fill an edit field: no grouping, no trailing zeros.

        Reading it back in the same style gives the same value to the digits shown. Prefer the
        text as typed where there is one.
        """
        unit = self._fitting(kind, unit)
        decimals, _trim = _places(kind, unit) if digits is None else (digits, True)
        rounded = _fixed(to_unit(si, unit), decimals, trim=True)
        label = self.label(unit)
        number = write_decimals(rounded, self.style)
        return f"{number} {label}" if label else number

    def in_unit(self, x: float, unit: str, digits: int) -> str:
        """Return ``54.2 cfm`` for an `x` that is counted in `unit`, with `digits` decimals."""
        return self._with_label(self.number(x, digits), unit)

    def number(self, x: float, digits: int) -> str:
        """Return `x` with `digits` decimals and grouped thousands."""
        return self._written(x, digits, trim=False, shorten=False)

    def unit_for(self, kind: Kind) -> str:
        """Return the id of the unit in which `kind` is shown."""
        inch_pound, metric, _shared = _SHOWN_IN[kind]
        return inch_pound if self.system is UnitSystem.IP else metric

    def label(self, unit: str) -> str:
        """Return the printed symbol of a unit id (``ft²``), empty for a plain number."""
        return unit_named(unit).label

    def day(self, day: date | None) -> str:
        """Return ``Mar 5, 2026`` (inch-pound) or ``5 Mar 2026`` (SI); a dash for None.

        Other languages write days their own way.
        """
        if day is None:
            return NO_VALUE
        if language() != ENGLISH:
            return _in_words(day)
        month = _MONTHS[day.month - 1]
        if self.system is UnitSystem.IP:
            return f"{month}{_GAP}{day.day}, {day.year}"
        return f"{day.day}{_GAP}{month}{_GAP}{day.year}"

    def moment(self, written: str) -> str:
        """Return ``Mar 5, 2026, 09:31`` for ``2026-03-05T09:31:12``; any other text as it is."""
        try:
            moment = datetime.fromisoformat(written)
        except ValueError:
            return written
        return f"{self.day(moment.date())}, {moment:%H:%M}"

    def _fitting(self, kind: Kind, unit: str | None) -> str:
        if unit is None:
            return self.unit_for(kind)
        if not fits(unit, kind):
            raise ValueError(f"the unit {unit!r} does not measure {kind.value}")
        return unit

    def _with_label(self, number: str, unit: str) -> str:
        label = self.label(unit)
        if not label:
            return number
        gap = "" if label == "%" and language() == ENGLISH else _GAP
        return number + gap + label.replace(" ", _GAP)

    def _written(self, value: float, decimals: int, *, trim: bool, shorten: bool) -> str:
        """Round and group; with `shorten`, values of 1000 and more lose their decimals.

        A value too long to be read at a glance is written with a power of ten.
        """
        if math.isfinite(value) and abs(value) >= _LARGEST_IN_FULL:
            return self._as_power(value)
        text = _fixed(value, decimals, trim=trim)
        if shorten and not trim and abs(float(text)) >= _GROUPED:
            text = _fixed(value, 0, trim=False)
        whole, _point, rest = text.lstrip("-").partition(".")
        grouped = whole
        if len(whole) > _LONGEST_UNGROUPED:
            grouped = f"{int(whole):,}".replace(",", self.style.group_mark)
        sign = _MINUS if text.startswith("-") else ""
        return sign + grouped + (self.style.decimal_mark + rest if rest else "")

    def _trimmed(self, value: float, most: int, least: int) -> str:
        """Return `value` with `most` decimals, of which zeros after the `least` are left out."""
        whole, _point, rest = _fixed(value, most, trim=True).partition(".")
        decimals = max(least, len(rest))
        return self._written(float(f"{whole}.{rest or 0}"), decimals, trim=False, shorten=False)

    def _as_power(self, value: float) -> str:
        digits, _mark, power = f"{abs(value):.3e}".partition("e")
        number = write_decimals(digits.rstrip("0").rstrip("."), self.style)
        return f"{_MINUS if value < 0 else ''}{number}e{int(power)}"


def _in_words(day: date) -> str:
    from babel import UnknownLocaleError
    from babel.dates import format_date

    try:
        return format_date(day, "medium", locale=language()).replace(" ", _GAP)
    except UnknownLocaleError:
        return day.isoformat()


def _places(kind: Kind, unit: str) -> tuple[int, bool]:
    """Return the usual decimals of a value and whether its trailing zeros are left out."""
    if kind is Kind.COUNT:
        return 0, False
    row = unit_named(unit)
    extra = _EXTRA_DECIMALS.get(kind, 0)
    return row.decimals + extra, row.trim or bool(extra)


def _fixed(value: float, decimals: int, *, trim: bool) -> str:
    """Return `value` as ASCII text with `decimals` places; zero never carries a minus.

    A half goes away from zero, and the noise of binary arithmetic does not decide what is a half:
    the mean of 0.2 and 0.1 is the same 0.2 wherever it was worked out.
    """
    if not math.isfinite(value):
        raise ValueError(f"{value} cannot be shown as a quantity")
    text = f"{value:.{decimals}f}"
    noise = _NOISE * math.ulp(value)
    if noise < 10.0**-decimals:
        near = Decimal(f"{value:.{_TRUE_DIGITS}g}")
        is_half = abs(near.scaleb(decimals) % 1) == _HALF and abs(float(near) - value) <= noise
        if is_half:
            text = f"{near.quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_UP):f}"
    if trim and "." in text:
        text = text.rstrip("0").rstrip(".")
    return text.lstrip("-") if float(text) == 0.0 else text


_written: ContextVar[NumberStyle | None] = ContextVar("written", default=None)


@contextmanager
def writing(style: NumberStyle) -> Generator[None]:
    """Have numbers inside sentences written in `style` within the block, as a person prefers.

    Without it they are written the way usual in the language spoken, which is how papers do it.
    """
    token = _written.set(style)
    try:
        yield
    finally:
        _written.reset(token)


def style_of_sentences() -> NumberStyle:
    """Return how numbers inside sentences are written here."""
    return _written.get() or usual_style(language())


def words_key() -> str:
    """Return the key for anything that is kept with its sentences: language, style of numbers."""
    return f"{language()} {style_of_sentences().value}"


def in_sentences(system: UnitSystem = UnitSystem.IP) -> Formatter:
    """Return what writes values inside sentences."""
    return _in_style(system, style_of_sentences())


def example_in_words(text: str) -> str:
    """Return an example as it would be typed here: ``2,640 ft2`` has its number in this style."""
    number = _FIRST_NUMBER.match(text)
    if number is None:
        return text
    return restyled(number[0], style_of_sentences()) + text[number.end() :]


def prose(text: str) -> str:
    """Return a text of ours with its decimals in the style of sentences.

    It has them as usual in the language spoken. Numbers with two marks, such as those of a clause,
    stay as they are.
    """
    usual, style = usual_style(language()), style_of_sentences()
    if usual is style:
        return text
    mark = re.escape(usual.decimal_mark)
    decimal = rf"(?<![\w.,])(\d+){mark}(\d+)(?![\d\w]|[.,]\d)"
    return re.sub(decimal, rf"\g<1>{style.decimal_mark}\g<2>", text)


def day_in_words(day: date) -> str:
    """Return a day the way sentences write it in the language spoken, such as ``Mar 5, 2026``."""
    return _day_in(language(), day)


@lru_cache(maxsize=1024)
def _day_in(spoken: str, day: date) -> str:
    return _in_style(UnitSystem.IP, usual_style(spoken)).day(day)


@cache
def _in_style(system: UnitSystem, style: NumberStyle) -> Formatter:
    return Formatter(system, style)
