"""Checks of a job that need no physics: unread text, ranges, sums, dates."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from functools import partial
from typing import Protocol

from deskapp.domain import (
    checks_air,
    checks_clock,
    checks_dates,
    checks_length,
    checks_order,
    checks_people,
    checks_retests,
    checks_rings,
    checks_safety,
    checks_systems,
    checks_year,
)
from deskapp.domain.base import Frozen
from deskapp.domain.checks_typed import day_otherwise, pairs_otherwise, typed_otherwise
from deskapp.domain.choices import Metric
from deskapp.domain.field_spec import FieldSpec, Form, Span
from deskapp.domain.fields import FIELDS, field_at, label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.measured import Day, Measured
from deskapp.domain.paths import expand
from deskapp.domain.usable import set_aside, usable
from deskapp.domain.walk import held
from deskapp.i18n import _
from deskapp.units.convert import from_unit, kind_of, to_unit
from deskapp.units.display import example_in_words, in_sentences, words_key
from deskapp.units.kinds import Kind

_LARGEST_SHOWN = 1e12
_ROUNDING = 1e-9
_MOST_DECIMALS = 10


class Kept(Protocol):
    """Gives again what was worked out before from the very same parts."""

    def __call__(
        self, name: str, parts: tuple[object, ...], work: Callable[[], tuple[Finding, ...]], /
    ) -> tuple[Finding, ...]:
        """Return what `work` gives, which follows from `parts` and nothing else."""
        ...


def _anew(
    _name: str, _parts: tuple[object, ...], work: Callable[[], tuple[Finding, ...]]
) -> tuple[Finding, ...]:
    return work()


def check(job: Job, kept: Kept = _anew) -> tuple[Finding, ...]:
    """Return what is wrong or odd in the job's own words and numbers. Never raises.

    `kept` saves looking again at a record that has not changed.
    """
    single = _unread_and_out_of_range(job, "", kept)
    rest = usable(job, set_aside(single))
    return (
        *single,
        *kept("pairs", (words_key(), *job.fans), lambda: tuple(pairs_otherwise(job))),
        *checks_systems.check(rest),
        *checks_rings.check(rest),
        *checks_dates.check(rest),
        *checks_year.check(rest),
        *checks_order.check(rest),
        *checks_retests.check(rest),
        *checks_air.check(rest),
        *checks_clock.old_photos(job),
        *checks_safety.check(job),
        *checks_people.check(job),
        *_long_texts(job, kept),
    )


def _long_texts(job: Job, kept: Kept) -> Iterator[Finding]:
    for name in checks_length.places():
        work = partial(_long_texts_in, job, name)
        yield from kept("length", (words_key(), name, getattr(job, name)), work)


def _long_texts_in(job: Job, name: str) -> tuple[Finding, ...]:
    return tuple(checks_length.check(job, name))


def missing(job: Job) -> tuple[str, ...]:
    """Return the paths of the fields a compliance report must state and that are empty."""
    always = (path for spec in FIELDS if spec.needed for path in _empty_paths(job, spec))
    return (*always, *checks_safety.not_measured_again(job))


def _unread_and_out_of_range(record: Frozen, prefix: str, kept: Kept) -> tuple[Finding, ...]:
    found: list[Finding] = []
    for path, value in held(record, prefix):
        if isinstance(value, Measured | Day):
            found += _of_entry(path, value)
        else:
            look = _in_rows if isinstance(value, tuple) else _unread_and_out_of_range
            work = partial(look, value, f"{path}.", kept)
            found += kept("entries", (words_key(), path, value), work)
    return tuple(found)


def _in_rows(rows: tuple[Frozen, ...], prefix: str, kept: Kept) -> tuple[Finding, ...]:
    found: list[Finding] = []
    for position, row in enumerate(rows):
        path = f"{prefix}{position}"
        work = partial(_unread_and_out_of_range, row, f"{path}.", kept)
        found += kept("entries", (words_key(), path, row), work)
    return tuple(found)


def _of_entry(path: str, value: Measured | Day) -> Iterator[Finding]:
    if path.startswith("compliance.limits"):
        return
    spec = field_at(path)
    if isinstance(value, Day):
        if value.value is None:
            yield _unread(path, value.typed, _("a date, such as 2026-03-11"))
        yield from day_otherwise(path, value)
    elif value.si is None:
        yield _unread(path, value.typed, _kind_words(spec))
    else:
        other = tuple(typed_otherwise(path, spec, value))
        yield from other or out_of_range(path, spec, value)


def _kind_words(spec: FieldSpec) -> str:
    shown = example_in_words(spec.example)
    example = _(" such as {example}").format(example=shown) if shown else ""
    return _("a {kind}").format(kind=_(str(spec.kind))) + ("," + example if example else "")


def _unread(path: str, typed: str, wanted: str) -> Finding:
    return Finding(
        level=Level.STOP,
        code="unread",
        path=path,
        what=_("{label}: “{typed}” could not be read.").format(label=label_of(path), typed=typed),
        allowed=_("Needed is {wanted}.").format(wanted=wanted),
        mend=_("Type it again, or clear the field."),
    )


def out_of_range(path: str, spec: FieldSpec, value: Measured, label: str = "") -> Iterator[Finding]:
    """Yield what there is to say about a value outside of the range of its field, if anything.

    `label` stands in for the words of the field table where the path is not in it.
    """
    if spec.form is not Form.QUANTITY or value.si is None:
        return
    for span, level in ((spec.allowed, Level.STOP), (spec.usual, Level.CHECK)):
        if span is None or _inside(value.si, span):
            continue
        mend = (
            _("Type a value in that range, or clear the field.")
            if level is Level.STOP
            else _("Check the value and its unit; it stands if it is right.")
        )
        words = _("Allowed: {span}.") if level is Level.STOP else _("Usual: {span}.")
        yield Finding(
            level=level,
            code="range" if level is Level.STOP else "unusual",
            path=path,
            what=_("{label} is {typed}.").format(
                label=label or label_of(path), typed=value_as_typed(value, spec)
            ),
            allowed=words.format(span=_span_words(span, value, spec)),
            mend=mend,
        )
        return


def value_as_typed(value: Measured, spec: FieldSpec) -> str:
    """Return a value the way it was typed, with its unit even when none was typed."""
    assert value.si is not None
    if spec.kind is None or abs(value.si) > _LARGEST_SHOWN:
        return value.typed
    if spec.kind is Kind.COUNT:
        return _count(value.si)
    unit = value.unit or in_sentences().unit_for(spec.kind)
    return in_sentences().show(spec.kind, value.si, unit, _fewest(to_unit(value.si, unit)))


def _fewest(value: float) -> int | None:
    """Return how many decimals tell `value` whole; None, the usual ones, where many would."""
    off = abs(value) * _ROUNDING
    return next((n for n in range(_MOST_DECIMALS) if abs(round(value, n) - value) <= off), None)


def _inside(si: float, span: Span) -> bool:
    low, high = from_unit(span.low, span.unit), from_unit(span.high, span.unit)
    return low - _ROUNDING * abs(low) <= si <= high + _ROUNDING * abs(high)


def _count(value: float) -> str:
    """Return a count, or a year, as a field shows it: thousands are not grouped."""
    return f"{value:.0f}"


def _span_words(span: Span, value: Measured, spec: FieldSpec) -> str:
    if spec.kind is Kind.COUNT:
        return _("{low} to {high}").format(low=_count(span.low), high=_count(span.high))
    unit = value.unit if value.unit and kind_of(value.unit) is kind_of(span.unit) else span.unit
    low, high = (to_unit(from_unit(edge, span.unit), unit) for edge in (span.low, span.high))
    return _("{low} to {high}").format(
        low=in_sentences().number(low, _digits(low)),
        high=f"{in_sentences().number(high, _digits(high))} {in_sentences().label(unit)}".strip(),
    )


def _digits(value: float) -> int:
    """Return how many decimals tell the edge of a range well enough, without zeros at its end."""
    if value == 0 or abs(value) >= 100:
        return 0
    most = (
        1 if abs(value) >= 10 else 2 if abs(value) >= 1 else 3 - math.floor(math.log10(abs(value)))
    )
    return _fewest(round(value, most)) or 0


def _empty_paths(job: Job, spec: FieldSpec) -> Iterator[str]:
    for path, value in expand(job, spec.path):
        if (value is None or value == "") and not _is_answered_elsewhere(job, spec, path):
            yield path


def _is_answered_elsewhere(job: Job, spec: FieldSpec, path: str) -> bool:
    """Say whether an empty field may stay empty.

    A lot stands for the address, and a test of the house itself belongs to no system.
    """
    if spec.path == "site.address":
        return bool(job.site.lot)
    if spec.path == "tests.*.system":
        return job.tests[int(path.split(".")[1])].setup.metric is Metric.ENVELOPE
    return False
