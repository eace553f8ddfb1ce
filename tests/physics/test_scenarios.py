"""Whole tests, invented, from readings to the figures a reader would be shown; sums by hand."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
from scipy.constants import foot, inch, liter, minute

from deskapp.physics.air import moist_air_density
from deskapp.physics.constants import STANDARD_DENSITY
from deskapp.physics.flow_device import density_corrected_flow, ring_flow
from deskapp.physics.leakage import (
    duct_class_limit,
    equivalent_orifice_area,
    flow_per_area,
    fraction_of_fan_flow,
    surface_leakage_class,
)
from deskapp.physics.statistics import mean, spread
from deskapp.physics.target import (
    RESIDENTIAL_EXPONENT,
    baseline_mean,
    flow_at_target,
    induced_pressure,
    target_factor,
)

TRIALS: list[dict[str, Any]] = tomllib.loads(
    (Path(__file__).parent / "cases" / "scenarios.toml").read_text(encoding="utf-8")
)["trial"]
CFM = foot**3 / minute
SQUARE_FOOT = foot**2
INCH_OF_WATER_PA = 249.08891  # conventional inch of water, NIST SP 811, appendix B.8


def shown_as(value: float, text: str) -> str:
    """Print a value with as many decimals as a text has."""
    return f"{value:.{len(text.partition('.')[2])}f}"


def worked(trial: dict[str, Any]) -> tuple[list[float], list[float], list[float]]:
    """Return flows, induced pressures and flows at the target of each reading."""
    baseline = baseline_mean(*trial["baseline"])
    flows = [ring_flow(trial["ring_cfm"] * CFM, 0.5, signal) for signal in trial["signals_pa"]]
    induced = [induced_pressure(reading, baseline) for reading in trial["readings_pa"]]
    at_target = [
        flow_at_target(flow, trial["target_pa"], abs(pressure), RESIDENTIAL_EXPONENT)
        for flow, pressure in zip(flows, induced, strict=True)
    ]
    return flows, induced, at_target


@pytest.mark.parametrize("trial", TRIALS, ids=lambda trial: trial["name"])
def test_that_each_reading_comes_out_as_worked_by_hand(trial: dict[str, Any]) -> None:
    flows, induced, at_target = worked(trial)
    for values, texts, unit in (
        (flows, trial["flows"], CFM),
        (induced, trial["induced"], 1.0),
        (at_target, trial["at_target"], CFM),
    ):
        assert [shown_as(value / unit, texts[0]) for value in values] == texts


@pytest.mark.parametrize("trial", TRIALS, ids=lambda trial: trial["name"])
def test_that_the_result_of_the_test_comes_out_as_worked_by_hand(trial: dict[str, Any]) -> None:
    _, _, at_target = worked(trial)
    result = mean(at_target)
    per_area = flow_per_area(result, trial["floor_area_ft2"] * SQUARE_FOOT)
    assert shown_as(result / CFM, trial["mean"]) == trial["mean"]
    assert shown_as(100.0 * spread(at_target), "0.0") == trial["spread_percent"]
    assert shown_as(per_area / (CFM / (100.0 * SQUARE_FOOT)), "0.00") == trial["per_100ft2"]


def test_that_a_house_too_leaky_for_the_fan_is_carried_to_the_target() -> None:
    # Invented: K = 62 cfm, signal 70.0 Pa, duct 18.4 Pa with a baseline of -0.3 Pa.
    flow = ring_flow(62.0 * CFM, 0.5, 70.0)
    induced = induced_pressure(18.4, -0.3)
    result = flow_at_target(flow, 25.0, induced, 0.60)
    assert shown_as(flow / CFM, "518.7") == "518.7"
    assert shown_as(target_factor(25.0, induced, 0.60), "1.1903") == "1.1903"
    assert shown_as(result / CFM, "617.4") == "617.4"
    low, high = (flow_at_target(flow, 25.0, induced, n) / CFM for n in (0.5, 0.7))
    assert (round(low), round(high)) == (600, 636)
    per_area = flow_per_area(result, 1860.0 * SQUARE_FOOT)
    assert shown_as(per_area / (CFM / (100.0 * SQUARE_FOOT)), "33.2") == "33.2"
    assert shown_as(100.0 * fraction_of_fan_flow(result, 1200.0 * CFM), "51.5") == "51.5"
    hole = equivalent_orifice_area(result, 25.0, 0.60)
    assert round(hole / inch**2) == 117


def test_that_the_repair_of_that_house_cut_its_leakage_by_73_percent() -> None:
    before = flow_at_target(ring_flow(62.0 * CFM, 0.5, 70.0), 25.0, 18.7, 0.60)
    trial = next(row for row in TRIALS if row["name"] == "one-story house after sealing")
    after = mean(worked(trial)[2])
    assert shown_as(100.0 * (before - after) / before, "72.8") == "72.8"
    assert shown_as(100.0 * fraction_of_fan_flow(after, 1200.0 * CFM), "14.0") == "14.0"


def test_that_a_manufactured_home_at_50_pascal_is_not_read_as_25() -> None:
    # Invented: K = 24 cfm, signal 169 Pa at 50 Pa; floor area 1456 square feet.
    flow = ring_flow(24.0 * CFM, 0.5, 169.0)
    assert shown_as(flow / CFM, "312.0") == "312.0"
    assert round(flow_at_target(flow, 25.0, 50.0, 0.60) / CFM) == 206
    hundred = 14.56 * 100.0 * SQUARE_FOOT
    assert shown_as(flow_per_area(flow, hundred) / (CFM / (100.0 * SQUARE_FOOT)), "0.0") == "21.4"


def test_that_a_commercial_section_in_metric_units_comes_out_as_worked_by_hand() -> None:
    # Invented: 60.7 L/s indicated at 1.2041 kg/m3, air 21 °C at 98.9 kPa, 400 Pa, 186 m2 of duct.
    density = moist_air_density(294.15, 98_900.0)
    assert shown_as(density, "1.1713") == "1.1713"
    actual = density_corrected_flow(60.7 * liter, STANDARD_DENSITY, density)
    assert shown_as(actual / liter, "61.5") == "61.5"
    assert shown_as(flow_per_area(actual, 186.0) / liter, "0.331") == "0.331"
    limits = {"A": "246.7", "B": "82.2", "C": "27.4"}
    for k, (_, text) in zip((0.027, 0.009, 0.003), limits.items(), strict=True):
        limit = duct_class_limit(k * liter, 400.0) * 186.0
        assert shown_as(limit / liter, text) == text
    assert shown_as(100.0 * fraction_of_fan_flow(actual, 1150.0 * liter), "5.4") == "5.4"
    surface = flow_per_area(actual, 186.0) / (CFM / (100.0 * SQUARE_FOOT))
    assert shown_as(surface, "6.51") == "6.51"
    leakage_class = surface_leakage_class(surface, 400.0 / INCH_OF_WATER_PA)
    assert shown_as(leakage_class, "4.8") == "4.8"
