"""Tests that a limit asks for beside those made, and tests it does not ask for at all."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from deskapp.domain.choices import CHOICE_LABELS, Metric, YesNo
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.limit import ChosenLimit, LimitRow
from deskapp.domain.result import LimitOutcome, SystemResult
from deskapp.domain.system import DuctSystem
from deskapp.domain.trial import LeakageTest
from deskapp.i18n import _
from deskapp.limits.select import RowChoice, choose_row, consider, could_fit
from deskapp.limits.waivers import WaiverCase, WaiverCheck, check_waivers
from deskapp.limits.words import rule_text


def with_waivers(
    limit: ChosenLimit, outcomes: Iterable[LimitOutcome], facts: WaiverCase
) -> tuple[LimitOutcome, ...]:
    """Return the outcomes of `limit`, each with the waiver that holds for its row, in words.

    The verdict on the test that was made stays as it is.
    """
    checks = check_waivers(limit.edition, facts)
    said: list[LimitOutcome] = []
    for outcome in outcomes:
        waiver = _holding(checks, outcome.row) if outcome.row else None
        said.append(outcome.model_copy(update={"waiver": waiver.text}) if waiver else outcome)
    return tuple(said)


def not_made(
    limit: ChosenLimit,
    latest: tuple[LeakageTest, ...],
    outcomes: Iterable[LimitOutcome],
    facts: WaiverCase,
) -> Iterator[LimitOutcome]:
    """Yield an outcome for each test the edition asks for beside the ones made.

    It is waived where a waiver holds, and otherwise without a verdict, since the limit as a whole
    is then not decided. Where the user fixed one row by hand, only that row is asked about.
    """
    if limit.row:
        return
    judged = {row.metric for outcome in outcomes if (row := limit.edition.row(outcome.row))}
    checks = check_waivers(limit.edition, facts)
    seen: set[Metric] = set()
    for test in latest:
        for row in _asked_beside(limit, facts.system, test):
            if row.metric not in judged and row.metric not in seen:
                seen.add(row.metric)
                yield _unsettled(limit, row.metric, latest, facts) or _missing(limit, row, checks)


def without_test(limit: ChosenLimit, facts: WaiverCase) -> LimitOutcome | None:
    """Return the outcome of a system that was not tested, if no test of it is asked for.

    That is so where each row that could apply is waived. A waived test is no pass.
    """
    checks = check_waivers(limit.edition, facts)
    rows = [row for row in limit.edition.rows if could_fit(row, facts.system)]
    if limit.row:
        rows = [row for row in rows if row.id == limit.row]
    waivers = [_holding(checks, row.id) for row in rows]
    if not rows or any(waiver is None for waiver in waivers):
        return None
    telling = waivers[0]
    assert telling is not None
    return _waived(limit, telling).model_copy(update={"row": rows[0].id if limit.row else ""})


def unsupported_claim(job: Job, systems: Iterable[SystemResult]) -> Iterator[Finding]:
    """Yield what is to be said where an exemption is claimed that no chosen limit knows of."""
    claimed = job.compliance.exemption_claimed is YesNo.YES and job.compliance.limits
    if claimed and not any(outcome.waiver for one in systems for outcome in one.outcomes):
        yield Finding(
            level=Level.CHECK,
            code="exemption_unsupported",
            path="compliance.exemption_claimed",
            what=_("An exemption is claimed, but no waiver of the chosen limits holds here."),
            mend=_("Answer what the waiver asks for, or cite the local clause in the reason."),
        )


def _asked_beside(limit: ChosenLimit, system: DuctSystem, test: LeakageTest) -> Iterator[LimitRow]:
    """Yield rows of another measure that the stage of `test` asks for as well."""
    measure, rows = test.setup.metric, limit.edition.rows
    if measure is None or test.setup.stage is None:
        return
    is_second = any(
        row.in_addition and row.metric is measure and consider(row, system, test).fits is not False
        for row in rows
    )
    for row in rows:
        if row.metric is measure or row.alternative_to or not (row.in_addition or is_second):
            continue
        setup = test.setup.model_copy(update={"metric": row.metric})
        other = test.model_copy(update={"setup": setup})
        if consider(row, system, other).fits is not False:
            yield row


def _holding(checks: Iterable[WaiverCheck], row_id: str) -> WaiverCheck | None:
    return next((check for check in checks if check.holds and check.waiver.covers(row_id)), None)


def _unsettled(
    limit: ChosenLimit, measure: Metric, latest: tuple[LeakageTest, ...], facts: WaiverCase
) -> LimitOutcome | None:
    """Return why a test that was made of `measure` has no row yet, if a fact is missing."""
    for test in latest:
        if test.setup.metric is measure:
            choice = choose_row(limit.edition, facts.system, test)
            if any(entry.fits is None for entry in choice.considered):
                return outcome_without_row(limit, test, choice)
    return None


def outcome_without_row(limit: ChosenLimit, test: LeakageTest, choice: RowChoice) -> LimitOutcome:
    """Return the outcome of a test that no row of the edition fits, or none does yet."""
    return LimitOutcome(
        limit=limit.key,
        test=test.key,
        edition=limit.edition.name,
        body=limit.edition.body,
        reason=choice.reason,
        field=choice.field,
    )


def _missing(limit: ChosenLimit, row: LimitRow, checks: tuple[WaiverCheck, ...]) -> LimitOutcome:
    holding = _holding(checks, row.id)
    if holding is not None:
        return _waived(limit, holding).model_copy(
            update={"row": row.id, "rule_text": rule_text(row.rule)}
        )
    measure = _(CHOICE_LABELS[Metric][row.metric.value])
    reason = _("{measure} is asked for as well, and no such test is recorded. Enter it.").format(
        measure=measure
    )
    could = [check for check in checks if check.holds is None and row.id in check.waiver.rows]
    for check in could:
        words = _("It may be waived. {waiver}").format(waiver=check.text)
        reason = f"{reason} {words}"
    return LimitOutcome(
        limit=limit.key,
        edition=limit.edition.name,
        body=limit.edition.body,
        clause=row.clause,
        row=row.id,
        rule_text=rule_text(row.rule),
        reason=reason,
        status=row.status,
        source=_(row.source),
        note=_(row.note),
    )


def _waived(limit: ChosenLimit, check: WaiverCheck) -> LimitOutcome:
    return LimitOutcome(
        limit=limit.key,
        edition=limit.edition.name,
        body=limit.edition.body,
        clause=check.waiver.clause,
        reason=_("Waived, not tested. {waiver}").format(waiver=check.text),
        waiver=check.text,
        status=check.waiver.status,
        source=_(check.waiver.source),
    )
