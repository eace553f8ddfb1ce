"""Arithmetic told line by line."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from deskapp.domain.base import Frozen
from deskapp.domain.later import Later
from deskapp.units.display import Formatter
from deskapp.units.kinds import Kind


class StepInput(Frozen):
    """One number put into a formula: its symbol there, its SI value and its kind.

    `unit` is the unit id it is best read in, such as inches for a hole; empty for the usual one.
    """

    symbol: str
    value: float
    kind: Kind
    unit: str = ""


class Step(Frozen):
    """One line of arithmetic: what is worked out, the formula, the numbers put in, the value.

    `value` is SI of `kind`. `numbers_in` writes the inputs in the units a reader uses.
    """

    label: str
    formula: str = ""
    inputs: tuple[StepInput, ...] = ()
    value: float | None = None
    kind: Kind = Kind.NUMBER
    source: str = ""

    def numbers_in(self, formatter: Formatter) -> str:
        """Return the inputs as text, such as ``C = 9.5 cfm, p = 32.4 Pa``."""
        return ", ".join(
            f"{item.symbol} = {formatter.show(item.kind, item.value, item.unit or None)}"
            for item in self.inputs
        )


Trace = Later[tuple[Step, ...]]
"""The arithmetic behind a result, line by line, written out when somebody first reads it."""

KeptTrace = Annotated[Trace, Field(validation_alias="steps", serialization_alias="steps")]
"""A trace as a result holds it; files call it by what it comes to."""

NO_TRACE: Trace = Later(tuple)
"""That of a result that could not be worked out."""
