"""Handing out a report: frozen under a number, a day and a mark, and revised when the job changes.

A report that was issued is never changed. Issuing it again makes the next revision, which says
what is different.
"""

from __future__ import annotations

import base64
import hashlib
import zlib
from dataclasses import dataclass, replace
from enum import Enum, auto
from functools import lru_cache
from typing import TYPE_CHECKING

from deskapp.domain.issue import Issue
from deskapp.i18n import _, language
from deskapp.session.changes import changes_between, without_blank_rows
from deskapp.session.long_work import LongWork
from deskapp.session.report_kinds import KIND_WORDS, ReportKind
from deskapp.session.reports import ReportOrder, ReportProblem, drawn_report, write_paper

if TYPE_CHECKING:
    from datetime import date, datetime
    from pathlib import Path

    from deskapp.domain.finding import Finding
    from deskapp.domain.job import Job
    from deskapp.report.sealing.keys import SigningKey
    from deskapp.session.settings import Preferences

MOST_CHANGES = 12
STEPS = 5
"""Steps of handing out a report: key, comparison, pages, signature, file."""
_LARGEST = 20_000_000


class IssueStanding(Enum):
    """How the last issue of a report stands to the job: none, still true, or overtaken."""

    NONE = auto()
    CURRENT = auto()
    OVERTAKEN = auto()


@dataclass(frozen=True, slots=True)
class Issued:
    """A report that was handed out: its record, its file, its pages, and what did not print."""

    issue: Issue
    path: Path
    pages: int
    findings: tuple[Finding, ...]


def standing(job: Job, kind: ReportKind) -> IssueStanding:
    """Say how the last issue of this kind of report stands to the job as it is now."""
    issues = job.issues_of(kind.value)
    if not issues:
        return IssueStanding.NONE
    return IssueStanding.CURRENT if tells_of(issues[-1], job) else IssueStanding.OVERTAKEN


def tells_of(issue: Issue, job: Job) -> bool:
    """Say whether an issue still tells of the job; a row nothing is entered in is no change."""
    if issue.mark == mark_of(job):
        return True
    before = frozen_job(issue)
    return before is not None and _entered(before) == _entered(job)


def _entered(job: Job) -> Job:
    """Return `job` without its issues, and without rows nothing is entered in."""
    return without_blank_rows(job.model_copy(update={"issued": ()}))


def mark_of(job: Job) -> str:
    """Return the SHA-256 of everything in the job but its issues."""
    return hashlib.sha256(_text(job)).hexdigest()


def frozen_job(issue: Issue) -> Job | None:
    """Return the job as it was issued; None where the record does not hold it whole."""
    return _unpacked(issue.frozen, issue.mark, issue.number)


@lru_cache(maxsize=8)
def _unpacked(frozen: str, mark: str, number: str) -> Job | None:
    from deskapp.archive.envelope import job_from_text
    from deskapp.archive.problems import JobFileProblem

    try:
        unpacker = zlib.decompressobj()
        text = unpacker.decompress(base64.b64decode(frozen, validate=True), _LARGEST)
        if hashlib.sha256(text).hexdigest() != mark:
            return None
        return job_from_text(text, number)
    except (ValueError, zlib.error, JobFileProblem):
        return None


def changes_since(job: Job, issue: Issue, preferences: Preferences) -> tuple[str, ...]:
    """Return what is different from the job that was issued, a few words for each field."""
    before = frozen_job(issue)
    if before is None:
        return (_("The job of that issue cannot be read any more."),)
    return changes_between(before, job, preferences)


def next_issue(
    job: Job,
    kind: ReportKind,
    on: date,
    preferences: Preferences,
    by: str = "",
    reason: str = "",
) -> Issue:
    """Return the record of the next issue of a report.

    Args:
        job: the job as it stands.
        kind: which report.
        on: the day of issue.
        preferences: units and style of what changed.
        by: who issues it.
        reason: why, in the words of a person.
    """
    earlier = job.issues_of(kind.value)
    told = changes_since(job, earlier[-1], preferences) if earlier else ()
    if len(told) > MOST_CHANGES:
        more = _("{n} more changes").format(n=len(told) - MOST_CHANGES + 1)
        told = (*told[: MOST_CHANGES - 1], more)
    text = _text(job)
    return Issue(
        kind=kind.value,
        revision=len(earlier) + 1,
        number=job.number or job.title or job.site.address,
        issued_on=on,
        by=by.strip() or job.tester.signed_by or job.tester.name,
        reason=reason.strip(),
        changes=told,
        mark=hashlib.sha256(text).hexdigest(),
        frozen=base64.b64encode(zlib.compress(text, 9)).decode("ascii"),
    )


