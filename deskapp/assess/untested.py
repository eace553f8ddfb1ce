"""A duct system without a test of its own: its result, and the question after its test."""

from __future__ import annotations

from collections.abc import Iterator

from deskapp.assess.asked_for import without_test
from deskapp.domain.fields import label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.result import SystemResult
from deskapp.domain.system import DuctSystem
from deskapp.i18n import _, labeled
from deskapp.limits.waivers import WaiverCase


def untested(job: Job, system: DuctSystem, name: str) -> SystemResult:
    """Return the result of a system without a test: no verdict, though a test may be waived."""
    limits = job.compliance.limits
    waived = [
        outcome
        for limit in limits
        if (outcome := without_test(limit, WaiverCase(job, system, unit=limit.edition.unit)))
    ]
    reason = _("No test of this system is recorded.")
    sides = {test.setup.part for test in job.tests_of(system.key)}
    if len(sides) == 1:
        reason = _("Only one side of this system was tested; a limit is for the whole of it.")
    elif sides:
        reason = _("Only its sides were tested, each alone; a limit is for the whole system.")
    if waived and len(waived) == len(limits):
        reason = waived[0].reason
    return SystemResult(system=system.key, name=name, outcomes=tuple(waived), reason=reason)


def untested_findings(job: Job, systems: tuple[SystemResult, ...]) -> Iterator[Finding]:
    """Yield each system that was passed over: others were read, and none of its tests is recorded.

    A system whose test is waived by every chosen limit is not asked about.
    """
    if not any(test.was_read for system in job.systems for test in job.tests_of(system.key)):
        return
    for position, (system, result) in enumerate(zip(job.systems, systems, strict=True)):
        is_waived = result.outcomes and len(result.outcomes) == len(job.compliance.limits)
        if job.tests_of(system.key) or is_waived:
            continue
        yield Finding(
            level=Level.CHECK,
            code="untested_system",
            path=f"systems.{position}.name",
            what=labeled(
                system.name or label_of(f"systems.{position}"),
                _("No test of this system is recorded."),
            ),
            mend=_("Add its test, or remove the system if it is not part of this job."),
        )
