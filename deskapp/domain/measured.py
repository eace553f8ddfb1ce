"""A value together with the words it was typed in."""

from __future__ import annotations

from datetime import date

from pydantic import field_validator

from deskapp.domain.base import Frozen
from deskapp.units.table import UNITS


class Measured(Frozen):
    """A quantity a person typed.

    `si` is the value in the SI base of its kind (see `deskapp.units.kinds`), `unit` the unit id it
    was typed in, `typed` the text itself. Text that could not be read has `si` None: it is kept and
    reported, never lost and never computed with.
    """

    si: float | None
    unit: str = ""
    typed: str = ""

    @field_validator("unit")
    @classmethod
    def _is_known(cls, unit: str) -> str:
        if unit and unit not in UNITS:
            raise ValueError(f"there is no unit {unit!r}")
        return unit


class Day(Frozen):
    """A calendar day a person typed; `value` is None while the text cannot be read."""

    value: date | None
    typed: str = ""


def si_of(measured: Measured | None) -> float | None:
    """Return the SI value, or None if nothing was typed or the text could not be read."""
    return None if measured is None else measured.si


def day_of(day: Day | None) -> date | None:
    """Return the calendar day, or None if nothing was typed or the text could not be read."""
    return None if day is None else day.value
