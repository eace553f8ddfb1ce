"""Parts of a result: the curve, the budget of uncertainty, the house, classes, both sides.

SI values throughout: pressures Pa, flows m3/s, areas m2, flows per area m/s, shares 0 to 1. None
stands where something could not be worked out.
"""

from __future__ import annotations

from enum import StrEnum

from deskapp.domain.base import Frozen
from deskapp.domain.choices import Direction, Metric, Stage
from deskapp.domain.limit import Verification
from deskapp.units.kinds import Kind


class CurvePoint(Frozen):
    """One reading on the curve; `reading` is its position among the readings of the test.

    `residual_percent` is how far its flow lies above the curve, in percent of it. `is_off` names a
    point further off the curve of the others than chance explains; it still counts.
    """

    reading: int
    pressure: float
    flow: float
    curve_flow: float
    residual_percent: float
    is_off: bool = False


class CurveBand(Frozen):
    """The curve at one pressure, for drawing, with the interval that holds the true curve."""

    pressure: float
    flow: float
    low: float | None = None
    high: float | None = None


class CurveResult(Frozen):
    """The leakage curve Q = C P^n through readings at several pressures.

    `coefficient` is the flow at 1 Pa; the errors are standard ones, of n and of ln C; intervals
    hold the true value with the probability `confidence`. `flow_low` and `flow_high` bound the
    curve at the target, `prediction_low` and `prediction_high` one more reading there.
    `log_error` is the standard error of ln Q at the target, `t_quantile` what widens it to the
    interval. `band` is the curve to be drawn.
    """

    direction: Direction | None = None
    coefficient: float
    exponent: float
    coefficient_low: float | None = None
    coefficient_high: float | None = None
    exponent_low: float | None = None
    exponent_high: float | None = None
    exponent_error: float | None = None
    log_coefficient_error: float | None = None
    r_squared: float | None = None
    confidence: float = 0.95
    target_pressure: float | None = None
    flow_at_target: float | None = None
    flow_low: float | None = None
    flow_high: float | None = None
    prediction_low: float | None = None
    prediction_high: float | None = None
    log_error: float | None = None
    t_quantile: float | None = None
    points: tuple[CurvePoint, ...] = ()
    band: tuple[CurveBand, ...] = ()


class DirectionResult(Frozen):
    """One of the two directions of a test, worked out by itself."""

    direction: Direction
    readings: int
    flow: float | None = None
    mean_induced_pressure: float | None = None
    highest_pressure: float | None = None
    spread: float | None = None
    curve: CurveResult | None = None


class BudgetOf(StrEnum):
    """Which figure a budget of uncertainty belongs to."""

    FLOW = "flow"
    PER_AREA = "per_area"
    FAN_SHARE = "fan_share"
    PER_SURFACE = "per_surface"


class BudgetRow(Frozen):
    """What one input adds to the uncertainty of a result.

    `value` and `standard_uncertainty` are SI of `kind`; `contribution` is in the unit of the
    result; `share` is the part of the variance, the shares of a budget sum to 1. `basis` says
    where the uncertainty comes from; `is_assumed` that nobody entered it.
    """

    id: str
    label: str
    kind: Kind
    value: float
    standard_uncertainty: float
    contribution: float
    share: float
    basis: str = ""
    is_assumed: bool = False


class BudgetResult(Frozen):
    """The budget of one figure: its value, combined and expanded uncertainty, and the rows.

    `value`, `combined` and `expanded` are SI of `kind`; expanded is `coverage_factor` times the
    combined standard uncertainty.
    """

    of: BudgetOf
    kind: Kind
    value: float
    combined: float
    expanded: float
    coverage_factor: float = 2.0
    rows: tuple[BudgetRow, ...] = ()

    @property
    def relative(self) -> float | None:
        """Combined standard uncertainty as a share of the value; None for a value of zero."""
        return self.combined / self.value if self.value > 0.0 else None

    @property
    def relative_expanded(self) -> float | None:
        """Expanded uncertainty as a share of the value; None for a value of zero."""
        return self.expanded / self.value if self.value > 0.0 else None


class Assumption(Frozen):
    """A number that a figure rests on: given by a person, or taken for want of one.

    `value` is SI of `kind` and None where words say it all; `source` says where it comes from.
    """

    id: str
    label: str
    value: float | None = None
    kind: Kind = Kind.NUMBER
    text: str = ""
    is_given: bool = False
    source: str = ""


class EnvelopeResult(Frozen):
    """The air tightness of the house itself, from a test of it.

    `flow_50` at 50 Pa, `air_changes_50` per hour, `per_floor_area` and `per_envelope_area` at
    50 Pa. `leakage_area_4` is at 4 Pa with a discharge coefficient of 1, `leakage_area_10` at
    10 Pa with 0.611. `exponent` and `coefficient` are those at standard air where `is_standard`
    says so. Intervals come from the curve alone. `has_curve` is false where the exponent was
    assumed; then the leakage areas are orientation only.
    """

    flow_50: float
    flow_50_low: float | None = None
    flow_50_high: float | None = None
    air_changes_50: float | None = None
    per_floor_area: float | None = None
    per_envelope_area: float | None = None
    leakage_area_4: float | None = None
    leakage_area_10: float | None = None
    coefficient: float | None = None
    exponent: float | None = None
    is_standard: bool = False
    has_curve: bool = False


class DuctClass(Frozen):
    """The class a duct section reaches by its leakage per duct surface.

    `value` is the measured number behind it in `unit`, `limit` the bound of the class at the test
    pressure in the same unit; None for a number that is a class by itself. `edition` is stored
    with the class, as editions differ in what they ask for. `status` is how well it is known.
    """

    standard: str
    edition: str
    name: str
    value: float
    unit: str = ""
    limit: float | None = None
    next_name: str = ""
    next_limit: float | None = None
    source: str = ""
    status: Verification = Verification.SECONDARY


class SidesResult(Frozen):
    """Supply and return measured apart, and their sum against the whole.

    `total` and `agrees` are None where no like test of the whole system was made; `allowed` is the
    greatest difference that counts as agreement.
    """

    stage: Stage | None = None
    metric: Metric | None = None
    target_pressure: float
    supply_test: str
    return_test: str
    supply: float
    returns: float
    sum: float
    total_test: str = ""
    total: float | None = None
    difference: float | None = None
    allowed: float | None = None
    agrees: bool | None = None
