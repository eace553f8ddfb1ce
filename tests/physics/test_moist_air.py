"""Moisture and enthalpy of air against psychrolib."""

from __future__ import annotations

import psychrolib
import pytest

from deskapp.physics.air import saturation_vapor_pressure
from deskapp.physics.guards import OutOfRangeError
from deskapp.physics.moist_air import humidity_ratio, moist_air_enthalpy


@pytest.fixture(autouse=True)
def psychrolib_in_si() -> None:
    psychrolib.SetUnitSystem(psychrolib.SI)


@pytest.mark.parametrize("celsius", [0.0, 15.0, 24.0, 40.0, 55.0])
@pytest.mark.parametrize("humidity", [0.0, 0.3, 0.6, 1.0])
def test_that_the_humidity_ratio_agrees_with_psychrolib(celsius: float, humidity: float) -> None:
    theirs = psychrolib.GetHumRatioFromRelHum(celsius, humidity, 98_000.0)
    vapor = humidity * psychrolib.GetSatVapPres(celsius)
    # psychrolib never returns less than 1e-7.
    assert humidity_ratio(vapor, 98_000.0) == pytest.approx(theirs, rel=1e-4, abs=1.1e-7)
    ours = humidity_ratio(humidity * saturation_vapor_pressure(celsius + 273.15), 98_000.0)
    assert ours == pytest.approx(theirs, rel=6e-3, abs=1.1e-7)


@pytest.mark.parametrize("celsius", [-20.0, 0.0, 24.0, 45.0, 70.0])
@pytest.mark.parametrize("moisture", [0.001, 0.009, 0.02])
def test_that_the_enthalpy_agrees_with_psychrolib(celsius: float, moisture: float) -> None:
    theirs = psychrolib.GetMoistAirEnthalpy(celsius, moisture)
    assert moist_air_enthalpy(celsius + 273.15, moisture) == pytest.approx(theirs, abs=1.0)


def test_that_more_vapor_than_half_of_the_air_is_named() -> None:
    with pytest.raises(OutOfRangeError, match="vapor_pressure_pa"):
        humidity_ratio(60_000.0, 101_325.0)
