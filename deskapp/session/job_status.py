"""How far a job has come: draft, waiting for a retest, ready."""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING

from deskapp.domain.finding import Finding, Level
from deskapp.domain.result import Verdict
from deskapp.i18n import N_

if TYPE_CHECKING:
    from collections.abc import Iterable

    from deskapp.domain.result import Assessment


class JobStatus(StrEnum):
    """How far a job has come."""

    DRAFT = "draft"
    RETEST = "retest"
    READY = "ready"


STATUS_WORDS = {
    JobStatus.DRAFT: N_("draft"),
    JobStatus.RETEST: N_("waiting for a retest"),
    JobStatus.READY: N_("ready"),
}


def status_of(assessment: Assessment, findings: Iterable[Finding]) -> JobStatus:
    """Return how far a job has come.

    A system whose latest test did not meet its limit waits for a retest, whatever the others did.
    A job is ready once it has a verdict and nothing keeps its compliance report from being made.
    """
    if waiting(assessment):
        return JobStatus.RETEST
    stopped = any(finding.level is Level.STOP for finding in findings)
    return JobStatus.DRAFT if stopped or assessment.verdict is Verdict.NONE else JobStatus.READY


def waiting(assessment: Assessment) -> tuple[str, ...]:
    """Return the names of the systems that wait for a retest."""
    return tuple(one.name for one in assessment.systems if one.verdict is Verdict.FAIL)
