"""The answers a choice or reference field offers."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from deskapp.domain.choices import CHOICE_LABELS, Metric
from deskapp.domain.fields import label_of
from deskapp.domain.photo_subject import Each
from deskapp.i18n import _

if TYPE_CHECKING:
    from deskapp.domain.field_spec import FieldSpec
    from deskapp.domain.instrument import Fan, Gauge, Ring
    from deskapp.domain.job import Job
    from deskapp.domain.trial import LeakageTest
    from deskapp.session.resources import Shelf
    from deskapp.units.display import Formatter


class Option(NamedTuple):
    """One answer: the value kept in the job, and the words for it."""

    value: str
    label: str


def options_of(
    spec: FieldSpec,
    path: str,
    job: Job,
    shelf: Shelf,
    formatter: Formatter,
) -> tuple[Option, ...]:
    """Return the answers the choice or reference field at `path` offers, in order.

    Raises ValueError for a field that is typed.
    """
    if spec.choices is not None:
        labels = CHOICE_LABELS[spec.choices]
        return tuple(Option(value, _(words)) for value, words in labels.items())
    if spec.reference == "systems":
        return tuple(
            Option(system.key, system.name or label_of(f"systems.{position}"))
            for position, system in enumerate(job.systems)
        )
    if spec.reference == "gauges":
        return tuple(
            Option(gauge.key, _instrument(gauge, f"gauges.{position}"))
            for position, gauge in enumerate(job.gauges)
        )
    if spec.reference == "fans":
        return tuple(
            Option(fan.key, _instrument(fan, f"fans.{position}"))
            for position, fan in enumerate(job.fans)
        )
    if spec.reference == "rings":
        return _rings(path, job, formatter)
    if spec.reference == "tests":
        return _tests(path, job)
    if spec.reference == "rereadings":
        return tuple(
            Option(row.key, ", ".join(filter(None, (label_of(f"rereadings.{at}"), row.read_time))))
            for at, row in enumerate(job.rereadings)
        )
    if spec.reference == "leak_locations":
        return tuple(Option(place.id, _(place.label)) for place in shelf.leak_locations)
    if spec.reference == "materials":
        return tuple(Option(one.id, _(one.label)) for one in shelf.materials)
    if spec.reference == "photo_subjects":
        of_leak = path.startswith("leaks.")
        return tuple(
            Option(subject.id, _(subject.label))
            for subject in sorted(
                shelf.photo_subjects, key=lambda one: (one.each is Each.JOB) is of_leak
            )
        )
    raise ValueError(f"{spec.path} is typed, not chosen from a list")


def _instrument(instrument: Gauge | Fan, path: str) -> str:
    parts = [instrument.description or label_of(path)]
    if instrument.serial:
        parts.append(instrument.serial)
    return ", ".join(parts)


def _tests(path: str, job: Job) -> tuple[Option, ...]:
    """Return the tests of ducts; to a test those before it, of the same system."""
    parts = path.split(".")
    here = int(parts[1]) if parts[0] == "tests" else len(job.tests)
    system = job.tests[here].system if here < len(job.tests) else None
    names = {one.key: one.name or label_of(f"systems.{at}") for at, one in enumerate(job.systems)}
    return tuple(
        Option(test.key, ": ".join(filter(None, (names.get(test.system), _label(test, at)))))
        for at, test in enumerate(job.tests[:here])
        if test.setup.metric is not Metric.ENVELOPE and system in (None, test.system)
    )


def _label(test: LeakageTest, position: int) -> str:
    return test.label or label_of(f"tests.{position}")


def _rings(path: str, job: Job, formatter: Formatter) -> tuple[Option, ...]:
    """Return the rings of the fan used in the test that `path` belongs to, or follows."""
    fan = job.fan(job.fan_key_at(path))
    if fan is None:
        return ()
    number = job.fans.index(fan)
    return tuple(
        Option(ring.key, ring_words(ring, formatter) or label_of(f"fans.{number}.rings.{position}"))
        for position, ring in enumerate(fan.rings)
    )


def ring_words(ring: Ring, formatter: Formatter) -> str:
    """Return the flow range that names a ring, ``50 to 180 cfm``; empty if it is not known."""
    from deskapp.units.kinds import Kind

    low, high = ring.flow_low, ring.flow_high
    if low is None or low.si is None or high is None or high.si is None:
        return ""
    unit = formatter.unit_for(Kind.FLOW)
    least = formatter.show(Kind.FLOW, low.si, unit, 0).removesuffix(formatter.label(unit)).strip()
    return _("{low} to {high}").format(low=least, high=formatter.show(Kind.FLOW, high.si, unit, 0))
