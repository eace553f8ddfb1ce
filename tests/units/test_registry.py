"""The unit library is loaded late, from our own definitions, which agree with the unit table."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from deskapp.units.registry import registry, scale_and_zero
from deskapp.units.table import SI_UNIT, UNITS

PROBE = """
import importlib, pkgutil, sys
import deskapp.units
for found in pkgutil.iter_modules(deskapp.units.__path__, "deskapp.units."):
    importlib.import_module(found.name)
seen = ["pint" in sys.modules]
from deskapp.units.entry import NumberStyle, parse
from deskapp.units.kinds import Kind
parse("25 Pa", Kind.PRESSURE, "Pa", NumberStyle.POINT)
seen.append("pint" in sys.modules)
parse("150 cfm", Kind.FLOW, "cfm", NumberStyle.POINT)
seen.append("pint" in sys.modules)
print(seen)
"""


def test_that_pint_is_imported_at_the_first_conversion_and_not_before() -> None:
    root = Path(__file__).parents[2]
    told = subprocess.run(
        [sys.executable, "-c", PROBE], cwd=root, capture_output=True, text=True, check=True
    )
    assert told.stdout.strip() == "[False, False, True]"


def test_that_there_is_one_registry() -> None:
    assert registry() is registry()


@pytest.mark.parametrize("unit", UNITS)
def test_that_every_unit_of_the_table_is_defined_with_the_dimension_of_its_kind(unit: str) -> None:
    row = UNITS[unit]
    scale, _zero = scale_and_zero(unit)
    assert scale > 0.0
    si_name = UNITS[SI_UNIT[row.kind]].name
    assert registry().convert(0.0, row.name, si_name) == scale_and_zero(unit)[1]


def test_that_only_our_own_units_are_defined() -> None:
    from pint.errors import UndefinedUnitError

    for stranger in ("fermi", "year", "farad", "cfm", "F"):
        with pytest.raises(UndefinedUnitError):
            registry().convert(1.0, stranger, "meter")
