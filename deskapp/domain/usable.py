"""Set aside values that cannot be right, so that nothing is worked out from them."""

from __future__ import annotations

from collections.abc import Iterable

from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.paths import put

SET_ASIDE = frozenset({"unread", "typed-otherwise", "range", "simulated"})
"""Codes of findings whose value is not computed with: text not read, value that is not the one
typed, value out of all range, or one that no real duct gave."""


def set_aside(findings: Iterable[Finding]) -> frozenset[str]:
    """Return the paths of the quantities and days that must not be computed with."""
    return frozenset(
        finding.path
        for finding in findings
        if finding.level is Level.STOP
        and finding.code in SET_ASIDE
        and not finding.path.endswith("_time")
    )


def usable(job: Job, paths: Iterable[str]) -> Job:
    """Return the job with the values at `paths` taken out."""
    for path in paths:
        job = put(job, path, None)
    return job
