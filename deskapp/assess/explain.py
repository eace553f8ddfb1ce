"""Why a limit binds and how it was decided, line by line, for the screen and for paper alike."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from deskapp.assess.limit_misfits import misfits
from deskapp.domain.fields import field_at
from deskapp.domain.job import Job
from deskapp.domain.limit import ChosenLimit, Edition, LimitRow
from deskapp.domain.measured import si_of
from deskapp.domain.result import LimitOutcome, Verdict
from deskapp.domain.system import DuctSystem
from deskapp.domain.trial import LeakageTest
from deskapp.i18n import N_, _, labeled
from deskapp.limits.candidates import ASPECT_LABELS, AspectFit, about_edition
from deskapp.limits.conditions import CONDITIONS
from deskapp.limits.digits import symbol, written
from deskapp.limits.fit import Fit
from deskapp.limits.judge import PRESSURE_TOLERANCE
from deskapp.limits.places import read_place
from deskapp.limits.select import choose_row
from deskapp.limits.words import status_text


class LinePart(StrEnum):
    """What a line of an explanation tells of."""

    EDITION = "edition"
    ROW = "row"
    CLAUSE = "clause"
    STATUS = "status"
    CONDITION = "condition"
    CONSIDERED = "considered"
    RULE = "rule"
    ARITHMETIC = "arithmetic"
    REASON = "reason"
    VERDICT = "verdict"
    WAIVER = "waiver"
    EXCEPTIONS = "exceptions"
    NOTE = "note"


_LABELS = {
    LinePart.EDITION: N_("Edition"),
    LinePart.ROW: N_("Row"),
    LinePart.CLAUSE: N_("Clause"),
    LinePart.STATUS: N_("How well it is known"),
    LinePart.CONDITION: N_("Condition"),
    LinePart.CONSIDERED: N_("Row considered"),
    LinePart.RULE: N_("Rule"),
    LinePart.ARITHMETIC: N_("Arithmetic"),
    LinePart.REASON: N_("Reason"),
    LinePart.VERDICT: N_("Verdict"),
    LinePart.WAIVER: N_("Waiver"),
    LinePart.EXCEPTIONS: N_("Exceptions"),
    LinePart.NOTE: N_("Note"),
}
_VERDICTS = {
    Verdict.PASS: N_("Pass"),
    Verdict.FAIL: N_("Fail"),
    Verdict.NONE: N_("No verdict"),
}


@dataclass(frozen=True, slots=True)
class ExplainLine:
    """One line: what it tells of, its label, its text.

    `holds` says for a condition or a row considered whether it fits (None: a fact is missing).
    """

    part: LinePart
    text: str
    holds: bool | None = True

    @property
    def label(self) -> str:
        """The words for what the line tells of."""
        return _(_LABELS[self.part])


def explain(
    outcome: LimitOutcome,
    edition: Edition,
    row: LimitRow | None,
    system: DuctSystem,
    test: LeakageTest | None = None,
) -> tuple[ExplainLine, ...]:
    """Return the lines that explain one outcome, in order.

    Args:
        outcome: the test of a system judged by a limit.
        edition: the edition, as copied into the job.
        row: the row it was judged by; None where none was found.
        system: the system; its facts answer the conditions.
        test: the test; None where none was made, and then its conditions are left out.

    Returns:
        Edition, row, clause, status; each condition with the fact of the job; rule, arithmetic in
        the code's own unit as it was decided, verdict; waiver, exceptions and notes.
    """
    return tuple(_lines(outcome, edition, row, system, test))


def explain_in(job: Job, system_key: str, outcome: LimitOutcome) -> tuple[ExplainLine, ...]:
    """Explain an outcome of the job's assessment; empty if the job no longer has its limit."""
    limit = next((one for one in job.compliance.limits if one.key == outcome.limit), None)
    system = job.system(system_key)
    if limit is None or system is None:
        return ()
    test = next((one for one in job.tests if one.key == outcome.test), None)
    return explain(outcome, limit.edition, limit.edition.row(outcome.row), system, test)


def unsettled(job: Job, outcome: LimitOutcome) -> tuple[str, ...]:
    """Return what leaves open whether the edition of an outcome binds this job: aspect and why.

    What speaks against it outright is told by `unfit`.

    Stage, air handler and row are left out: they are the conditions of the row, told one by one.
    """
    limit = next((one for one in job.compliance.limits if one.key == outcome.limit), None)
    if limit is None:
        return ()
    return tuple(labeled(_(ASPECT_LABELS[point.aspect]), point.why) for point in _open(limit, job))


