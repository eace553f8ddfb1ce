"""Tests that tell nothing: readings that contradict each other, and results lost in their doubt."""

from __future__ import annotations

from collections.abc import Sequence

from deskapp.assess.conformity import Pair
from deskapp.domain.fields import label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.limit import LimitRow, PercentReduction
from deskapp.domain.result import LimitOutcome, ReadingResult, TestResult
from deskapp.domain.result_parts import BudgetResult
from deskapp.i18n import N_, _
from deskapp.physics import statistics
from deskapp.physics.leakage_budget import BudgetPart
from deskapp.units.display import in_sentences
from deskapp.units.kinds import Kind

LARGEST_SPREAD = 1.0
"""Spread of the readings beyond which no verdict is drawn: they differ by more than their mean.

House rule; common practice, no source."""

# What to do about the largest part of an uncertainty; the rows not named here are accuracies.
_MEND: dict[str, str] = {
    BudgetPart.REPEATS: N_("Look for loose tape, wind or an open door, and take more readings."),
    BudgetPart.BASELINE: N_("Wait for calmer air, and read baseline and leakage again."),
    BudgetPart.EXPONENT: N_("Read again closer to the target pressure."),
    BudgetPart.RESIDUAL_FLOW: N_(
        "Bring the pressure between ducts and house to zero, and read the leakage again."
    ),
    BudgetPart.DUCT_PRESSURE: N_("Read again at a higher pressure, or with a more accurate gauge."),
    BudgetPart.AIR_DENSITY: N_("Read temperature, humidity and barometer where the fan stands."),
    BudgetPart.FAN_SIGNAL: N_("Fit a ring with a smaller flow range, and read again."),
}
_ACCURACY = N_("Compare the accuracy entered with the calibration certificate, or measure again.")


def contradiction(position: int, result: TestResult) -> Finding | None:
    """Return the stop for readings that differ by more than their mean; it names the farthest one.

    Each direction stands by itself. Readings at several pressures are held against each other at
    the target, where the curve has carried them.
    """
    if result.flow is None:
        return None
    for above in (True, False):
        rows = [
            row
            for row in result.readings
            if row.flow_at_target is not None and ((row.induced_pressure or 0.0) > 0.0) is above
        ]
        flows = [row.flow_at_target or 0.0 for row in rows]
        if len(flows) < 2 or statistics.mean(flows) <= 0.0:
            continue
        spread = statistics.spread(flows)
        if spread > LARGEST_SPREAD:
            return _finding(position, spread, _farthest(rows))
    return None


def _farthest(rows: Sequence[ReadingResult]) -> ReadingResult:
    """Return the reading farthest from the middle one."""
    flows = sorted(row.flow_at_target or 0.0 for row in rows)
    middle = statistics.mean([flows[(len(flows) - 1) // 2], flows[len(flows) // 2]])
    return max(rows, key=lambda row: abs((row.flow_at_target or 0.0) - middle))


def _finding(position: int, spread: float, farthest: ReadingResult) -> Finding:
    row = f"tests.{position}.readings.{farthest.index}"
    entry = "indicated_flow" if farthest.fan_signal is None else "fan_signal"
    shown = in_sentences().show(Kind.FRACTION, spread, digits=0)
    return Finding(
        level=Level.STOP,
        code="readings_contradict",
        path=f"{row}.{entry}",
        what=_(
            "The readings of test {n} lie {spread} of their mean apart; {row} is the farthest off."
        ).format(n=position + 1, spread=shown, row=label_of(row)),
        allowed=_("They contradict each other: above {most} no verdict is drawn.").format(
            most=in_sentences().show(Kind.FRACTION, LARGEST_SPREAD, digits=0)
        ),
        mend=_(
            "Compare each reading, its ring and its sign with your notes. Look for loose tape, "
            "wind or an open door, and read again."
        ),
    )


def undecided(outcome: LimitOutcome, row: LimitRow, pair: Pair) -> str:
    """Return why an outcome decides nothing, or empty where it does.

    That is so where the result is no larger than its own uncertainty (k = 2) while the limit lies
    within that uncertainty. A result lost in its uncertainty but far from the limit still tells
    on which side of it the leakage lies.
    """
    if not outcome.too_close:
        return ""
    if isinstance(row.rule, PercentReduction):
        budgets = [one.budget for one in (pair.now, pair.first) if one is not None]
        lost = next((one for one in budgets if one is not None and _is_lost(one)), None)
    else:
        lost = pair.now.budget
        if (outcome.uncertainty or 0.0) < (outcome.measured or 0.0):
            lost = None
    if lost is None:
        return ""
    largest = max(lost.rows, key=lambda part: part.share, default=None)
    why = _(
        "The result, {flow}, is no larger than its own uncertainty of ± {expanded} (k = 2), and "
        "the limit lies within it: this test tells nothing about the limit."
    ).format(
        flow=in_sentences().both(Kind.FLOW, lost.value),
        expanded=in_sentences().both(Kind.FLOW, lost.expanded),
    )
    if largest is None:
        return why
    part = _("The largest part of it: {part}.").format(part=largest.label)
    return " ".join((why, part, _(_MEND.get(largest.id, _ACCURACY))))


def _is_lost(budget: BudgetResult) -> bool:
    return budget.expanded >= budget.value
