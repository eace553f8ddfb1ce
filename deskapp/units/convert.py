"""SI value to a value in some unit, and back."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

from deskapp.units.numbers import NumberStyle, read_number, split_number
from deskapp.units.registry import scale_and_zero
from deskapp.units.table import unit_named

if TYPE_CHECKING:
    from deskapp.units.kinds import Kind


class Typed(Protocol):
    """Anything that keeps an SI value, the unit it was given in, and the text as typed."""

    @property
    def si(self) -> float | None:
        """The value in the SI unit of its kind."""
        ...

    @property
    def unit(self) -> str:
        """The unit id it was given in."""
        ...

    @property
    def typed(self) -> str:
        """The text as typed."""
        ...


def kind_of(unit: str) -> Kind:
    """Return the kind `unit` measures (``"cfm"`` gives a flow); ValueError for an unknown id."""
    return unit_named(unit).kind


def from_unit(value: float, unit: str) -> float:
    """Return the SI value of `value` in `unit`; ValueError for an unknown id."""
    scale, zero = scale_and_zero(unit)
    return value * scale + zero if zero else value * scale


def to_unit(si: float, unit: str) -> float:
    """Return the SI value `si` expressed in `unit`; ValueError for an unknown id."""
    scale, zero = scale_and_zero(unit)
    return (si - zero) / scale if zero else si / scale


def exact_in(quantity: Typed, unit: str) -> float:
    """Return the value of `quantity` in `unit`, just as typed when it was typed in that unit.

    A value typed as ``4 cfm/100 ft2`` must meet a limit of 4 exactly; going to SI and back could
    miss it by the last bit. The typed number is taken only if it leads to the very SI value kept.

    Raises:
        ValueError: the quantity holds no value (its text could not be read), or the unit does not
            measure the same kind.
    """
    if quantity.si is None:
        raise ValueError(f"no value could be read from {quantity.typed!r}")
    if kind_of(quantity.unit) is not kind_of(unit):
        raise ValueError(f"a value in {quantity.unit} cannot be given in {unit}")
    if quantity.unit == unit:
        parts = split_number(quantity.typed)
        for style in NumberStyle:
            value = read_number(parts[0], style) if parts else None
            if isinstance(value, float) and from_unit(value, unit) == quantity.si:
                return value
    return to_unit(quantity.si, unit)
