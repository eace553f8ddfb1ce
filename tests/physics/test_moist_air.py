"""Moisture and enthalpy of air against psychrolib."""

from __future__ import annotations

import psychrolib
import pytest

from deskapp.physics.moist_air import moist_air_enthalpy


@pytest.fixture(autouse=True)
def psychrolib_in_si() -> None:
    psychrolib.SetUnitSystem(psychrolib.SI)


@pytest.mark.parametrize("celsius", [-20.0, 0.0, 24.0, 45.0, 70.0])
@pytest.mark.parametrize("moisture", [0.001, 0.009, 0.02])
def test_that_the_enthalpy_agrees_with_psychrolib(celsius: float, moisture: float) -> None:
    theirs = psychrolib.GetMoistAirEnthalpy(celsius, moisture)
    assert moist_air_enthalpy(celsius + 273.15, moisture) == pytest.approx(theirs, abs=1.0)
