"""Leakage as area, share, hole and class, against figures worked outside and code conversions."""

from __future__ import annotations

import tomllib
from math import pi
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.constants import foot, inch, liter, minute

from deskapp.physics.constants import SHARP_EDGE_COEFFICIENT, STANDARD_DENSITY
from deskapp.physics.flow_device import orifice_flow
from deskapp.physics.leakage import (
    duct_class_limit,
    effective_leakage_area,
    equivalent_orifice_area,
    flow_per_area,
    fraction_of_fan_flow,
    round_hole_diameter,
    surface_leakage_class,
    surface_leakage_limit,
)
from deskapp.physics.target import flow_at_target

CASES: dict[str, list[dict[str, Any]]] = tomllib.loads(
    (Path(__file__).parent / "cases" / "leakage.toml").read_text(encoding="utf-8")
)
CFM = foot**3 / minute
CLASS_PRESSURES_PA = (25.0, 250.0, 400.0, 1000.0)
INCH_OF_WATER_PA = 249.08891  # conventional inch of water, NIST SP 811, appendix B.8


@pytest.mark.parametrize("row", CASES["leakage_area"])
def test_that_100_cfm_at_25_pascal_is_the_leakage_area_worked_outside(row: dict[str, Any]) -> None:
    # ASHRAE Handbook—Fundamentals (4 Pa, 1.0) and CAN/CGSB-149.10 (10 Pa, 0.611); from memory,
    # not checked against the text.
    at_ref = flow_at_target(100.0 * CFM, row["ref_pa"], 25.0, row["exponent"])
    area = effective_leakage_area(
        at_ref, row["ref_pa"], row["discharge_coefficient"], STANDARD_DENSITY
    )
    assert area * 1e4 == pytest.approx(row["cm2"], abs=6e-4)
    assert area / inch**2 == pytest.approx(row["in2"], abs=6e-4)


def test_that_100_cfm_at_25_pascal_is_a_hole_of_18_square_inches() -> None:
    area = equivalent_orifice_area(100.0 * CFM)
    assert area * 1e4 == pytest.approx(119.867, abs=6e-4)
    assert area / inch**2 == pytest.approx(18.579, abs=6e-4)


def test_that_the_rounded_coefficient_gives_the_rule_of_thumb() -> None:
    # Common practice, no source: 0.189 square inches of hole for each cfm at 25 Pa.
    area = equivalent_orifice_area(CFM, 25.0, 0.60, STANDARD_DENSITY)
    assert area / inch**2 == pytest.approx(0.189, abs=0.0005)


def test_that_the_sharp_edge_coefficient_is_the_free_streamline_value() -> None:
    # G. Kirchhoff's jet through a slot: pi / (pi + 2).
    assert round(pi / (pi + 2.0), 3) == SHARP_EDGE_COEFFICIENT


@pytest.mark.parametrize("row", CASES["hole"])
def test_that_the_flow_of_a_hole_leads_back_to_its_diameter(row: dict[str, Any]) -> None:
    area = equivalent_orifice_area(
        row["cfm"] * CFM, row["pressure_pa"], row["discharge_coefficient"], row["density"]
    )
    assert round_hole_diameter(area) / inch == pytest.approx(row["inches"], rel=2e-5)


@pytest.mark.parametrize("row", CASES["duct_class"])
def test_that_the_class_limits_are_the_european_ones(row: dict[str, Any]) -> None:
    # EN 12237 and EN 1507, f = k p^0.65; k read in secondary sources, figures worked outside.
    for pressure_pa, limit in zip(CLASS_PRESSURES_PA, row["limits"], strict=True):
        ours = duct_class_limit(row["k"] * liter, pressure_pa) / liter
        assert ours == pytest.approx(limit, abs=6e-6)


