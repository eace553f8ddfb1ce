"""What a test result gains from the tests beside it: its budgets, classes and messages."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from deskapp.assess import trial_findings as say
from deskapp.assess.budget_case import Measurement
from deskapp.assess.budgets import with_budgets
from deskapp.assess.trial import LARGEST_SPREAD, Trial, ring_of
from deskapp.domain.choices import Metric
from deskapp.domain.job import Job
from deskapp.domain.result import TestResult
from deskapp.domain.trial import LeakageTest


def complete(job: Job, trials: Iterable[Trial]) -> list[Trial]:
    """Return the tests of a job, in order, each with what follows from it and the others."""
    worked = list(trials)
    results = {trial.result.test: trial.result for trial in worked}
    return [_completed(job, position, trial, results) for position, trial in enumerate(worked)]


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
    result = with_budgets(one)
    about = say.about_test(position, test, result, LARGEST_SPREAD)
    return replace(trial, result=result, findings=(*trial.findings, *about))


def _inside(
    job: Job, test: LeakageTest, result: TestResult, results: dict[str, TestResult]
) -> float | None:
    """Return the leakage into the house, m3/s: what total leakage is above that to outside."""
    if test.setup.metric is not Metric.OUTSIDE or result.flow is None:
        return None
    like = [
        other
        for other in job.tests_of(test.system)
        if other.setup.metric is Metric.TOTAL
        and other.setup.stage is test.setup.stage
        and other.setup.is_whole is test.setup.is_whole
    ]
    for other in reversed(like):
        total = results[other.key]
        if total.flow is not None and total.target_pressure == result.target_pressure:
            return max(0.0, total.flow - result.flow)
    return None
