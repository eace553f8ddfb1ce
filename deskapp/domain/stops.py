"""Which answers keep a test from starting, and whether somebody has answered for going on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from enum import StrEnum

from deskapp.domain import paths
from deskapp.domain.cautions import applies, cautions_for
from deskapp.domain.checks import value_as_typed
from deskapp.domain.choices import CHOICE_LABELS
from deskapp.domain.fields import field_at, label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.measured import Day, Measured
from deskapp.domain.safety import Acknowledgment
from deskapp.domain.vocabulary import Audience, Caution, CautionLevel, Stop
from deskapp.i18n import _

SAFETY_STOP = "safety_stop"
ACKNOWLEDGED_STOP = "acknowledged_stop"


def stops_for(job: Job, stops: Iterable[Stop]) -> tuple[Stop, ...]:
    """Return the stops that the answers of `job` call for, acknowledged or not."""
    return tuple(stop for stop in stops if applies(stop.when, job))


def open_stops(job: Job, stops: Iterable[Stop]) -> tuple[Stop, ...]:
    """Return the stops nobody has acknowledged for the answers as they stand."""
    return tuple(stop for stop in stops_for(job, stops) if acknowledgment_of(job, stop) is None)


def acknowledgment_of(job: Job, stop: Stop) -> Acknowledgment | None:
    """Return who acknowledged `stop`, if its answers are still the same."""
    cause = cause_of(job, stop)
    return next(
        (one for one in job.acknowledgments if one.stop == stop.id and one.cause == cause), None
    )


def lasting_stops(
    job: Job,
    stops: Iterable[Stop],
    cautions: Iterable[Caution],
    audience: Audience = Audience.BOTH,
) -> tuple[tuple[Stop, Acknowledgment], ...]:
    """Return the acknowledged stops that go on being a danger to people, and who answered for them.

    They are those about an answer that a caution calls a danger. Such a stop was gone past, not
    cleared: it is told beside every verdict until the answer changes.
    """
    grave = (one for one in cautions if one.level is CautionLevel.DANGER)
    dangers = {
        field for caution in cautions_for(job, grave, audience) for field in caution.when.fields
    }
    return tuple(
        (stop, record)
        for stop in stops_for(job, stops)
        if not dangers.isdisjoint(stop.when.fields)
        and (record := acknowledgment_of(job, stop)) is not None
    )


def cause_of(job: Job, stop: Stop) -> tuple[str, ...]:
    """Return the answers `stop` looks at, in a form to compare."""
    return tuple(f"{path}={_plain(value)}" for path, value in _answers(job, stop))


def answer_words(job: Job, stop: Stop) -> str:
    """Return the answers that call for `stop` in words: ``Smell of gas: Yes``."""
    return "; ".join(
        f"{label_of(path)}: {_shown(path, value)}" for path, value in _given(job, stop)
    )


def without_stale(job: Job, stops: Iterable[Stop]) -> Job:
    """Return `job` without acknowledgments of stops whose answers have changed since.

    One of a stop that is not among `stops` stays: nothing is known about it.
    """
    known = {stop.id: stop for stop in stops}
    kept = tuple(
        one
        for one in job.acknowledgments
        if (stop := known.get(one.stop)) is None
        or (one.cause == cause_of(job, stop) and applies(stop.when, job))
    )
    if len(kept) == len(job.acknowledgments):
        return job
    return job.model_copy(update={"acknowledgments": kept})


def stop_findings(job: Job, stops: Iterable[Stop]) -> Iterator[Finding]:
    """Yield each stop that nobody has acknowledged, at the answer that calls for it."""
    for stop in open_stops(job, stops):
        yield Finding(
            level=Level.STOP,
            code=SAFETY_STOP,
            path=next((path for path, _value in _given(job, stop)), ""),
            what=_(stop.text),
            allowed=_(stop.todo),
            mend=_(
                "Only if the test goes on after that: acknowledge it with name and reason on the "
                "page “Before you start”."
            ),
        )


def lasting_findings(
    job: Job, stops: Iterable[Stop], cautions: Iterable[Caution]
) -> Iterator[Finding]:
    """Yield each danger to people that somebody went past: acknowledged, and not cleared."""
    for stop, record in lasting_stops(job, stops, cautions):
        yield Finding(
            level=Level.CHECK,
            code=ACKNOWLEDGED_STOP,
            path=next((path for path, _value in _given(job, stop)), ""),
            what=_("{stop} Acknowledged by {name}, not cleared.").format(
                stop=_(stop.text), name=record.name
            ),
            mend=_("Once it is cleared, enter what was found then; this stays until it changes."),
        )


def _answers(job: Job, stop: Stop) -> Iterator[tuple[str, object]]:
    for field in stop.when.fields:
        yield from paths.expand(job, field)


def _given(job: Job, stop: Stop) -> Iterator[tuple[str, object]]:
    return ((path, value) for path, value in _answers(job, stop) if _plain(value))


def _plain(value: object) -> str:
    if isinstance(value, Measured):
        return value.typed if value.si is None else f"{value.si:.9g}"
    if isinstance(value, Day):
        return value.typed
    return "" if value is None else str(value)


def _shown(path: str, value: object) -> str:
    if isinstance(value, Measured):
        return value.typed if value.si is None else value_as_typed(value, field_at(path))
    if isinstance(value, StrEnum):
        return _(CHOICE_LABELS[type(value)][value.value])
    return _plain(value)
