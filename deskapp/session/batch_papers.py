"""The papers of one job of many: drawn by any process, written by one.

An issue is recorded in the job it belongs to: first the files are written, then the job, and
where the job cannot be, the files go again, since nothing would tell of them.
"""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from deskapp.i18n import _, language
from deskapp.session.holding import InUse, in_use_words
from deskapp.session.issuing import (
    DrawnIssue,
    IssueStanding,
    drawn_issue,
    further_paper,
    is_handed_out,
    next_issue,
    write_issue,
)
from deskapp.session.opening import JobFileProblem, open_job
from deskapp.session.papers_there import IfThere, called, why_kept
from deskapp.session.report_kinds import Naming, ReportKind
from deskapp.session.report_names import free_file, report_file
from deskapp.session.reports import (
    DrawnReport,
    MadeReport,
    ReportProblem,
    drawn_report,
    offered,
    order_reports,
    write_report,
)

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import date, datetime
    from pathlib import Path

    from deskapp.report.sealing.keys import SigningKey
    from deskapp.session.branding import BrandingFile
    from deskapp.session.editor import Editor
    from deskapp.session.resources import Shelf
    from deskapp.session.settings import Preferences


@dataclass(frozen=True, slots=True)
class Handing:
    """How the reports are handed out; without a key they are not signed.

    `by` is who issues them, the tester of each job if empty; `reason` is told of reports that were
    issued before.
    """

    now: datetime
    by: str = ""
    reason: str = ""
    key: SigningKey | None = None


@dataclass(frozen=True, slots=True)
class Batch:
    """What the papers of every job are made by. It goes to each process once.

    `kinds` are the reports wanted, None for all there are for a job; `spoken` is the language of
    the program, and `own` are the company's templates by kind. With `handing` each report is
    issued. `if_there` says what becomes of files of the same names that were there before; an
    issue is never written over them.
    """

    shelf: Shelf
    preferences: Preferences
    look: BrandingFile
    issued_on: date
    kinds: tuple[ReportKind, ...] | None = None
    own: Mapping[str, Path] | None = None
    spoken: str = ""
    naming: Naming = Naming.JOB
    handing: Handing | None = None
    if_there: IfThere = IfThere.REPLACE


class Trouble(NamedTuple):
    """Why papers of a job are missing.

    `code` is that of ReportProblem, or ``unreadable`` for the job, ``failed`` for a fault of the
    program and ``ended`` where the system ended the process that worked on it; ``exists`` and
    ``issued-there`` tell of a file that was there and stays. Of issues it may also be ``issued``
    (nothing has changed since), ``by``, ``reason``, ``no-file``, ``in-use``, ``changed`` and
    ``not-recorded``.
    """

    code: str
    text: str


@dataclass(frozen=True, slots=True)
class JobOutcome:
    """What became of one job: the reports written, and why others were not."""

    job: Path
    made: tuple[MadeReport, ...] = ()
    troubles: tuple[Trouble, ...] = ()


class DrawnPapers(NamedTuple):
    """The papers of one job and the names of their files, not written yet.

    `stamp` is the digest of the job's file they were drawn from, `called` what tells the job from
    others.
    """

    papers: tuple[tuple[str, ReportKind, DrawnReport | DrawnIssue], ...] = ()
    troubles: tuple[Trouble, ...] = ()
    stamp: str = ""
    called: tuple[str, ...] = ()


def draw_papers(path: Path, batch: Batch) -> DrawnPapers:
    """Draw the papers of one job. Raises JobFileProblem where it cannot be read."""
    editor = open_job(path, batch.shelf, batch.preferences)
    if batch.handing is not None and editor.path is None:
        words = _("{file}: an issue is recorded in the job, so it must be a job file (.ductjob).")
        return DrawnPapers(troubles=(Trouble("no-file", words.format(file=path.name)),))
    papers: list[tuple[str, ReportKind, DrawnReport | DrawnIssue]] = []
    troubles: list[Trouble] = []
    for kind in offered(editor.assessment) if batch.kinds is None else batch.kinds:
        try:
            papers.append(_drawn(editor, path, kind, batch))
        except ReportProblem as problem:
            troubles.append(Trouble(problem.code, problem.text))
    return DrawnPapers(tuple(papers), tuple(troubles), editor.stamp, called(editor.job))


def write_papers(
    path: Path, drawn: DrawnPapers, folder: Path, batch: Batch, taken: set[Path]
) -> JobOutcome:
    """Write what was drawn of the job at `path` into `folder`; names in `taken` are not used."""
    if batch.handing is not None and drawn.papers:
        return _handed_out(path, drawn, folder, batch, taken)
    return _written(path, drawn, folder, taken, batch.if_there)


