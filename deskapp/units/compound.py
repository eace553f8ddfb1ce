"""Two-part entries (8 ft 6 in, 8' 6", 1 min 30 s) and inch fractions (1/2 in, 6 1/2")."""

from __future__ import annotations

import re

from deskapp.units import problems
from deskapp.units.kinds import Kind
from deskapp.units.numbers import MINUS_SIGNS, NumberStyle, read_number
from deskapp.units.problems import Problem
from deskapp.units.spellings import plain_marks, unit_spelled

# (large unit, small unit, small units in a large one)
_PAIRS: dict[Kind, tuple[tuple[str, str, int], ...]] = {
    Kind.LENGTH: (("ft", "in", 12), ("m", "cm", 100)),
    Kind.TIME: (("h", "min", 60), ("min", "s", 60)),
}
_TWO_PARTS = re.compile(
    r"(?P<large>[0-9][0-9.,]*)\s*(?P<large_unit>[a-z.']+?)\.?\s*[,-]?\s*"
    r"(?P<small>[0-9]+[\s-]+[0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9][0-9.,]*)\s*(?P<small_unit>[a-z.'\"]*)"
)
_INCH_FRACTION = re.compile(
    r"(?P<small>[0-9]+[\s-]+[0-9]+/[0-9]+|[0-9]+/[0-9]+)\s*(?P<small_unit>[a-z.'\"]+)"
)
_FRACTION = re.compile(r"(?:(?P<whole>[0-9]+)[\s-]+)?(?P<above>[0-9]+)/(?P<below>[0-9]+)")


def read_compound(typed: str, kind: Kind, style: NumberStyle) -> tuple[float, str] | Problem | None:
    """Read a two-part entry or an inch fraction.

    Returns the value with its unit id (``8' 6"`` gives 8.5 and ``"ft"``), a `Problem` for parts
    that do not fit together, or None when `typed` is not such an entry.
    """
    pairs = _PAIRS.get(kind)
    if pairs is None:
        return None
    text = plain_marks(typed).strip().lower()
    sign = -1.0 if text and text[0] in MINUS_SIGNS else 1.0
    if text and text[0] in "+" + MINUS_SIGNS:
        text = text[1:].lstrip()
    found = _TWO_PARTS.fullmatch(text)
    if found is not None:
        return _two_parts(found, typed, kind, style, sign)
    found = _INCH_FRACTION.fullmatch(text)
    if found is not None and unit_spelled(found["small_unit"], kind) == "in":
        value = _number(found["small"], style)
        return None if value is None else (sign * value, "in")
    return None


def _two_parts(
    found: re.Match[str], typed: str, kind: Kind, style: NumberStyle, sign: float
) -> tuple[float, str] | Problem | None:
    large_unit = unit_spelled(found["large_unit"], kind)
    for large, small, ratio in _PAIRS[kind]:
        if large_unit != large:
            continue
        if found["small_unit"] and unit_spelled(found["small_unit"], kind) != small:
            continue
        marked = found["small_unit"] or found["large_unit"] == "'"  # 8'6 needs no inch mark
        whole, part = read_number(found["large"], style), _number(found["small"], style)
        if not marked or not isinstance(whole, float) or part is None:
            return problems.parts_unclear(typed, kind, large, small, ratio)
        if not whole.is_integer() or part >= ratio:
            return problems.parts_unclear(typed, kind, large, small, ratio)
        return sign * (whole * ratio + part) / ratio, large
    return None


def _number(text: str, style: NumberStyle) -> float | None:
    """Read a number or a fraction such as ``6 1/2``."""
    fraction = _FRACTION.fullmatch(text)
    if fraction is None:
        value = read_number(text, style)
        return value if isinstance(value, float) else None
    below = float(fraction["below"])
    return float(fraction["whole"] or "0") + float(fraction["above"]) / below if below else None
