"""What a system result holds beside its verdict: both sides added up, and the owner's figures."""

from __future__ import annotations

from deskapp.assess.owner import owner_result
from deskapp.assess.owner_money import bill_findings
from deskapp.assess.sides import with_sides
from deskapp.domain.finding import Finding
from deskapp.domain.job import Job
from deskapp.domain.result import SystemResult, TestResult


def beside_verdict(
    job: Job, judged: tuple[SystemResult, ...], results: dict[str, TestResult]
) -> tuple[tuple[SystemResult, ...], tuple[Finding, ...]]:
    """Return the systems with what stands beside their verdicts, and what is to be said of it.

    No verdict changes here.
    """
    told = list(bill_findings(job))
    systems: list[SystemResult] = []
    for system, result in zip(job.systems, judged, strict=True):
        with_both, findings = with_sides(job, result, results)
        told += findings
        owner = owner_result(job, system, with_both, results)
        systems.append(with_both.model_copy(update={"owner": owner}) if owner else with_both)
    return tuple(systems), tuple(told)
