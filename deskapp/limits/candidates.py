"""Which editions may bind a job, and why each fits or does not. None is ever hidden."""

from __future__ import annotations

from collections.abc import Generator, Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, cast

from deskapp.domain.choices import BuildingType, CompliancePath
from deskapp.domain.limit import (
    Edition,
    EditionRole,
    LimitRow,
    PerDuctSurface,
    SurfaceClass,
    SurfaceLeakageClass,
    Verification,
)
from deskapp.domain.measured import day_of
from deskapp.i18n import N_, _
from deskapp.limits.conditions import Condition, air_handler, stage
from deskapp.limits.fit import (
    Fit,
    building_fit,
    date_fit,
    first_year,
    place_fit,
    program_fit,
    purpose_fit,
)
from deskapp.limits.places import EUROPE, Place, read_country, read_place
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


CandidateSteps = Generator[None, None, tuple[Candidate, ...]]
_IN_A_STEP = 5


def candidates(editions: Iterable[Edition], job: Job, home: str = "") -> tuple[Candidate, ...]:
    """Return every edition with what speaks for and against it, the likeliest first.

    Only facts of the job count; a fact that is missing leaves an edition possible. The user
    chooses: an edition that does not fit stays in the list and may be chosen all the same. `home`
    is the country the computer is set to, by its two letters: it counts for the order alone, and
    only where the job names no place and its units tell of none.
    """
    return in_one_go(candidates_in_steps(editions, job, home))


def candidates_in_steps(editions: Iterable[Edition], job: Job, home: str = "") -> CandidateSteps:
    """Return the same at the end, with a pause after each few editions."""
    chosen = {limit.edition.id for limit in job.compliance.limits}
    place = read_place(job.site.region)
    found: list[Candidate] = []
    for edition in editions:
        found.append(_candidate(edition, job, place, chosen))
        if len(found) % _IN_A_STEP == 0:
            yield
    in_feet = place is None and is_in_feet(job)
    hint = home.upper() if place is None else ""
    if in_feet and hint not in IN_FEET:
        hint = ""
    ranks = _role_ranks(job)
    of_home = is_home(job)
    return tuple(
        sorted(
            found,
            key=lambda one: _order(one, in_feet=in_feet, hint=hint, ranks=ranks, of_home=of_home),
        )
    )


def in_one_go(steps: CandidateSteps) -> tuple[Candidate, ...]:
    """Go through all steps without a pause."""
    while True:
        try:
            next(steps)
        except StopIteration as end:
            return cast("tuple[Candidate, ...]", end.value)


def _candidate(edition: Edition, job: Job, place: Place | None, chosen: set[str]) -> Candidate:
    pairs = _pairs(job)
    rows = [(system, choose_row(edition, system, test)) for system, test in pairs]
    likely = [choice.row for _system, choice in rows if choice.row is not None]
    weakest = min(likely or edition.rows, key=lambda row: _WEAKEST.index(row.status))
    points = (
        *_about_edition(edition, job, place),
        *_about_rows(edition, pairs, rows),
        AspectFit(Aspect.STATUS, *_status(weakest)),
    )
    return Candidate(edition, points, weakest.status, edition.id in chosen)


IN_FEET = ("", "US", "CA")
"""Countries whose floor areas are told in square feet, and editions of none. Common practice, no
source."""

_RANK = {Fit.YES: 0, Fit.MAYBE: 1, Fit.NO: 2}


def is_in_feet(job: Job) -> bool:
    """Say whether floor areas were typed in square feet."""
    areas = (job.house.floor_area, *(system.area_served for system in job.systems))
    units = {area.unit for area in areas if area is not None}
    return units == {"ft2"}


