"""Arithmetic told line by line."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from deskapp.domain.base import Frozen
from deskapp.domain.later import Later
from deskapp.units.display import NO_VALUE, Formatter, UnitSystem
from deskapp.units.kinds import Kind

_SMALL_AREA = 0.5
"""Areas up to this, m2, such as holes, are given in square inches or centimeters."""


class StepInput(Frozen):
    """One number put into a formula: its symbol there, its SI value and its kind.

    `unit` is the unit id it is best read in, such as inches for a hole; empty for the usual one.
    A formula with numbers of its own, such as a gas constant, holds in one unit only: then that
    is its `unit`, and `beside` has the usual one told as well.
    """

    symbol: str
    value: float
    kind: Kind
    unit: str = ""
    beside: bool = False


class Step(Frozen):
    """One line of arithmetic: what is worked out, the formula, the numbers put in, the value.

    `value` is SI of `kind`, and stands in `unit` and `beside` as an input does. `numbers_in` and
    `value_in` write inputs and value in the units a reader uses, with so many digits that each line
    can be worked out again from what is printed.
    """

    label: str
    formula: str = ""
    inputs: tuple[StepInput, ...] = ()
    value: float | None = None
    kind: Kind = Kind.NUMBER
    source: str = ""
    unit: str = ""
    beside: bool = False

    def numbers_in(self, formatter: Formatter) -> str:
        """Return the inputs as text, such as ``C = 9.5 cfm, p = 32.4 Pa``."""
        return ", ".join(
            f"{item.symbol} = {_shown(formatter, item.kind, item.value, item.unit, item.beside)}"
            for item in self.inputs
        )

    def value_in(self, formatter: Formatter) -> str:
        """Return the value as text; a dash for none."""
        if self.value is None:
            return NO_VALUE
        return _shown(formatter, self.kind, self.value, self.unit, self.beside)


def _shown(formatter: Formatter, kind: Kind, value: float, unit: str, beside: bool) -> str:
    """Return a figure with digits enough to go on with; one beside it is told as usual."""
    usual = _usual_unit(formatter, kind, value)
    shown = formatter.to_go_on_with(kind, value, unit or usual)
    if not beside or (unit or usual) == usual:
        return shown
    return f"{shown} ({formatter.show(kind, value, usual)})"


def _usual_unit(formatter: Formatter, kind: Kind, value: float) -> str:
    if kind is Kind.AREA and value <= _SMALL_AREA:
        return "in2" if formatter.system is UnitSystem.IP else "cm2"
    return formatter.unit_for(kind)


Trace = Later[tuple[Step, ...]]
"""The arithmetic behind a result, line by line, written out when somebody first reads it."""

KeptTrace = Annotated[Trace, Field(validation_alias="steps", serialization_alias="steps")]
"""A trace as a result holds it; files call it by what it comes to."""

NO_TRACE: Trace = Later(tuple)
"""That of a result that could not be worked out."""
