"""Making the reports of a job: which there are, what keeps one back, its pages and its file."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from io import BytesIO
from typing import TYPE_CHECKING

from deskapp.domain.fields import label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.told_problem import ToldProblem
from deskapp.i18n import _, speaking
from deskapp.session.block_words import BLOCK_WORDS
from deskapp.session.carried import carried_with_report
from deskapp.session.long_work import LongWork
from deskapp.session.report_kinds import KIND_WORDS as KIND_WORDS
from deskapp.session.report_kinds import ReportKind as ReportKind
from deskapp.session.report_names import report_file_name
from deskapp.session.report_order import ReportOrder as ReportOrder
from deskapp.session.report_order import order_reports as order_reports

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from pathlib import Path

    from deskapp.domain.issue import Issue
    from deskapp.domain.result import Assessment
    from deskapp.report.pdf.draw import Printed
    from deskapp.report.template import Template
    from deskapp.session.template_draft import TemplateDraft


class ReportProblem(ToldProblem):
    """A report cannot be made.

    `code` is ``stops``, ``template``, ``no-retest``, ``write`` or ``issued-there``; `findings` are
    the stops to mend first.
    """

    def __init__(self, code: str, text: str, findings: tuple[Finding, ...] = ()) -> None:
        super().__init__(code, text)
        self.findings = findings


@dataclass(frozen=True, slots=True)
class DrawnReport:
    """A report that is ready to be saved or printed: the bytes of its file, and its pages.

    `fields` has the page, from 1, on which a field of the job is printed.
    """

    kind: ReportKind
    data: bytes
    pages: int
    findings: tuple[Finding, ...] = ()
    fields: Mapping[str, int] = field(default_factory=dict[str, int])

    def page_of(self, path: str) -> int | None:
        """Return the page of a field, or of what is nearest to it in the job; None if nothing is.

        Readings, for example, are printed as a table, whose page is that of each of them.
        """
        parts = path.split(".")
        while len(parts) > 1:
            near = ".".join(parts)
            pages = [
                page
                for known, page in self.fields.items()
                if known == near or known.startswith(f"{near}.")
            ]
            if pages:
                return min(pages)
            parts.pop()
        return None


@dataclass(frozen=True, slots=True)
class MadeReport:
    """A report that was made: its kind, its file, its pages, and what could not be printed.

    `issue` is the record of one that was handed out.
    """

    kind: ReportKind
    path: Path
    pages: int
    findings: tuple[Finding, ...]
    issue: Issue | None = None


def stops_against(kind: ReportKind, findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return the findings that keep a report of this kind from being made.

    Only the compliance report, which somebody signs, is kept back by stops. The others can always
    be made: they say in words what is missing.
    """
    if kind is not ReportKind.COMPLIANCE:
        return ()
    return tuple(finding for finding in findings if finding.level is Level.STOP)


def offered(assessment: Assessment) -> tuple[ReportKind, ...]:
    """Return the reports there are for a job: that of a retest only where there is one."""
    return tuple(kind for kind in ReportKind if kind is not ReportKind.RETEST or assessment.retests)


def gaps_for(kind: ReportKind, order: ReportOrder) -> tuple[Finding, ...]:
    """Return a note for each field the report would print as not recorded, by its own template.

    These keep no report from being made, but are worth a look before it is handed over. Raises
    ReportProblem where the template cannot be used.
    """
    if kind is not ReportKind.COMPLIANCE:
        return ()
    from deskapp.report.build.context import context_of
    from deskapp.report.build.missing import missing_paths

    return tuple(
        Finding(
            level=Level.NOTE,
            code="not-recorded",
            path=path,
            what=_("{label}: nothing is entered.").format(label=label_of(path)),
            mend=_("Fill it in, or the report says that it was not recorded."),
        )
        for path in missing_paths(context_of(order.source, _usable(order, kind).template))
    )


def drawn_report(order: ReportOrder, kind: ReportKind) -> DrawnReport:
    """Draw a report, as bytes that are saved, shown and printed alike.

    Raises ReportProblem where stops are left or a template cannot be used. The same order gives
    the same bytes.
    """
    printed, data = _printed(order, kind, _usable(order, kind))
    return DrawnReport(kind, data, printed.pages, printed.findings, printed.fields)


def make_report(order: ReportOrder, kind: ReportKind, target: Path) -> MadeReport:
    """Write one report as a PDF at `target`; a half-written file never stands there.

    Raises ReportProblem, as `drawn_report` does, and where the file cannot be written.
    """
    return write_report(drawn_report(order, kind), target)


def write_report(drawn: DrawnReport, target: Path) -> MadeReport:
    """Write a report that is drawn; never over one that was issued. Raises ReportProblem."""
    write_paper(drawn.data, target)
    return MadeReport(drawn.kind, target, drawn.pages, drawn.findings)


def write_paper(data: bytes, target: Path) -> None:
    """Write the file of a report or an issue; never over one that was issued.

    Raises ReportProblem.
    """
    from deskapp.archive.problems import JobFileProblem
    from deskapp.archive.safe_write import write_whole
    from deskapp.session.papers_there import why_kept

    if kept := why_kept(target):
        raise ReportProblem(*kept)
    try:
        write_whole(target, data)
    except JobFileProblem as problem:
        raise ReportProblem("write", problem.text) from problem