@pytest.mark.parametrize("row", CASES["surface_class"])
def test_that_the_leakage_class_gives_the_flow_worked_outside(row: dict[str, Any]) -> None:
    # SMACNA HVAC Air Duct Leakage Test Manual, F = C_L P^0.65; equation read in a secondary source.
    for inches, flow in zip(row["inches"], row["cfm_per_100ft2"], strict=True):
        limit = surface_leakage_limit(row["leakage_class"], inches)
        assert limit == pytest.approx(flow, abs=6e-5)
        assert surface_leakage_class(flow, inches) == pytest.approx(row["leakage_class"], rel=1e-5)


def test_that_class_4_at_25_pascal_allows_less_than_one_cfm_per_100_square_feet() -> None:
    limit = surface_leakage_limit(4.0, 25.0 / INCH_OF_WATER_PA)
    assert limit == pytest.approx(0.8976, abs=6e-5)


@pytest.mark.parametrize(
    ("cfm_per_100ft2", "liters_per_minute"),
    # The same limits as the 2012 to 2021 International Energy Conservation Code print them, in
    # liters a minute per 9.29 square meters; read in state copies of the code.
    [(4.0, 113.3), (3.0, 85.0), (8.0, 226.5)],
)
def test_that_flow_per_area_meets_the_two_units_the_code_prints(
    cfm_per_100ft2: float, liters_per_minute: float
) -> None:
    inch_pound = flow_per_area(cfm_per_100ft2 * CFM, 100.0 * foot**2)
    metric = flow_per_area(liters_per_minute * liter / minute, 9.29)
    assert inch_pound == pytest.approx(metric, rel=1e-3)
    assert inch_pound / liter == pytest.approx(0.0508 * cfm_per_100ft2, rel=1e-12)


@pytest.mark.parametrize(
    ("cooling_tons", "leak_cfm", "percent"),
    # California: nominal flow 400 cfm per ton (Joint Appendix JA9, 2025); percent of that flow.
    [(3.0, 48.0, 4.0), (3.0, 60.0, 5.0), (3.0, 72.0, 6.0), (3.0, 120.0, 10.0), (3.0, 180.0, 15.0)],
)
def test_that_the_share_of_fan_flow_is_the_code_percentage(
    cooling_tons: float, leak_cfm: float, percent: float
) -> None:
    share = fraction_of_fan_flow(leak_cfm * CFM, 400.0 * cooling_tons * CFM)
    assert 100.0 * share == pytest.approx(percent, rel=1e-12)


@given(st.floats(1e-4, 1.0), st.floats(1.0, 100.0), st.floats(0.3, 1.0), st.floats(0.7, 1.5))
def test_that_the_equivalent_hole_passes_the_flow_it_stands_for(
    flow: float, pressure: float, coefficient: float, density: float
) -> None:
    for area_of in (effective_leakage_area, equivalent_orifice_area):
        area = area_of(flow, pressure, coefficient, density)
        assert orifice_flow(area, coefficient, pressure, density) == pytest.approx(flow)


@given(st.floats(1e-6, 1.0), st.floats(0.1, 10.0))
def test_that_leakage_per_area_scales_with_flow_and_inversely_with_area(
    flow: float, scale: float
) -> None:
    once = flow_per_area(flow, 100.0)
    assert flow_per_area(flow * scale, 100.0) == pytest.approx(once * scale)
    assert flow_per_area(flow, 100.0 * scale) == pytest.approx(once / scale)


@given(st.floats(0.001, 0.1), st.floats(1.0, 2000.0), st.floats(1.001, 3.0))
def test_that_a_class_allows_more_at_a_higher_pressure(
    k: float, pressure: float, more: float
) -> None:
    assert duct_class_limit(k, pressure * more) > duct_class_limit(k, pressure)


@given(st.floats(1e-8, 10.0))
def test_that_the_round_hole_has_the_area_it_came_from(area: float) -> None:
    assert pi * (round_hole_diameter(area) / 2.0) ** 2 == pytest.approx(area)
