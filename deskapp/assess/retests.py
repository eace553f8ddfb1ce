"""Retests held against the tests they repeat: set-up field by field, then the results."""

from __future__ import annotations

from collections.abc import Iterator
from enum import StrEnum

from deskapp.assess.change import change, in_common
from deskapp.assess.limit_flow import greatest_flow
from deskapp.assess.verdict import same_target
from deskapp.domain import paths
from deskapp.domain.choices import CHOICE_LABELS, Stage
from deskapp.domain.field_spec import Compared, FieldSpec, Form
from deskapp.domain.fields import FIELDS, field_at, label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.measured import Measured
from deskapp.domain.repair_result import RetestResult, SetUpDifference
from deskapp.domain.result import SystemResult, TestResult
from deskapp.i18n import _
from deskapp.units.display import in_sentences
from deskapp.units.kinds import Kind

_ROUNDING = 1e-9


def retests(
    job: Job, results: dict[str, TestResult], systems: tuple[SystemResult, ...]
) -> tuple[tuple[RetestResult, ...], tuple[Finding, ...]]:
    """Return each retest held against the test it repeats, and what is to be said about them."""
    found: list[RetestResult] = []
    told: list[Finding] = []
    for position, test in enumerate(job.tests):
        earlier = [one.key for one in job.tests[:position]]
        if test.retest_of not in earlier:
            continue
        first = earlier.index(test.retest_of)
        both = (results[earlier[first]], results[test.key])
        differences = (*_differences(job, first, position), *_densities(position, *both))
        told += (_told(position, one) for one in differences)
        one = _held_against(job, first, position, results, differences)
        if one is not None:
            limit = greatest_flow(job, test, results, systems)
            found.append(one.model_copy(update={"limit_flow": limit}))
            told += _about(position, one)
    return tuple(found), tuple(told)


def _differences(job: Job, first: int, now: int) -> Iterator[SetUpDifference]:
    for spec in FIELDS:
        if spec.compared is None:
            continue
        path = spec.path.replace("*", str(now), 1)
        before = paths.get(job, spec.path.replace("*", str(first), 1))
        after = paths.get(job, path)
        if _are_alike(before, after):
            continue
        yield SetUpDifference(
            path=path,
            label=_(spec.label),
            before=_words(spec, before),
            now=_words(spec, after),
            breaks=spec.compared is Compared.BREAKS,
        )


def _densities(now: int, before: TestResult, after: TestResult) -> Iterator[SetUpDifference]:
    """Yield that air density was corrected in one of the two tests only, for want of a reading."""
    was, now_is = bool(before.not_corrected), bool(after.not_corrected)
    if was is not now_is:
        words = {False: _("corrected"), True: _("not corrected, as the air was not read")}
        yield SetUpDifference(
            path=f"tests.{now}.ambient.indoor_temperature",
            label=_(field_at("tests.*.setup.flow_basis").label),
            before=words[was],
            now=words[now_is],
            breaks=True,
        )


def _are_alike(one: object, other: object) -> bool:
    if isinstance(one, Measured) and isinstance(other, Measured):
        if one.si is None or other.si is None:
            return one == other
        return abs(one.si - other.si) <= _ROUNDING * max(1.0, abs(one.si))
    return _plain(one) == _plain(other)


def _plain(value: object) -> object:
    """Return a value so that writing and empty entries of either sort do not make a difference.

    Before and after the repair are one stage: what lies between them is what a retest is for.
    """
    if value is Stage.BEFORE_REPAIR:
        return Stage.AFTER_REPAIR
    if isinstance(value, str) and not isinstance(value, StrEnum):
        return " ".join(value.casefold().split()).rstrip(".") or None
    return value


def _words(spec: FieldSpec, value: object) -> str:
    """Return an entry in words; empty for an empty one and for the key of a row."""
    if isinstance(value, Measured):
        shown = value.si is not None and spec.kind is not None
        return in_sentences().plain(spec.kind, value.si) if shown else value.typed  # type: ignore[arg-type]
    if isinstance(value, StrEnum):
        return _(CHOICE_LABELS[type(value)][value.value])
    if spec.form is Form.REFERENCE or not isinstance(value, str):
        return ""
    return value.strip()


def _told(position: int, one: SetUpDifference) -> Finding:
    names = {"test": label_of(f"tests.{position}"), "field": one.label}
    if one.before and one.now:
        what = _("{test}, “{field}”: {now}, but {before} in the test it repeats.").format(
            **names, before=one.before, now=one.now
        )
    elif one.before or one.now:
        what = _("{test}, “{field}”: recorded for one of the two tests only.").format(**names)
    else:
        what = _("{test}, “{field}”: not the same as in the test it repeats.").format(**names)
    if one.breaks:
        return Finding(
            level=Level.CHECK,
            code="retest_differs",
            path=one.path,
            what=what,
            allowed=_("Then a part of the change may come from the set-up, not from the repair."),
            mend=_("Read again with the set-up of the first test, or correct the entry."),
        )
    return Finding(
        level=Level.NOTE,
        code="retest_shares_less",
        path=one.path,
        what=what,
        allowed=_("Both tests can be compared; less of their uncertainty cancels."),
    )


def _held_against(
    job: Job,
    first: int,
    now: int,
    results: dict[str, TestResult],
    differences: tuple[SetUpDifference, ...],
) -> RetestResult | None:
    test, earlier = job.tests[now], job.tests[first]
    after, before = results[test.key], results[earlier.key]
    if before.budget is None or after.budget is None or after.target_pressure is None:
        return None
    if before.metric is not after.metric or not same_target(before, after):
        return None
    shared = in_common(job, earlier.setup, test.setup)
    found = change(before.budget, after.budget, shared)
    if found is None:
        return None
    factor = after.budget.coverage_factor
    return RetestResult(
        test=test.key,
        retest_of=earlier.key,
        system=test.system,
        target_pressure=after.target_pressure,
        before=before.budget.value,
        now=after.budget.value,
        reduction=found.reduction,
        uncertainty=found.expanded,
        share=found.share,
        share_uncertainty=factor * found.share_standard,
        told_apart=found.is_told_apart,
        in_common=tuple(sorted(shared)),
        differences=differences,
    )


def _about(position: int, one: RetestResult) -> Iterator[Finding]:
    if one.told_apart:
        return
    yield Finding(
        level=Level.NOTE,
        code="retest_no_change",
        path=f"tests.{position}.retest_of",
        what=_("{test} differs from the test it repeats by {change} only.").format(
            test=label_of(f"tests.{position}"),
            change=in_sentences().both(Kind.FLOW, abs(one.reduction)),
        ),
        allowed=_("That is within the uncertainty of the difference, ± {most} (k = 2).").format(
            most=in_sentences().both(Kind.FLOW, one.uncertainty)
        ),
    )
