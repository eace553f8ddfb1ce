"""Reading days and times of day as people type them; what could mean two things is asked about."""

from __future__ import annotations

import re
from datetime import date
from functools import cache, lru_cache
from typing import cast

from deskapp.i18n import ENGLISH, LANGUAGES, _, language, speaking
from deskapp.units.display import UnitSystem, day_in_words
from deskapp.units.numbers import NumberStyle
from deskapp.units.problems import Problem, shortened

_MONTHS = (
    ("jan", "january"),
    ("feb", "february"),
    ("mar", "march"),
    ("apr", "april"),
    ("may", "may"),
    ("jun", "june"),
    ("jul", "july"),
    ("aug", "august"),
    ("sep", "september", "sept"),
    ("oct", "october"),
    ("nov", "november"),
    ("dec", "december"),
)
_MONTH_NUMBER = {name: number for number, names in enumerate(_MONTHS, 1) for name in names}
CLOCK_UNREADABLE = "clock-unreadable"
_FIRST_YEAR, _LAST_YEAR = 1900, 2199
DAY_EXAMPLE = "2026-03-11"
"""A day as hints and messages ask for one, in any language: ISO 8601, year, month and day."""


def today() -> date:
    """Return the day by the clock of this computer."""
    return date.today()


_ISO = re.compile(r"([0-9]{4})-([0-9]{1,2})-([0-9]{1,2})")
_DAY_FIRST_WORDS = re.compile(
    r"([0-9]{1,2})(?:\.|er)?(?: de)?[ -]([^\W\d_]+)\.?,?(?: de)?[ -]([0-9]{4})"
)
_MONTH_FIRST_WORDS = re.compile(r"([A-Za-z]+)\.? ([0-9]{1,2}),? ([0-9]{4})")
_NUMBERS = re.compile(r"([0-9]{1,2})([/.-])([0-9]{1,2})\2([0-9]{4})")
_CLOCK = re.compile(r"([0-9]{1,2})(?:[:.h]([0-9]{2}))?(?: ?([ap])\.?m\.?)?", re.IGNORECASE)
_FOUR_DIGITS = re.compile(r"([0-9]{2})([0-9]{2})")


def read_day(typed: str, style: NumberStyle, system: UnitSystem = UnitSystem.IP) -> date | Problem:
    """Return the day that `typed` names.

    Read are ``2026-03-11``, ``11 Mar 2026``, ``March 11, 2026``; in English with a decimal point
    and inch-pound units also ``3/11/2026`` (month first, as in the United States), with a decimal
    comma also ``11.03.2026`` (day first). Numbers in another order are asked about, and so is a day
    the calendar does not have: English with SI units is written in each order. In another language
    neither mark nor style tells which number is the month: ``25/03/2026`` is read, since it can
    mean one day only, and ``03/04/2026`` is asked about. Months may also be named in the language
    in use, as in ``11 de marzo de 2026``.
    """
    text = " ".join(typed.split())
    found = _ISO.fullmatch(text)
    if found:
        return _day(typed, int(found[1]), int(found[2]), int(found[3]))
    found = _DAY_FIRST_WORDS.fullmatch(text)
    if found and (month := _month(found[2].lower())):
        return _day(typed, int(found[3]), month, int(found[1]))
    found = _MONTH_FIRST_WORDS.fullmatch(text)
    if found and found[1].lower() in _MONTH_NUMBER:
        return _day(typed, int(found[3]), _MONTH_NUMBER[found[1].lower()], int(found[2]))
    found = _NUMBERS.fullmatch(text)
    if found:
        numbers = (int(found[1]), int(found[3]), int(found[4]))
        is_american = style is NumberStyle.POINT and system is UnitSystem.IP
        return _numbered(typed, numbers, found[2], style, month_first=is_american)
    return _problem("day-unreadable", typed, _("“{typed}” is not a date that can be read here."))


@lru_cache(maxsize=4096)
def other_day(typed: str, day: date) -> date | None:
    """Return a day that `typed` says where it cannot say `day`.

    None where it may say `day` in any language and style, and where it says no day at all: neither
    language nor style are kept with a text.
    """
    first: date | None = None
    for spoken in dict.fromkeys((language(), *LANGUAGES)):
        with speaking(spoken):
            for style in NumberStyle:
                found = read_day(typed, style)
                if found == day:
                    return None
                if first is None and not isinstance(found, Problem):
                    first = found
    return first