def _drawn(
    editor: Editor, path: Path, kind: ReportKind, batch: Batch
) -> tuple[str, ReportKind, DrawnReport | DrawnIssue]:
    order = order_reports(editor, batch.look, batch.issued_on, own=batch.own)
    job, handing = editor.job, batch.handing
    if handing is None:
        return report_file(job, path, kind, batch.naming), kind, drawn_report(order, kind)
    spoken = order.language or language()
    issue = further_paper(job, kind, batch.issued_on, spoken, sealed=handing.key is not None)
    if issue is None or is_handed_out(job, issue):
        _refuse(editor, kind, handing)
        by = handing.by
        issue = next_issue(job, kind, batch.issued_on, batch.preferences, by, handing.reason)
    drawn = drawn_issue(order, kind, issue, handing.key, handing.now)
    editor.take_issue(drawn.issue)
    return report_file(job, path, kind, batch.naming, drawn.issue), kind, drawn


def _refuse(editor: Editor, kind: ReportKind, handing: Handing) -> None:
    """Raise ReportProblem where there is nothing new to hand out, or something is not told."""
    from deskapp.session.issue_desk import standing_words

    job = editor.job
    found, words = standing_words(job, kind, editor.preferences.formatter)
    if found is IssueStanding.CURRENT:
        more = _("Nothing was issued. Another language or a signature makes a further paper of it.")
        raise ReportProblem("issued", f"{words} {more}")
    if not (handing.by.strip() or job.tester.signed_by or job.tester.name):
        raise ReportProblem("by", _("Issued by: neither the job nor you say who issues it."))
    if found is IssueStanding.OVERTAKEN and not handing.reason.strip():
        text = _("Reason: it was issued before; say in a few words why it is issued again.")
        raise ReportProblem("reason", text)


def _written(
    path: Path, drawn: DrawnPapers, folder: Path, taken: set[Path], if_there: IfThere
) -> JobOutcome:
    made: list[MadeReport] = []
    troubles = list(drawn.troubles)
    for name, kind, paper in drawn.papers:
        target = free_file(folder / name, taken, over=if_there is not IfThere.NUMBER)
        name_wanted = drawn.called if if_there is IfThere.REPLACE_DRAFTS else None
        kept = why_kept(target, name_wanted)
        if kept is not None:
            troubles.append(Trouble(*kept))
            continue
        try:
            made.append(_write(paper, kind, target))
        except ReportProblem as problem:
            troubles.append(Trouble(problem.code, problem.text))
        else:
            taken.add(target)
    return JobOutcome(path, tuple(made), tuple(troubles))


def _write(paper: DrawnReport | DrawnIssue, kind: ReportKind, target: Path) -> MadeReport:
    if isinstance(paper, DrawnReport):
        return write_report(paper, target)
    done = write_issue(paper, target)
    return MadeReport(kind, done.path, done.pages, done.findings, done.issue)


def _handed_out(
    path: Path, drawn: DrawnPapers, folder: Path, batch: Batch, taken: set[Path]
) -> JobOutcome:
    """Write issues and record them in their job, which nobody else may have open meanwhile."""
    from deskapp.session.holding import let_go
    from deskapp.session.opening import open_to_edit

    try:
        editor = open_to_edit(path, batch.shelf, batch.preferences)
    except InUse as taken_by:
        return _refused(path, drawn, "in-use", in_use_words(path, taken_by))
    except JobFileProblem as problem:
        return _refused(path, drawn, "unreadable", problem.text)
    try:
        if editor.stamp != drawn.stamp:
            words = _("{file} was changed meanwhile. Nothing was issued; try it once more.")
            return _refused(path, drawn, "changed", words.format(file=path.name))
        return _recorded(editor, _written(path, drawn, folder, taken, IfThere.NUMBER))
    finally:
        let_go(editor)


def _recorded(editor: Editor, outcome: JobOutcome) -> JobOutcome:
    """Keep the issues in the job; where that does not work, take their files away again."""
    from deskapp.session.saving import save

    for made in outcome.made:
        if made.issue is not None:
            editor.take_issue(made.issue)
    try:
        if outcome.made:
            save(editor)
    except JobFileProblem as problem:
        for made in outcome.made:
            with suppress(OSError):
                made.path.unlink()
        words = _("{file}: the issue could not be recorded in the job, so none was made. {why}")
        text = words.format(file=outcome.job.name, why=problem.text)
        return JobOutcome(outcome.job, (), (*outcome.troubles, Trouble("not-recorded", text)))
    return outcome


def _refused(path: Path, drawn: DrawnPapers, code: str, text: str) -> JobOutcome:
    return JobOutcome(path, (), (*drawn.troubles, Trouble(code, text)))
