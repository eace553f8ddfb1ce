"""House air tightness against worked corrections, the gas law and its own inverse."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.constants import foot, inch, minute

from deskapp.physics.air import moist_air_density
from deskapp.physics.constants import (
    GAS_CONSTANT_DRY_AIR,
    SHARP_EDGE_COEFFICIENT,
    STANDARD_PRESSURE_PA,
)
from deskapp.physics.envelope import (
    air_change_rate,
    coefficient_at_standard_density,
    curve_flow,
    curve_leakage_area,
)
from deskapp.physics.flow_device import orifice_flow
from deskapp.physics.leakage_curve import fit

CFM = foot**3 / minute
DENSITY_AT_20 = STANDARD_PRESSURE_PA / (GAS_CONSTANT_DRY_AIR * 293.15)

coefficients = st.floats(1e-4, 0.5)
exponents = st.floats(0.5, 1.0)
densities = st.floats(0.7, 1.5)


@pytest.mark.parametrize(
    ("celsius", "by_density"),
    # Factors for n = 0.6 and dry air, worked outside. The form of ISO 9972:2015, from memory, not
    # checked against the text.
    [(0.0, 1.02867), (35.0, 0.98024)],
)
def test_that_the_correction_is_as_worked_outside(celsius: float, by_density: float) -> None:
    density = moist_air_density(celsius + 273.15, STANDARD_PRESSURE_PA)
    assert coefficient_at_standard_density(1.0, 0.6, density, DENSITY_AT_20) == pytest.approx(
        by_density, abs=6e-6
    )


@given(st.floats(1e-4, 0.1), st.floats(1.0, 100.0), densities)
def test_that_a_sharp_hole_has_one_coefficient_at_standard_density(
    area: float, pressure: float, density: float
) -> None:
    # The orifice equation is a power law with n = 0.5 whose C depends on density.
    coefficient = orifice_flow(area, 0.6, 1.0, density)
    corrected = coefficient_at_standard_density(coefficient, 0.5, density, 1.2041)
    assert curve_flow(corrected, 0.5, pressure) == pytest.approx(
        orifice_flow(area, 0.6, pressure, 1.2041), rel=1e-9
    )


@pytest.mark.parametrize(
    ("ref_pa", "discharge_coefficient", "exponent", "square_inches"),
    # 100 cfm at 25 Pa, worked outside. ASTM E779 (4 Pa, 1.0) and CAN/CGSB-149.10 (10 Pa, 0.611),
    # from memory, not checked against the text.
    [
        (4.0, 1.0, 0.65, 8.624),
        (4.0, 1.0, 0.60, 9.451),
        (10.0, SHARP_EDGE_COEFFICIENT, 0.65, 16.193),
        (10.0, SHARP_EDGE_COEFFICIENT, 0.60, 16.953),
    ],
)
def test_that_the_leakage_area_of_a_curve_is_the_one_worked_outside(
    ref_pa: float, discharge_coefficient: float, exponent: float, square_inches: float
) -> None:
    coefficient = 100.0 * CFM / 25.0**exponent
    area = curve_leakage_area(coefficient, exponent, ref_pa, discharge_coefficient)
    assert area / inch**2 == pytest.approx(square_inches, abs=6e-4)
    if ref_pa == 4.0:
        assert curve_leakage_area(coefficient, exponent) == area


def test_that_an_invented_tight_house_comes_out_as_worked_by_hand() -> None:
    # Invented: C = 0.012 m3/(s Pa^n), n = 0.65, 350 m3. 50^0.65 = 12.7155: 0.152586 m3/s, which is
    # 549.31 m3/h and 1.5694 air changes an hour.
    pressures = [10.0, 20.0, 30.0, 40.0, 50.0, 60.0]
    curve = fit(pressures, [0.012 * pressure**0.65 for pressure in pressures])
    at_50 = curve_flow(curve.coefficient, curve.exponent, 50.0)
    assert at_50 * 3600.0 == pytest.approx(549.31, abs=0.01)
    assert air_change_rate(at_50, 350.0) * 3600.0 == pytest.approx(1.5694, abs=1e-4)


@given(coefficients, exponents, st.floats(1.0, 100.0), st.floats(1.001, 3.0))
def test_that_more_pressure_means_more_flow(
    coefficient: float, exponent: float, pressure: float, more: float
) -> None:
    flow = curve_flow(coefficient, exponent, pressure)
    assert curve_flow(coefficient, exponent, pressure * more) > flow


@given(coefficients, exponents, st.floats(1.0, 50.0))
def test_that_the_leakage_area_passes_the_flow_of_the_curve(
    coefficient: float, exponent: float, pressure: float
) -> None:
    area = curve_leakage_area(coefficient, exponent, pressure, 0.611, 1.2)
    assert orifice_flow(area, 0.611, pressure, 1.2) == pytest.approx(
        curve_flow(coefficient, exponent, pressure), rel=1e-9
    )


def test_that_a_curve_through_no_pressure_passes_nothing() -> None:
    assert curve_flow(0.012, 0.65, 0.0) == 0.0
