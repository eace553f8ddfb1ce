"""What a typed text means: the number by its style, the unit by the closed table of its kind."""

from __future__ import annotations

import math
from dataclasses import dataclass

from deskapp.units import problems
from deskapp.units.compound import read_compound
from deskapp.units.convert import from_unit
from deskapp.units.kinds import Kind
from deskapp.units.numbers import (
    NumberFault,
    NumberProblem,
    NumberStyle,
    read_number,
    split_number,
)
from deskapp.units.problems import Problem
from deskapp.units.spellings import kind_spelled, unit_spelled, unsettled_of
from deskapp.units.spellings import normalized as normalized_unit
from deskapp.units.table import fits

__all__ = ["NumberStyle", "Problem", "Quantity", "parse"]

_LONGEST_ENTRY = 200


@dataclass(frozen=True, slots=True)
class Quantity:
    """A typed quantity: its value in the SI unit of its kind, the unit it came in, the text."""

    si: float
    unit: str
    typed: str


def parse(typed: str, kind: Kind, default_unit: str, style: NumberStyle) -> Quantity | Problem:
    """Read `typed` as a quantity of `kind`.

    Args:
        typed: any text; it is kept as it stands in the result.
        kind: the kind of quantity the field holds.
        default_unit: the unit id of a number typed without a unit.
        style: how decimals and thousands are written.

    Returns:
        A `Quantity` with a finite SI value, or a `Problem` that names what was typed, what is
        allowed and how to mend it. No text makes this raise.

    Raises:
        ValueError: `default_unit` is unknown or does not fit `kind` (a mistake in the caller).
    """
    if not fits(default_unit, kind):
        raise ValueError(f"the unit {default_unit!r} does not measure {kind.value}")
    if not typed.strip():
        return problems.empty(typed, kind, default_unit)
    if len(typed) > _LONGEST_ENTRY:
        return problems.too_long(typed, kind, default_unit)
    compound = read_compound(typed, kind, style)
    if isinstance(compound, Problem):
        return compound
    if compound is not None:
        return _checked(Quantity(from_unit(*compound), compound[1], typed), kind, compound[0])
    parts = split_number(typed)
    if parts is None:
        missing = NumberProblem(NumberFault.MISSING, typed)
        return problems.number_problem(missing, typed, kind, default_unit)
    number_text, unit_text = parts
    unit = _unit(typed, unit_text, kind, default_unit)
    if isinstance(unit, Problem) and kind_spelled(unit_text) is not None:
        return unit  # a number of something else is no answer, however it is read
    value = read_number(number_text, style)
    if isinstance(value, NumberProblem):
        return problems.number_problem(value, typed, kind, default_unit)
    if isinstance(unit, Problem):
        return unit
    return _checked(Quantity(from_unit(value, unit), unit, typed), kind, value)


def _unit(typed: str, unit_text: str, kind: Kind, default_unit: str) -> str | Problem:
    """Return the unit id that `unit_text` names, `default_unit` for no text, or the problem."""
    if not unit_text:
        return default_unit
    unit = unit_spelled(unit_text, kind)
    if unit is not None:
        return unit
    advice = unsettled_of(kind).get(normalized_unit(unit_text))
    if advice is not None:
        return problems.unsettled_unit(typed, unit_text, kind, default_unit, advice)
    other = kind_spelled(unit_text)
    if other is not None:
        return problems.wrong_kind(typed, other, kind, default_unit)
    return problems.unknown_unit(typed, unit_text, kind, default_unit)


def _checked(quantity: Quantity, kind: Kind, value: float) -> Quantity | Problem:
    """Let `quantity` through if its value can be one of `kind`; `value` is in its own unit."""
    typed = quantity.typed
    if not math.isfinite(quantity.si) or (quantity.si == 0.0 != value and _scaled(quantity)):
        fault = NumberFault.TOO_SMALL if math.isfinite(quantity.si) else NumberFault.TOO_LARGE
        return problems.number_problem(NumberProblem(fault, typed), typed, kind, quantity.unit)
    if kind is Kind.COUNT and quantity.si < 0.0:
        return problems.not_a_count(typed, negative=True)
    if kind is Kind.COUNT and not quantity.si.is_integer():
        return problems.not_a_count(typed, negative=False)
    if kind is Kind.TEMPERATURE and quantity.si < 0.0:
        return problems.below_absolute_zero(typed)
    return quantity


def _scaled(quantity: Quantity) -> bool:
    """Say whether zero in the unit of `quantity` is zero in SI (not so for °C and °F)."""
    return from_unit(0.0, quantity.unit) == 0.0
