"""How far a job has come: stopped, draft, waiting for a retest, ready, issued."""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING

from deskapp.domain.finding import Finding, Level
from deskapp.domain.result import Verdict
from deskapp.domain.stops import ACKNOWLEDGED_STOP, SAFETY_STOP
from deskapp.i18n import N_, _

if TYPE_CHECKING:
    from collections.abc import Iterable

    from deskapp.domain.job import Job
    from deskapp.domain.result import Assessment


class JobStatus(StrEnum):
    """How far a job has come."""

    STOPPED = "stopped"
    DRAFT = "draft"
    RETEST = "retest"
    READY = "ready"
    ISSUED = "issued"


STATUS_WORDS = {
    JobStatus.STOPPED: N_("safety stop is open"),
    JobStatus.DRAFT: N_("draft"),
    JobStatus.RETEST: N_("waiting for a retest"),
    JobStatus.READY: N_("ready"),
    JobStatus.ISSUED: N_("issued"),
}


def status_of(job: Job, assessment: Assessment, findings: Iterable[Finding]) -> JobStatus:
    """Return how far a job has come.

    An open matter of safety comes before all else, whatever the ducts leak. A system whose latest
    test did not meet its limit waits for a retest, whatever the others did.
    A job is ready once it has a verdict and nothing keeps its compliance report from being made,
    and issued while some report that was handed out still tells of the job as it is.
    """
    found = tuple(findings)
    if any(finding.code == SAFETY_STOP for finding in found):
        return JobStatus.STOPPED
    if waiting_for_retest(assessment):
        return JobStatus.RETEST
    if is_issued(job):
        return JobStatus.ISSUED
    stopped = any(finding.level is Level.STOP for finding in found)
    return JobStatus.DRAFT if stopped or assessment.verdict is Verdict.NONE else JobStatus.READY


def waiting_for_retest(assessment: Assessment) -> tuple[str, ...]:
    """Return the names of the systems that wait for a retest."""
    return tuple(one.name for one in assessment.systems if one.verdict is Verdict.FAIL)


def dangers(findings: Iterable[Finding]) -> tuple[str, ...]:
    """Say what of safety is open, and then what somebody went past that is not cleared."""
    found = tuple(findings)
    return (
        *(_("Safety stop: {what}").format(what=what) for what in open_dangers(found)),
        *gone_past(found),
    )


def open_dangers(findings: Iterable[Finding]) -> tuple[str, ...]:
    """Say what of safety is open: stops that nobody has acknowledged."""
    return tuple(one.what.rstrip(".") for one in findings if one.code == SAFETY_STOP)


def gone_past(findings: Iterable[Finding]) -> tuple[str, ...]:
    """Say what dangers to people somebody went past that are not cleared."""
    return tuple(one.what.rstrip(".") for one in findings if one.code == ACKNOWLEDGED_STOP)


def is_issued(job: Job) -> bool:
    """Say whether some report that was handed out tells of the job as it is now."""
    if not job.issued:
        return False
    from deskapp.session.issuing import mark_of, tells_of

    now = mark_of(job)
    if any(issue.mark == now for issue in job.issued):
        return True
    latest = {issue.kind: issue for issue in job.issued}
    return any(tells_of(issue, job) for issue in latest.values())
