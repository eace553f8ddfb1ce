"""Air properties against ASHRAE tables, psychrolib, CoolProp and arithmetic worked outside."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import psychrolib
import pytest
from CoolProp.HumidAirProp import HAPropsSI

from deskapp.physics.air import (
    air_density,
    moist_air_density,
    saturation_vapor_pressure,
    standard_pressure,
)
from deskapp.physics.constants import (
    GAS_CONSTANT_DRY_AIR,
    STANDARD_DENSITY,
    STANDARD_PRESSURE_PA,
)

CASES: dict[str, list[dict[str, Any]]] = tomllib.loads(
    (Path(__file__).parent / "cases" / "air.toml").read_text(encoding="utf-8")
)
ZERO_CELSIUS = 273.15
WATER_TO_AIR = 0.621945  # ratio of molar masses, ASHRAE Handbook—Fundamentals 2017, chapter 1


@pytest.fixture(autouse=True)
def psychrolib_in_si() -> None:
    psychrolib.SetUnitSystem(psychrolib.SI)


@pytest.mark.parametrize("row", CASES["density"])
def test_that_moist_air_density_agrees_with_psychrolib_to_a_thousandth(row: dict[str, Any]) -> None:
    humidity_ratio = psychrolib.GetHumRatioFromRelHum(
        row["celsius"], row["humidity"], row["pressure_pa"]
    )
    theirs = psychrolib.GetMoistAirDensity(row["celsius"], humidity_ratio, row["pressure_pa"])
    ours = moist_air_density(row["celsius"] + ZERO_CELSIUS, row["pressure_pa"], row["humidity"])
    assert ours == pytest.approx(theirs, rel=1e-3)


@pytest.mark.parametrize("row", CASES["density"])
def test_that_moist_air_density_agrees_with_coolprop_to_a_thousandth(row: dict[str, Any]) -> None:
    kelvin = row["celsius"] + ZERO_CELSIUS
    volume_per_humid_mass = HAPropsSI(
        "Vha", "T", kelvin, "P", row["pressure_pa"], "R", row["humidity"]
    )
    ours = moist_air_density(kelvin, row["pressure_pa"], row["humidity"])
    assert ours == pytest.approx(1.0 / volume_per_humid_mass, rel=1e-3)


@pytest.mark.parametrize("celsius", [-49, -40, -20, -10, 0, 15, 30, 45, 60, 79])
@pytest.mark.parametrize("humidity", [0.0, 0.5, 1.0])
def test_that_density_keeps_its_stated_accuracy_over_the_whole_range(
    celsius: float, humidity: float
) -> None:
    kelvin = celsius + ZERO_CELSIUS
    humidity_ratio = psychrolib.GetHumRatioFromRelHum(celsius, humidity, 101_325.0)
    psychrolib_says = psychrolib.GetMoistAirDensity(celsius, humidity_ratio, 101_325.0)
    coolprop_says = 1.0 / HAPropsSI("Vha", "T", kelvin, "P", 101_325.0, "R", humidity)
    ours = moist_air_density(kelvin, 101_325.0, humidity)
    limit = 1e-3 if -10 <= celsius <= 60 else 2e-3
    assert ours == pytest.approx(psychrolib_says, rel=limit)
    assert ours == pytest.approx(coolprop_says, rel=limit)


@pytest.mark.parametrize("row", CASES["density"])
def test_that_moist_air_density_is_its_equation_to_the_sixth_decimal(row: dict[str, Any]) -> None:
    # ISO 9972 annex equation (from memory, not checked against the text), worked outside.
    ours = moist_air_density(row["celsius"] + ZERO_CELSIUS, row["pressure_pa"], row["humidity"])
    assert ours == pytest.approx(row["equation"], abs=6e-7)


@pytest.mark.parametrize(
    ("celsius", "pressure_pa", "humidity_ratio", "density", "relative"),
    [
        # ASHRAE Handbook—Fundamentals 2017, chapter 1, as held in psychrolib's public tests.
        (25.0, 101_325.0, 0.0, 1.0 / 0.8443, 1e-3),
        (30.0, 95_461.0, 0.02, 1.08411986, 2e-4),
        (40.0, 101_325.0, 0.0065, 1.0065 / 0.896, 1e-3),
    ],
)
def test_that_density_from_vapor_pressure_agrees_with_the_handbook(
    celsius: float, pressure_pa: float, humidity_ratio: float, density: float, relative: float
) -> None:
    vapor = humidity_ratio * pressure_pa / (WATER_TO_AIR + humidity_ratio)
    ours = air_density(celsius + ZERO_CELSIUS, pressure_pa, vapor)
    assert ours == pytest.approx(density, rel=relative)


@pytest.mark.parametrize("row", CASES["standard_pressure"])
def test_that_standard_pressure_is_the_handbook_table_to_a_pascal(row: dict[str, Any]) -> None:
    # ASHRAE Handbook—Fundamentals 2017, chapter 1, standard atmosphere.
    assert standard_pressure(row["elevation_m"]) == pytest.approx(row["pressure_pa"], abs=1.0)


@pytest.mark.parametrize("elevation_m", [-300.0, 128.0, 1609.344, 3000.0, 8000.0])
def test_that_standard_pressure_agrees_with_psychrolib(elevation_m: float) -> None:
    theirs = psychrolib.GetStandardAtmPressure(elevation_m)
    assert standard_pressure(elevation_m) == pytest.approx(theirs, abs=1.0)


@pytest.mark.parametrize(
    ("elevation_m", "pressure_pa"),
    # ISO 2533 equation worked outside this program.
    [(1500.0, 84555.93), (1609.344, 83427.51), (2000.0, 79495.12), (3000.0, 70108.42)],
)
def test_that_standard_pressure_is_its_equation(elevation_m: float, pressure_pa: float) -> None:
    assert standard_pressure(elevation_m) == pytest.approx(pressure_pa, abs=0.006)


@pytest.mark.parametrize("row", CASES["saturation"])
def test_that_saturation_pressure_is_close_to_the_handbook(row: dict[str, Any]) -> None:
    # ASHRAE Handbook—Fundamentals 2017, chapter 1. The fit differs by 0.10, -0.04 and -0.34 %;
    # air density feels less than a two-thousandth of a percent per Pa of vapor.
    ours = saturation_vapor_pressure(row["celsius"] + ZERO_CELSIUS)
    assert ours == pytest.approx(row["pressure_pa"], rel=4e-3)
    kelvin = row["celsius"] + ZERO_CELSIUS
    with_table = air_density(kelvin, STANDARD_PRESSURE_PA, row["pressure_pa"])
    with_fit = air_density(kelvin, STANDARD_PRESSURE_PA, ours)
    assert with_fit == pytest.approx(with_table, rel=2e-4)


@pytest.mark.parametrize("row", CASES["saturation_equation"])
def test_that_saturation_pressure_is_its_equation(row: dict[str, Any]) -> None:
    ours = saturation_vapor_pressure(row["celsius"] + ZERO_CELSIUS)
    assert ours == pytest.approx(row["pressure_pa"], abs=0.006)


@pytest.mark.parametrize("row", CASES["elevation_density"])
def test_that_density_by_elevation_is_near_that_of_a_direct_equation(row: dict[str, Any]) -> None:
    # ASTM E779 (from memory, not checked against the text), worked outside this program; how far
    # the two part is told below.
    pressure = standard_pressure(row["elevation_m"])
    ours = moist_air_density(row["celsius"] + ZERO_CELSIUS, pressure)
    assert ours == pytest.approx(row["density"], rel=5.5e-4 + 2.3e-6 * row["elevation_m"])


@pytest.mark.parametrize("elevation_m", [0.0, 300.0, 1000.0, 2500.0])
@pytest.mark.parametrize("celsius", [0.0, 20.0, 35.0])
def test_that_the_two_roads_from_elevation_to_density_meet(
    elevation_m: float, celsius: float
) -> None:
    # ASTM E779's direct equation (from memory, not checked against the text) and ISO 2533 pressure
    # with the gas law. The direct one counts the atmosphere from 293 K at sea level instead of
    # 288.15 K, so they part slowly with height: 0.21 % per 1000 m at most.
    kelvin = celsius + ZERO_CELSIUS
    direct = 1.2041 * (1.0 - 0.0065 * elevation_m / 293.0) ** 5.2553 * 293.0 / (celsius + 273.0)
    through_pressure = moist_air_density(kelvin, standard_pressure(elevation_m))
    assert direct == pytest.approx(through_pressure, rel=2e-4 + 2.3e-6 * elevation_m)


def test_that_the_standard_density_is_the_gas_law_at_20_celsius() -> None:
    gas_law = STANDARD_PRESSURE_PA / (GAS_CONSTANT_DRY_AIR * 293.15)
    assert round(gas_law, 4) == STANDARD_DENSITY
    assert moist_air_density(293.15, STANDARD_PRESSURE_PA, 0.0) == pytest.approx(gas_law)
