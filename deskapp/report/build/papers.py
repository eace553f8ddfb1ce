"""What makes a report a paper to file: its parts, issues, editions and instruments."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.domain.measured import day_of
from deskapp.i18n import LANGUAGES, _
from deskapp.report.blocks import Align, Column, IssueMark, Paragraph, PartStart, Table
from deskapp.report.build.wording import fill, fill_text, has_all
from deskapp.report.plain_text import printable
from deskapp.units.display import NO_VALUE

if TYPE_CHECKING:
    from deskapp.domain.instrument import Fan, Gauge
    from deskapp.domain.issue import Issue
    from deskapp.domain.limit import Edition
    from deskapp.report.blocks import Block
    from deskapp.report.build.context import Context
    from deskapp.report.template_papers import (
        EditionsSpec,
        InstrumentTableSpec,
        IssueMarkSpec,
        PartSpec,
        RevisionsSpec,
    )


def part(context: Context, spec: PartSpec) -> list[Block]:
    """Build the start of another part."""
    names = context.names
    text, header = fill_text(spec.text, names), fill(spec.header, names)
    return [PartStart(fill(spec.title, names), text, header, spec.pages)]


def revisions(context: Context, spec: RevisionsSpec) -> list[Block]:
    """Build the issues of the report; nothing where none is recorded."""
    issues = context.job.papers_of(context.template.id)
    if not issues:
        return []
    heads = spec.columns
    columns = (
        Column(heads.number, weight=0.7),
        Column(heads.day, weight=1.2),
        Column(heads.by, weight=1.6),
        Column(heads.reason, weight=4.5),
    )
    rows = tuple(
        (
            str(one.revision),
            context.formatter.day(one.made_on or one.issued_on),
            printable(one.by),
            printable(_told(one)) or NO_VALUE,
        )
        for one in issues
    )
    return [Table(columns, rows)]


def _told(issue: Issue) -> str:
    if issue.made_on is not None:
        spoken = LANGUAGES.get(issue.language, issue.language)
        words = (
            _("Further paper, signed: {language}")
            if issue.sealed
            else _("Further paper: {language}")
        )
        return words.format(language=spoken)
    return "\n".join(part for part in (issue.reason, *issue.changes) if part)


def issue_mark(context: Context, spec: IssueMarkSpec) -> list[Block]:
    """Build the code by which a report on paper is known again; nothing unless it is issued."""
    issue = context.source.issue
    if issue is None:
        return []
    names = context.names | {
        "revision": str(issue.revision),
        "before": str(issue.revision - 1) if issue.revision > 1 else "",
        "mark": issue.short_mark,
        "by": printable(issue.by),
        "changes": "; ".join(printable(change) for change in issue.changes),
        "reason": printable(issue.reason),
        "further": context.formatter.day(issue.made_on) if issue.made_on else "",
    }
    lines = tuple(fill_text(line, names) for line in spec.lines if has_all(line, names))
    code = paper_code(issue)
    return [IssueMark(code, lines, fill(spec.alternative, names))]


def paper_code(issue: Issue) -> str:
    """Return what the code on paper holds: lines a person can read as well."""
    return "\n".join(
        (
            "DUCTFOLIO",
            printable(issue.number),
            issue.kind,
            str(issue.revision),
            issue.issued_on.isoformat(),
            issue.mark,
        )
    )


def editions(context: Context, spec: EditionsSpec) -> list[Block]:
    """Build the editions kept inside the job, and which of their rows were held against it."""
    kept = tuple(
        {limit.edition.id: limit.edition for limit in context.job.compliance.limits}.values()
    )
    if not kept:
        return []
    heads = spec.columns
    columns = (
        Column(heads.edition, weight=2.0),
        Column(heads.body, weight=1.8),
        Column(heads.rows, Align.RIGHT, 0.6),
        Column(heads.judged, weight=2.6),
        Column(heads.status, weight=2.4),
    )
    rows = tuple(_edition_row(context, edition) for edition in kept)
    return [Table(columns, rows, fill(spec.note, context.names))]


def _edition_row(context: Context, edition: Edition) -> tuple[str, ...]:
    limits = {one.key for one in context.job.compliance.limits if one.edition.id == edition.id}
    used = {
        outcome.row
        for system in context.source.assessment.systems
        for outcome in system.outcomes
        if outcome.limit in limits
    }
    judged = [row for row in edition.rows if row.id in used]
    words = context.template.words.status
    told = dict.fromkeys(words.get(row.status, "") for row in judged)
    return (
        printable(edition.name),
        printable(edition.body),
        str(len(edition.rows)),
        printable("; ".join(_(row.title) for row in judged)) or NO_VALUE,
        " ".join(one for one in told if one) or NO_VALUE,
    )


def instrument_table(context: Context, spec: InstrumentTableSpec) -> list[Block]:
    """Build gauges and fans with their calibration, a row each."""
    job, heads = context.job, spec.columns
    if not job.gauges and not job.fans:
        return [Paragraph(fill_text(spec.none_recorded, context.names))]
    columns = (
        Column(heads.what, weight=2.3),
        Column(heads.serial, weight=1.0),
        Column(heads.certificate, weight=1.0),
        Column(heads.laboratory, weight=2.3),
        Column(heads.calibrated, weight=1.2),
        Column(heads.due, weight=1.2),
    )
    rows = (
        *(_instrument_row(context, gauge, spec.gauge) for gauge in job.gauges),
        *(_instrument_row(context, fan, spec.fan) for fan in job.fans),
    )
    return [Table(columns, rows)]


def _instrument_row(context: Context, one: Gauge | Fan, kind: str) -> tuple[str, ...]:
    silent = context.template.words.not_recorded
    days = (day_of(one.calibrated_on), day_of(one.due_on))
    texts = (one.serial, one.certificate, one.laboratory)
    name = printable(one.description) or fill(kind, context.names)
    return (
        name,
        *(printable(text) or silent for text in texts),
        *(silent if day is None else context.formatter.day(day) for day in days),
    )
