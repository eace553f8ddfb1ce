"""The messages about a test of the house itself: what its standards ask, and what is missing."""

from __future__ import annotations

from collections.abc import Iterator

from deskapp.assess.run import Run
from deskapp.domain.choices import Method, Metric
from deskapp.domain.fields import label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.measured import si_of
from deskapp.domain.result import TestResult
from deskapp.domain.trial import LeakageTest
from deskapp.i18n import N_, _
from deskapp.physics.multi_point_rules import (
    ASTM_E779,
    ISO_9972,
    Missed,
    MultiPointTest,
    Rule,
    missed_rules,
)
from deskapp.units.display import in_sentences
from deskapp.units.kinds import Kind

DIFFERENT = 0.10
"""Air changes typed and measured that differ by more earn a remark. House rule."""


# Rules told here, with the field they belong to, their words and their unit.
_RULES: dict[Rule, tuple[str, str, Kind | None]] = {
    Rule.LOWEST_PRESSURE: (
        "readings.0.duct_pressure",
        N_("the lowest pressure is {found}, and it asks for {bound} or more"),
        Kind.PRESSURE,
    ),
    Rule.BASELINES_BELOW_LOWEST: (
        "baseline_before",
        N_("the lowest pressure is {found} times the baseline, and it asks for {bound} times"),
        None,
    ),
    Rule.PRESSURE_REACHED: (
        "readings.0.duct_pressure",
        N_("the highest pressure is {found}, and it asks for {bound} or more"),
        Kind.PRESSURE,
    ),
    Rule.HIGHEST_PRESSURE: (
        "readings.0.duct_pressure",
        N_("the highest pressure is {found}, and it asks for {bound} at most"),
        Kind.PRESSURE,
    ),
    Rule.LARGEST_STEP: (
        "readings.0.duct_pressure",
        N_("two pressures lie {found} apart, and it asks for steps of {bound} at most"),
        Kind.PRESSURE,
    ),
    Rule.LARGEST_BASELINE: (
        "baseline_before",
        N_("a baseline of {found} was read, and it voids a test above {bound}"),
        Kind.PRESSURE,
    ),
    Rule.LARGEST_HEIGHT_TIMES_DIFFERENCE: (
        "ambient.outdoor_temperature",
        N_("height times temperature difference is {found} m·K, and it asks for {bound} m·K"),
        None,
    ),
    Rule.LARGEST_WIND_SPEED: (
        "ambient.wind",
        N_("the wind blew at {found}, and it asks for {bound} at most"),
        Kind.SPEED,
    ),
}


def about_house(
    job: Job, position: int, test: LeakageTest, runs: tuple[Run, ...], result: TestResult
) -> Iterator[Finding]:
    """Yield what is to be said about a test of the house; nothing for a test of ducts."""
    if test.setup.metric is not Metric.ENVELOPE or not any(run.used for run in runs):
        return
    path = f"tests.{position}"
    if si_of(job.house.volume) is None:
        yield _missing("house.volume", _("air changes per hour"))
    if result.method is Method.SINGLE_PRESSURE:
        yield _one_point(path)
    yield from _standards(job, path, test, runs)
    yield from _typed_beside(job, result)


def _missing(path: str, what: str) -> Finding:
    return Finding(
        level=Level.CHECK,
        code="house_volume_missing",
        path=path,
        what=_("{field} is missing, so no {figure} can be worked out.").format(
            field=label_of(path), figure=what
        ),
        mend=_("Type the volume inside the envelope."),
    )


def _one_point(path: str) -> Finding:
    return Finding(
        level=Level.NOTE,
        code="house_one_pressure",
        path=f"{path}.setup.method",
        what=_("The house was tested at one pressure, and its exponent is assumed."),
        allowed=_("ISO 9972 and ASTM E779 ask for five pressures or more."),
        mend=_("Read at several pressures where a standard is named; leakage areas need it most."),
    )


def _standards(job: Job, path: str, test: LeakageTest, runs: tuple[Run, ...]) -> Iterator[Finding]:
    """Yield a finding for each rule that a standard has and the test does not keep."""
    asked: dict[Rule, list[tuple[str, Missed]]] = {}
    for run in runs:
        facts = _facts(job, test, run)
        if facts is None:
            continue
        for edition in (ISO_9972, ASTM_E779):
            for missed in missed_rules(edition, facts):
                told = asked.setdefault(missed.rule, [])
                if all(title != edition.title for title, _missed in told):
                    told.append((edition.title, missed))
    for rule, told in asked.items():
        if rule in _RULES:
            yield _rule(path, rule, told)


def _facts(job: Job, test: LeakageTest, run: Run) -> MultiPointTest | None:
    sizes = tuple(abs(row.induced_pressure) for row in run.used if row.induced_pressure is not None)
    if not sizes:
        return None
    several = run.setting.conditions.several
    return MultiPointTest(
        pressures=tuple(sorted(set(sizes))) if several else (max(sizes),),
        baselines=tuple(
            value
            for value in (si_of(test.baseline_before), si_of(test.baseline_after))
            if value is not None
        ),
        height_times_difference=_height_times_difference(job, test),
        wind_speed=si_of(test.ambient.wind),
    )


def _height_times_difference(job: Job, test: LeakageTest) -> float | None:
    indoor = si_of(test.ambient.indoor_temperature)
    outdoor, height = si_of(test.ambient.outdoor_temperature), si_of(job.house.height)
    if indoor is None or outdoor is None or height is None:
        return None
    return height * abs(indoor - outdoor)


def _rule(path: str, rule: Rule, told: list[tuple[str, Missed]]) -> Finding:
    field, words, kind = _RULES[rule]
    parts = [
        f"{title}: "
        + _(words).format(found=_number(missed.found, kind), bound=_number(missed.bound, kind))
        for title, missed in told
    ]
    return Finding(
        level=Level.CHECK,
        code=f"house_{rule.value}",
        path=f"{path}.{field}",
        what=f"{'; '.join(parts)}.",
        allowed=_("The figures of the standards are from memory or secondary sources."),
        mend=_("Test again where a standard is named; the result stands as a reading."),
    )


def _number(value: float, kind: Kind | None) -> str:
    if kind is not None:
        return in_sentences().show(kind, value)
    return in_sentences().number(value, 0 if value >= 10 else 1)


def _typed_beside(job: Job, result: TestResult) -> Iterator[Finding]:
    typed = si_of(job.house.air_changes_50)
    measured = result.envelope.air_changes_50 if result.envelope else None
    if typed is None or measured is None or typed <= 0.0:
        return
    if abs(measured - typed) > DIFFERENT * typed:
        yield Finding(
            level=Level.CHECK,
            code="air_changes_differ",
            path="house.air_changes_50",
            what=_(
                "The house is said to have {typed} air changes per hour at 50 Pa, but its test "
                "gives {measured}."
            ).format(
                typed=in_sentences().number(typed, 2), measured=in_sentences().number(measured, 2)
            ),
            mend=_("Type the measured figure, or check volume and readings."),
        )
