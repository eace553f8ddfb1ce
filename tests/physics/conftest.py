"""Every public formula, with a set of arguments it holds for."""

from __future__ import annotations

import inspect
from typing import TYPE_CHECKING, Any

import pytest

from deskapp.physics import (
    air,
    curve_doubts,
    flow_device,
    leakage,
    leakage_curve,
    line,
    statistics,
    student,
    target,
)

if TYPE_CHECKING:
    from collections.abc import Callable

FORMULA_MODULES = (
    air,
    curve_doubts,
    flow_device,
    leakage,
    leakage_curve,
    line,
    statistics,
    student,
    target,
)

# Functions that take or give records, choices or functions: tested by hand, documented like all.
WITH_RECORDS = (
    curve_doubts.doubts,
    curve_doubts.off_line,
    curve_doubts.studentized_residuals,
    leakage_curve.coefficient_interval,
    leakage_curve.exponent_interval,
    leakage_curve.fit,
    leakage_curve.flow_at,
    line.fit_line,
)

# Fits whose constants hide a unit: they take plain floats and refuse anything else.
EMPIRICAL = (
    air.saturation_vapor_pressure,
    air.moist_air_density,
    air.dry_air_density_at_elevation,
    air.standard_pressure,
    air.dynamic_viscosity,
)

TYPICAL: dict[str, Any] = {
    "after": -0.2,
    "air_density": 1.15,
    "area": 140.0,
    "baseline_pa": -0.1,
    "before": -0.3,
    "calibration_density": 1.2041,
    "coefficient": 0.0045,
    "degrees": 6.0,
    "density": 1.2,
    "discharge_coefficient": 0.61,
    "elevation_m": 350.0,
    "exponent": 0.55,
    "fan_flow": 0.57,
    "flow": 0.026,
    "flow_at_ref": 0.009,
    "flow_cfm_per_100ft2": 6.5,
    "flow_density": 1.21,
    "gas_constant": 287.055,
    "highest_signal_pa": 250.0,
    "indicated": 0.03,
    "induced_pa": 24.1,
    "k": 0.000009,
    "leakage_class": 12.0,
    "lowest_signal_pa": 25.0,
    "other_density": 1.13,
    "pressure": 25.0,
    "pressure_inwc": 1.6,
    "pressure_pa": 98_000.0,
    "probability": 0.975,
    "reading_pa": -25.0,
    "ref_pressure": 4.0,
    "relative_humidity": 0.45,
    "signal_pa": 54.0,
    "t": 1.8,
    "target_pa": 25.0,
    "temperature_k": 294.15,
    "values": (24.8, 25.1, 25.0),
    "vapor_pressure_pa": 1100.0,
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
