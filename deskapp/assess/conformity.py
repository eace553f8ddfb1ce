"""How sure a comparison with a limit is: for information, the verdict stays as it is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from deskapp.assess.change import change
from deskapp.domain.limit import (
    Absolute,
    EitherOf,
    FloorAreaFraction,
    GreaterOf,
    LimitRow,
    PercentOfFanFlow,
    PercentReduction,
    PerFloorArea,
    SingleRule,
)
from deskapp.domain.measured import si_of
from deskapp.domain.result import LimitOutcome, TestResult, Verdict
from deskapp.domain.result_parts import BudgetOf, BudgetResult
from deskapp.i18n import _
from deskapp.limits.case import Case, Comparison
from deskapp.limits.digits import telling_decimals
from deskapp.limits.judge import Comparisons
from deskapp.physics.conformity import probability_of_conformity, too_close
from deskapp.units.display import in_sentences

ALMOST_SURE = 0.999
"""A probability beyond this is printed as "more than 99.9%"."""


@dataclass(frozen=True, slots=True)
class Pair:
    """The test that is judged, and the first like test it is held against where there is one.

    `in_common` names the rows of their budgets that both share, and that cancel in part.
    """

    now: TestResult
    first: TestResult | None = None
    in_common: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class _Sure:
    """One way to meet a row: how sure it is that the true value keeps it."""

    comparison: Comparison
    expanded: float
    probability: float
    budget_of: BudgetOf | None = None

    @property
    def is_close(self) -> bool:
        return too_close(self.comparison.limit, self.comparison.measured, self.expanded)


def informed(
    outcome: LimitOutcome, row: LimitRow, case: Case, compared: Comparisons, pair: Pair
) -> dict[str, Any]:
    """Return what is to be added to an outcome: uncertainty, probability and remark.

    Args:
        outcome: the outcome of `row`; its verdict is not looked at to decide anything.
        row: the row it was judged by.
        case: the case it was judged by; flow in m3/s.
        compared: the case held against the rules of the row.
        pair: the results behind the case.
    """
    if outcome.measured is None or outcome.limit_value is None:
        return {}
    rules = row.rule.rules if isinstance(row.rule, EitherOf) else (row.rule,)
    ways = [way for rule in rules if (way := _sure(rule, case, compared, pair))]
    telling = next((way for way in ways if _is_of(way.comparison, outcome)), None)
    if telling is None:
        return {}
    # Meeting one way is enough, so the surest way tells how sure the whole is.
    best = max(ways, key=lambda way: way.probability)
    close = all(way.is_close or way.probability < 0.5 for way in ways) and any(
        way.is_close for way in ways
    )
    return {
        "uncertainty": telling.expanded,
        "uncertainty_of": telling.budget_of,
        "flow_uncertainty": _of_flow_alone(telling, outcome.measured, pair.now.budget),
        "probability": best.probability,
        "too_close": close,
        "remark": _remark(outcome, telling, best.probability) if close else "",
    }


def _of_flow_alone(way: _Sure, measured: float, budget: BudgetResult | None) -> float | None:
    """Return the expanded uncertainty of the flow in `measured`, where more than it counts."""
    relative = budget.relative_expanded if budget else None
    if way.budget_of in (None, BudgetOf.FLOW) or relative is None:
        return None
    return relative * measured


def _is_of(comparison: Comparison, outcome: LimitOutcome) -> bool:
    return (comparison.measured, comparison.limit, comparison.unit) == (
        outcome.measured,
        outcome.limit_value,
        outcome.unit,
    )


def _sure(rule: SingleRule, case: Case, compared: Comparisons, pair: Pair) -> _Sure | None:
    comparison = compared.by(rule)
    if not isinstance(comparison, Comparison):
        return None
    standard = _standard_uncertainty(rule, comparison, case, pair)
    if standard is None:
        return None
    budget = pair.now.budget
    expanded = (budget.coverage_factor if budget else 2.0) * standard
    probability = probability_of_conformity(
        comparison.limit, comparison.measured, standard, upper=not comparison.at_least
    )
    whole = (
        None if isinstance(rule, PercentReduction) else _budget(rule, comparison, case, pair.now)
    )
    return _Sure(comparison, expanded, probability, whole.of if whole else None)


def _standard_uncertainty(
    rule: SingleRule, comparison: Comparison, case: Case, pair: Pair
) -> float | None:
    """Return the standard uncertainty of the comparison, in its unit.

    What the limit is multiplied by, such as the floor area, counts as if the measured flow had
    been divided by it; that is the same comparison.
    """
    if isinstance(rule, PercentReduction):
        return _of_reduction(pair)
    budget = _budget(rule, comparison, case, pair.now)
    if budget is None or budget.value <= 0.0:
        return None
    return comparison.measured * budget.combined / budget.value


def _budget(
    rule: SingleRule, comparison: Comparison, case: Case, result: TestResult
) -> BudgetResult | None:
    if isinstance(rule, Absolute):
        return result.budget
    if isinstance(rule, GreaterOf):
        return result.budget if comparison.limit <= rule.floor else result.area_budget
    if isinstance(rule, PerFloorArea | FloorAreaFraction):
        return result.area_budget
    if isinstance(rule, PercentOfFanFlow):
        is_nominal = si_of(case.fan_flow) is None
        return result.budget if is_nominal else result.fan_budget
    return result.surface_budget


def _of_reduction(pair: Pair) -> float | None:
    """Return the standard uncertainty of a reduction, in percent of the first flow."""
    now, first = pair.now.budget, pair.first.budget if pair.first else None
    if now is None or first is None or now.value <= 0.0:
        return None
    found = change(first, now, pair.in_common)
    return None if found is None else 100.0 * found.share_standard


def _remark(outcome: LimitOutcome, way: _Sure, probability: float) -> str:
    unit = outcome.unit
    decimals = telling_decimals(unit, outcome.measured or 0.0, outcome.limit_value or 0.0)
    spread = in_sentences().in_unit(way.expanded, unit, decimals)
    words = (
        _("Too close to call: the limit lies within the uncertainty of ± {spread} (k = 2).")
        if outcome.verdict is not Verdict.NONE
        else _("The limit lies within the uncertainty of ± {spread} (k = 2).")
    )
    chance = _("The true value keeps the limit with a probability of {probability}.").format(
        probability=chance_words(probability)
    )
    stays = _("The verdict compares the measured value with the limit, and stays.")
    return " ".join((words.format(spread=spread), chance, stays))


def chance_words(probability: float) -> str:
    """Return a probability for a sentence: ``71%`` on one line, never quite 0 or 100."""
    if probability > ALMOST_SURE:
        return _("more than 99.9%")
    if probability < 1.0 - ALMOST_SURE:
        return _("less than 0.1%")
    decimals = 0 if 0.01 <= probability <= 0.99 else 1
    return in_sentences().in_unit(100.0 * probability, "percent", decimals)
