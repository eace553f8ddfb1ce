"""Choosing the row of an edition that the job's own facts ask for."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from deskapp.domain.trial import LeakageTest
from deskapp.i18n import _
from deskapp.limits.conditions import CONDITIONS, metric, stage

if TYPE_CHECKING:
    from deskapp.domain.limit import Edition, LimitRow
    from deskapp.domain.system import DuctSystem


CHOSEN = "compliance.limits"
"""Where the limits are chosen, and their rows."""

_NEAREST = 2
"""Rows named where none fits and no single fact says why."""


@dataclass(frozen=True, slots=True)
class Considered:
    """A row, whether it fits (None: a fact is missing), and why, in words.

    `clauses` are the parts of `why`: what speaks against the row, or else what is missing, or else
    what speaks for it. `field` is the path of the field behind the first of them.
    """

    row: LimitRow
    fits: bool | None
    why: str
    clauses: tuple[str, ...] = ()
    field: str = ""


@dataclass(frozen=True, slots=True)
class RowChoice:
    """The chosen row, every row considered, and the reason where there is no row to judge by.

    With a row, a `reason` is a remark: the row was fixed by hand although a fact speaks against it.
    `field` is the path of the field where the reason can be mended.
    """

    row: LimitRow | None
    considered: tuple[Considered, ...]
    reason: str = ""
    field: str = ""


def choose_row(
    edition: Edition, system: DuctSystem, test: LeakageTest, fixed: str = ""
) -> RowChoice:
    """Choose the one row of `edition` whose conditions all hold for `system` and `test`.

    A row that is only an alternative to another is taken when the other does not fit. Where a
    missing fact could bring in another row, or several rows fit, no row is chosen and `reason` says
    what to answer or to choose.

    Args:
        edition: the edition.
        system: the duct system under test.
        test: the test; its stage and what was measured count.
        fixed: the id of a row chosen by hand, which then goes before the facts; only a row for
            another measure (total leakage, leakage to outside) is still refused.
    """
    considered = tuple(consider(row, system, test) for row in edition.rows)
    if fixed:
        return _fixed(edition, considered, system, test, fixed)
    fitting = _without_alternatives([entry for entry in considered if entry.fits])
    settled = {entry.row.id for entry in fitting}
    open_rows = [
        entry
        for entry in considered
        if entry.fits is None and entry.row.alternative_to not in settled
    ]
    if open_rows:
        clauses = [clause for entry in open_rows for clause in entry.clauses]
        facts = "; ".join(dict.fromkeys(clauses))
        text = _("Which limit applies is not known yet: {facts}. Answer that first.")
        return RowChoice(None, considered, text.format(facts=facts), open_rows[0].field)
    if len(fitting) == 1:
        return RowChoice(fitting[0].row, considered)
    if fitting:
        titles = "; ".join(_(entry.row.title) for entry in fitting)
        text = _("Several rows of {edition} fit: {titles}. Choose the one that is asked of you.")
        reason = text.format(edition=edition.name, titles=titles)
        return RowChoice(None, considered, reason, CHOSEN)
    return RowChoice(None, considered, *_none_fits(edition, considered, system, test))


def consider(row: LimitRow, system: DuctSystem, test: LeakageTest) -> Considered:
    """Ask every condition of `row`: one that does not hold rules it out, whatever is missing."""
    asked = (condition(row, system, test) for condition in CONDITIONS)
    answers = [answer for answer in asked if answer is not None]
    fits: bool | None = True
    for outcome in (False, None):
        if any(answer.holds is outcome for answer in answers):
            fits = outcome
            break
    telling = [answer for answer in answers if answer.holds is fits]
    clauses = tuple(answer.why for answer in telling)
    field = telling[0].field if telling else ""
    return Considered(row, fits, "; ".join(clauses), clauses, field)


def could_fit(row: LimitRow, system: DuctSystem) -> bool:
    """Say whether no known fact of the system speaks against `row`, whatever is tested and when."""
    untold = LeakageTest(key="")
    of_system = (condition for condition in CONDITIONS if condition not in (metric, stage))
    answers = (condition(row, system, untold) for condition in of_system)
    return not any(answer is not None and answer.holds is False for answer in answers)


def _without_alternatives(fitting: list[Considered]) -> list[Considered]:
    ids = {entry.row.id for entry in fitting}
    return [entry for entry in fitting if entry.row.alternative_to not in ids]


def _fixed(
    edition: Edition,
    considered: tuple[Considered, ...],
    system: DuctSystem,
    test: LeakageTest,
    fixed: str,
) -> RowChoice:
    entry = next((entry for entry in considered if entry.row.id == fixed), None)
    if entry is None:
        text = _('{edition} has no row "{row}". Choose one of its rows.')
        reason = text.format(edition=edition.name, row=fixed)
        return RowChoice(None, considered, reason, CHOSEN)
    answer = metric(entry.row, system, test)
    if answer is not None and not answer.holds:
        text = _('The row "{title}" was chosen by hand, but cannot judge this test. {why}.')
        reason = text.format(title=_(entry.row.title), why=answer.why)
        return RowChoice(None, considered, reason, answer.field)
    if entry.fits:
        return RowChoice(entry.row, considered)
    text = _('The row "{title}" was chosen by hand. {why}.')
    reason = text.format(title=_(entry.row.title), why=entry.why)
    return RowChoice(entry.row, considered, reason, entry.field)


def _none_fits(
    edition: Edition, considered: tuple[Considered, ...], system: DuctSystem, test: LeakageTest
) -> tuple[str, str]:
    """Return why, in one sentence, and the path of the field behind it.

    That is the fact that rules out every row, else the rows that come near.
    """
    for asked in CONDITIONS:
        answers = [asked(entry.row, system, test) for entry in considered]
        if all(answer is not None and answer.holds is False for answer in answers):
            allowed = "; ".join(dict.fromkeys(answer.why for answer in answers if answer))
            text = _("No row of {edition} fits this test. {reasons}.")
            field = next((answer.field for answer in answers if answer), "")
            return text.format(edition=edition.name, reasons=allowed), field
    nearest = sorted(considered, key=lambda entry: len(entry.clauses))[:_NEAREST]
    reasons = "; ".join(f"{_(entry.row.title)} ({entry.why})" for entry in nearest)
    text = _("No row of {edition} fits this test. Nearest: {reasons}.")
    return text.format(edition=edition.name, reasons=reasons), nearest[0].field
