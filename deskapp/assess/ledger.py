"""The ledger of a repair: what each quick reading gained on the one before it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from deskapp.assess.budget_case import Measurement
from deskapp.assess.budgets import with_budgets
from deskapp.assess.change import change, in_one_test
from deskapp.assess.limit_flow import greatest_flow
from deskapp.assess.trial import baseline_of, ring_of, work_out_test
from deskapp.domain.choices import Direction, Method
from deskapp.domain.fields import label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.measured import Measured, day_of, si_of
from deskapp.domain.paths import put
from deskapp.domain.repair import Rereading
from deskapp.domain.repair_result import LedgerRow, RepairLedger
from deskapp.domain.result import SystemResult, TestResult
from deskapp.domain.result_parts import BudgetResult
from deskapp.domain.trial import LeakageTest, SetUp
from deskapp.i18n import _
from deskapp.units.display import in_sentences
from deskapp.units.kinds import Kind


@dataclass(frozen=True, slots=True)
class _Known:
    """A flow with its budget and the set-up it was read with."""

    budget: BudgetResult
    setup: SetUp


def ledgers(
    job: Job,
    results: dict[str, TestResult],
    systems: Iterable[SystemResult],
    aside: Iterable[str],
) -> tuple[tuple[RepairLedger, ...], tuple[Finding, ...]]:
    """Return the ledger of each test that quick readings follow, and what is to be said.

    Args:
        job: the job; its values are all usable.
        results: the tests worked out, by key.
        systems: the systems judged; their limits say what is left to do.
        aside: paths of values set aside; a reading that lost one gives no flow.
    """
    limits = tuple(systems)
    found: list[RepairLedger] = []
    told = list(_homeless(job, results))
    for position, test in enumerate(job.tests):
        rows = [(at, row) for at, row in enumerate(job.rereadings) if row.test == test.key]
        result = results[test.key]
        if not rows or result.budget is None or result.target_pressure is None:
            continue
        ledger, findings = _ledger(job, position, result, rows, frozenset(aside))
        told += findings
        limit = greatest_flow(job, test, results, limits)
        excess = None if limit is None else ledger.last - limit
        found.append(ledger.model_copy(update={"limit_flow": limit, "excess": excess}))
    return tuple(found), tuple(told)


def _homeless(job: Job, results: dict[str, TestResult]) -> Iterator[Finding]:
    for at, row in enumerate(job.rereadings):
        result = results.get(row.test)
        if row.model_copy(update={"test": "", "ring": ""}) == Rereading(key=row.key):
            continue
        if result is None or result.budget is None:
            yield Finding(
                level=Level.CHECK,
                code="reread_without_test",
                path=f"rereadings.{at}.test",
                what=_("{row} follows no test that gives a result.").format(
                    row=label_of(f"rereadings.{at}")
                ),
                mend=_("Choose the test it follows; set-up and baseline are taken from there."),
            )


def _ledger(
    job: Job,
    position: int,
    result: TestResult,
    rows: list[tuple[int, Rereading]],
    aside: frozenset[str],
) -> tuple[RepairLedger, list[Finding]]:
    assert result.budget is not None
    test = job.tests[position]
    start = last = _Known(result.budget, test.setup)
    told: list[Finding] = []
    written: list[LedgerRow] = []
    waiting: tuple[str, ...] = ()
    for at, row in rows:
        waiting += tuple(leak.key for leak in job.leaks_found if leak.reread == row.key)
        known, findings = _worked_out(job, position, result, at, aside)
        told += findings
        if known is None:
            blank = LedgerRow(
                key=row.key, index=at, read_on=day_of(row.read_on), read_time=row.read_time
            )
            written.append(blank)
            continue
        entry = _row(at, row, last, known, waiting)
        told += _risen(entry)
        written.append(entry)
        last, waiting = known, ()
    whole = change(start.budget, last.budget, in_one_test(start.setup, last.setup))
    ledger = RepairLedger(
        test=test.key,
        system=test.system,
        target_pressure=result.target_pressure or 0.0,
        start=start.budget.value,
        start_on=day_of(test.tested_on),
        last=last.budget.value,
        rows=tuple(written),
    )
    if whole is not None and last is not start:
        ledger = ledger.model_copy(
            update={
                "gain": whole.reduction,
                "uncertainty": whole.expanded,
                "told_apart": whole.is_told_apart,
            }
        )
    return ledger, told


def _row(at: int, row: Rereading, last: _Known, known: _Known, leaks: tuple[str, ...]) -> LedgerRow:
    found = change(last.budget, known.budget, in_one_test(last.setup, known.setup))
    return LedgerRow(
        key=row.key,
        index=at,
        read_on=day_of(row.read_on),
        read_time=row.read_time,
        flow=known.budget.value,
        leaks=leaks,
        gain=found.reduction if found else None,
        uncertainty=found.expanded if found else None,
        told_apart=found is not None and found.is_told_apart,
    )


def _worked_out(
    job: Job, position: int, result: TestResult, at: int, aside: frozenset[str]
) -> tuple[_Known | None, tuple[Finding, ...]]:
    """Work out one quick reading as if it were the only reading of the test it follows."""
    row, path = job.rereadings[at], f"rereadings.{at}"
    test = _as_test(job.tests[position], row, result)
    alone = put(job, f"tests.{position}", test)
    blocked = any(name.startswith(f"{path}.") for name in aside)
    trial = work_out_test(alone, position, blocked=blocked, reading_path=path)
    findings = tuple(
        finding
        for finding in trial.findings
        if finding.path.startswith(path) and finding.path not in aside
    )
    ring = ring_of(alone.fan(test.setup.fan), test)
    worked = with_budgets(Measurement(alone, test, trial.runs, trial.result, ring))
    if worked.budget is None:
        return None, findings
    return _Known(worked.budget, test.setup), findings


def _as_test(test: LeakageTest, row: Rereading, result: TestResult) -> LeakageTest:
    setup: dict[str, object] = {
        "method": Method.SINGLE_PRESSURE,
        "ring": row.ring or test.setup.ring,
    }
    if result.exponent is not None:
        setup["exponent"] = Measured(si=result.exponent)
    if test.setup.direction is Direction.BOTH:
        pressure = si_of(row.duct_pressure) or 0.0
        is_up = pressure >= baseline_of(test)
        setup["direction"] = Direction.PRESSURIZE if is_up else Direction.DEPRESSURIZE
    return test.model_copy(
        update={"readings": (row,), "setup": test.setup.model_copy(update=setup)}
    )


def _risen(row: LedgerRow) -> Iterator[Finding]:
    if row.gain is None or row.gain >= 0.0 or not row.told_apart:
        return
    path = f"rereadings.{row.index}"
    yield Finding(
        level=Level.CHECK,
        code="reread_risen",
        path=f"{path}.duct_pressure",
        what=_("{row} shows {more} more leakage than the one before it.").format(
            row=label_of(path), more=in_sentences().both(Kind.FLOW, -row.gain)
        ),
        allowed=_("That is more than the readings scatter (± {most}, k = 2).").format(
            most=in_sentences().both(Kind.FLOW, row.uncertainty or 0.0)
        ),
        mend=_("Look for tape that let go, a door that was opened, or another ring."),
    )
