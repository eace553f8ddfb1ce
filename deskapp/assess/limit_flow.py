"""The greatest flow that meets the limits for one measurement of a system."""

from __future__ import annotations

from collections.abc import Iterable

from deskapp.assess.verdict import same_target
from deskapp.domain.job import Job
from deskapp.domain.result import SystemResult, TestResult
from deskapp.domain.trial import LeakageTest


def greatest_flow(
    job: Job,
    test: LeakageTest,
    results: dict[str, TestResult],
    systems: Iterable[SystemResult],
) -> float | None:
    """Return the greatest flow [m3/s] that meets every limit judged by a test like this one.

    Tests are alike that measured the same of the whole system at one target; None where no limit
    was judged by such a test.
    """
    like = {
        other.key
        for other in job.tests_of(test.system)
        if other.setup.metric is test.setup.metric
        and other.setup.is_whole
        and test.setup.is_whole
        and same_target(results[other.key], results[test.key])
    }
    flows = [
        outcome.limit_flow
        for system in systems
        if system.system == test.system
        for outcome in system.outcomes
        if outcome.test in like and outcome.limit_flow is not None
    ]
    return min(flows, default=None)
