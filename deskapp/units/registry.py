"""The one pint registry, made from our own small definition file when it is first needed."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Protocol, cast

from deskapp.units.table import SI_UNIT, unit_named

_DEFINITIONS = Path(__file__).with_name("definitions.txt")


class Registry(Protocol):
    """The part of a pint registry that is used here."""

    def convert(self, value: float, src: str, dst: str) -> float:
        """Return `value` in unit `src` expressed in unit `dst`, both by their defined names."""
        ...


@cache
def registry() -> Registry:
    """Return the registry; the first call imports pint and reads the definitions."""
    import pint

    return cast("Registry", pint.UnitRegistry(str(_DEFINITIONS)))


@cache
def scale_and_zero(unit: str) -> tuple[float, float]:
    """Return ``(scale, zero)`` so that SI value = value * scale + zero.

    Args:
        unit: a unit id of ``table.UNITS``, such as ``"cfm"``; never text that somebody typed.

    `zero` is 0 except for degree Celsius and Fahrenheit.
    """
    row = unit_named(unit)
    si_name = unit_named(SI_UNIT[row.kind]).name
    if row.name == si_name:
        return 1.0, 0.0
    zero = registry().convert(0.0, row.name, si_name)
    step = row.name if zero == 0.0 else f"delta_{row.name}"
    return registry().convert(1.0, step, si_name), zero
