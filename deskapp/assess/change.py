"""How sure the difference of two results is that were read with the same instruments."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from deskapp.domain.instrument import Fan
from deskapp.domain.job import Job
from deskapp.domain.result_parts import BudgetResult
from deskapp.domain.trial import SetUp
from deskapp.physics.leakage_budget import BudgetPart
from deskapp.physics.uncertainty import COVERAGE_FACTOR, combined


@dataclass(frozen=True, slots=True)
class Change:
    """What two results differ by; flows m3/s, shares of the first one, standard uncertainties.

    `reduction` is positive where the second is less.
    """

    reduction: float
    standard: float
    share: float
    share_standard: float

    @property
    def expanded(self) -> float:
        """Expanded uncertainty of the reduction."""
        return COVERAGE_FACTOR * self.standard

    @property
    def is_told_apart(self) -> bool:
        """Whether the reduction, of either sign, is more than its uncertainty."""
        return abs(self.reduction) > self.expanded


def in_common(job: Job, one: SetUp, other: SetUp) -> frozenset[str]:
    """Return the rows of a budget that two tests share.

    An instrument that nobody named may have been another one each time, unless the job knows one
    only; then nothing of it is taken to cancel.
    """
    fan, gauge = job.fan(one.fan), job.gauge(one.gauge)
    other_fan, other_gauge = job.fan(other.fan), job.gauge(other.gauge)
    same_fan = fan is not None and other_fan is not None and fan.key == other_fan.key
    return _rows(
        same_fan=same_fan and fan is not None and _is_one_ring(fan, one.ring, other.ring),
        same_gauge=gauge is not None and other_gauge is not None and gauge.key == other_gauge.key,
    )


def in_one_test(one: SetUp, other: SetUp) -> frozenset[str]:
    """Return the rows that readings of one test share: its instruments, whichever they were."""
    return _rows(same_fan=one.ring == other.ring, same_gauge=True)


def _is_one_ring(fan: Fan, one: str, other: str) -> bool:
    """Say whether two flows came by one ring; one left open is the only one the fan has, if so."""
    return one == other and (bool(one) or len(fan.rings) < 2)


def _rows(*, same_fan: bool, same_gauge: bool) -> frozenset[str]:
    """Return the rows that cancel.

    One fan and ring have one calibration, one gauge is off the same way at like pressures, and the
    fan signal goes by both. Scatter, baseline and exponent are each test's own.
    """
    rows: set[BudgetPart] = set()
    if same_fan:
        rows.add(BudgetPart.FAN_CALIBRATION)
    if same_gauge:
        rows.add(BudgetPart.DUCT_PRESSURE)
    if same_fan and same_gauge:
        rows.add(BudgetPart.FAN_SIGNAL)
    return frozenset(row.value for row in rows)


def change(before: BudgetResult, now: BudgetResult, shared: frozenset[str]) -> Change | None:
    """Return the change from one result to another; None where the first is not above zero.

    An input both share is fully correlated: it counts by the difference of its two contributions,
    so that what moves both alike cannot make a change out of nothing. All others count in full.
    ISO/IEC Guide 98-3:2008 (GUM), 5.2.2; from memory, checked in the tests against another
    implementation.
    """
    if before.value <= 0.0:
        return None
    ratio = now.value / before.value
    relative = 0.0
    if now.value > 0.0:
        parts = _parts(before, now, shared, 1.0 / before.value, 1.0 / now.value)
        relative = ratio * combined([0.0, *parts])
    else:
        relative = now.combined / before.value
    return Change(
        reduction=before.value - now.value,
        standard=combined([0.0, *_parts(before, now, shared, 1.0, 1.0)]),
        share=1.0 - ratio,
        share_standard=relative,
    )


def _parts(
    before: BudgetResult, now: BudgetResult, shared: frozenset[str], first: float, second: float
) -> Iterator[float]:
    """Yield the parts of a difference, each budget times its factor."""
    pairs = ((before, first), (now, second))
    for budget, factor in pairs:
        yield from (factor * row.contribution for row in budget.rows if row.id not in shared)
    for row_id in sorted(shared):
        one, other = (factor * _contribution(budget, row_id) for budget, factor in pairs)
        yield abs(one - other)


def _contribution(budget: BudgetResult, row_id: str) -> float:
    return sum(row.contribution for row in budget.rows if row.id == row_id)
