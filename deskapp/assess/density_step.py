"""The line of arithmetic that works out the density of the air."""

from __future__ import annotations

from deskapp.domain.step import Step, StepInput
from deskapp.i18n import _
from deskapp.physics import air
from deskapp.units.display import in_sentences
from deskapp.units.kinds import Kind
from deskapp.units.numbers import restyled


def density_step(label: str, temperature: float, pressure: float, humidity: float) -> Step:
    """Return the line; its formula holds for kelvin and pascal, so the figures stand in these.

    Args:
        label: what is worked out.
        temperature: of the air [K].
        pressure: of the air [Pa].
        humidity: relative humidity [1].

    Raises:
        ValueError: one of them is outside the range of the formula.
    """
    vapor = air.saturation_vapor_pressure(temperature)
    return Step(
        label=label,
        formula=restyled("ρ = (p − 0.378 · φ · pᵥ) / (287.055 · T)", in_sentences().style),
        inputs=(
            StepInput(symbol="p", value=pressure, kind=Kind.PRESSURE, unit="Pa", beside=True),
            StepInput(symbol="φ", value=humidity, kind=Kind.FRACTION, unit="fraction", beside=True),
            StepInput(symbol="pᵥ", value=vapor, kind=Kind.PRESSURE, unit="Pa"),
            StepInput(symbol="T", value=temperature, kind=Kind.TEMPERATURE, unit="K", beside=True),
        ),
        value=air.moist_air_density(temperature, pressure, humidity),
        kind=Kind.DENSITY,
        unit="kg/m3",
        beside=True,
        source=_("ISO 9972, annex on air density (from memory, text not checked)"),
    )
