"""Whether the house is left as it was found."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from deskapp.domain import paths
from deskapp.domain.arrival import ArrivalItem, Leaving
from deskapp.domain.choices import YesNo
from deskapp.domain.fields import field_at, label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.measured import Measured, si_of
from deskapp.domain.trial import SetUp
from deskapp.domain.vocabulary import ArrivalThing
from deskapp.i18n import _
from deskapp.units.display import in_sentences
from deskapp.units.kinds import Kind


def listed(job: Job) -> tuple[ArrivalItem, ...]:
    """Return the rows of the list that hold anything."""
    return tuple(item for item in job.arrival if not item.is_blank)


def unsettled(job: Job) -> Iterator[tuple[int, ArrivalItem]]:
    """Yield position and row of everything that keeps the list from being closed."""
    return (
        (at, item)
        for at, item in enumerate(job.arrival)
        if not item.is_blank and not item.is_settled
    )


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

    A closing vouches for the rows as they stood, and for the seals of the tests made until then.
    A yes given by hand goes where a row has changed: from then on the list has to answer.
    """
    if job.leaving != before.leaving:
        return job
    is_other = listed(job) != listed(before)
    if before.leaving.closed_by:
        return reopened(job) if is_other or _seals(job) != _seals(before) else job
    was_vouched = before.safety.equipment_restored is YesNo.YES
    return reopened(job) if is_other and was_vouched else job


def _seals(job: Job) -> tuple[object, ...]:
    return tuple(told for test in job.tests if any(told := _changed_for(test.setup)))


def _changed_for(setup: SetUp) -> tuple[object, ...]:
    return (
        setup.supplies_sealed,
        setup.returns_sealed,
        setup.fresh_air_sealed,
        setup.filter_removed,
    )


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


def left_sealed(job: Job, things: Iterable[ArrivalThing]) -> Iterator[Finding]:
    """Yield what was sealed for a test and of which the list does not tell that it is open again.

    What the list counts or explains itself is left to its own row.
    """
    for thing in things:
        sealed = changed_for_tests(job, thing)
        rows = [(at, item) for at, item in enumerate(job.arrival) if item.item == thing.id]
        if not sealed or any(item.explained.strip() for _at, item in rows):
            continue
        counted = [si for _at, item in rows if (si := si_of(item.seals_on)) is not None]
        changed = any(item.is_changed for _at, item in rows)
        if changed and (not counted or sum(counted) >= sealed):
            continue
        number = in_sentences().number(sealed, 0)
        if changed:
            words = _("only {on} seals are listed, but {n} were put on for the tests")
            why = words.format(on=in_sentences().number(sum(counted), 0), n=number)
        elif is_counted(thing):
            why = _("not listed as changed, but {n} were sealed for the tests").format(n=number)
        else:
            why = _("not listed as changed, but a test tells of it: {label}").format(
                label=_(field_at(thing.seals[0]).label)
            )
        field = "seals_on" if changed else "changed"
        yield Finding(
            level=Level.STOP if thing.grave else Level.CHECK,
            code="left_sealed",
            path=f"arrival.{rows[0][0]}.{field}" if rows else "arrival",
            what=_("{what}: {why}.").format(what=_(thing.label), why=why),
            mend=_("Correct the number of seals on and off.")
            if changed
            else _("List it, put it back as it was found, and tick that; or say why not."),
        )


def is_counted(thing: ArrivalThing) -> bool:
    """Say whether tests count the seals of a thing, rather than only tell that it was changed."""
    return bool(thing.seals) and field_at(thing.seals[0]).kind is Kind.COUNT


def told_by_tests(job: Job, things: Iterable[ArrivalThing]) -> Iterator[str]:
    """Yield in words what the tests of `job` tell of as changed, with the number of seals."""
    for thing in things:
        number = changed_for_tests(job, thing)
        if number and is_counted(thing):
            yield _("{what} ({n})").format(what=_(thing.label), n=in_sentences().number(number, 0))
        elif number:
            yield _(thing.label)


def changed_for_tests(job: Job, thing: ArrivalThing) -> float:
    """Return how many seals of a thing, or changes of it, the tests tell of.

    Of each system the most of one test counts, since a retest seals the same registers again.
    """
    most: dict[str, float] = {}
    for at, test in enumerate(job.tests):
        values = [paths.get(job, path.replace("*", str(at), 1)) for path in thing.seals]
        seals = sum(_how_many(value) for value in values)
        most[test.system] = max(seals, most.get(test.system, 0.0))
    return sum(most.values())


def _how_many(value: object) -> float:
    return (si_of(value) or 0.0) if isinstance(value, Measured) else float(value is YesNo.YES)


def leaving_findings(job: Job, things: Iterable[ArrivalThing]) -> Iterator[Finding]:
    """Yield what is not left as it was found, once a fan has run or somebody has vouched for it.

    What can hurt someone who stays in the house, such as a pilot out or an alarm switched off, is a
    stop: nobody signs a paper about that house before it is put right or explained. All else is a
    check.
    """
    things = tuple(things)
    if not listed(job) and job.safety.equipment_restored is YesNo.YES:
        yield from _vouched_without_list(job, things)
    if not is_under_way(job):
        return
    grave = {thing.id for thing in things if thing.grave}
    is_begun = bool(listed(job))
    if is_begun:
        yield from left_sealed(job, things)
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
    if is_begun and not changed and not is_closed(job):
        yield Finding(
            level=Level.CHECK,
            code="leaving_open",
            path="arrival",
            what=_("Nobody has confirmed how the house is left."),
            mend=_("Go through the list at the end of the visit and confirm it with your name."),
        )


def _vouched_without_list(job: Job, things: tuple[ArrivalThing, ...]) -> Iterator[Finding]:
    told = [*told_by_tests(job, things)]
    if job.safety.burners_off is YesNo.YES:
        told.append(label_of("safety.burners_off"))
    if told:
        yield Finding(
            level=Level.CHECK,
            code="vouched_without_list",
            path="arrival",
            what=_(
                "{label}: answered with yes, but nothing is listed, and other entries tell of: "
                "{told}."
            ).format(label=label_of("safety.equipment_restored"), told="; ".join(told)),
            mend=_(
                "Begin the list, tick what is put back, and confirm it; or take the answer away."
            ),
        )
