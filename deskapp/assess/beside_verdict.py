"""What a system result holds beside its verdict: both sides added up, remarks, owner's figures."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from deskapp.assess.owner import owner_result
from deskapp.assess.sides import with_sides
from deskapp.assess.verdict import waiting, whole_tests
from deskapp.domain.checks_dates import overdue
from deskapp.domain.fields import label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.later import Later
from deskapp.domain.result import SystemResult, TestResult, Verdict
from deskapp.domain.system import DuctSystem
from deskapp.i18n import _


def beside_verdict(
    job: Job, system: DuctSystem, judged: SystemResult, results: dict[str, TestResult]
) -> tuple[SystemResult, tuple[Finding, ...]]:
    """Return a system with what stands beside its verdict, and what is to be said of it.

    No verdict changes here.
    """
    with_both, findings = with_sides(job, judged, results)
    estimate = Later(partial(owner_result, job, system, with_both, results))
    still = tuple(_waiting(job, system, judged, results))
    remarks = (
        *(one.what for one in still),
        *_overdue(job, judged),
        *_not_corrected(judged, results),
    )
    update = {"estimate": estimate, "remarks": remarks}
    return with_both.model_copy(update=update), (*findings, *still)


def _waiting(
    job: Job, system: DuctSystem, judged: SystemResult, results: dict[str, TestResult]
) -> Iterator[Finding]:
    """Yield each test that waits for its readings after the one that a verdict rests on."""
    if judged.verdict is Verdict.NONE:
        return
    known = {*judged.earlier, judged.test, *(one.test for one in judged.outcomes)}
    for test in waiting(whole_tests(job, system), results):
        if test.key in known:
            continue
        path = f"tests.{job.tests.index(test)}"
        yield Finding(
            level=Level.CHECK,
            code="test_waiting",
            path=f"{path}.readings.0.duct_pressure",
            what=_("{test} has no result yet; until it has one, the verdict stands.").format(
                test=label_of(path)
            ),
            mend=_("Enter its readings, or remove the test if it was not made."),
        )


def _overdue(job: Job, judged: SystemResult) -> Iterator[str]:
    """Yield in words each instrument that was overdue when the system was tested."""
    used = {judged.test, *(one.test for one in judged.outcomes)}
    for position, test in enumerate(job.tests):
        if test.key in used:
            yield from (what for _path, what in overdue(job, position, test))


def _not_corrected(judged: SystemResult, results: dict[str, TestResult]) -> Iterator[str]:
    """Yield once why a flow that the verdict rests on is not corrected for air density."""
    if judged.verdict is Verdict.NONE:
        return
    used = dict.fromkeys((judged.test, *(one.test for one in judged.outcomes)))
    yield from dict.fromkeys(
        words for key in used if key in results and (words := results[key].not_corrected)
    )
