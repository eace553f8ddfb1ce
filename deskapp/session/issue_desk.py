"""Handing out a report from the window: what is asked for, the file, and how it stands since."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from deskapp.i18n import _, language
from deskapp.session.issuing import STEPS, further_paper, issue_report, next_issue, standing
from deskapp.session.issuing import Issued as Issued
from deskapp.session.issuing import IssueStanding as IssueStanding
from deskapp.session.long_work import LongWork
from deskapp.session.report_kinds import ReportKind
from deskapp.session.report_names import report_file_name
from deskapp.session.reports import ReportProblem
from deskapp.session.signing_key import SealProblem, open_kept

if TYPE_CHECKING:
    from datetime import datetime
    from pathlib import Path

    from deskapp.domain.job import Job
    from deskapp.session.reports import ReportOrder
    from deskapp.session.settings import Preferences
    from deskapp.units.display import Formatter


@dataclass(frozen=True, slots=True)
class Wish:
    """How a report is to be handed out; without a passphrase it is not signed."""

    by: str
    reason: str
    target: Path
    passphrase: str | None = None


def signer_words(by: str, owner: str) -> str:
    """Return what is to be known where `by` issues and the key of `owner` signs; mostly nothing.

    A remark and no refusal: a company may sign for its people. Names that hold one another, such
    as one with a company behind it, are taken for the same.
    """
    issuer, signer = (" ".join(name.split()).casefold() for name in (by, owner))
    if not issuer or not signer or issuer in signer or signer in issuer:
        return ""
    return _(
        "The report will say that {name} issued it, but the key that signs it belongs to {owner}. "
        "Sign with the key of the one who issues it, unless this is meant."
    ).format(name=by.strip(), owner=owner)


def hand_out(
    order: ReportOrder,
    kind: ReportKind,
    wish: Wish,
    preferences: Preferences,
    folder: Path,
    now: datetime,
    work: LongWork | None = None,
) -> Issued:
    """Write the next issue of a report; the key is looked for in `folder`.

    Raises ReportProblem as issuing does; its code is ``passphrase`` for a wrong one. Nothing is
    written then, nor where `work` is given up in time. Changes nothing else and may run in any
    thread.
    """
    work, key = work or LongWork(), None
    if wish.passphrase is not None:
        work.step(1, STEPS, _("opening the signing key"))
        try:
            key = open_kept(folder, wish.passphrase)
        except SealProblem as problem:
            raise ReportProblem(problem.code, problem.text) from problem
    work.step(2, STEPS, _("comparing with the last issue"))
    job, day = order.source.job, order.source.issued_on
    spoken = order.language or language()
    issue = further_paper(job, kind, day, spoken, sealed=key is not None)
    if issue is None:
        issue = next_issue(job, kind, day, preferences, wish.by, wish.reason)
    return issue_report(order, kind, issue, wish.target, key, now, work)


def is_further(job: Job, kind: ReportKind) -> bool:
    """Say whether what is handed out next is a further paper of the last issue."""
    return further_paper(job, kind, date.min, "", sealed=False) is not None


def free_place(folder: Path, job: Job, kind: ReportKind) -> Path:
    """Return where the next paper goes: the usual name with the number of its issue, not taken."""
    usual = folder / report_file_name(job, kind)
    number = len(job.issues_of(kind.value)) + (not is_further(job, kind))
    free = usual.with_stem(_("{name} issue {n}").format(name=usual.stem, n=number))
    name, again = free.stem, 2
    while free.exists():
        free = free.with_stem(f"{name} ({again})")
        again += 1
    return free


def standing_words(job: Job, kind: ReportKind, formatter: Formatter) -> tuple[IssueStanding, str]:
    """Say how the last issue of a report stands to the job as it is now."""
    found = standing(job, kind)
    if found is IssueStanding.NONE:
        return found, _("Never issued.")
    last = job.issues_of(kind.value)[-1]
    told = (
        _("Issue {n} of {day} tells of the job as it is.")
        if found is IssueStanding.CURRENT
        else _(
            "Changed since issue {n} of {day}: what was handed out no longer tells of this job. "
            "Issue it again when you are done."
        )
    )
    return found, told.format(n=last.revision, day=formatter.day(last.issued_on))
