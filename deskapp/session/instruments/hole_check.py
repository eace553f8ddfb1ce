"""A fan held against a hole of known size: the arithmetic, line by line."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi
from typing import TYPE_CHECKING

from deskapp.domain.choices import FlowBasis
from deskapp.domain.measured import Measured, si_of
from deskapp.domain.result import Step, StepInput
from deskapp.i18n import _
from deskapp.session.instruments.check_fields import (
    USUAL_COEFFICIENT,
    USUAL_TEMPERATURE,
    USUAL_TOLERANCE,
)
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from deskapp.domain.instrument import Ring
    from deskapp.domain.register import CheckEntries


@dataclass(frozen=True, slots=True)
class HoleOutcome:
    """A check worked out: flows in m3/s at `density` kg/m3, shares of the expected flow.

    `share_off` is above zero where the fan reads high. `steps` is the arithmetic.
    """

    area: float
    discharge_coefficient: float
    density: float
    expected: float
    indicated: float
    share_off: float
    tolerance: float
    within: bool
    steps: tuple[Step, ...]


def work_out(
    entries: CheckEntries, ring: Ring | None, calibration_density: Measured | None
) -> HoleOutcome | None:
    """Work a check out; None while hole, pressure or flow of the fan are not known.

    The flow of the fan comes from ring and fan signal where both are known, otherwise from the
    flow shown. Unless the gauge had done so, it is corrected from the density of the calibration
    to that of the air; the same air is taken to pass the fan and the hole.

    Raises:
        ValueError: a number is outside the range of its formula, or the air would hold more water
            than its pressure allows.

    Source: orifice equation, ASHRAE Handbook—Fundamentals, from memory, not checked against the
        text; the check itself is common practice, no source.
    """
    from deskapp.physics.field_check import check_against_hole

    hole = _hole(entries)
    pressure = si_of(entries.plate_pressure)
    flow = _flow_of_fan(entries, ring)
    if hole is None or pressure is None or flow is None:
        return None
    area, hole_input, hole_formula = hole
    density, air_step = _air(entries)
    indicated, fan_steps = _corrected(entries, flow, calibration_density, density)
    coefficient = _or_usual(entries.discharge_coefficient, USUAL_COEFFICIENT)
    tolerance = _or_usual(entries.tolerance, USUAL_TOLERANCE)
    found = check_against_hole(area, pressure, indicated, tolerance, coefficient, density)
    expected_step = Step(
        label=_("Flow expected through the hole"),
        formula=f"Q = C · {hole_formula} · √(2 · p / ρ)",
        inputs=(
            StepInput(symbol="C", value=coefficient, kind=Kind.NUMBER),
            hole_input,
            StepInput(symbol="p", value=pressure, kind=Kind.PRESSURE),
            StepInput(symbol="ρ", value=density, kind=Kind.DENSITY),
        ),
        value=found.expected,
        kind=Kind.FLOW,
        source=_(
            "Orifice equation (from memory, text not checked); C = 0.60 for a free sharp edge is "
            "common practice, no source"
        ),
    )
    return HoleOutcome(
        area=area,
        discharge_coefficient=coefficient,
        density=density,
        expected=found.expected,
        indicated=found.indicated,
        share_off=found.share_off,
        tolerance=found.tolerance,
        within=found.within,
        steps=(air_step, expected_step, *fan_steps, *_compared(found.share_off, tolerance)),
    )


def ring_flow_of(ring: Ring | None, signal: Measured | None) -> float | None:
    """Return the flow a ring shows for a fan signal, m3/s.

    None where one of them is not known, or where the numbers of the ring cannot be right.
    """
    from deskapp.physics.flow_device import ring_flow

    if ring is None:
        return None
    coefficient, exponent, value = si_of(ring.coefficient), si_of(ring.exponent), si_of(signal)
    if coefficient is None or exponent is None or value is None:
        return None
    try:
        return ring_flow(coefficient, exponent, value)
    except ValueError:
        return None


def _or_usual(value: Measured | None, usual: float) -> float:
    typed = si_of(value)
    return usual if typed is None else typed


def _hole(entries: CheckEntries) -> tuple[float, StepInput, str] | None:
    """Return the area of the hole in m2, and how it stands in the formula."""
    if entries.hole_area is not None and entries.hole_area.si is not None:
        area = entries.hole_area
        shown = StepInput(symbol="A", value=area.si or 0.0, kind=Kind.AREA, unit=area.unit)
        return entries.hole_area.si, shown, "A"
    if entries.hole_diameter is not None and entries.hole_diameter.si is not None:
        diameter = entries.hole_diameter
        value = entries.hole_diameter.si
        shown = StepInput(symbol="d", value=value, kind=Kind.LENGTH, unit=diameter.unit)
        return pi / 4.0 * value**2, shown, "π/4 · d²"
    return None


@dataclass(frozen=True, slots=True)
class _FanFlow:
    """Flow of the fan before any correction for density, m3/s, and the lines that lead to it."""

    flow: float
    steps: tuple[Step, ...]
    from_ring: bool


def _flow_of_fan(entries: CheckEntries, ring: Ring | None) -> _FanFlow | None:
    from_ring = ring_flow_of(ring, entries.fan_signal)
    if ring is not None and from_ring is not None:
        step = Step(
            label=_("Flow from the ring"),
            formula="Q₀ = K · s^m",
            inputs=(
                _input("K", ring.coefficient, Kind.COEFFICIENT),
                _input("s", entries.fan_signal, Kind.PRESSURE),
                _input("m", ring.exponent, Kind.NUMBER),
            ),
            value=from_ring,
            kind=Kind.FLOW,
            source=_("Calibration certificate of the fan"),
        )
        return _FanFlow(from_ring, (step,), from_ring=True)
    shown = si_of(entries.indicated_flow)
    if shown is None:
        return None
    step = Step(label=_("Flow shown by the gauge"), value=shown, kind=Kind.FLOW)
    return _FanFlow(shown, (step,), from_ring=False)


def _input(symbol: str, value: Measured | None, kind: Kind) -> StepInput:
    return StepInput(symbol=symbol, value=si_of(value) or 0.0, kind=kind)


def _air(entries: CheckEntries) -> tuple[float, Step]:
    from deskapp.assess.density_step import density_step
    from deskapp.physics.constants import STANDARD_PRESSURE_PA

    temperature = _or_usual(entries.air_temperature, USUAL_TEMPERATURE)
    pressure = _or_usual(entries.barometer, STANDARD_PRESSURE_PA)
    humidity = _or_usual(entries.humidity, 0.0)
    step = density_step(_("Air density"), temperature, pressure, humidity)
    return step.value or 0.0, step


def _corrected(
    entries: CheckEntries, found: _FanFlow, calibration_density: Measured | None, density: float
) -> tuple[float, tuple[Step, ...]]:
    """Return the flow of the fan as that of the air of the day, with the lines that lead there."""
    from deskapp.physics.constants import STANDARD_DENSITY
    from deskapp.physics.flow_device import density_corrected_flow

    if not found.from_ring and entries.flow_basis is FlowBasis.ACTUAL_AIR:
        return found.flow, found.steps
    calibration = _or_usual(calibration_density, STANDARD_DENSITY)
    flow = density_corrected_flow(found.flow, calibration, density)
    step = Step(
        label=_("Flow of the fan, corrected for the density of the air"),
        formula="Q = Q₀ · √(ρ₀ / ρ)",
        inputs=(
            StepInput(symbol="Q₀", value=found.flow, kind=Kind.FLOW),
            StepInput(symbol="ρ₀", value=calibration, kind=Kind.DENSITY),
            StepInput(symbol="ρ", value=density, kind=Kind.DENSITY),
        ),
        value=flow,
        kind=Kind.FLOW,
        source=_("Pressure-difference flow devices (from memory, text not checked)"),
    )
    return flow, (*found.steps, step)


def _compared(share_off: float, tolerance: float) -> tuple[Step, Step]:
    return (
        Step(
            label=_("The fan reads off by"),
            formula=_("(flow of the fan − flow expected) / flow expected"),
            value=share_off,
            kind=Kind.FRACTION,
        ),
        Step(
            label=_("Tolerance"),
            formula=_("size of the difference ≤ tolerance"),
            value=tolerance,
            kind=Kind.FRACTION,
            source=_("As typed; 5% where nothing is typed, a rule of this program"),
        ),
    )