def unsettled_aspects(job: Job, outcome: LimitOutcome) -> tuple[str, ...]:
    """Return the names of what `unsettled` tells of."""
    limit = next((one for one in job.compliance.limits if one.key == outcome.limit), None)
    return () if limit is None else tuple(_(ASPECT_LABELS[one.aspect]) for one in _open(limit, job))


def unfit(job: Job, outcome: LimitOutcome) -> tuple[AspectFit, ...]:
    """Return what speaks against the edition of an outcome: facts of the job contradict it."""
    limit = next((one for one in job.compliance.limits if one.key == outcome.limit), None)
    return () if limit is None else tuple(misfits(limit.edition, job))


def _open(limit: ChosenLimit, job: Job) -> Iterator[AspectFit]:
    against = tuple(misfits(limit.edition, job))
    for point in about_edition(limit.edition, job, read_place(job.site.region)):
        if point.fits is not Fit.YES and point not in against:
            yield point


def _lines(
    outcome: LimitOutcome,
    edition: Edition,
    row: LimitRow | None,
    system: DuctSystem,
    test: LeakageTest | None,
) -> Iterator[ExplainLine]:
    yield ExplainLine(LinePart.EDITION, labeled(edition.body, edition.name))
    if row is not None:
        yield ExplainLine(LinePart.ROW, _(row.title))
        yield ExplainLine(LinePart.CLAUSE, row.clause)
        yield ExplainLine(LinePart.STATUS, _status(row))
        if test is not None:
            yield from _conditions(row, system, test)
    elif test is not None:
        yield from _considered(edition, system, test)
    if outcome.rule_text:
        yield ExplainLine(LinePart.RULE, outcome.rule_text)
    for line in outcome.lines:
        yield ExplainLine(LinePart.ARITHMETIC, line)
    yield from _end(outcome)
    if row is not None and row.exceptions:
        yield ExplainLine(LinePart.EXCEPTIONS, _(row.exceptions))
    for note in dict.fromkeys((outcome.note or (_(row.note) if row else ""), _(edition.note))):
        if note:
            yield ExplainLine(LinePart.NOTE, note)


def _status(row: LimitRow) -> str:
    known = status_text(row.status, row.verified_by, row.verified_on)
    return _("{status}. Source: {source}").format(status=known, source=_(row.source))


def _conditions(row: LimitRow, system: DuctSystem, test: LeakageTest) -> Iterator[ExplainLine]:
    for condition in CONDITIONS:
        answer = condition(row, system, test)
        if answer is not None:
            yield ExplainLine(LinePart.CONDITION, answer.why, answer.holds)
    target = si_of(test.setup.target_pressure)
    if row.pressure_pa is not None and target is not None:
        yield ExplainLine(
            LinePart.CONDITION,
            _(
                "{field}: the limit is for {limit} Pa, the test is worked out for {target} Pa"
            ).format(
                field=_(field_at("tests.*.setup.target_pressure").label),
                limit=written(round(row.pressure_pa, 1)),
                target=written(round(target, 1)),
            ),
            abs(row.pressure_pa - target) <= PRESSURE_TOLERANCE,
        )


def _considered(edition: Edition, system: DuctSystem, test: LeakageTest) -> Iterator[ExplainLine]:
    for entry in choose_row(edition, system, test).considered:
        title = _(entry.row.title)
        text = labeled(title, entry.why) if entry.why else title
        yield ExplainLine(LinePart.CONSIDERED, text, entry.fits)


def _end(outcome: LimitOutcome) -> Iterator[ExplainLine]:
    if outcome.reason:
        yield ExplainLine(LinePart.REASON, outcome.reason, None)
    words = _("Waived, not tested") if outcome.is_waived else _(_VERDICTS[outcome.verdict])
    if outcome.unit and outcome.verdict is not Verdict.NONE:
        words = _("{verdict}, decided in {unit} without rounding").format(
            verdict=words, unit=symbol(outcome.unit)
        )
    yield ExplainLine(LinePart.VERDICT, words, outcome.verdict is Verdict.PASS)
    if outcome.waiver and not outcome.is_waived:
        yield ExplainLine(LinePart.WAIVER, outcome.waiver)