def draft_bytes(order: ReportOrder, draft: TemplateDraft) -> bytes:
    """Return the PDF a draft of a template makes, stops or not. Raises ReportProblem."""
    from deskapp.report.template import TemplateProblem

    try:
        template = draft.checked()
    except TemplateProblem as problem:
        raise ReportProblem("template", problem.text) from problem
    kind = ReportKind(draft.kind)
    return _printed(replace(order, findings=()), kind, _Usable(template, is_ours=False))[1]


def make_reports(
    order: ReportOrder,
    kinds: Iterable[ReportKind],
    folder: Path,
    work: LongWork | None = None,
) -> tuple[MadeReport, ...]:
    """Write reports under their usual names into `folder`, made if need be.

    All are drawn before the first is written, so that `work` given up in time leaves no file.
    Raises ReportProblem; see `make_report`.
    """
    work = work or LongWork()
    wanted, job = tuple(kinds), order.source.job
    drawn: list[DrawnReport] = []
    for number, kind in enumerate(wanted, 1):
        work.step(number, len(wanted), _(KIND_WORDS[kind]))
        drawn.append(drawn_report(order, kind))
    work.settle()
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise _write_problem(folder, error) from error
    return tuple(write_report(one, folder / report_file_name(job, one.kind)) for one in drawn)


def kinds_possible(order: ReportOrder) -> tuple[ReportKind, ...]:
    """Return the reports there are for a job and that no stop keeps back."""
    there = offered(order.source.assessment)
    return tuple(kind for kind in there if not stops_against(kind, order.findings))


@dataclass(frozen=True, slots=True)
class _Usable:
    """A template to print by; one that came with the program is put into another language.

    `remark` says why the company's own one could not be used.
    """

    template: Template
    is_ours: bool
    remark: tuple[Finding, ...] = ()


def _printed(order: ReportOrder, kind: ReportKind, by: _Usable) -> tuple[Printed, bytes]:
    from deskapp.report.build.document import build
    from deskapp.report.pdf.draw import draw
    from deskapp.report.template import in_words_of_the_language

    stops = stops_against(kind, order.findings)
    if stops:
        raise ReportProblem("stops", _stops_text(kind, stops), stops)
    if kind not in offered(order.source.assessment):
        text = _("No test of this job repeats an earlier one: choose it at “Retest of” first.")
        raise ReportProblem("no-retest", text)
    buffer = BytesIO()
    with speaking(order.language):
        template = in_words_of_the_language(by.template) if by.is_ours else by.template
        source = order.in_its_language()
        document = build(template, source)
        if source.issue is not None and not document.has_issue_mark:
            template, note = _with_issue_mark(template, order, kind)
            by = replace(by, remark=(*by.remark, note))
            document = build(template, source)
        carried = carried_with_report(
            order.source,
            order.job_text(),
            kind.value,
            document.language,
            own_words=not by.is_ours,
        )
        printed = draw(document, order.source.photos, buffer, attachments=carried)
    return replace(printed, findings=(*printed.findings, *by.remark)), buffer.getvalue()


def _with_issue_mark(
    template: Template, order: ReportOrder, kind: ReportKind
) -> tuple[Template, Finding]:
    """Return the template with the code of an issue at its end, taken from that of the program."""
    from deskapp.report.template import in_words_of_the_language

    ours = _usable(replace(order, own=None), kind).template
    [spec] = (one for one in in_words_of_the_language(ours).block if one.kind == "issue_mark")
    note = Finding(
        level=Level.NOTE,
        code="issue-mark-added",
        what=_("The template prints no code of the issue, so it was added at the end."),
        mend=_("Show the block “{block}” in the template where it should stand.").format(
            block=_(BLOCK_WORDS["issue_mark"])
        ),
    )
    return template.model_copy(update={"block": (*template.block, spec)}), note


def _usable(order: ReportOrder, kind: ReportKind) -> _Usable:
    """Return the company's own template if one is chosen and good, else that of the program."""
    from deskapp.report.template import TemplateProblem, read_template
    from deskapp.session.own_templates import not_usable

    remark: tuple[Finding, ...] = ()
    own = (order.own or {}).get(kind.value)
    if own is not None:
        try:
            template = read_template(own)
        except TemplateProblem as problem:
            remark = (not_usable(problem.text),)
        else:
            if template.id == kind.value:
                return _Usable(template, is_ours=False)
            text = _("{file} is a template of another report: its id is “{id}”, not “{kind}”.")
            told = text.format(file=own.name, id=template.id, kind=kind.value)
            remark = (not_usable(told),)
    path = order.templates.get(kind.value)
    if path is None:
        text = _("There is no template for the report “{kind}”. Install the program again.")
        raise ReportProblem("template", text.format(kind=_(KIND_WORDS[kind])))
    try:
        return _Usable(read_template(path), is_ours=True, remark=remark)
    except TemplateProblem as problem:
        raise ReportProblem("template", problem.text) from problem


def _write_problem(path: Path, error: OSError) -> ReportProblem:
    from deskapp.archive.safe_write import write_problem

    return ReportProblem("write", write_problem(path, error).text)


def _stops_text(kind: ReportKind, stops: tuple[Finding, ...]) -> str:
    first = _("{kind}: mend this first.").format(kind=_(KIND_WORDS[kind]))
    return "\n".join((first, *(f"  {finding.text}" for finding in stops)))
