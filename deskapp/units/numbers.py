"""Reading a number the way its writer means it, and asking when that cannot be known.

Two styles are known. POINT writes ``1,234.5``; COMMA writes ``1.234,5`` or ``1 234,5``. Spaces
(plain, no-break, narrow, thin) may group thousands in both. A mark that groups must group in
threes. Whatever could be read in two ways is given back as a `NumberProblem`, never guessed.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from enum import StrEnum


class NumberStyle(StrEnum):
    """How decimals and thousands are written."""

    POINT = "point"
    COMMA = "comma"

    @property
    def decimal_mark(self) -> str:
        """The mark before the decimals."""
        return "." if self is NumberStyle.POINT else ","

    @property
    def group_mark(self) -> str:
        """The mark printed between thousands; a no-break space beside a decimal comma."""
        return "," if self is NumberStyle.POINT else "\N{NO-BREAK SPACE}"


_BY_LANGUAGE = {"fr_CA": NumberStyle.COMMA}
"""Languages whose readers write a decimal comma, as in Unicode CLDR; all others write a point.
Spanish is that of the Americas (CLDR: es_US, es_MX), which writes a point."""


def usual_style(language: str) -> NumberStyle:
    """Return how numbers are usually written in a language of the program."""
    return _BY_LANGUAGE.get(language, NumberStyle.POINT)


def restyled(text: str, style: NumberStyle) -> str:
    """Return a number written as ``1,234.5`` in another style."""
    marks = {",": style.group_mark, ".": style.decimal_mark}
    return "".join(marks.get(character, character) for character in text)


class NumberFault(StrEnum):
    """Why a number could not be read."""

    MISSING = "number-missing"
    UNCLEAR = "number-unclear"
    TOO_LARGE = "number-too-large"
    TOO_SMALL = "number-too-small"


@dataclass(frozen=True, slots=True)
class NumberProblem:
    """A number that could not be read; `choices` are ways to write what may have been meant."""

    fault: NumberFault
    typed: str
    choices: tuple[str, ...] = ()


SPACES = " \t\N{NO-BREAK SPACE}\N{NARROW NO-BREAK SPACE}\N{THIN SPACE}\N{FIGURE SPACE}"
MINUS_SIGNS = "-\N{MINUS SIGN}\N{EN DASH}\N{NON-BREAKING HYPHEN}"

_LEADING = re.compile(
    rf"(?P<sign>[{MINUS_SIGNS}+]?)[{SPACES}]*"
    rf"(?P<body>[0-9.,](?:[0-9.,]|[{SPACES}](?=[0-9]))*)"
    rf"(?:[eE](?P<exponent>[{MINUS_SIGNS}+]?[0-9]+))?"
)
_POINT = re.compile(
    rf"(?P<whole>[0-9]+|[1-9][0-9]{{0,2}}(?:,[0-9]{{3}})+|[1-9][0-9]{{0,2}}(?:[{SPACES}][0-9]{{3}})+)"
    r"(?:\.(?P<decimals>[0-9]*))?"
)
_COMMA = re.compile(
    rf"(?P<whole>[0-9]+|[1-9][0-9]{{0,2}}(?:\.[0-9]{{3}})+|[1-9][0-9]{{0,2}}(?:[{SPACES}][0-9]{{3}})+)"
    r"(?:,(?P<decimals>[0-9]*))?"
)
_BARE_DECIMALS = re.compile(r"[.,](?P<decimals>[0-9]+)")
_TWO_WAYS_WITH_COMMA = re.compile(r"[1-9][0-9]{0,2}[.,][0-9]{3}")
_NOT_DIGITS = re.compile(r"[^0-9]")


def split_number(text: str) -> tuple[str, str] | None:
    """Part `text` into its leading number and the rest, both stripped; None without a number."""
    bare = text.strip()
    found = _LEADING.match(bare)
    if found is None or not re.search("[0-9]", found["body"]):
        return None
    return found[0].strip(), bare[found.end() :].strip()


def read_number(text: str, style: NumberStyle) -> float | NumberProblem:
    """Read `text`, which must be one number and nothing else.

    Only the digits 0 to 9 count. ``1e3`` is read; ``nan``, ``inf`` and ``0x10`` are no numbers.
    Returns a finite float or a `NumberProblem`; never raises for text.
    """
    bare = text.strip()
    found = _LEADING.fullmatch(bare)
    if found is None or not re.search("[0-9]", found["body"]):
        return NumberProblem(NumberFault.MISSING, text)
    sign = "-" if found["sign"] and found["sign"] in MINUS_SIGNS else ""
    exponent = _ascii_exponent(found["exponent"])
    digits = _digits(found["body"], style)
    if digits is None:
        choices = tuple(
            sign + choice + exponent for choice in _possible_meanings(found["body"], style)
        )
        return NumberProblem(NumberFault.UNCLEAR, text, choices)
    value = float(sign + digits + exponent)
    if math.isinf(value):
        return NumberProblem(NumberFault.TOO_LARGE, text)
    if value == 0.0 and re.search("[1-9]", digits):
        return NumberProblem(NumberFault.TOO_SMALL, text)
    return value


def write_decimals(digits: str, style: NumberStyle) -> str:
    """Rewrite ASCII ``-1234.5`` in `style` without grouping, so that `read_number` is sure of it.

    With a decimal comma, ``1.234`` becomes ``1,2340``: three decimals alone would be asked about.
    """
    text = digits.replace(".", style.decimal_mark)
    if style is NumberStyle.COMMA and _TWO_WAYS_WITH_COMMA.fullmatch(text.lstrip("-")):
        return text + "0"
    return text


def _ascii_exponent(typed: str | None) -> str:
    if typed is None:
        return ""
    if typed[0] in MINUS_SIGNS:
        return "e-" + typed[1:]
    return "e" + typed.lstrip("+")


def _digits(body: str, style: NumberStyle) -> str | None:
    """Return `body` as ASCII digits with a decimal point, or None if `style` does not settle it."""
    if style is NumberStyle.COMMA and _TWO_WAYS_WITH_COMMA.fullmatch(body):
        return None
    bare = _BARE_DECIMALS.fullmatch(body)
    if bare is not None:
        return f"0.{bare['decimals']}" if body[0] == style.decimal_mark else None
    pattern = _POINT if style is NumberStyle.POINT else _COMMA
    found = pattern.fullmatch(body)
    if found is None:
        return None
    return f"{_NOT_DIGITS.sub('', found['whole'])}.{found['decimals'] or '0'}"


def _possible_meanings(body: str, style: NumberStyle) -> list[str]:
    """Return, written in `style`, the readings of `body`: decimal mark first, then grouping."""
    marks = [mark for mark in body if mark in ".,"]
    if not marks:
        return []
    meanings: list[str] = []
    whole, _, decimals = body.rpartition(marks[-1])
    if marks.count(marks[-1]) == 1 and decimals:
        whole = _NOT_DIGITS.sub("", whole) or "0"
        meanings.append(write_decimals(f"{whole}.{_NOT_DIGITS.sub('', decimals)}", style))
    if set(body) <= {*"0123456789", marks[0]} and body[0] in "123456789":
        meanings.append(_NOT_DIGITS.sub("", body))
    return meanings
