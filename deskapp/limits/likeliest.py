"""The editions that may bind a job, the likeliest first. None is hidden but invented examples."""

from __future__ import annotations

from collections.abc import Generator, Iterable
from typing import TYPE_CHECKING, cast

from deskapp.domain.choices import BuildingType, CompliancePath
from deskapp.domain.limit import (
    Edition,
    EditionRole,
    PerDuctSurface,
    SurfaceClass,
    SurfaceLeakageClass,
    Verification,
)
from deskapp.limits.candidates import Aspect, Candidate, candidate_of
from deskapp.limits.fit import Fit, first_year
from deskapp.limits.places import EUROPE, Place, read_country, read_place

if TYPE_CHECKING:
    from deskapp.domain.job import Job

CandidateSteps = Generator[None, None, tuple[Candidate, ...]]
_IN_A_STEP = 5


def candidates(editions: Iterable[Edition], job: Job, home: str = "") -> tuple[Candidate, ...]:
    """Return every edition with what speaks for and against it, the likeliest first.

    An invented example is there only for a job that is judged by it already.
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
        if edition.is_invented and edition.id not in chosen:
            continue
        found.append(candidate_of(edition, job, place, chosen))
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
