"""How much each leak matters: the usual severity of its place, raised by what surrounds it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.domain.choices import DuctLocation, DuctSide, LeakSize, LeakSpace, Severity, YesNo
from deskapp.domain.repair_result import LeakRank
from deskapp.i18n import _

if TYPE_CHECKING:
    from collections.abc import Sequence

    from deskapp.domain.job import Job
    from deskapp.domain.leak import Leak
    from deskapp.domain.system import DuctSystem
    from deskapp.domain.vocabulary import LeakLocation

OUTSIDE = frozenset(
    {
        DuctLocation.ATTIC,
        DuctLocation.CRAWLSPACE,
        DuctLocation.BASEMENT,
        DuctLocation.GARAGE,
        DuctLocation.BELLY,
    }
)
"""Where ducts run outside the thermal envelope. Common practice, no source."""

_STEPS = tuple(Severity)
_SIZES = tuple(LeakSize)


def ranked(job: Job, locations: Sequence[LeakLocation]) -> tuple[LeakRank, ...]:
    """Return the leaks found with their severity, in the order of their numbers.

    A severity is raised by one step outside the thermal envelope, and a return leak in the room of
    a fuel-burning appliance is critical; common practice, no source ranks leaks. One that a person
    gave goes before.
    """
    places = {place.id: place for place in locations}
    return tuple(
        _rank(leak, job.leak_number(leak.key) or 0, places.get(leak.location), _system(job, leak))
        for leak in job.leaks_found
    )


def most_pressing_first(ranks: Sequence[LeakRank]) -> tuple[LeakRank, ...]:
    """Return leaks by severity, then by size as guessed, then by number."""
    return tuple(sorted(ranks, key=_pressing))


def _pressing(rank: LeakRank) -> tuple[int, int, int]:
    severity = -1 if rank.severity is None else _STEPS.index(rank.severity)
    size = -1 if rank.size is None else _SIZES.index(rank.size)
    return -severity, -size, rank.number


def _system(job: Job, leak: Leak) -> DuctSystem | None:
    only = job.systems[0] if len(job.systems) == 1 and not leak.system else None
    return only or job.system(leak.system)


def _rank(
    leak: Leak, number: int, place: LeakLocation | None, system: DuctSystem | None
) -> LeakRank:
    usual = place.severity if place is not None else None
    severity, reason = leak.severity, leak.severity_reason.strip()
    if severity is None:
        severity, reason = _worked_out(leak, place, system)
    return LeakRank(
        key=leak.key,
        number=number,
        system=leak.system,
        severity=severity,
        usual=usual,
        reason=reason,
        is_given=leak.severity is not None,
        is_open=leak.repaired is not YesNo.YES,
        size=leak.size,
    )


def _worked_out(
    leak: Leak, place: LeakLocation | None, system: DuctSystem | None
) -> tuple[Severity | None, str]:
    side = leak.side or (place.side if place is not None else None)
    if leak.space is LeakSpace.BURNER_ROOM and side is DuctSide.RETURN:
        return Severity.CRITICAL, _("A return leak in the room of a fuel-burning appliance.")
    if place is None or place.severity is None:
        return None, ""
    if not _is_outside(leak, system) or place.severity is Severity.CRITICAL:
        return place.severity, _("Usual for this kind of place.")
    raised = _STEPS[_STEPS.index(place.severity) + 1]
    return raised, _("One step up: it lies outside the thermal envelope.")


def _is_outside(leak: Leak, system: DuctSystem | None) -> bool:
    if leak.space is not None:
        return leak.space is LeakSpace.OUTSIDE
    return system is not None and system.duct_location in OUTSIDE
