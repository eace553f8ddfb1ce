"""Whether the house is left as it was found."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from deskapp.domain.arrival import ArrivalItem, Leaving
from deskapp.domain.choices import YesNo
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.measured import si_of
from deskapp.domain.vocabulary import ArrivalThing
from deskapp.i18n import _
from deskapp.units.display import in_sentences


def unsettled(job: Job) -> Iterator[tuple[int, ArrivalItem]]:
    """Yield position and row of everything that keeps the list from being closed."""
    return ((at, item) for at, item in enumerate(job.arrival) if not item.is_settled)


def is_closed(job: Job) -> bool:
    """Say whether the list was closed and nothing has come up since."""
    return bool(job.leaving.closed_by) and next(unsettled(job), None) is None


def closed(job: Job, name: str, at: str) -> Job:
    """Return `job` with its list closed by `name` at the time `at`.

    It also answers whether equipment was put back: yes where everything was, no where something
    is only explained.
    """
    restored = YesNo.YES if all(item.is_put_back for item in job.arrival) else YesNo.NO
    return job.model_copy(
        update={
            "leaving": Leaving(closed_by=name, closed_at=at),
            "safety": job.safety.model_copy(update={"equipment_restored": restored}),
        }
    )


def reopened(job: Job) -> Job:
    """Return `job` with its list open again, and with no answer about what was put back."""
    return job.model_copy(
        update={
            "leaving": Leaving(),
            "safety": job.safety.model_copy(update={"equipment_restored": None}),
        }
    )


def consistent(before: Job, job: Job) -> Job:
    """Return `job`, its list opened again where a row has changed since it was closed in `before`.

    A closing vouches for the rows as they stood.
    """
    was_closed = before.leaving.closed_by and job.leaving == before.leaving
    if was_closed and job.arrival != before.arrival:
        return reopened(job)
    return job


def is_under_way(job: Job) -> bool:
    """Say whether a fan has run: some test has a reading."""
    return any(reading.duct_pressure for test in job.tests for reading in test.readings)


def why_unsettled(item: ArrivalItem) -> str:
    """Return in words what is left to do about a row that is not settled."""
    if item.changed is None and not item.is_changed:
        return _("not said whether it was changed")
    on, off = si_of(item.seals_on) or 0.0, si_of(item.seals_off) or 0.0
    if item.undone is YesNo.YES and on != off:
        return _("{on} seals put on, {off} taken off").format(
            on=in_sentences().number(on, 0), off=in_sentences().number(off, 0)
        )
    return _("changed, and not put back")


def leaving_findings(job: Job, things: Iterable[ArrivalThing]) -> Iterator[Finding]:
    """Yield what is not left as it was found, once a fan has run.

    What can hurt someone who stays in the house, such as a pilot out or an alarm switched off, is a
    stop: nobody signs a paper about that house before it is put right or explained. All else is a
    check.
    """
    if not is_under_way(job):
        return
    grave = {thing.id for thing in things if thing.grave}
    changed = [(at, item) for at, item in unsettled(job) if item.is_changed]
    for at, item in changed:
        yield Finding(
            level=Level.STOP if item.item in grave else Level.CHECK,
            code="not_put_back",
            path=f"arrival.{at}.{'seals_off' if item.undone is YesNo.YES else 'undone'}",
            what=_("{what}: {why}.").format(
                what=item.what or _("A change on arrival"), why=why_unsettled(item)
            ),
            mend=_("Put it back as it was found, or say why not and who was told."),
        )
    if job.arrival and not changed and not is_closed(job):
        yield Finding(
            level=Level.CHECK,
            code="leaving_open",
            path="arrival",
            what=_("The list of what was changed on arrival is not closed."),
            mend=_("Go through it at the end of the visit and close it with your name."),
        )
