"""Checks of the answers of the safety walk against each other."""

from __future__ import annotations

from collections.abc import Iterator

from deskapp.domain import paths
from deskapp.domain.choices import Stage, YesNo
from deskapp.domain.choices_safety import Fuel, Vent
from deskapp.domain.fields import label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.leaving import is_under_way
from deskapp.i18n import _

ALWAYS = ("safety.gas_smell", "safety.asbestos_suspected", "safety.combustion_appliances")
WITH_BURNERS = ("safety.ambient_co", "safety.burners_off")
ON_THE_WALK = (
    "safety.vermiculite_suspected",
    "safety.mold_suspected",
    "safety.fireplace",
    "safety.lung_trouble",
    "safety.co_alarm",
    "safety.smoke_alarm",
)
"""What else is asked before a fan runs; common practice, no source."""
MEASURED_TWICE = ("safety.ambient_co", "safety.zone_pressure", "safety.spillage_time")
"""What is measured before the work and once more after it; the second field ends in `_after`."""


def burns_fuel(job: Job) -> bool:
    """Say whether the building has an appliance that burns fuel, by answer or by row."""
    return job.safety.combustion_appliances is YesNo.YES or any(
        row.fuel not in (None, Fuel.ELECTRIC) for row in job.appliances
    )


def drafts_naturally(job: Job) -> bool:
    """Say whether one of the appliances vents by natural draft, by answer or by row."""
    return job.safety.natural_draft_appliance is YesNo.YES or any(
        row.vent is Vent.NATURAL_DRAFT for row in job.appliances
    )


def asked_before_a_test(job: Job) -> tuple[str, ...]:
    """Return the paths of the questions that are to be answered before a fan runs."""
    fire = ("safety.fire_out",) if job.safety.fireplace is YesNo.YES else ()
    return (*ALWAYS, *ON_THE_WALK, *fire, *(WITH_BURNERS if burns_fuel(job) else ()))


def work_was_done(job: Job) -> bool:
    """Say whether ducts were closed: a leak is recorded as sealed, or a test as one after that."""
    return any(leak.repaired is YesNo.YES for leak in job.leaks_found) or any(
        test.setup.stage is Stage.AFTER_REPAIR or test.retest_of for test in job.tests
    )


def not_measured_again(job: Job) -> tuple[str, ...]:
    """Return the paths of what was measured before the work and not again after it.

    Tighter ducts change what fans do to the room of an appliance, so that spillage is looked at
    again after sealing: field guides of weatherization programs, read in part.
    """
    if not (burns_fuel(job) and work_was_done(job)):
        return ()
    return tuple(
        f"{path}_after"
        for path in MEASURED_TWICE
        if paths.get(job, path) is not None and paths.get(job, f"{path}_after") is None
    )


def check(job: Job) -> Iterator[Finding]:
    """Yield what of the safety walk is open although a fan has run, and what contradicts itself."""
    asked = (*ALWAYS, *(WITH_BURNERS if burns_fuel(job) else ()))
    unanswered = [path for path in asked if paths.get(job, path) is None]
    if unanswered and is_under_way(job):
        names = "; ".join(label_of(path) for path in unanswered)
        yield Finding(
            level=Level.CHECK,
            code="safety_walk",
            path=unanswered[0],
            what=_("Readings were taken, but the safety walk is not answered: {names}.").format(
                names=names
            ),
            mend=_("Answer it before a fan runs again."),
        )
    again = not_measured_again(job)
    if again:
        yield Finding(
            level=Level.CHECK,
            code="safety_again",
            path=again[0],
            what=_("Ducts were sealed, but this was not measured again after it: {names}.").format(
                names="; ".join(label_of(path) for path in again)
            ),
            allowed=_("Tighter ducts change what fans pull out of the room of an appliance."),
            mend=_("Measure it again before you leave, and enter what you read."),
        )
    if burns_fuel(job) and job.safety.combustion_appliances is not YesNo.YES:
        yield _contradiction("combustion_appliances", _("a row below burns fuel"))
    if drafts_naturally(job) and job.safety.natural_draft_appliance is YesNo.NO:
        yield _contradiction("natural_draft_appliance", _("a row below vents by natural draft"))


def _contradiction(name: str, why: str) -> Finding:
    path = f"safety.{name}"
    return Finding(
        level=Level.CHECK,
        code="appliances_differ",
        path=path,
        what=_("{label}: not answered with yes, but {why}.").format(label=label_of(path), why=why),
        mend=_("Correct the answer or the row."),
    )
