"""How each edition fits a job, and why it does or does not."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from deskapp.domain.limit import (
    Edition,
    EditionRole,
    LimitRow,
    Verification,
)
from deskapp.domain.measured import day_of
from deskapp.i18n import N_, _
from deskapp.limits.conditions import Condition, air_handler, stage
from deskapp.limits.fit import (
    Fit,
    building_fit,
    date_fit,
    place_fit,
    program_fit,
    purpose_fit,
)
from deskapp.limits.places import Place
from deskapp.limits.select import RowChoice, choose_row
from deskapp.limits.words import status_text

if TYPE_CHECKING:
    from deskapp.domain.job import Job
    from deskapp.domain.system import DuctSystem
    from deskapp.domain.trial import LeakageTest

    Pair = tuple[DuctSystem, LeakageTest]


class Aspect(StrEnum):
    """What an edition and a job are compared in."""

    PLACE = "place"
    DATE = "date"
    BUILDING = "building"
    PURPOSE = "purpose"
    PROGRAM = "program"
    STAGE = "stage"
    AIR_HANDLER = "air_handler"
    ROW = "row"
    STATUS = "status"


ASPECT_LABELS = {
    Aspect.PLACE: N_("Place"),
    Aspect.DATE: N_("Permit date"),
    Aspect.BUILDING: N_("Building"),
    Aspect.PURPOSE: N_("Reason for the test"),
    Aspect.PROGRAM: N_("Program"),
    Aspect.STAGE: N_("Stage"),
    Aspect.AIR_HANDLER: N_("Air handler"),
    Aspect.ROW: N_("Row that would apply"),
    Aspect.STATUS: N_("How well it is known"),
}


@dataclass(frozen=True, slots=True)
class AspectFit:
    """How an edition fits in one aspect, and why; the status informs and never decides."""

    aspect: Aspect
    fits: Fit
    why: str

    @property
    def decides(self) -> bool:
        """Whether the point counts for the edition as a whole."""
        return self.aspect is not Aspect.STATUS


@dataclass(frozen=True, slots=True)
class Candidate:
    """An edition beside a job.

    `is_chosen`: the job is judged by it already. `weakest` is how well the least known of the rows
    that would apply is known (of all rows, where that is not settled).
    """

    edition: Edition
    points: tuple[AspectFit, ...]
    weakest: Verification
    is_chosen: bool = False

    @property
    def fits(self) -> Fit:
        """The edition as a whole: no point may speak against it, and all must speak for it."""
        found = {point.fits for point in self.points if point.decides}
        return Fit.NO if Fit.NO in found else Fit.MAYBE if Fit.MAYBE in found else Fit.YES

    def point(self, aspect: Aspect) -> AspectFit | None:
        """Return how it fits in one aspect, if that was looked at."""
        return next((point for point in self.points if point.aspect is aspect), None)


def candidate_of(edition: Edition, job: Job, place: Place | None, chosen: set[str]) -> Candidate:
    """Return how an edition fits the job and its place; `chosen` are ids chosen already."""
    pairs = _pairs(job)
    rows = [(system, choose_row(edition, system, test)) for system, test in pairs]
    likely = [choice.row for _system, choice in rows if choice.row is not None]
    weakest = min(likely or edition.rows, key=lambda row: _WEAKEST.index(row.status))
    points = (
        *about_edition(edition, job, place),
        *_about_rows(edition, pairs, rows),
        AspectFit(Aspect.STATUS, *_status(weakest)),
    )
    return Candidate(edition, points, weakest.status, edition.id in chosen)


def about_edition(edition: Edition, job: Job, place: Place | None) -> Iterator[AspectFit]:
    """Yield how an edition as a whole fits the job and its place, aspect by aspect."""
    yield AspectFit(Aspect.PLACE, *place_fit(edition, job.site.region, place))
    yield AspectFit(Aspect.DATE, *date_fit(edition, day_of(job.site.permit_date)))
    if edition.buildings:
        yield AspectFit(Aspect.BUILDING, *building_fit(edition, job.house.building_type))
    yield AspectFit(Aspect.PURPOSE, *purpose_fit(edition.role, job.compliance.path))
    if edition.role is EditionRole.PROGRAM:
        yield AspectFit(Aspect.PROGRAM, *program_fit(edition, job.site.program_id))


def _about_rows(
    edition: Edition, pairs: list[Pair], rows: list[tuple[DuctSystem, RowChoice]]
) -> Iterator[AspectFit]:
    yield AspectFit(Aspect.STAGE, *_by_condition(stage, edition.rows, pairs))
    if any(row.air_handler_installed is not None for row in edition.rows):
        yield AspectFit(Aspect.AIR_HANDLER, *_by_condition(air_handler, edition.rows, pairs))
    if rows:
        yield AspectFit(Aspect.ROW, *_together([_row(system, choice) for system, choice in rows]))


def _row(system: DuctSystem, choice: RowChoice) -> tuple[Fit, str]:
    if choice.row is not None:
        return Fit.YES, f"{_name(system)}: {_(choice.row.title)}"
    ruled_out = all(entry.fits is False for entry in choice.considered)
    return Fit.NO if ruled_out else Fit.MAYBE, f"{_name(system)}: {choice.reason}"


def _pairs(job: Job) -> list[Pair]:
    """Return each system with its latest test."""
    found: list[Pair] = []
    for system in job.systems:
        tests = job.tests_of(system.key)
        if tests:
            found.append((system, tests[-1]))
    return found


def _name(system: DuctSystem) -> str:
    return system.name or _("unnamed system")


def _by_condition(
    condition: Condition, rows: Iterable[LimitRow], pairs: list[Pair]
) -> tuple[Fit, str]:
    if not pairs:
        return Fit.MAYBE, _("no test is recorded yet")
    return _together([_one_pair(condition, rows, pair) for pair in pairs])


def _one_pair(condition: Condition, rows: Iterable[LimitRow], pair: Pair) -> tuple[Fit, str]:
    system, test = pair
    answers = [
        condition(row, system, test)
        for row in rows
        if condition is stage or (at := stage(row, system, test)) is None or at.holds is not False
    ]
    if not answers:
        return Fit.NO, _("{system}: no row for this stage").format(system=_name(system))
    if any(answer is None for answer in answers):
        return Fit.YES, _("{system}: not restricted").format(system=_name(system))
    found = [answer for answer in answers if answer is not None]
    for holds, fit in ((True, Fit.YES), (None, Fit.MAYBE)):
        for answer in found:
            if answer.holds is holds:
                return fit, f"{_name(system)}: {answer.why}"
    clauses = "; ".join(dict.fromkeys(answer.why for answer in found))
    return Fit.NO, f"{_name(system)}: {clauses}"


def _together(found: list[tuple[Fit, str]]) -> tuple[Fit, str]:
    """Combine what holds for each system; an edition that fits only some may still fit."""
    fits = {fit for fit, _why in found}
    whole = fits.pop() if len(fits) == 1 else Fit.MAYBE
    return whole, "; ".join(dict.fromkeys(why for _fit, why in found))


_WEAKEST = (
    Verification.INVENTED,
    Verification.MEMORY,
    Verification.USER,
    Verification.SECONDARY,
    Verification.CODE_TEXT,
)


def _status(row: LimitRow) -> tuple[Fit, str]:
    known = row.status is Verification.CODE_TEXT or bool(row.verified_by)
    words = status_text(row.status, row.verified_by, row.verified_on)
    return Fit.YES if known else Fit.MAYBE, words
