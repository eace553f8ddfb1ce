"""Does a test that plainly follows a repair say which test it repeats?"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from deskapp.domain.choices import Stage, YesNo
from deskapp.domain.fields import field_at, label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.measured import day_of
from deskapp.domain.trial import LeakageTest
from deskapp.i18n import _

_FIELD = "tests.*.retest_of"


def check(job: Job) -> Iterator[Finding]:
    """Yield each test after a repair that could repeat an earlier one and names none.

    A change is worked out only between a test and the one it is said to repeat.
    """
    for position, test in enumerate(job.tests):
        first = _repeated(job, position)
        if test.retest_of or first is None or not _follows_repair(job, job.tests[first], test):
            continue
        yield Finding(
            level=Level.CHECK,
            code="retest_unnamed",
            path=f"tests.{position}.retest_of",
            what=_("{test} follows a repair, but does not say which test it repeats.").format(
                test=label_of(f"tests.{position}")
            ),
            allowed=_("Without that no change is worked out, and there is no retest report."),
            mend=_("Choose {test} under “{field}”, if it repeats that one.").format(
                test=label_of(f"tests.{first}"), field=_(field_at(_FIELD).label)
            ),
        )


def _repeated(job: Job, position: int) -> int | None:
    """Return the position of the last earlier test of the same system that measured the same."""
    test = job.tests[position]
    found = [
        at
        for at, earlier in enumerate(job.tests[:position])
        if test.system
        and earlier.system == test.system
        and earlier.setup.metric is test.setup.metric
        and earlier.setup.part is test.setup.part
    ]
    return found[-1] if found else None


def _follows_repair(job: Job, first: LeakageTest, test: LeakageTest) -> bool:
    """Say whether the stages of the two tests tell of a repair between them, or a leak's day."""
    if first.setup.stage is not Stage.AFTER_REPAIR and test.setup.stage is Stage.AFTER_REPAIR:
        return True
    before, after = day_of(first.tested_on), day_of(test.tested_on)
    return any(
        leak.repaired is YesNo.YES
        and leak.system in ("", test.system)
        and _lies_between(before, day_of(leak.repaired_on), after)
        for leak in job.leaks_found
    )


def _lies_between(before: date | None, day: date | None, after: date | None) -> bool:
    return before is not None and day is not None and after is not None and before <= day <= after