def _month(word: str) -> int | None:
    """Return the number of the month that `word` names in English or in the language in use."""
    if word in _MONTH_NUMBER or language() == ENGLISH:
        return _MONTH_NUMBER.get(word)
    return _months_in(language()).get(word)


@cache
def _months_in(spoken: str) -> dict[str, int]:
    from babel import UnknownLocaleError
    from babel.dates import get_month_names

    found: dict[str, int] = {}
    for width in ("wide", "abbreviated"):
        try:
            names = cast("dict[int, str]", get_month_names(width, locale=spoken))
        except UnknownLocaleError:
            return {}
        found |= {name.rstrip(".").lower(): number for number, name in names.items()}
    return found


def _numbered(
    typed: str,
    numbers: tuple[int, int, int],
    mark: str,
    style: NumberStyle,
    *,
    month_first: bool,
) -> date | Problem:
    """Settle which of the first two numbers is the month, if the mark and the style tell.

    With `month_first` a stroke tells that it is the first. They tell in English alone. Spanish puts
    the day first, but among people who also write dates of the United States; Canadian French is
    written in each order.
    """
    first, second, year = numbers
    is_english = language() == ENGLISH
    if is_english and mark == "/" and month_first:
        day = _day(typed, year, first, second)
        swapped = _possible(year, second, first)
        if isinstance(day, Problem) and swapped:
            mend = _("Type {day} if that is meant.").format(day=day_in_words(swapped))
            return _problem("day-unclear", typed, _("“{typed}” has no such month."), mend)
        return day
    if is_english and mark == "." and style is NumberStyle.COMMA:
        return _day(typed, year, second, first)
    american, european = _possible(year, first, second), _possible(year, second, first)
    if american and european and american != european:
        what = _("“{typed}” can be read in more than one way.")
        mend = _("Type {first} or {second}, whichever is meant.").format(
            first=day_in_words(american), second=day_in_words(european)
        )
        return _problem("day-unclear", typed, what, mend)
    settled = american or european
    month, day = (settled.month, settled.day) if settled else (first, second)
    return _day(typed, year, month, day)


def _possible(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None


def _day(typed: str, year: int, month: int, day: int) -> date | Problem:
    found = _possible(year, month, day)
    if found is None:
        return _problem("day-unknown", typed, _("The calendar has no day “{typed}”."))
    if not _FIRST_YEAR <= year <= _LAST_YEAR:
        what = _("The year in “{typed}” is outside {first} to {last}.")
        return _problem(
            "day-unknown", typed, what.format(typed="{typed}", first=_FIRST_YEAR, last=_LAST_YEAR)
        )
    return found


def _problem(code: str, typed: str, what: str, mend: str = "") -> Problem:
    """Return what is wrong with a date. A `mend` with days of its own goes without the example."""
    needed = _("A date is needed here, such as {day}.").format(day=DAY_EXAMPLE)
    return Problem(
        code,
        typed,
        what.replace("{typed}", shortened(typed)),
        _("A date must say which number is the month.") if mend else needed,
        mend or _("Type year, month and day, with four digits for the year."),
    )


def read_clock(typed: str) -> str | Problem:
    """Return the time of day in `typed` as ``HH:MM``.

    Read are ``08:40``, ``8:40``, ``0840``, ``8:40 am``, ``8 pm``; 12 am is midnight, 12 pm noon.
    """
    text = " ".join(typed.split())
    four = _FOUR_DIGITS.fullmatch(text)
    found = four or _CLOCK.fullmatch(text)
    half = "" if found is None or four else (found[3] or "").lower()
    if found is None or not (half or found[2]):
        return _clock_problem(typed)
    hour, minute = int(found[1]), int(found[2] or 0)
    if half:
        if not 1 <= hour <= 12:
            return _clock_problem(typed)
        hour = hour % 12 + (12 if half == "p" else 0)
    if hour > 23 or minute > 59:
        return _clock_problem(typed)
    return f"{hour:02d}:{minute:02d}"


def _clock_problem(typed: str) -> Problem:
    return Problem(
        CLOCK_UNREADABLE,
        typed,
        _("“{typed}” is not a time of day that can be read here.").format(typed=shortened(typed)),
        _("A time is needed here, such as 08:40, 14:05 or 2:05 pm."),
        _("Type hours and minutes."),
    )
