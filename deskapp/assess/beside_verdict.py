"""What a system result holds beside its verdict: both sides added up, and the owner's figures."""

from __future__ import annotations

from functools import partial

from deskapp.assess.owner import owner_result
from deskapp.assess.sides import with_sides
from deskapp.domain.finding import Finding
from deskapp.domain.job import Job
from deskapp.domain.later import Later
from deskapp.domain.result import SystemResult, TestResult
from deskapp.domain.system import DuctSystem


def beside_verdict(
    job: Job, system: DuctSystem, judged: SystemResult, results: dict[str, TestResult]
) -> tuple[SystemResult, tuple[Finding, ...]]:
    """Return a system with what stands beside its verdict, and what is to be said of it.

    No verdict changes here.
    """
    with_both, findings = with_sides(job, judged, results)
    estimate = Later(partial(owner_result, job, system, with_both, results))
    return with_both.model_copy(update={"estimate": estimate}), findings