def further_paper(
    job: Job, kind: ReportKind, on: date, language: str, *, sealed: bool
) -> Issue | None:
    """Return the record of a further paper of the last issue; None where that is overtaken.

    It says the same of the very same job: in another language, signed, or printed once more.

    Args:
        job: the job as it stands.
        kind: which report.
        on: the day the paper is made.
        language: its language.
        sealed: whether it is signed.
    """
    issues = job.issues_of(kind.value)
    if not issues or issues[-1].mark != mark_of(job):
        return None
    update = {"made_on": on, "language": language, "sealed": sealed, "frozen": "", "file_mark": ""}
    return issues[-1].model_copy(update=update)


def is_handed_out(job: Job, paper: Issue) -> bool:
    """Say whether a paper like `paper` was handed out: same issue, language, signed or not.

    A signed one stands for one that is not. Papers of which no language is recorded count as any.
    """
    return any(
        one.revision == paper.revision
        and one.language in ("", paper.language)
        and one.sealed >= paper.sealed
        for one in job.papers_of(paper.kind)
    )


@dataclass(frozen=True, slots=True)
class DrawnIssue:
    """A report ready to be handed out: its record, its bytes, its pages, and what did not print."""

    issue: Issue
    data: bytes
    pages: int
    findings: tuple[Finding, ...]


def issue_report(
    order: ReportOrder,
    kind: ReportKind,
    issue: Issue,
    target: Path,
    key: SigningKey | None = None,
    now: datetime | None = None,
    work: LongWork | None = None,
) -> Issued:
    """Write a report at `target` as `issue`; see `drawn_issue`.

    `work` given up in time writes nothing.
    """
    work = work or LongWork()
    drawn = drawn_issue(order, kind, issue, key, now, work)
    work.step(5, STEPS, _("writing {file}").format(file=target.name))
    work.settle()
    return write_issue(drawn, target)


def drawn_issue(
    order: ReportOrder,
    kind: ReportKind,
    issue: Issue,
    key: SigningKey | None = None,
    now: datetime | None = None,
    work: LongWork | None = None,
) -> DrawnIssue:
    """Draw a report as `issue`, signed with `key` at the time `now` if both are given.

    The record in the result also knows the file. Raises ReportProblem as saving does, also where
    the report cannot be signed.
    """
    work = work or LongWork()
    spoken = order.language or language()
    issue = issue.model_copy(update={"language": spoken, "sealed": key is not None})
    bare = issue.model_copy(update={"frozen": ""})
    job = order.source.job
    earlier = (one.model_copy(update={"frozen": ""}) for one in job.issued)
    job = job.model_copy(update={"issued": (*earlier, bare)})
    source = replace(order.source, job=job, issue=bare, issued_on=issue.issued_on)
    work.step(3, STEPS, _("drawing the pages"))
    drawn = drawn_report(replace(order, source=source), kind)
    data = drawn.data
    if key is not None and now is not None:
        work.step(4, STEPS, _("signing"))
        data = _signed(data, key, now, kind, issue)
    known = issue.model_copy(update={"file_mark": hashlib.sha256(data).hexdigest()})
    return DrawnIssue(known, data, drawn.pages, drawn.findings)


def write_issue(drawn: DrawnIssue, target: Path) -> Issued:
    """Write a report that is drawn; never over another issue. Raises ReportProblem."""
    write_paper(drawn.data, target)
    return Issued(drawn.issue, target, drawn.pages, drawn.findings)


def _signed(data: bytes, key: SigningKey, now: datetime, kind: ReportKind, issue: Issue) -> bytes:
    from deskapp.report.sealing.problems import SealProblem
    from deskapp.report.sealing.seal import seal

    reason = _("{kind}, issue {n}").format(kind=_(KIND_WORDS[kind]), n=issue.revision)
    try:
        return seal(data, key, now, reason)
    except SealProblem as problem:
        raise ReportProblem("sign", problem.text) from problem


def _text(job: Job) -> bytes:
    from deskapp.archive.envelope import text_of

    return text_of(job.model_copy(update={"issued": ()}))