_CODE_FIRST = {
    EditionRole.CODE: 0,
    EditionRole.MODEL_CODE: 0,
    EditionRole.PROGRAM: 1,
    EditionRole.STANDARD: 2,
}
_ROLE_RANKS = {
    CompliancePath.PERFORMANCE: {**_CODE_FIRST, EditionRole.STANDARD: 1},
    CompliancePath.PROGRAM: {
        EditionRole.PROGRAM: 0,
        EditionRole.CODE: 1,
        EditionRole.MODEL_CODE: 1,
        EditionRole.STANDARD: 2,
    },
    CompliancePath.CONTRACT: {
        EditionRole.STANDARD: 0,
        EditionRole.CODE: 1,
        EditionRole.MODEL_CODE: 1,
        EditionRole.PROGRAM: 2,
    },
}
"""What comes first for a reason of the test, where it is not a code. Common practice, no source."""

_LAST = 3
_BY_SURFACE = (SurfaceClass, SurfaceLeakageClass, PerDuctSurface)


def is_home(job: Job) -> bool:
    """Say whether the ducts serve a home, as far as is entered."""
    return job.house.building_type is not BuildingType.COMMERCIAL


def codes_come_first(job: Job) -> bool:
    """Say whether nobody has told what a test is for, so that it is most likely for a code.

    Common practice, no source: most tests of homes are made for a permit. The classes of leakage
    of standards are for other buildings.
    """
    return job.compliance.path is None and is_home(job)


def _role_ranks(job: Job) -> dict[EditionRole, int]:
    """Return the order of roles for the reason of the test; none but for homes."""
    path = job.compliance.path
    if not is_home(job):
        return dict.fromkeys(EditionRole, 0)
    return _CODE_FIRST if path is None else _ROLE_RANKS.get(path, _CODE_FIRST)


def _is_for_other_buildings(edition: Edition) -> bool:
    """Say whether all limits of an edition go by duct surface, and it is no code.

    Such classes are written for sheet metal in larger buildings: common practice, no source.
    """
    by_surface = all(isinstance(row.rule, _BY_SURFACE) for row in edition.rows)
    return by_surface and edition.role not in (EditionRole.CODE, EditionRole.MODEL_CODE)


def _order(
    candidate: Candidate, *, in_feet: bool, hint: str, ranks: dict[EditionRole, int], of_home: bool
) -> tuple[int | str, ...]:
    """Return what comes first.

    Where the place is not known, feet tell of North America, and `hint` of a country. What the
    test is for goes by `ranks`, unless the job names the program; then the code of the state
    comes before those it may have adopted. Classes by duct surface come last for homes.
    """
    deciding = [point.fits for point in candidate.points if point.decides]
    edition = candidate.edition
    place = candidate.point(Aspect.PLACE)
    is_here = place is not None and place.fits is Fit.YES
    of_a_state = bool(edition.region and edition.country)
    program = candidate.point(Aspect.PROGRAM)
    is_named = program is not None and program.fits is Fit.YES
    return (
        _RANK[candidate.fits],
        int(in_feet and edition.country not in IN_FEET),
        int(bool(hint) and not _may_hold_in(edition, hint)),
        int(of_home and _is_for_other_buildings(edition)),
        0 if is_named else ranks[edition.role] if edition.role else _LAST,
        int(not (of_a_state and is_here)),
        deciding.count(Fit.NO),
        deciding.count(Fit.MAYBE),
        int(of_a_state),
        -(first_year(edition) or 0),
        int(candidate.weakest is Verification.MEMORY),
        edition.name,
    )


def _may_hold_in(edition: Edition, country: str) -> bool:
    """Say whether an edition is one of a country, of its region of the world, or of no place."""
    if edition.region == EUROPE:
        return Place(country).is_in_europe
    return not edition.country or read_country(edition.country) == country


def _about_edition(edition: Edition, job: Job, place: Place | None) -> Iterator[AspectFit]:
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
    Verification.MEMORY,
    Verification.USER,
    Verification.SECONDARY,
    Verification.CODE_TEXT,
)


def _status(row: LimitRow) -> tuple[Fit, str]:
    known = row.status is Verification.CODE_TEXT or bool(row.verified_by)
    words = status_text(row.status, row.verified_by, row.verified_on)
    return Fit.YES if known else Fit.MAYBE, words
