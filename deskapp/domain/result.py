"""What was worked out from a job: readings, results, verdicts and the steps that lead to them."""

from __future__ import annotations

from enum import StrEnum

from deskapp.domain.base import Frozen
from deskapp.domain.choices import AreaSource, Direction, Method, Metric, Part
from deskapp.domain.finding import Finding
from deskapp.domain.limit import Verification
from deskapp.domain.owner_result import NO_ESTIMATE, KeptEstimate, OwnerResult
from deskapp.domain.repair_result import RepairLedger, RetestResult
from deskapp.domain.result_parts import (
    BudgetOf,
    BudgetResult,
    CurveResult,
    DirectionResult,
    DuctClass,
    EnvelopeResult,
    SidesResult,
)
from deskapp.domain.step import NO_TRACE, KeptTrace, Step
from deskapp.domain.step import StepInput as StepInput


class Verdict(StrEnum):
    """The outcome against one limit, for one system, or for the job."""

    PASS = "pass"
    FAIL = "fail"
    NONE = "none"


class ReadingResult(Frozen):
    """One reading worked out; pressures in Pa, flows in m3/s. None: could not be worked out."""

    index: int
    induced_pressure: float | None = None
    fan_signal: float | None = None
    indicated_flow: float | None = None
    actual_flow: float | None = None
    target_factor: float | None = None
    flow_at_target: float | None = None


class TestResult(Frozen):
    """One test worked out; None where it could not be, and then `findings` of the job say why.

    Flows m3/s at `target_pressure` Pa, `flow_per_area` m/s, areas m2, length m, fractions 0 to 1.
    `flow_low`, `flow_high`: the range for exponents 0.5 to 0.7 when the target was not reached; of
    a curve its interval there. A test at several pressures has its `curve` and no
    `mean_induced_pressure`; one in both directions has `directions`, and its `flow` is the mean of
    theirs. `budget` and the budgets after it tell how sure the figures are;
    `extrapolation_uncertainty` is what carrying the flow up to the target adds (k = 2).
    `residual_share` is the most of it that may have flowed between ducts and house, in a test to
    outside.
    `refused` says why no verdict may be drawn from the result; `trace` holds the arithmetic.
    `held` says that a value of it cannot be used, that at the path `held_by`, and it has no `flow`.
    `not_corrected` says that its flows are as indicated although air density was to be corrected
    for, or nobody said whether it is.
    """

    __test__ = False

    test: str
    system: str
    metric: Metric | None = None
    method: Method = Method.SINGLE_PRESSURE
    part: Part = Part.WHOLE
    direction: Direction | None = None
    target_pressure: float | None = None
    readings: tuple[ReadingResult, ...] = ()
    flow: float | None = None
    mean_induced_pressure: float | None = None
    highest_pressure: float | None = None
    spread: float | None = None
    flow_per_area: float | None = None
    fan_fraction: float | None = None
    exponent: float | None = None
    air_density: float | None = None
    calibration_density: float | None = None
    density_factor: float = 1.0
    not_corrected: str = ""
    extrapolated: bool = False
    flow_low: float | None = None
    flow_high: float | None = None
    hole_area: float | None = None
    hole_diameter: float | None = None
    curve: CurveResult | None = None
    directions: tuple[DirectionResult, ...] = ()
    budget: BudgetResult | None = None
    area_budget: BudgetResult | None = None
    fan_budget: BudgetResult | None = None
    surface_budget: BudgetResult | None = None
    flow_per_surface: float | None = None
    extrapolation_uncertainty: float | None = None
    residual_share: float | None = None
    envelope: EnvelopeResult | None = None
    classes: tuple[DuctClass, ...] = ()
    refused: str = ""
    held: str = ""
    held_by: str = ""
    trace: KeptTrace = NO_TRACE

    @property
    def steps(self) -> tuple[Step, ...]:
        """The lines of arithmetic that lead to the result."""
        return self.trace.value


