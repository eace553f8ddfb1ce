"""The density of the air that went through the fan, and what it does to the indicated flow."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from deskapp.assess import accuracy
from deskapp.assess.accuracy import Bound
from deskapp.assess.density_step import density_step
from deskapp.domain.choices import Direction, FlowBasis, Metric
from deskapp.domain.fields import label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.instrument import Fan
from deskapp.domain.job import Job
from deskapp.domain.measured import si_of
from deskapp.domain.result import Step, StepInput, TestResult
from deskapp.domain.trial import LeakageTest
from deskapp.i18n import _
from deskapp.physics import air, constants, flow_device
from deskapp.units.display import in_sentences
from deskapp.units.kinds import Kind
from deskapp.units.numbers import restyled

USUAL_AIR_K = 293.15
"""Air at a fan whose temperature was not read, 20 °C [K]. House rule of this program."""

LARGEST_LEFT_OUT = 0.05
"""Correction for density that may be left out without a remark, as great as the accuracy asked of a
fan [1]. House rule of this program; no published source."""


@dataclass(frozen=True, slots=True)
class AirAtFan:
    """Densities in kg/m3; `factor` turns an indicated flow into the actual one.

    `bound` says how far the density may be off, where the flow is corrected for it.
    `not_corrected` says why it is not, where nobody chose the flow as indicated.
    """

    factor: float = 1.0
    density: float | None = None
    calibration_density: float | None = None
    bound: Bound | None = None
    not_corrected: str = ""
    steps: tuple[Step, ...] = ()
    findings: tuple[Finding, ...] = ()


def fan_temperature(test: LeakageTest, direction: Direction | None) -> float | None:
    """Return the temperature of the air at the fan, K.

    Where it was not read, it is that of the rooms; a fan that blows into a house draws from
    outdoors.
    """
    read = si_of(test.ambient.fan_air_temperature)
    if read is not None:
        return read
    if test.setup.metric is Metric.ENVELOPE and direction is Direction.PRESSURIZE:
        return si_of(test.ambient.outdoor_temperature)
    return si_of(test.ambient.indoor_temperature)


def air_through_leaks(result: TestResult) -> float | None:
    """Return the density of the air that a flow is stated for, kg/m3; None for standard air.

    That is what a flow as indicated, and one through the envelope of a house, is stated for.
    """
    return None if result.metric is Metric.ENVELOPE else result.air_density


def air_at_fan(
    job: Job, position: int, fan: Fan | None, direction: Direction | None = None
) -> AirAtFan:
    """Work out the density correction of the test at `position`.

    No correction is made (factor 1) when the set-up says "as indicated", says nothing, or the air
    temperature is missing; the last two earn a finding once the test was read, and so does the
    first where the correction would be great.
    """
    test = job.tests[position]
    basis = test.setup.flow_basis
    if basis is FlowBasis.AS_INDICATED:
        return AirAtFan(findings=_left_out(job, position, fan, direction))
    path = f"tests.{position}.setup.flow_basis"
    if basis is None:
        why = _("Not corrected for air density: nobody said whether it should be.")
        return _uncorrected(why, _undecided(path)) if test.was_read else AirAtFan()
    temperature = fan_temperature(test, direction)
    if temperature is None:
        why = _("Not corrected for air density: no temperature of the air is known.")
        said = _no_temperature(position, test, direction)
        return _uncorrected(why, said) if test.was_read else AirAtFan()
    try:
        found = _corrected(job, test, temperature, fan)
    except ValueError:
        why = _("Not corrected for air density: none can be worked out from this air.")
        return _uncorrected(why, _outside_formulas(position))
    return replace(found, findings=tuple(_sea_level_taken(job, test)))


def _uncorrected(why: str, said: Finding) -> AirAtFan:
    """Return the flow as indicated, with a line of working that says so."""
    step = Step(label=_("Density factor on the indicated flow"), formula="1", value=1.0, source=why)
    return AirAtFan(not_corrected=why, steps=(step,), findings=(said,))


def _left_out(
    job: Job, position: int, fan: Fan | None, direction: Direction | None
) -> tuple[Finding, ...]:
    """Return the remark on a correction that was not made and would have been great."""
    test = job.tests[position]
    if not test.was_read:
        return ()
    try:
        found = _corrected(job, test, fan_temperature(test, direction) or USUAL_AIR_K, fan)
    except ValueError:
        return ()
    more = found.factor - 1.0
    if abs(more) <= LARGEST_LEFT_OUT:
        return ()
    words = (
        _("The air at the fan was thinner than at its calibration: {share} more went through it.")
        if more > 0.0
        else _("The air at the fan was denser than at its calibration: {share} less went through.")
    )
    return (
        Finding(
            level=Level.CHECK,
            code="density_left_out",
            path=f"tests.{position}.setup.flow_basis",
            what=words.format(share=in_sentences().show(Kind.FRACTION, abs(more), digits=0)),
            allowed=_(
                "The flow is taken as indicated, which holds only for a gauge that corrects it by "
                "itself."
            ),
            mend=_("Choose the correction, unless your gauge makes it by itself."),
        ),
    )


def _sea_level_taken(job: Job, test: LeakageTest) -> Iterator[Finding]:
    """Yield the remark that nobody said how high the site lies, or what the barometer read."""
    known = (si_of(test.ambient.barometer), si_of(job.house.elevation))
    if not test.was_read or any(value is not None for value in known):
        return
    yield Finding(
        level=Level.CHECK,
        code="air_pressure_taken",
        path="house.elevation",
        what=_(
            "The flow is corrected for air density, but neither elevation nor barometric pressure "
            "is recorded; air pressure at sea level was taken."
        ),
        allowed=_("Each 1,000 ft of elevation moves the flow by about 2%."),
        mend=_("Type one of the two."),
    )


def _corrected(job: Job, test: LeakageTest, temperature: float, fan: Fan | None) -> AirAtFan:
    pressure, pressure_step = _barometric_pressure(job, test)
    humidity = si_of(test.ambient.humidity) or 0.0
    density = air.moist_air_density(temperature, pressure, humidity)
    calibration = si_of(fan.calibration_density) if fan else None
    if calibration is None:
        calibration = constants.STANDARD_DENSITY
    factor = flow_device.density_corrected_flow(1.0, calibration, density)
    told = density_step(_("Air density at the fan"), temperature, pressure, humidity)
    factor_step = Step(
        label=_("Density factor on the indicated flow"),
        formula="√(ρ₀ / ρ)",
        inputs=(
            StepInput(symbol="ρ₀", value=calibration, kind=Kind.DENSITY),
            StepInput(symbol="ρ", value=density, kind=Kind.DENSITY),
        ),
        value=factor,
        kind=Kind.NUMBER,
        source=_("Pressure-difference flow devices (from memory, text not checked)"),
    )
    bound = accuracy.of_air(test, temperature, pressure)
    return AirAtFan(factor, density, calibration, bound, steps=(*pressure_step, told, factor_step))


def _barometric_pressure(job: Job, test: LeakageTest) -> tuple[float, tuple[Step, ...]]:
    barometer = si_of(test.ambient.barometer)
    if barometer is not None:
        return barometer, ()
    elevation = si_of(job.house.elevation)
    if elevation is None:
        return constants.STANDARD_PRESSURE_PA, ()
    pressure = air.standard_pressure(elevation)
    step = Step(
        label=_("Air pressure at this elevation"),
        formula=restyled("p = 101325 · (1 − 2.25577·10⁻⁵ · z)^5.2559", in_sentences().style),
        inputs=(StepInput(symbol="z", value=elevation, kind=Kind.LENGTH, unit="m", beside=True),),
        value=pressure,
        kind=Kind.PRESSURE,
        source=_("ASHRAE Handbook—Fundamentals 2017, chapter 1"),
    )
    return pressure, (step,)


def _undecided(path: str) -> Finding:
    return Finding(
        level=Level.CHECK,
        code="flow_basis_missing",
        path=path,
        what=_("It is not said whether the flow is corrected for air density; it was not."),
        mend=_("Choose one under {field}.").format(field=label_of(path)),
    )


def _no_temperature(position: int, test: LeakageTest, direction: Direction | None) -> Finding:
    blown_in = test.setup.metric is Metric.ENVELOPE and direction is Direction.PRESSURIZE
    name = "outdoor_temperature" if blown_in else "indoor_temperature"
    return Finding(
        level=Level.CHECK,
        code="temperature_missing",
        path=f"tests.{position}.ambient.{name}",
        what=_(
            "The flow was to be corrected for air density, but no air temperature is recorded; "
            "the indicated flow was used."
        ),
        mend=_("Type the temperature at the fan or outdoors, or choose “as indicated”.")
        if blown_in
        else _("Type the temperature at the fan or indoors, or choose “as indicated”."),
    )


def _outside_formulas(position: int) -> Finding:
    return Finding(
        level=Level.CHECK,
        code="air_out_of_range",
        path=f"tests.{position}.ambient.indoor_temperature",
        what=_(
            "No air density can be worked out from this temperature, pressure and humidity; "
            "the indicated flow was used."
        ),
        allowed=_("The formula holds from −50 to 80 °C, for a humidity of 0 to 100%."),
        mend=_("Check temperature, barometric pressure, elevation and humidity."),
    )
