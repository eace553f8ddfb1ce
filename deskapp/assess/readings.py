"""From what the gauge showed to the flow at the target pressure, one reading at a time."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from deskapp.assess import reading_findings as say
from deskapp.assess.curve_findings import low_point
from deskapp.domain.choices import Direction
from deskapp.domain.finding import Finding, Level
from deskapp.domain.instrument import Ring
from deskapp.domain.measured import Measured, si_of
from deskapp.domain.result import ReadingResult
from deskapp.domain.trial import Reading
from deskapp.physics import flow_device, target

RING_ROOM = 1.25
"""How far a flow may lie beyond the flow range of its ring before it earns a remark [1].

Source: house rule of this program; the range on a certificate is rounded. No published source."""

DISAGREEMENT = 0.03
"""Difference between typed flow and flow from the fan signal that earns a finding. House rule."""


@dataclass(frozen=True, slots=True)
class Conditions:
    """What all readings of one test share; pressures in Pa, `target` without a sign.

    `several` says that they follow a curve over several pressures. `house_factor` turns the flow
    of the air at the fan into that of the air through the envelope of a house.
    """

    path: str
    direction: Direction | None
    baseline: float
    target: float | None
    exponent: float
    ring: Ring | None
    density_factor: float
    several: bool = False
    house_factor: float = 1.0


@dataclass(frozen=True, slots=True)
class Worked:
    """A reading worked out. `usable` is false while something stands in the way."""

    result: ReadingResult
    findings: tuple[Finding, ...]
    complete: bool
    usable: bool


def is_blank(reading: Reading) -> bool:
    """Say whether nothing was typed into a reading."""
    values = (reading.duct_pressure, reading.fan_signal, reading.indicated_flow)
    return all(value is None for value in values)


def work_out(path: str, position: int, reading: Reading, conditions: Conditions) -> Worked:
    """Work out the reading at `path`; what stands in the way is said in the findings."""
    findings: list[Finding] = []
    flow = _indicated_flow(path, reading, conditions.ring, findings)
    pressure = si_of(reading.duct_pressure)
    induced = None
    if pressure is not None:
        induced = target.induced_pressure(pressure, conditions.baseline)
        findings += say.direction(path, reading, induced, conditions.direction)
    blocked = any(finding.level is Level.STOP for finding in findings)
    actual = None
    if flow is not None:
        actual = flow * conditions.density_factor * conditions.house_factor
    factor = _factor(induced, conditions)
    if induced is not None and not blocked:
        findings += (
            _low_point(path, induced)
            if conditions.several
            else say.pressure(path, induced, factor, conditions.target)
        )
    complete = flow is not None and induced is not None
    no_ring = any(finding.code == "ring_unknown" for finding in findings)
    if not complete and not blocked and not no_ring:
        findings.append(say.incomplete(path, reading))
    at_target = None
    if complete and not blocked and factor is not None and actual is not None:
        at_target = actual * factor
    result = ReadingResult(
        index=position,
        induced_pressure=induced,
        fan_signal=si_of(reading.fan_signal),
        indicated_flow=flow,
        actual_flow=actual,
        target_factor=factor,
        flow_at_target=at_target,
    )
    return Worked(result, tuple(findings), complete, usable=not blocked)


def _low_point(path: str, induced: float) -> Iterator[Finding]:
    if 0.0 < abs(induced) < target.LOWEST_PRESSURE_PA:
        yield low_point(path, abs(induced), target.LOWEST_PRESSURE_PA)


def _factor(induced: float | None, conditions: Conditions) -> float | None:
    if induced is None or conditions.target is None or conditions.several:
        return None
    if abs(induced) < target.LOWEST_PRESSURE_PA:
        return None
    if abs(induced) > target.HIGHEST_MULTIPLE * conditions.target:
        return None
    return target.target_factor(conditions.target, abs(induced), conditions.exponent)


def _indicated_flow(
    path: str, reading: Reading, ring: Ring | None, findings: list[Finding]
) -> float | None:
    typed = si_of(reading.indicated_flow)
    from_signal = _flow_from_signal(path, reading.fan_signal, ring, findings, typed is not None)
    if from_signal is None:
        return typed
    if typed is not None and abs(typed - from_signal) > DISAGREEMENT * from_signal:
        findings.append(say.flows_disagree(path, typed, from_signal))
    return from_signal


def _flow_from_signal(
    path: str,
    signal: Measured | None,
    ring: Ring | None,
    findings: list[Finding],
    flow_is_typed: bool,
) -> float | None:
    value = si_of(signal)
    if value is None:
        return None
    coefficient = si_of(ring.coefficient) if ring else None
    exponent = si_of(ring.exponent) if ring else None
    if ring is None or coefficient is None or exponent is None:
        if not flow_is_typed:
            findings.append(say.ring_unknown(path, ring))
        return None
    low, high = _in_order(ring.signal_low, ring.signal_high)
    if value < 0 or (low is not None and value < low) or (high is not None and value > high):
        findings.append(say.signal_out_of_range(path, value, low, high))
        return None
    try:
        flow = flow_device.ring_flow(coefficient, exponent, value)
    except (ValueError, OverflowError):
        findings.append(say.ring_unknown(path, ring))
        return None
    findings += _unlike_its_ring(path, flow, ring)
    return flow


def _unlike_its_ring(path: str, flow: float, ring: Ring) -> Iterator[Finding]:
    """Yield a remark where the flow lies far outside the flow range that names the ring."""
    low, high = _in_order(ring.flow_low, ring.flow_high)
    if (low is not None and flow < low / RING_ROOM) or (high and flow > high * RING_ROOM):
        yield say.unlike_its_ring(path, flow, low, high)


def _in_order(low: Measured | None, high: Measured | None) -> tuple[float | None, float | None]:
    """Return the ends of a range; one typed the wrong way round has a stop of its own."""
    ends = si_of(low), si_of(high)
    turned = ends[0] is not None and ends[1] is not None and ends[0] > ends[1]
    return (ends[1], ends[0]) if turned else ends
