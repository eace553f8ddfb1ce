"""The budgets of uncertainty of a test: its flow, and its flow per area, fan flow and surface."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Any

from deskapp.assess import accuracy
from deskapp.assess.accuracy import Bound
from deskapp.assess.budget_case import Basis, Known, Measurement, known
from deskapp.domain.measured import si_of
from deskapp.domain.result import TestResult
from deskapp.domain.result_parts import BudgetOf, BudgetResult, BudgetRow
from deskapp.i18n import N_, _
from deskapp.physics.leakage_budget import BudgetPart, LeakageCase, flow_budget
from deskapp.physics.uncertainty import COVERAGE_FACTOR, Budget, combined
from deskapp.units.display import words_key
from deskapp.units.kinds import Kind

_ROWS: dict[BudgetPart, tuple[str, Kind]] = {
    BudgetPart.FAN_CALIBRATION: (N_("Calibration of the fan"), Kind.FRACTION),
    BudgetPart.FAN_SIGNAL: (N_("Gauge, fan signal"), Kind.PRESSURE),
    BudgetPart.AIR_DENSITY: (N_("Air density at the fan"), Kind.DENSITY),
    BudgetPart.REPEATS: (N_("Scatter of the readings"), Kind.FLOW),
    BudgetPart.RESIDUAL_FLOW: (N_("Flow between ducts and house"), Kind.FLOW),
    BudgetPart.DUCT_PRESSURE: (N_("Gauge, duct pressure"), Kind.PRESSURE),
    BudgetPart.BASELINE: (N_("Drift of the baseline"), Kind.PRESSURE),
    BudgetPart.EXPONENT: (N_("Leakage exponent"), Kind.NUMBER),
}
# What a flow is divided by: name of the row, its kind, the figure, its kind.
_DIVISORS: dict[BudgetOf, tuple[str, str, Kind, Kind]] = {
    BudgetOf.PER_AREA: ("area", N_("Floor area served"), Kind.AREA, Kind.FLOW_PER_AREA),
    BudgetOf.FAN_SHARE: ("fan_flow", N_("Air handler flow"), Kind.FLOW, Kind.FRACTION),
    BudgetOf.PER_SURFACE: ("duct_surface", N_("Duct surface"), Kind.AREA, Kind.FLOW_PER_AREA),
}

_FIELDS: dict[BudgetOf, str] = {
    BudgetOf.PER_AREA: "area_budget",
    BudgetOf.FAN_SHARE: "fan_budget",
    BudgetOf.PER_SURFACE: "surface_budget",
}


def with_budgets(one: Measurement) -> TestResult:
    """Return the result with its budgets; as it is where there is no flow to be sure of."""
    result = one.result
    if result.flow is None or result.target_pressure is None:
        return result
    try:
        how = known(one)
        flow, *others = _worked_out(how.case, how.bases, tuple(_divisors(one)), words_key())
    except (ValueError, OverflowError, ZeroDivisionError):
        return result
    update: dict[str, Any] = {"budget": flow, "residual_share": _residual_share(how)}
    update |= {_FIELDS[other.of]: other for other in others}
    if result.extrapolated:
        update["extrapolation_uncertainty"] = _added(one, flow)
    return result.model_copy(update=update)


@lru_cache(maxsize=256)
def _worked_out(
    case: LeakageCase,
    bases: tuple[tuple[BudgetPart, Basis], ...],
    divisors: tuple[tuple[BudgetOf, float, Bound], ...],
    _words: str,
) -> tuple[BudgetResult, ...]:
    """Return the budget of the flow, then of the flow over each divisor.

    They are kept, as most edits leave most tests as they are.
    """
    flow = _of_flow(flow_budget(case), dict(bases))
    return (flow, *(_over(flow, of, divisor, bound) for of, divisor, bound in divisors))


def _of_flow(worked: Budget, bases: dict[BudgetPart, Basis]) -> BudgetResult:
    rows: list[BudgetRow] = []
    for row in worked.rows:
        part = BudgetPart(row.name)
        basis = bases.get(part)
        if basis is None:
            continue
        label, kind = _ROWS[part]
        rows.append(
            BudgetRow(
                id=row.name,
                label=_(label),
                kind=kind,
                value=row.value,
                standard_uncertainty=row.standard_uncertainty,
                contribution=row.contribution,
                share=row.share,
                basis=basis.words,
                is_assumed=basis.is_assumed,
            )
        )
    return BudgetResult(
        of=BudgetOf.FLOW,
        kind=Kind.FLOW,
        value=worked.value,
        combined=worked.standard_uncertainty,
        expanded=worked.expanded_uncertainty,
        coverage_factor=worked.coverage_factor,
        rows=tuple(rows),
    )


def _divisors(one: Measurement) -> Iterator[tuple[BudgetOf, float, Bound]]:
    """Yield floor area, fan flow and duct surface, with how far each may be off."""
    system, result = one.job.system(one.test.system), one.result
    if system is None:
        return
    if result.flow_per_area is not None:
        yield BudgetOf.PER_AREA, si_of(system.area_served) or 0.0, accuracy.of_area(one.job)
    if result.fan_fraction is not None:
        yield BudgetOf.FAN_SHARE, si_of(system.fan_flow) or 0.0, accuracy.of_fan_flow(system)
    if result.flow_per_surface is not None:
        yield BudgetOf.PER_SURFACE, si_of(system.duct_surface) or 0.0, accuracy.of_surface()


def _over(flow: BudgetResult, of: BudgetOf, divisor: float, bound: Bound) -> BudgetResult:
    """Return the budget of a flow divided by something known to a share of itself.

    The parts of the flow are divided along, and the divisor adds its own relative part; to first
    order that is the budget of the quotient (ISO/IEC Guide 98-3, 5.1.6).
    """
    row_id, label, row_kind, kind = _DIVISORS[of]
    value, of_flow = flow.value / divisor, flow.combined / divisor
    own = value * bound.standard
    total = combined((of_flow, own))
    rows = tuple(
        row.model_copy(
            update={
                "contribution": row.contribution / divisor,
                "share": _share(row.contribution / divisor, total),
            }
        )
        for row in flow.rows
    )
    last = BudgetRow(
        id=row_id,
        label=_(label),
        kind=row_kind,
        value=divisor,
        standard_uncertainty=divisor * bound.standard,
        contribution=own,
        share=_share(own, total),
        basis=bound.basis,
        is_assumed=bound.is_assumed,
    )
    return BudgetResult(
        of=of,
        kind=kind,
        value=value,
        combined=total,
        expanded=COVERAGE_FACTOR * total,
        coverage_factor=COVERAGE_FACTOR,
        rows=(*rows, last),
    )


def _share(part: float, total: float) -> float:
    return (part / total) ** 2 if total > 0.0 else 0.0


def _residual_share(how: Known) -> float | None:
    """Return the most that may have flowed between ducts and house, as a share of the flow.

    That is the whole half-width, not the standard uncertainty the budget takes from it.
    """
    if BudgetPart.RESIDUAL_FLOW not in dict(how.bases) or how.case.flow <= 0.0:
        return None
    return how.most_between / how.case.flow


def _added(one: Measurement, flow: BudgetResult) -> float:
    """Return what carrying the flow up to the target adds, m3/s, with k = 2.

    That is the part of the exponent; for a curve, the scatter of the curve at the target.
    """
    is_curve = one.result.mean_induced_pressure is None
    wanted = BudgetPart.REPEATS if is_curve else BudgetPart.EXPONENT
    parts = [row.contribution for row in flow.rows if row.id == wanted.value]
    return COVERAGE_FACTOR * sum(parts)
