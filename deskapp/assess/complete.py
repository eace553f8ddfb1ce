"""What a test result gains from the tests beside it: its budgets, classes and messages."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from deskapp.assess import trial_findings as say
from deskapp.assess.budget_case import Measurement
from deskapp.assess.budgets import with_budgets
from deskapp.assess.duct_classes import classes
from deskapp.assess.house_findings import about_house
from deskapp.assess.house_tightness import with_tightness
from deskapp.assess.memo import Memo
from deskapp.assess.nothing_told import contradiction
from deskapp.assess.outside import above_total, totals_beside
from deskapp.assess.sides import stated
from deskapp.assess.trial import LARGEST_SPREAD, Trial, ring_of
from deskapp.domain.job import Job
from deskapp.domain.result import TestResult
from deskapp.domain.trial import LeakageTest


def complete(job: Job, trials: Iterable[Trial], memo: Memo) -> list[Trial]:
    """Return the tests of a job, in order, each with what follows from it and the others.

    `trials` are worked out with the same `memo`, so that one that was kept stands for all that it
    follows from: its test, and every record of the job but the other tests.
    """
    worked = list(trials)
    results = {trial.result.test: trial.result for trial in worked}

    def completed(position: int, trial: Trial) -> Trial:
        beside = job.tests_of(job.tests[position].system)
        return memo.kept(
            "complete",
            (trial, *beside, *(results[test.key] for test in beside)),
            lambda: _completed(job, position, trial, results),
        )

    return [completed(position, trial) for position, trial in enumerate(worked)]


def _completed(job: Job, position: int, trial: Trial, results: dict[str, TestResult]) -> Trial:
    test = job.tests[position]
    one = Measurement(
        job=job,
        test=test,
        runs=trial.runs,
        result=trial.result,
        ring=ring_of(job.fan(test.setup.fan), test),
        inside=_inside(job, test, trial.result, results),
    )
    result = with_tightness(job, trial.runs, with_budgets(one))
    found = classes(job, test, result)
    if found:
        result = result.model_copy(update={"classes": found})
    opposed = contradiction(position, result)
    findings = [
        *trial.findings,
        *([] if opposed is None else [opposed]),
        *say.about_test(position, test, result, None if opposed else LARGEST_SPREAD),
        *stated(position, test, result),
        *about_house(job, position, test, trial.runs, result),
    ]
    if opposed is not None:
        result = result.model_copy(update={"refused": opposed.text})
    above = above_total(job, position, test, results)
    if above is not None:
        result = result.model_copy(update={"refused": f"{above.what} {above.allowed}"})
        findings.append(above)
    return replace(trial, result=result, findings=tuple(findings))


def _inside(
    job: Job, test: LeakageTest, result: TestResult, results: dict[str, TestResult]
) -> float | None:
    """Return the leakage into the house, m3/s: what total leakage is above that to outside."""
    totals = list(totals_beside(job, test, results))
    if not totals or result.flow is None:
        return None
    return max(0.0, (totals[-1].flow or 0.0) - result.flow)
