"""The log of a sampling plan as a document to print and sign."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from deskapp.domain.branding import Branding
from deskapp.i18n import N_, _, language_tag
from deskapp.report import blocks as b
from deskapp.report.build.wording import logo_words
from deskapp.report.color import readable_on_white
from deskapp.report.plain_text import printable

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import date

    from deskapp.limits.sampling_log import CheckRow, DrawRow, SamplingLog
    from deskapp.units.display import Formatter

_TEXT_SIZE = 9.2
_TITLE = N_("Sampling log")


@dataclass(frozen=True, slots=True, kw_only=True)
class LogInput:
    """The log of a plan and what its document needs besides; `issued_on` is printed on it.

    `next_units` are the names of the units the next step is about.
    """

    log: SamplingLog
    branding: Branding
    formatter: Formatter
    issued_on: date
    next_units: tuple[str, ...] = ()
    logo: bytes | None = None
    paper: b.Paper = b.Paper.LETTER


def sampling_document(source: LogInput) -> b.Document:
    """Return the finished log: rule and progress, next step, every draw, every check."""
    branding = source.branding
    company = printable(branding.company)
    project = printable(source.log.facts[0].text) if source.log.facts else ""
    issued = _("Issued {day}").format(day=source.formatter.day(source.issued_on))
    return b.Document(
        title=_(_TITLE),
        subject=project,
        author=company,
        language=language_tag(),
        paper=source.paper,
        accent=readable_on_white(branding.accent, Branding().accent),
        text_size=_TEXT_SIZE,
        issued_on=source.issued_on,
        running=b.Running(
            header_left=_(_TITLE),
            header_right=project,
            footer_left=" · ".join(part for part in (company, issued) if part),
            page_words=_("Page {page} of {pages}"),
            continued=_("{heading} (continued)"),
        ),
        blocks=tuple(_blocks(source)),
        logo=source.logo,
    )


def _blocks(source: LogInput) -> Iterator[b.Block]:
    log, branding = source.log, source.branding
    reach = " · ".join(part for part in (branding.phone, branding.email) if part)
    contact = (branding.license, branding.address, reach)
    yield b.Letterhead(
        company=printable(branding.company),
        contact=tuple(printable(line) for line in contact if line),
        title=_(_TITLE),
        subtitle=tuple(printable(fact.text) for fact in log.facts[:2]),
        logo_description=logo_words(source.logo, branding.company),
    )
    sign, word = (b.Sign.PASS, _("Done")) if log.is_done else (b.Sign.NOTE, _("Next"))
    texts = (log.next, ", ".join(source.next_units))
    yield b.Banner(sign, word, tuple((b.TextSpan(printable(text)),) for text in texts if text))
    facts = (b.Fact(printable(fact.label), printable(fact.text)) for fact in log.facts)
    yield b.Facts(tuple(facts), columns=3)
    yield from _draws(source)
    yield from _checks(source)
    yield b.Heading(_("Signature"), 2)
    yield b.Signature(
        _("This log shows every draw and every check made under this plan, in their order."),
        tuple(
            b.SignatureLine(label)
            for label in (_("Signature"), _("Date of signing"), _("Name"), _("License number"))
        ),
    )


def _draws(source: LogInput) -> Iterator[b.Block]:
    yield b.Heading(_("Draws"), 2)
    if not source.log.draws:
        yield b.Paragraph((b.TextSpan(_("Nothing has been drawn yet.")),))
        return
    columns = (
        b.Column(_("No."), weight=0.4),
        b.Column(_("Day"), weight=1.0),
        b.Column(_("Purpose"), weight=1.4),
        b.Column(_("Seed"), b.Align.RIGHT, 0.9),
        b.Column(_("Drawn"), weight=1.8),
        b.Column(_("Drawn from"), weight=3.2),
    )
    rows = tuple(_draw_row(source, row) for row in source.log.draws)
    note = _("Seed and list lead to the same units again; the draw can be repeated by anybody.")
    yield b.Table(columns, rows, note)
    for row in source.log.draws:
        if not row.repeats:
            words = _("Draw {number}: this seed leads to other units than those recorded.")
            yield b.Banner(b.Sign.WARNING, words.format(number=row.number))


def _draw_row(source: LogInput, row: DrawRow) -> tuple[str, ...]:
    purpose = row.purpose
    if row.set_number:
        purpose += ", " + _("set {number}").format(number=row.set_number)
    return (
        str(row.number),
        source.formatter.day(row.day),
        printable(purpose),
        str(row.seed),
        printable(", ".join(row.drawn)),
        printable(", ".join(row.pool)),
    )


def _checks(source: LogInput) -> Iterator[b.Block]:
    yield b.Heading(_("Checks"), 2)
    if not source.log.checks:
        yield b.Paragraph((b.TextSpan(_("Nothing has been checked yet.")),))
        return
    columns = (
        b.Column(_("No."), weight=0.4),
        b.Column(_("Day"), weight=1.0),
        b.Column(_("Unit"), weight=1.9),
        b.Column(_("Drawn"), weight=1.4),
        b.Column(_("Measured"), b.Align.RIGHT, 0.9),
        b.Column(_("Outcome"), weight=1.0),
        b.Column(_("Checked by"), weight=1.2),
        b.Column(_("Note"), weight=1.6),
    )
    yield b.Table(columns, tuple(_check_row(source, row) for row in source.log.checks))


def _check_row(source: LogInput, row: CheckRow) -> tuple[str, ...]:
    unit = ", ".join(part for part in (row.unit, row.kind, row.address) if part)
    outcome = f"{row.outcome}, {_('checked again')}" if row.again else row.outcome
    texts = (unit, row.purpose, row.measured, outcome, row.checked_by, row.note)
    return (str(row.number), source.formatter.day(row.day), *(printable(text) for text in texts))
