"""The correction for air density: its working, and what is said where it was not made."""

from __future__ import annotations

import math

import psychrolib
import pytest
from typed import two_systems, typed
from uncertainties import ufloat

from deskapp.assess.evaluate import evaluate
from deskapp.domain.choices import FlowBasis
from deskapp.domain.measured import Measured
from deskapp.domain.paths import put
from deskapp.units.display import Formatter, UnitSystem
from deskapp.units.kinds import Kind
from deskapp.units.numbers import NumberStyle


@pytest.mark.parametrize("temperature", [None, Measured(si=None, typed="warm")])
def test_that_a_flow_without_its_correction_says_so_where_it_stands(
    temperature: Measured | None,
) -> None:
    job = put(two_systems(retested=False), "tests.0.setup.flow_basis", FlowBasis.ACTUAL_AIR)
    result = evaluate(put(job, "tests.0.ambient.indoor_temperature", temperature)).test("t1")
    assert result is not None
    assert result.readings[0].flow_at_target is not None
    assert result.not_corrected == (
        "Not corrected for air density: no temperature of the air is known."
    )
    if temperature is None:
        assert any(step.source == result.not_corrected for step in result.steps)
        system = evaluate(job).of_system("s1")
        assert system is not None
        assert result.not_corrected in system.remarks
    corrected = put(job, "tests.0.ambient.indoor_temperature", Measured(si=293.15, unit="degC"))
    again = evaluate(corrected).test("t1")
    assert again is not None
    assert again.not_corrected == ""


def test_that_the_working_of_air_density_stands_in_the_units_of_its_formula() -> None:
    job = put(two_systems(retested=False), "tests.0.setup.flow_basis", FlowBasis.ACTUAL_AIR)
    job = put(job, "tests.0.ambient.indoor_temperature", typed("70 degF", Kind.TEMPERATURE))
    job = put(job, "tests.0.ambient.humidity", typed("45%", Kind.FRACTION))
    job = put(job, "house.elevation", typed("1000 ft", Kind.LENGTH))
    result = evaluate(job).test("t1")
    assert result is not None
    height, density = (
        next(step for step in result.steps if step.label == label)
        for label in ("Air pressure at this elevation", "Air density at the fan")
    )
    formatter = Formatter(UnitSystem.IP, NumberStyle.POINT)
    assert height.numbers_in(formatter) == "z = 304.8 m (1,000 ft)".replace(
        " m", "\N{NO-BREAK SPACE}m"
    ).replace(" ft", "\N{NO-BREAK SPACE}ft")
    # The definition of kelvin and degree Fahrenheit; the rest worked outside by psychrolib.
    psychrolib.SetUnitSystem(psychrolib.SI)
    vapor = psychrolib.GetSatVapPres((70 - 32) / 1.8)
    said = density.numbers_in(formatter).replace("\N{NO-BREAK SPACE}", " ")
    assert "T = 294.2611 K (70.0 °F)" in said
    assert "φ = 0.450 (45.0%)" in said
    shown = float(said.split("pᵥ = ")[1].split(" Pa")[0].replace(",", ""))
    assert shown == pytest.approx(vapor, rel=1e-3)
    by_formula = (97_717.0 - 0.378 * 0.45 * vapor) / (287.055 * 294.26)
    value, unit = density.value_in(formatter).split(" (")[0].split("\N{NO-BREAK SPACE}")
    assert (float(value), unit) == (pytest.approx(by_formula, rel=2e-4), "kg/m³")
    assert "lb/ft³" in density.value_in(formatter)


@pytest.mark.parametrize("is_read", [True, False])
def test_that_the_density_is_a_row_of_the_budget_where_the_flow_is_corrected_for_it(
    is_read: bool,
) -> None:
    # Worked by the `uncertainties` library, with the vapor pressure of psychrolib. How far each of
    # the three may be off are house rules: read 1 K, 0.5 %, 10 points; else 3 K, 3 %, dry to wet.
    job = put(two_systems(retested=False), "tests.0.setup.flow_basis", FlowBasis.ACTUAL_AIR)
    name = "fan_air_temperature" if is_read else "indoor_temperature"
    job = put(job, f"tests.0.ambient.{name}", typed("86 degF", Kind.TEMPERATURE))
    if is_read:
        job = put(job, "tests.0.ambient.humidity", typed("50%", Kind.FRACTION))
        job = put(job, "tests.0.ambient.barometer", typed("29.00 inHg", Kind.PRESSURE))
    result = evaluate(job).test("t1")
    assert result is not None
    assert result.budget is not None
    row = next(row for row in result.budget.rows if row.id == "air_density")
    psychrolib.SetUnitSystem(psychrolib.SI)
    vapor = psychrolib.GetSatVapPres(30.0)
    kelvin, share, humid = (1.0, 0.005, 0.1) if is_read else (3.0, 0.03, 1.0)
    pascal = 29.0 * 3386.389 if is_read else 101_325.0
    temperature = ufloat(303.15, kelvin / math.sqrt(3))
    pressure = ufloat(pascal, share * pascal / math.sqrt(3))
    humidity = ufloat(0.5 if is_read else 0.0, humid / math.sqrt(3))
    density = (pressure - 0.378 * humidity * vapor) / (287.055 * temperature)
    assert row.value == pytest.approx(density.nominal_value, rel=1e-3)
    assert row.standard_uncertainty == pytest.approx(density.std_dev, rel=0.02)
    part = row.contribution / result.budget.value
    assert part == pytest.approx((density**-0.5).std_dev / (density**-0.5).nominal_value, rel=0.02)
    assert row.is_assumed
    as_indicated = put(job, "tests.0.setup.flow_basis", FlowBasis.AS_INDICATED)
    without = evaluate(as_indicated).test("t1")
    assert without is not None
    assert without.budget is not None
    assert "air_density" not in [one.id for one in without.budget.rows]
