"""The formulas are dimensionally homogeneous: pint works out the documented units.

The unit each docstring gives in brackets is read, so that docstring and arithmetic are held
against each other.
"""

from __future__ import annotations

import inspect
import re
from typing import TYPE_CHECKING, Any

import pint
import pytest

from deskapp.physics import flow_device

if TYPE_CHECKING:
    from collections.abc import Callable

    Arguments = Callable[[Callable[..., Any]], dict[str, Any]]

UNITS = pint.UnitRegistry()
UNITS.define("inch_of_water_conventional = 249.08891 pascal")
UNITS.define("cfm_per_100ft2 = 0.01 foot / minute")

# Bracketed text of a docstring -> the pint unit, and another unit of the same kind.
UNIT_OF_TEXT = {
    "1": ("dimensionless", "dimensionless"),
    "1/s": ("1 / second", "1 / hour"),
    "J/(kg K)": ("joule / kilogram / kelvin", "Btu / pound / kelvin"),
    "J/kg": ("joule / kilogram", "Btu / pound"),
    "K": ("kelvin", "kelvin"),
    "Pa": ("pascal", "psi"),
    "Pa s": ("pascal * second", "pound / foot / hour"),
    "W": ("watt", "Btu / hour"),
    "cfm/(100 ft2 in. w.c.^0.65)": (
        "cfm_per_100ft2 / inch_of_water_conventional ** 0.65",
        "meter / second / pascal ** 0.65",
    ),
    "cfm/(100 ft2)": ("cfm_per_100ft2", "meter / second"),
    "in. w.c.": ("inch_of_water_conventional", "pascal"),
    "kg/m3": ("kilogram / meter ** 3", "pound / foot ** 3"),
    "m": ("meter", "inch"),
    "m/s": ("meter / second", "foot / minute"),
    "m2": ("meter ** 2", "foot ** 2"),
    "m2 K/W": ("meter ** 2 * kelvin / watt", "foot ** 2 * kelvin * hour / Btu"),
    "m3": ("meter ** 3", "foot ** 3"),
    "m3/(s Pa^n)": ("meter ** 3 / second / pascal ** 0.55", "foot ** 3 / minute / psi ** 0.55"),
    "m3/(s m2 Pa^0.65)": ("meter / second / pascal ** 0.65", "foot / minute / psi ** 0.65"),
    "m3/s": ("meter ** 3 / second", "foot ** 3 / minute"),
    "x": ("pascal", "psi"),
}


def documented_units(formula: Callable[..., Any]) -> tuple[dict[str, str], str]:
    text = inspect.getdoc(formula) or ""
    arguments = dict(re.findall(r"^    (\w+): [^\[\]]+\[([^\]]+)\]\.$", text, re.MULTILINE))
    result = re.search(r"^Returns:\n    [^\[\]]+\[([^\]]+)\]\.$", text, re.MULTILINE)
    assert result is not None
    return arguments, result[1]


def with_unit(value: Any, text: str, other: bool = False) -> Any:
    if isinstance(value, tuple):
        return [with_unit(item, text, other) for item in value]
    unit, other_unit = UNIT_OF_TEXT[text]
    quantity = UNITS.Quantity(value, unit)
    return quantity.to(other_unit) if other else quantity


def sizes(result: Any, text: str) -> list[float]:
    """Return the bare numbers of a result in the documented unit; raise if its kind differs."""
    results = result if isinstance(result, tuple) else (result,)
    return [UNITS.Quantity(item).to(UNIT_OF_TEXT[text][0]).magnitude for item in results]


def test_that_the_result_has_the_documented_dimension_and_size(
    homogeneous: Callable[..., Any], typical: Arguments
) -> None:
    units, result_unit = documented_units(homogeneous)
    arguments = typical(homogeneous)
    quantities = {name: with_unit(value, units[name]) for name, value in arguments.items()}
    plain = sizes(homogeneous(**arguments), "1")
    assert sizes(homogeneous(**quantities), result_unit) == pytest.approx(plain, rel=1e-12)


def test_that_other_units_give_the_same_result(
    homogeneous: Callable[..., Any], typical: Arguments
) -> None:
    units, result_unit = documented_units(homogeneous)
    arguments = typical(homogeneous)
    there = {name: with_unit(value, units[name], other=True) for name, value in arguments.items()}
    plain = sizes(homogeneous(**arguments), "1")
    assert sizes(homogeneous(**there), result_unit) == pytest.approx(plain, rel=1e-9)


def test_that_an_argument_of_another_dimension_is_refused(
    homogeneous: Callable[..., Any], typical: Arguments
) -> None:
    units, result_unit = documented_units(homogeneous)
    for wrong in units:
        quantities = {
            name: with_unit(value, units[name]) for name, value in typical(homogeneous).items()
        }
        if isinstance(quantities[wrong], list):
            quantities[wrong][-1] = quantities[wrong][-1] * UNITS.candela
        else:
            quantities[wrong] = quantities[wrong] * UNITS.candela
        with pytest.raises(pint.DimensionalityError):
            sizes(homogeneous(**quantities), result_unit)


def test_that_an_empirical_fit_refuses_numbers_with_a_unit(
    empirical: Callable[..., Any], typical: Arguments
) -> None:
    assert "Plain floats only." in (empirical.__doc__ or "")
    units, _ = documented_units(empirical)
    quantities = {name: with_unit(value, units[name]) for name, value in typical(empirical).items()}
    with pytest.raises(pint.DimensionalityError):
        empirical(**quantities)


def test_that_a_signal_taken_for_a_flow_is_noticed() -> None:
    coefficient = 0.0045 * UNITS("meter ** 3 / second / pascal ** 0.5")
    flow = flow_device.ring_flow(coefficient, 0.5, 0.026 * UNITS("meter ** 3 / second"))
    with pytest.raises(pint.DimensionalityError):
        UNITS.Quantity(flow).to("meter ** 3 / second")
