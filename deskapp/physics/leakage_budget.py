"""The uncertainty budget of a leakage result: the flow at the target pressure."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import partial

from deskapp.physics.guards import bare_number, require_not_negative, require_positive
from deskapp.physics.target import flow_at_target, induced_pressure
from deskapp.physics.uncertainty import Budget, Input, budget


class BudgetPart(StrEnum):
    """What makes a leakage result uncertain; the names of the rows of its budget."""

    FAN_CALIBRATION = "fan_calibration"
    FAN_SIGNAL = "fan_signal"
    AIR_DENSITY = "air_density"
    REPEATS = "repeats"
    RESIDUAL_FLOW = "residual_flow"
    DUCT_PRESSURE = "duct_pressure"
    BASELINE = "baseline"
    EXPONENT = "exponent"


@dataclass(frozen=True, slots=True)
class Estimate:
    """A value and its standard uncertainty in the same unit."""

    value: float
    standard_uncertainty: float = 0.0


@dataclass(frozen=True, slots=True)
class LeakageCase:
    """One result: what was measured, and how well.

    `flow`: mean leakage flow at the induced pressure, corrected for density [m3/s].
    `target_pressure`: as a size [Pa].
    `reading`, `baseline`: mean duct pressure and baseline as the gauge showed them, signed [Pa].
    `exponent`: pressure exponent of the leakage [1].
    `calibration`: relative standard uncertainty of the fan's calibration [1].
    `signal`, `signal_exponent`: fan pressure signal the flow came from [Pa] and n of the ring;
    None when the flow itself was read.
    `air_density`: density at the fan that the flow was corrected for [kg/m3]; None without a
    correction. The flow goes by one over its square root.
    `repeats`: standard uncertainty of the mean flow from the spread of repeats [m3/s].
    `residual_flow`: standard uncertainty from flow that should not have been there, such as that
    between ducts and house when their pressures were not quite the same [m3/s].

    A result from a fitted curve fits in as well: `reading` at the target with the uncertainty of
    the gauge, `exponent` that of the curve without uncertainty, and as `repeats` flow times
    `log_error` of the curve, widened by Student's quantile over the coverage factor.
    """

    flow: float
    target_pressure: float
    reading: Estimate
    exponent: Estimate
    calibration: float
    baseline: Estimate = Estimate(0.0)
    signal: Estimate | None = None
    signal_exponent: float = 0.5
    air_density: Estimate | None = None
    repeats: float = 0.0
    residual_flow: float = 0.0


def flow_budget(case: LeakageCase) -> Budget:
    """Budget of the leakage flow at the target pressure.

    Plain floats only.

    Args:
        case: what was measured, and how well [LeakageCase].

    Returns:
        Budget in m3/s, a row for each part that is uncertain [Budget].

    Range: a result of one pressure or of a fitted curve; independent inputs.

    Raises:
        ValueError: a number is outside the range of its formula, which names it.

    Source: ISO/IEC Guide 98-3:2008 (GUM), 5.1.2, on the power law of leakage; from memory,
        checked in the tests against another implementation.
    """
    require_not_negative("flow", case.flow)
    require_positive("target_pressure", case.target_pressure)
    return budget(partial(_flow_at_target, case), _inputs(case))


def _inputs(case: LeakageCase) -> list[Input]:
    inputs = [Input(BudgetPart.FAN_CALIBRATION, 1.0, case.calibration)]
    if case.signal is not None:
        inputs.append(_input(BudgetPart.FAN_SIGNAL, case.signal))
    if case.air_density is not None:
        inputs.append(_input(BudgetPart.AIR_DENSITY, case.air_density))
    return [
        *inputs,
        Input(BudgetPart.REPEATS, 0.0, case.repeats),
        Input(BudgetPart.RESIDUAL_FLOW, 0.0, case.residual_flow),
        _input(BudgetPart.DUCT_PRESSURE, case.reading),
        _input(BudgetPart.BASELINE, case.baseline),
        _input(BudgetPart.EXPONENT, case.exponent),
    ]


def _input(part: BudgetPart, estimate: Estimate) -> Input:
    return Input(part, estimate.value, estimate.standard_uncertainty)


def _flow_at_target(case: LeakageCase, values: dict[str, float]) -> float:
    flow = case.flow * values[BudgetPart.FAN_CALIBRATION]
    if case.signal is not None:
        require_positive("signal", values[BudgetPart.FAN_SIGNAL])
        flow = flow * (values[BudgetPart.FAN_SIGNAL] / case.signal.value) ** case.signal_exponent
    if case.air_density is not None:
        require_positive("air_density", values[BudgetPart.AIR_DENSITY])
        flow = flow * (case.air_density.value / values[BudgetPart.AIR_DENSITY]) ** 0.5
    flow = flow + values[BudgetPart.REPEATS] + values[BudgetPart.RESIDUAL_FLOW]
    induced = induced_pressure(values[BudgetPart.DUCT_PRESSURE], values[BudgetPart.BASELINE])
    size = abs(bare_number(induced))
    return flow_at_target(flow, case.target_pressure, size, values[BudgetPart.EXPONENT])