class LimitOutcome(Frozen):
    """One test judged by one limit, in the code's own unit.

    `measured`, `limit` and `margin` are in `unit`; margin is limit minus measured (for a required
    reduction: measured minus required), so that a negative margin always means not met.
    `limit_flow` is the greatest flow that meets it, m3/s; of a rule with several ways, that of
    the way shown: the first one met, else the easiest. `lines` is the
    arithmetic in words and numbers. `waiver` tells, with clause and status, that the test is not
    asked for; with no `test` made it is then waived, which is no pass. `field` is the path of the
    field where `reason`, or what speaks `against` a row fixed by hand, can be mended, such as
    ``systems.*.returns``.

    `uncertainty` is the expanded one of `measured` (k = 2), in `unit`, and `uncertainty_of` the
    budget it comes from, which may count more than the flow; then `flow_uncertainty` is what it is
    for the flow alone. `probability` is that of the true value keeping the limit. All inform only:
    the verdict is simple acceptance, and `too_close` with its `remark` never changes it. Only a
    result that is no larger than its own uncertainty gives no verdict on a limit within that
    uncertainty.
    """

    limit: str
    test: str = ""
    edition: str
    body: str
    clause: str = ""
    row: str = ""
    rule_text: str = ""
    verdict: Verdict = Verdict.NONE
    reason: str = ""
    against: str = ""
    field: str = ""
    measured: float | None = None
    limit_value: float | None = None
    margin: float | None = None
    unit: str = ""
    limit_flow: float | None = None
    lines: tuple[str, ...] = ()
    status: Verification | None = None
    source: str = ""
    note: str = ""
    waiver: str = ""
    uncertainty: float | None = None
    uncertainty_of: BudgetOf | None = None
    flow_uncertainty: float | None = None
    probability: float | None = None
    too_close: bool = False
    remark: str = ""

    @property
    def is_waived(self) -> bool:
        """Whether the test was not made because none is asked for."""
        return bool(self.waiver) and not self.test


class AreaOutcome(Frozen):
    """What one figure for the area a system serves leads to, under one limit.

    `source` is None for an area served that is none of the figures given beside it. Areas m2,
    `flow_per_area` m/s; the other numbers are those of a `LimitOutcome`. Only the figure that
    `decides` counts for the verdict of the system.
    """

    limit: str
    edition: str
    test: str
    source: AreaSource | None = None
    decides: bool = False
    area: float
    flow_per_area: float | None = None
    row: str = ""
    verdict: Verdict = Verdict.NONE
    reason: str = ""
    measured: float | None = None
    limit_value: float | None = None
    margin: float | None = None
    unit: str = ""


class AreaCheck(Frozen):
    """The area one system serves, beside the house and its own cooling capacity.

    `area` m2, `house_share` 0 to 1, `area_per_ton` m2 per ton of cooling; `per_ton_usual` says
    whether that lies within the usual band.
    """

    system: str
    name: str
    area: float | None = None
    house_share: float | None = None
    area_per_ton: float | None = None
    per_ton_usual: bool | None = None


class SystemResult(Frozen):
    """One system: its latest test judged by every chosen limit, and its earlier tests.

    `areas` holds the verdict for each figure of the area, where several are given and differ;
    `sides` supply and return where they were tested apart; `estimate` the figures for the owner.
    `remarks` are what anyone who reads the verdict must know beside it; none of them changes it.
    """

    system: str
    name: str
    test: str = ""
    earlier: tuple[str, ...] = ()
    outcomes: tuple[LimitOutcome, ...] = ()
    areas: tuple[AreaOutcome, ...] = ()
    sides: tuple[SidesResult, ...] = ()
    estimate: KeptEstimate = NO_ESTIMATE
    verdict: Verdict = Verdict.NONE
    reason: str = ""
    remarks: tuple[str, ...] = ()

    @property
    def owner(self) -> OwnerResult | None:
        """The figures for the owner; None where the system was never tested as a whole."""
        return self.estimate.value


class HouseResult(Frozen):
    """The house as a whole, for orientation only: codes judge each system by itself.

    `would_hide` is true when the house total would pass while a system does not. `area` is that of
    the house, `system_area` what the systems serve in all [m2]; `area_gap` is by what share of the
    house the second is greater.
    """

    area: float | None = None
    area_source: AreaSource | None = None
    system_area: float | None = None
    area_gap: float | None = None
    area_checks: tuple[AreaCheck, ...] = ()
    flow: float | None = None
    flow_per_area: float | None = None
    would_hide: bool = False


class Assessment(Frozen):
    """Everything worked out from one job."""

    job_number: str = ""
    tests: tuple[TestResult, ...] = ()
    systems: tuple[SystemResult, ...] = ()
    house: HouseResult = HouseResult()
    ledgers: tuple[RepairLedger, ...] = ()
    retests: tuple[RetestResult, ...] = ()
    verdict: Verdict = Verdict.NONE
    reason: str = ""
    findings: tuple[Finding, ...] = ()

    def test(self, key: str) -> TestResult | None:
        """Return the result of the test with this key."""
        return next((result for result in self.tests if result.test == key), None)

    def retest(self, key: str) -> RetestResult | None:
        """Return the test with this key held against the test it repeats."""
        return next((one for one in self.retests if one.test == key), None)

    def of_system(self, key: str) -> SystemResult | None:
        """Return the result of the system with this key."""
        return next((result for result in self.systems if result.system == key), None)
