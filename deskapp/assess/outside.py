"""Leakage to outside beside total leakage: a part cannot be more than the whole."""

from __future__ import annotations

from collections.abc import Iterator

from deskapp.domain.choices import Metric
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.result import TestResult
from deskapp.domain.trial import LeakageTest
from deskapp.i18n import _
from deskapp.units.display import in_sentences
from deskapp.units.kinds import Kind


def totals_beside(
    job: Job, test: LeakageTest, results: dict[str, TestResult]
) -> Iterator[TestResult]:
    """Yield the results for total leakage that a test to outside can be held against.

    They belong to the same system, part and stage, and are worked out for the same pressure.
    """
    if test.setup.metric is not Metric.OUTSIDE:
        return
    outside = results[test.key]
    for other in job.tests_of(test.system):
        total = results[other.key]
        if (
            other.setup.metric is Metric.TOTAL
            and other.setup.stage is test.setup.stage
            and total.part is outside.part
            and total.flow is not None
            and total.target_pressure == outside.target_pressure
        ):
            yield total


def above_total(
    job: Job, position: int, test: LeakageTest, results: dict[str, TestResult]
) -> Finding | None:
    """Return the stop for a leakage to outside above a total beside it, or None."""
    outside = results[test.key].flow
    if outside is None:
        return None
    flows = [total.flow or 0.0 for total in totals_beside(job, test, results)]
    above = [flow for flow in flows if outside > flow]
    if not above:
        return None
    return Finding(
        level=Level.STOP,
        code="outside_above_total",
        path=f"tests.{position}.readings.0.duct_pressure",
        what=_("Leakage to outside ({outside}) comes out above total leakage ({total}).").format(
            outside=in_sentences().both(Kind.FLOW, outside),
            total=in_sentences().both(Kind.FLOW, min(above)),
        ),
        allowed=_("It is a part of the total and cannot exceed it."),
        mend=_("Check rings, pressures and the house fan in both tests."),
    )
