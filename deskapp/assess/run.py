"""The readings of one direction of a test, brought to the target pressure."""

from __future__ import annotations

from dataclasses import dataclass, replace

from deskapp.assess import curve as curves
from deskapp.assess import curve_findings as say
from deskapp.assess.air_at_fan import AirAtFan
from deskapp.assess.house_air import HouseAir
from deskapp.assess.readings import Conditions, Worked
from deskapp.domain.choices import Direction
from deskapp.domain.finding import Finding
from deskapp.domain.result import ReadingResult
from deskapp.domain.result_parts import CurveResult
from deskapp.physics import statistics, target

REACHED = 0.9
"""Share of the target below which a result is called extrapolated. House rule."""

EXPONENT_RANGE = (0.5, 0.7)
"""Exponents for the range printed with an extrapolated result. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Setting:
    """What holds for one direction of a test: `direction` is None where nobody said."""

    direction: Direction | None
    conditions: Conditions
    fan_air: AirAtFan
    house_air: HouseAir


@dataclass(frozen=True, slots=True)
class Run:
    """One direction worked out: pressures as sizes in Pa, flows in m3/s; `flow` at the target.

    `exponent` is that of the curve, or the one assumed. `used` are the readings that count.
    """

    setting: Setting
    readings: tuple[ReadingResult, ...]
    used: tuple[ReadingResult, ...] = ()
    flow: float | None = None
    exponent: float = target.RESIDENTIAL_EXPONENT
    mean_pressure: float | None = None
    highest_pressure: float | None = None
    spread: float | None = None
    curve: CurveResult | None = None
    extrapolated: bool = False
    low: float | None = None
    high: float | None = None
    findings: tuple[Finding, ...] = ()


def work_out_run(
    setting: Setting, worked: tuple[Worked, ...], *, blocked: bool, strict: bool
) -> Run:
    """Bring the readings of one direction to the target; `flow` is None where that cannot be.

    `blocked` says that something stands in the way of a result; `strict` that a curve is held to
    the standards for houses.
    """
    readings = tuple(reading.result for reading in worked)
    used = tuple(reading.result for reading in worked if reading.complete)
    bare = Run(setting, readings, used, exponent=setting.conditions.exponent)
    if setting.conditions.several:
        return _several(bare, blocked=blocked, strict=strict)
    return _single(bare, blocked=blocked)


def _single(bare: Run, *, blocked: bool) -> Run:
    conditions = bare.setting.conditions
    flows = [row.flow_at_target for row in bare.used if row.flow_at_target is not None]
    if not flows or len(flows) != len(bare.used) or blocked:
        return bare
    flow = statistics.mean(flows)
    sizes = [abs(row.induced_pressure or 0.0) for row in bare.used]
    mean_pressure = statistics.mean(sizes)
    extrapolated = mean_pressure < REACHED * (conditions.target or 0.0)
    low, high = _range(bare) if extrapolated else (None, None)
    return replace(
        bare,
        flow=flow,
        mean_pressure=mean_pressure,
        highest_pressure=max(sizes),
        spread=statistics.spread(flows) if flow > 0 and len(flows) > 1 else None,
        extrapolated=extrapolated,
        low=low,
        high=high,
    )


def _range(run: Run) -> tuple[float, float]:
    """Return the lowest and highest mean flow at target over EXPONENT_RANGE."""
    wanted = run.setting.conditions.target or 0.0
    means = [
        statistics.mean(
            [
                target.flow_at_target(
                    row.actual_flow or 0.0, wanted, abs(row.induced_pressure or 0.0), n
                )
                for row in run.used
            ]
        )
        for n in EXPONENT_RANGE
    ]
    return min(means), max(means)


def _several(bare: Run, *, blocked: bool, strict: bool) -> Run:
    conditions = bare.setting.conditions
    if blocked or not bare.used:
        return bare
    wanted = conditions.target
    drawn = curves.draw(
        conditions.path, list(bare.used), wanted, bare.setting.direction, strict=strict
    )
    curve = drawn.curve
    found = replace(bare, curve=curve, findings=drawn.findings)
    if curve is None or not drawn.usable:
        return found
    highest = max(point.pressure for point in curve.points)
    found = replace(found, exponent=curve.exponent, highest_pressure=highest)
    at_target = curve.flow_at_target
    if highest < target.LOWEST_PRESSURE_PA:
        low_finding = say.all_low(conditions.path, highest, target.LOWEST_PRESSURE_PA)
        return replace(found, findings=(*found.findings, low_finding))
    if wanted is None or at_target is None:
        return found
    extrapolated = highest < REACHED * wanted
    to_standard = found.setting.house_air.to_standard(curve.exponent)
    return replace(
        found,
        flow=at_target * to_standard,
        extrapolated=extrapolated,
        low=_times(curve.flow_low, to_standard) if extrapolated else None,
        high=_times(curve.flow_high, to_standard) if extrapolated else None,
        readings=_on_curve(found.readings, wanted, curve.exponent, to_standard),
    )


def _times(value: float | None, factor: float) -> float | None:
    return None if value is None else value * factor


def _on_curve(
    readings: tuple[ReadingResult, ...], wanted: float, exponent: float, to_standard: float
) -> tuple[ReadingResult, ...]:
    """Return the readings, each carried to the target along the exponent of the curve."""
    carried: list[ReadingResult] = []
    for row in readings:
        size = abs(row.induced_pressure or 0.0)
        if row.actual_flow is None or size <= 0.0:
            carried.append(row)
            continue
        factor = (wanted / size) ** exponent * to_standard
        carried.append(
            row.model_copy(
                update={"target_factor": factor, "flow_at_target": row.actual_flow * factor}
            )
        )
    return tuple(carried)
