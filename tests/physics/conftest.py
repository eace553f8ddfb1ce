"""Every public formula, with a set of arguments it holds for."""

from __future__ import annotations

import inspect
from importlib import import_module
from pkgutil import iter_modules
from typing import TYPE_CHECKING, Any

import pytest

from deskapp import physics
from deskapp.physics import (
    air,
    conformity,
    curve_doubts,
    duct_delivery,
    field_check,
    leakage_budget,
    leakage_curve,
    line,
    moist_air,
    multi_point_rules,
    uncertainty,
)

if TYPE_CHECKING:
    from collections.abc import Callable

FORMULA_MODULES = tuple(
    import_module(f"{physics.__name__}.{module.name}")
    for module in iter_modules(physics.__path__)
    if module.name not in ("constants", "guards")
)

# Functions that take or give records, choices or functions: tested by hand, documented like all.
WITH_RECORDS = (
    conformity.probability_of_conformity,
    conformity.too_close,
    curve_doubts.doubts,
    curve_doubts.off_line,
    curve_doubts.studentized_residuals,
    duct_delivery.cooling_delivery,
    duct_delivery.heating_delivery,
    field_check.check_against_hole,
    field_check.drift,
    leakage_budget.flow_budget,
    leakage_curve.coefficient_interval,
    leakage_curve.exponent_interval,
    leakage_curve.fit,
    leakage_curve.flow_at,
    line.fit_line,
    multi_point_rules.missed_rules,
    uncertainty.budget,
)

# Fits whose constants hide a unit: they take plain floats and refuse anything else.
EMPIRICAL = (
    air.saturation_vapor_pressure,
    air.moist_air_density,
    air.standard_pressure,
    moist_air.moist_air_enthalpy,
)

TYPICAL: dict[str, Any] = {
    "after": -0.2,
    "air_density": 1.15,
    "area": 140.0,
    "baseline_pa": -0.1,
    "before": -0.3,
    "calibration_density": 1.2041,
    "capacity": 11_700.0,
    "coefficient": 0.0045,
    "contributions": (0.4, 0.3, 1.2),
    "coverage_factor": 2.0,
    "degrees": 6.0,
    "density": 1.2,
    "discharge_coefficient": 0.61,
    "effectiveness": 0.74,
    "elevation_m": 350.0,
    "expected": 0.031,
    "exponent": 0.55,
    "fan_flow": 0.57,
    "floor_area": 140.0,
    "flow": 0.026,
    "flow_at_ref": 0.009,
    "flow_cfm_per_100ft2": 6.5,
    "flow_density": 1.21,
    "gas_constant": 287.055,
    "half_width": 0.25,
    "highest_signal_pa": 250.0,
    "indicated": 0.03,
    "induced_pa": 24.1,
    "k": 0.000009,
    "leak_flow": 0.024,
    "leakage_class": 12.0,
    "lowest_signal_pa": 25.0,
    "moisture": 0.008,
    "operating_pressure": 60.0,
    "other_density": 1.13,
    "plenum_difference": -20.0,
    "plenum_pressure": 120.0,
    "pressure": 25.0,
    "pressure_inwc": 1.6,
    "pressure_pa": 98_000.0,
    "probability": 0.975,
    "reading": 24.2,
    "reading_pa": -25.0,
    "ref_pressure": 4.0,
    "relative_humidity": 0.45,
    "resistance": 1.05,
    "return_carried": 0.95,
    "return_conduction": 0.98,
    "return_difference": 21.0,
    "return_enthalpy": 9500.0,
    "return_regain": 0.1,
    "returns": 2.0,
    "rise": 20.5,
    "share_of_reading": 0.03,
    "signal_pa": 54.0,
    "smallest": 0.25,
    "specific_heat": 1004.8,
    "standard_density": 1.2041,
    "supply_carried": 0.94,
    "supply_conduction": 0.92,
    "supply_difference": 21.0,
    "supply_regain": 0.15,
    "surface": 50.0,
    "t": 1.8,
    "target_pa": 25.0,
    "temperature_k": 294.15,
    "test_pressure": 25.0,
    "values": (24.8, 25.1, 25.0),
    "vapor_pressure_pa": 1100.0,
    "volume": 350.0,
}


def public_formulas() -> list[Callable[..., Any]]:
    """Return the public functions that the formula modules define themselves."""
    return [
        member
        for module in FORMULA_MODULES
        for name, member in inspect.getmembers(module, inspect.isfunction)
        if member.__module__ == module.__name__ and not name.startswith("_")
    ]


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """Run a test once for each formula of the sort its argument asks for."""
    documented = public_formulas()
    every = [member for member in documented if member not in WITH_RECORDS]
    sorts = {
        "formula": every if "typical" in metafunc.fixturenames else documented,
        "homogeneous": [member for member in every if member not in EMPIRICAL],
        "empirical": [member for member in every if member in EMPIRICAL],
    }
    for argument, formulas in sorts.items():
        if argument in metafunc.fixturenames:
            metafunc.parametrize(argument, formulas, ids=lambda member: member.__name__)


@pytest.fixture
def typical() -> Callable[[Callable[..., Any]], dict[str, Any]]:
    """Give a function that finds arguments for a formula, one for each of its parameters."""

    def arguments_for(formula: Callable[..., Any]) -> dict[str, Any]:
        return {name: TYPICAL[name] for name in inspect.signature(formula).parameters}

    return arguments_for
