"""Ring and orifice flows against fluids, hand arithmetic and their own inverses."""

from __future__ import annotations

import tomllib
from math import pi
from pathlib import Path
from typing import Any

import pytest
from fluids.flow_meter import flow_meter_discharge
from hypothesis import given
from hypothesis import strategies as st
from scipy.constants import foot, inch, minute

from deskapp.physics.air import moist_air_density
from deskapp.physics.constants import STANDARD_DENSITY
from deskapp.physics.flow_device import (
    density_corrected_flow,
    flow_at_other_density,
    orifice_flow,
    ring_flow,
    ring_flow_range,
    signal_for_flow,
)

CASES: dict[str, list[dict[str, Any]]] = tomllib.loads(
    (Path(__file__).parent / "cases" / "leakage.toml").read_text(encoding="utf-8")
)
CFM = foot**3 / minute

coefficients = st.floats(1e-4, 1.0)
exponents = st.floats(0.4, 0.7)
signals = st.floats(0.5, 1000.0)
densities = st.floats(0.6, 1.6)


def test_that_an_invented_ring_gives_the_flow_worked_by_hand() -> None:
    # Invented ring, K = 9.5 cfm at 1 Pa: 9.5 * sqrt(32.4) = 9.5 * 5.69210 = 54.07 cfm.
    flow = ring_flow(9.5 * CFM, 0.5, 32.4)
    assert flow / CFM == pytest.approx(54.0749, abs=5e-5)


@pytest.mark.parametrize(
    ("ring_cfm", "lowest_cfm", "highest_cfm"),
    # Invented rings, usable from 25 to 250 Pa of signal: K * 5 and K * 15.8113883.
    [
        (62.0, 310.0, 980.3061),
        (24.0, 120.0, 379.4733),
        (9.5, 47.5, 150.2082),
        (4.0, 20.0, 63.24555),
    ],
)
def test_that_the_flow_range_of_a_ring_follows_from_its_signal_range(
    ring_cfm: float, lowest_cfm: float, highest_cfm: float
) -> None:
    lowest, highest = ring_flow_range(ring_cfm * CFM, 0.5, 25.0, 250.0)
    assert lowest / CFM == pytest.approx(lowest_cfm, rel=1e-6)
    assert highest / CFM == pytest.approx(highest_cfm, rel=1e-6)


def test_that_air_at_84_kilopascal_moves_more_volume_than_indicated() -> None:
    # Bernoulli's equation worked outside: 100 cfm at 1.2041, air 20 °C at 84 kPa -> 109.83 cfm.
    thin_air = moist_air_density(293.15, 84_000.0, 0.0)
    assert thin_air == pytest.approx(0.998215, abs=6e-7)
    actual = density_corrected_flow(100.0 * CFM, STANDARD_DENSITY, thin_air)
    assert actual / CFM == pytest.approx(109.83, abs=0.005)


def test_that_warmed_air_takes_more_room() -> None:
    # Conservation of mass with the gas law: volume grows as absolute temperature, 310 / 290.
    cold = moist_air_density(290.0, 100_000.0)
    warm = moist_air_density(310.0, 100_000.0)
    assert flow_at_other_density(0.5, cold, warm) == pytest.approx(0.5 * 310.0 / 290.0, rel=1e-12)


@pytest.mark.parametrize("row", CASES["hole"])
def test_that_a_round_hole_passes_the_flow_worked_outside(row: dict[str, Any]) -> None:
    # Orifice equation, ASHRAE Handbook—Fundamentals (from memory, not checked against the text).
    area = pi / 4.0 * (row["inches"] * inch) ** 2
    flow = orifice_flow(area, row["discharge_coefficient"], row["pressure_pa"], row["density"])
    assert flow / CFM == pytest.approx(row["cfm"], abs=6e-5)


def test_that_a_hole_of_one_square_inch_passes_5_cfm_at_25_pascal() -> None:
    flow = orifice_flow(inch**2, 0.6, 25.0, STANDARD_DENSITY)
    assert flow / CFM == pytest.approx(5.2854, abs=6e-5)


@pytest.mark.parametrize("row", CASES["hole"])
def test_that_the_orifice_agrees_with_the_fluids_library(row: dict[str, Any]) -> None:
    # fluids works a meter in a pipe; a pipe 1000 times as wide as the hole is a large plenum.
    diameter = row["inches"] * inch
    mass_flow = flow_meter_discharge(
        D=1000.0 * diameter,
        Do=diameter,
        P1=101_325.0 + row["pressure_pa"],
        P2=101_325.0,
        rho=row["density"],
        C=row["discharge_coefficient"],
    )
    area = pi / 4.0 * diameter**2
    ours = orifice_flow(area, row["discharge_coefficient"], row["pressure_pa"], row["density"])
    assert ours == pytest.approx(mass_flow / row["density"], rel=1e-9)


@given(coefficients, exponents, signals)
def test_that_the_signal_for_a_flow_gives_that_flow_back(
    coefficient: float, exponent: float, signal_pa: float
) -> None:
    flow = ring_flow(coefficient, exponent, signal_pa)
    assert signal_for_flow(coefficient, exponent, flow) == pytest.approx(signal_pa, rel=1e-9)


@given(coefficients, exponents, signals, st.floats(1.001, 10.0))
def test_that_more_signal_means_more_flow(
    coefficient: float, exponent: float, signal_pa: float, more: float
) -> None:
    flow = ring_flow(coefficient, exponent, signal_pa)
    assert ring_flow(coefficient, exponent, signal_pa * more) > flow


@given(coefficients, exponents, signals, st.floats(0.1, 10.0))
def test_that_flow_scales_with_the_coefficient(
    coefficient: float, exponent: float, signal_pa: float, scale: float
) -> None:
    flow = ring_flow(coefficient, exponent, signal_pa)
    assert ring_flow(coefficient * scale, exponent, signal_pa) == pytest.approx(flow * scale)


@given(coefficients, exponents)
def test_that_the_coefficient_is_the_flow_at_one_pascal(
    coefficient: float, exponent: float
) -> None:
    assert ring_flow(coefficient, exponent, 1.0) == coefficient


@given(st.floats(0.001, 1.0), densities)
def test_that_calibration_air_needs_no_correction(flow: float, density: float) -> None:
    assert density_corrected_flow(flow, density, density) == flow


@given(st.floats(0.001, 1.0), densities, densities)
def test_that_thinner_air_means_more_volume(flow: float, one: float, other: float) -> None:
    thin, dense = sorted((one, other))
    actual_thin = density_corrected_flow(flow, STANDARD_DENSITY, thin)
    assert actual_thin >= density_corrected_flow(flow, STANDARD_DENSITY, dense)


@given(st.floats(1e-5, 0.1), st.floats(0.1, 1000.0), densities)
def test_that_four_times_the_pressure_doubles_the_flow_of_a_hole(
    area: float, pressure: float, density: float
) -> None:
    once = orifice_flow(area, 0.6, pressure, density)
    assert orifice_flow(area, 0.6, 4.0 * pressure, density) == pytest.approx(2.0 * once)
