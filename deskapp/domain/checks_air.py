"""Is what a test has of the test before it only taken over, and never looked at again?"""

from __future__ import annotations

from collections.abc import Iterator

from deskapp.domain.fields import label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.measured import day_of
from deskapp.domain.trial import Ambient
from deskapp.i18n import _
from deskapp.units.display import day_in_words


def check(job: Job) -> Iterator[Finding]:
    """Yield what each test took over from the one before it: set-up and air."""
    yield from _set_ups(job)
    yield from _airs(job)


def _set_ups(job: Job) -> Iterator[Finding]:
    """Yield each test with the ring of the test before it, until it is read.

    A ring that is not the one fitted makes the flow wrong by a factor.
    """
    for position in range(1, len(job.tests)):
        before, test = job.tests[position - 1], job.tests[position]
        if test.was_read or test.retest_of or not test.setup.ring:
            continue
        if (test.setup.fan, test.setup.ring) == (before.setup.fan, before.setup.ring):
            yield Finding(
                level=Level.NOTE,
                code="set_up_carried_over",
                path=f"tests.{position}.setup.ring",
                what=_("{test} begins with ring, target and direction of {other}.").format(
                    test=label_of(f"tests.{position}"),
                    other=label_of(f"tests.{position - 1}").lower(),
                ),
                mend=_("Change what is different; another ring makes the flow wrong by a factor."),
            )


def _airs(job: Job) -> Iterator[Finding]:
    """Yield each test whose air is word for word that of the test before it.

    A new test takes the air over, as testers go from system to system in one visit. That is worth
    a note until something is read, and a check where the two tests were made on different days or
    the day is not known. Common practice, no source.
    """
    for position in range(1, len(job.tests)):
        before, test = job.tests[position - 1], job.tests[position]
        if test.ambient == Ambient() or test.ambient != before.ambient:
            continue
        earlier, day = day_of(before.tested_on), day_of(test.tested_on)
        is_same_day = day is not None and day == earlier
        if is_same_day and test.was_read:
            continue
        filled = next(name for name, value in test.ambient if value not in (None, ""))
        other = label_of(f"tests.{position - 1}")
        words = (
            _("The air of {test} was carried over from {other}.")
            if earlier is None
            else _("The air of {test} was carried over from {other} of {day}.")
        )
        yield Finding(
            level=Level.CHECK if test.was_read and not is_same_day else Level.NOTE,
            code="air_carried_over",
            path=f"tests.{position}.ambient.{filled}",
            what=words.format(
                test=label_of(f"tests.{position}").lower(),
                other=other.lower(),
                day=day_in_words(earlier) if earlier else "",
            ),
            allowed=_("Temperatures, barometer, humidity, wind and weather are the same in both."),
            mend=_("Change what has changed since."),
        )
