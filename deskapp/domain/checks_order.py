"""Checks of days against the order in which the work goes."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from deskapp.domain import paths
from deskapp.domain.fields import label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.measured import Day, day_of
from deskapp.domain.trial import LeakageTest
from deskapp.i18n import _
from deskapp.units.display import day_in_words


def check(job: Job) -> Iterator[Finding]:
    """Yield each pair of days that cannot follow each other as they stand.

    Common practice, no source: an instrument is calibrated before it is used and before its
    calibration runs out, a test is repeated after it was made, a leak is repaired after the test
    that found it, and a report is signed after the repairs it tells of.
    """
    for first, then in dict.fromkeys(_pairs(job)):
        earlier, later = _day(job, first), _day(job, then)
        if earlier is None or later is None or earlier <= later:
            continue
        yield Finding(
            level=Level.CHECK,
            code="days_out_of_order",
            path=first if first.startswith(("gauges", "fans")) else then,
            what=_("{label} is {day}, but {other} is {other_day}.").format(
                label=label_of(first),
                day=day_in_words(earlier),
                other=label_of(then),
                other_day=day_in_words(later),
            ),
            allowed=_("{first} comes first, or on the same day.").format(first=label_of(first)),
            mend=_("Correct one of the two days."),
        )


def _pairs(job: Job) -> Iterator[tuple[str, str]]:
    """Yield the paths of days of which the second may not lie before the first."""
    for name, count in (("gauges", len(job.gauges)), ("fans", len(job.fans))):
        for at in range(count):
            yield f"{name}.{at}.calibrated_on", f"{name}.{at}.due_on"
    for at, test in enumerate(job.tests):
        yield from ((used, f"tests.{at}.tested_on") for used in _before(job, test))
    for at, leak in enumerate(job.leaks):
        yield f"leaks.{at}.repaired_on", "tester.signed_on"
        found = _first_test(job, leak.system)
        if found is not None:
            yield f"tests.{found}.tested_on", f"leaks.{at}.repaired_on"
    keys = [test.key for test in job.tests]
    for at, row in enumerate(job.rereadings):
        if row.test in keys:
            yield f"tests.{keys.index(row.test)}.tested_on", f"rereadings.{at}.read_on"


def _first_test(job: Job, system: str) -> int | None:
    """Return the position of the earliest test of a system, or of all where none is named."""
    days = [
        (day, at)
        for at, test in enumerate(job.tests)
        if (day := day_of(test.tested_on)) is not None and system in ("", test.system)
    ]
    return min(days)[1] if days else None


def _before(job: Job, test: LeakageTest) -> Iterator[str]:
    """Yield the paths of days that lie before a test."""
    rows = (
        ("gauges", job.gauges, test.setup.gauge, "calibrated_on"),
        ("fans", job.fans, test.setup.fan, "calibrated_on"),
        ("tests", job.tests, test.retest_of, "tested_on"),
    )
    for name, lists, wanted, field in rows:
        keys = [row.key for row in lists]
        if wanted in keys:
            yield f"{name}.{keys.index(wanted)}.{field}"


def _day(job: Job, path: str) -> date | None:
    value = paths.get(job, path)
    return day_of(value) if isinstance(value, Day) else None
