"""The correction for air density: its working, and what is said where it was not made."""

from __future__ import annotations

import psychrolib
import pytest
from typed import two_systems, typed

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
    assert "T = 294.26 K (70.0 °F)" in said
    assert "φ = 0.450 (45.0%)" in said
    shown = float(said.split("pᵥ = ")[1].split(" Pa")[0].replace(",", ""))
    assert shown == pytest.approx(vapor, rel=1e-3)
    by_formula = (97_717.0 - 0.378 * 0.45 * vapor) / (287.055 * 294.26)
    value, unit = density.value_in(formatter).split(" (")[0].split("\N{NO-BREAK SPACE}")
    assert (float(value), unit) == (pytest.approx(by_formula, rel=2e-4), "kg/m³")
    assert "lb/ft³" in density.value_in(formatter)
