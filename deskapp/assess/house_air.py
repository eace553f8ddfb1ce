"""The air that passes the envelope of a house, which is not as dense as the air at the fan."""

from __future__ import annotations

from dataclasses import dataclass

from deskapp.assess.air_at_fan import AirAtFan, fan_temperature
from deskapp.domain.choices import Direction, Metric
from deskapp.domain.finding import Finding, Level
from deskapp.domain.measured import si_of
from deskapp.domain.step import Step, StepInput
from deskapp.domain.trial import LeakageTest
from deskapp.i18n import _
from deskapp.physics import constants, envelope, flow_device
from deskapp.physics.guards import OutOfRangeError
from deskapp.units.kinds import Kind


@dataclass(frozen=True, slots=True)
class HouseAir:
    """`factor` turns the flow at the fan into that through the envelope; `density` is there, kg/m3.

    A density of None means that no correction was made.
    """

    factor: float = 1.0
    density: float | None = None
    steps: tuple[Step, ...] = ()
    findings: tuple[Finding, ...] = ()

    def to_standard(self, exponent: float) -> float:
        """Return the factor from the flow at hand to that of air at 20 °C and sea level."""
        if self.density is None:
            return 1.0
        try:
            return envelope.coefficient_at_standard_density(1.0, exponent, self.density)
        except OutOfRangeError:
            return 1.0


def house_air(
    position: int, test: LeakageTest, direction: Direction | None, fan: AirAtFan
) -> HouseAir:
    """Work out the air through the envelope in a test of the house itself; for ducts nothing.

    Outdoor air comes in when the house is depressurized, indoor air leaves when it is pressurized.
    """
    if test.setup.metric is not Metric.ENVELOPE or fan.density is None:
        return HouseAir()
    blown_in = direction is Direction.PRESSURIZE
    ambient = test.ambient
    there = si_of(ambient.indoor_temperature if blown_in else ambient.outdoor_temperature)
    at_fan = fan_temperature(test, direction)
    if there is None or at_fan is None:
        return HouseAir(findings=(_no_temperature(position, blown_in),))
    try:
        # At one pressure and moisture, density goes with the inverse of absolute temperature.
        density = fan.density * at_fan / there
        factor = flow_device.flow_at_other_density(1.0, fan.density, density)
    except (OutOfRangeError, ZeroDivisionError):
        return HouseAir(findings=(_no_temperature(position, blown_in),))
    step = Step(
        label=_("Flow through the envelope, per flow at the fan"),
        formula="ρ / ρₑ",
        inputs=(
            StepInput(symbol="ρ", value=fan.density, kind=Kind.DENSITY),
            StepInput(symbol="ρₑ", value=density, kind=Kind.DENSITY),
        ),
        value=factor,
        kind=Kind.NUMBER,
        source=_("Mass of air is kept; ISO 9972:2015 (from memory, text not checked)"),
    )
    return HouseAir(factor, density, (step,))


def standard_step(air: HouseAir, exponent: float) -> tuple[Step, ...]:
    """Return the line that carries the flow to standard air, if it was; `exponent` is n [1]."""
    if air.density is None:
        return ()
    return (
        Step(
            label=_("Factor to air at 20 °C and sea level"),
            formula="(ρₑ / ρ₀)^(1 − n)",
            inputs=(
                StepInput(symbol="ρₑ", value=air.density, kind=Kind.DENSITY),
                StepInput(symbol="ρ₀", value=constants.STANDARD_DENSITY, kind=Kind.DENSITY),
                StepInput(symbol="n", value=exponent, kind=Kind.NUMBER),
            ),
            value=air.to_standard(exponent),
            kind=Kind.NUMBER,
            source=_("ISO 9972:2015, air leakage coefficient (from memory, text not checked)"),
        ),
    )


def _no_temperature(position: int, blown_in: bool) -> Finding:
    name = "indoor_temperature" if blown_in else "outdoor_temperature"
    return Finding(
        level=Level.CHECK,
        code="envelope_air_unknown",
        path=f"tests.{position}.ambient.{name}",
        what=_(
            "The air through the envelope is as warm as it is {where}, and that is missing."
        ).format(where=_("indoors") if blown_in else _("outdoors")),
        allowed=_("The flow at the fan was used for it."),
        mend=_("Type the indoor and the outdoor temperature."),
    )
