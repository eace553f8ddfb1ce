"""Checks of dates and times: calibration, permit, license, signature."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import timedelta

from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.measured import day_of
from deskapp.domain.trial import LeakageTest
from deskapp.i18n import _
from deskapp.units.display import day_in_words

OLD_PERMIT = timedelta(days=5 * 365)
"""How much older than a test a permit may be without a remark. House rule; common practice, no
source."""

CLOCK = re.compile(r"([01]\d|2[0-3]):[0-5]\d")


def check(job: Job) -> Iterator[Finding]:
    """Yield what does not fit together among the dates and times of the job."""
    yield from _not_stated(job)
    for position, test in enumerate(job.tests):
        yield from _calibration(job, position, test)
        yield from _permit(job, position, test)
        yield from _clock(position, test)
    yield from _people(job)


def _not_stated(job: Job) -> Iterator[Finding]:
    """Yield each instrument read in a test whose calibration has no end that is stated.

    A check and no stop: no rule the program holds asks for the date on the paper, but many who
    receive one send it back without. Common practice, no source.
    """
    read = [test.setup for test in job.tests if any(one.duct_pressure for one in test.readings)]
    used = {"gauges": {one.gauge for one in read}, "fans": {one.fan for one in read}}
    words = {"gauges": _("gauge"), "fans": _("fan")}
    for name, instruments in (("gauges", job.gauges), ("fans", job.fans)):
        for row, one in enumerate(instruments):
            if one.key not in used[name] or one.due_on is not None:
                continue
            yield Finding(
                level=Level.CHECK,
                code="calibration_not_stated",
                path=f"{name}.{row}.due_on",
                what=_("The calibration of the {words} is not stated: it has no due date.").format(
                    words=words[name]
                ),
                allowed=_("Nobody can see whether it still held on the day of the test."),
                mend=_("Enter the dates from its calibration certificate."),
            )


def overdue(job: Job, position: int, test: LeakageTest) -> Iterator[tuple[str, str]]:
    """Yield each instrument of a test that was overdue on its day: field of the date, and words."""
    tested = day_of(test.tested_on)
    if tested is None:
        return
    gauge, fan = job.gauge(test.setup.gauge), job.fan(test.setup.fan)
    for name, words, lists, used in (
        ("gauges", _("gauge"), job.gauges, gauge),
        ("fans", _("fan"), job.fans, fan),
    ):
        due = day_of(used.due_on) if used else None
        if used is None or due is None or due >= tested:
            continue
        row = [item.key for item in lists].index(used.key)
        what = _(
            "Test {n} was made on {tested}, but the calibration of the {words} ran out on {due}."
        ).format(n=position + 1, tested=day_in_words(tested), words=words, due=day_in_words(due))
        yield f"{name}.{row}.due_on", what


def _calibration(job: Job, position: int, test: LeakageTest) -> Iterator[Finding]:
    for path, what in overdue(job, position, test):
        reason = job.compliance.calibration_override
        if reason:
            yield Finding(
                level=Level.CHECK,
                code="calibration_overdue_overridden",
                path=path,
                what=what,
                allowed=_("Reported all the same, because: {reason}").format(reason=reason),
            )
        else:
            yield Finding(
                level=Level.STOP,
                code="calibration_overdue",
                path=path,
                what=what,
                allowed=_("The due date must be the test day or later."),
                mend=_(
                    "Correct the dates, test again with a calibrated instrument, or give a reason "
                    "for reporting with an overdue calibration; it will be printed."
                ),
            )


def _permit(job: Job, position: int, test: LeakageTest) -> Iterator[Finding]:
    tested, permit = day_of(test.tested_on), day_of(job.site.permit_date)
    if tested is not None and permit is not None and tested < permit:
        yield Finding(
            level=Level.CHECK,
            code="test_before_permit",
            path=f"tests.{position}.tested_on",
            what=_("Test {n} is dated {tested}, before the permit of {permit}.").format(
                n=position + 1, tested=day_in_words(tested), permit=day_in_words(permit)
            ),
            allowed=_("A test for a permit is made on the day of the permit or later."),
            mend=_("Correct the test date or the permit date."),
        )
    elif tested is not None and permit is not None and tested - permit > OLD_PERMIT:
        yield Finding(
            level=Level.CHECK,
            code="permit_old",
            path="site.permit_date",
            what=_("The permit of {permit} is {years} years older than test {n}.").format(
                n=position + 1,
                permit=day_in_words(permit),
                years=(tested - permit).days // 365,
            ),
            allowed=_("The edition of a code is chosen by this date; permits rarely hold as long."),
            mend=_("Correct the permit date, or leave it if it is right."),
        )


def _clock(position: int, test: LeakageTest) -> Iterator[Finding]:
    """Yield what is wrong with the times of a test.

    No result follows from a time of day. One that cannot be read is a stop all the same, like any
    other text that cannot be: it would stand on the certificate.
    """
    for name, typed in (("start_time", test.start_time), ("end_time", test.end_time)):
        if typed and not CLOCK.fullmatch(typed):
            yield Finding(
                level=Level.STOP,
                code="unread",
                path=f"tests.{position}.{name}",
                what=_("“{typed}” could not be read as a time of day.").format(typed=typed),
                allowed=_("Needed is hours and minutes, such as 08:40 or 1:10 pm."),
                mend=_("Type it again, or clear the field."),
            )
    start, end = test.start_time, test.end_time
    if CLOCK.fullmatch(start) and CLOCK.fullmatch(end) and end < start:
        yield Finding(
            level=Level.CHECK,
            code="end_before_start",
            path=f"tests.{position}.end_time",
            what=_("The test ends at {end}, before it starts at {start}.").format(
                end=end, start=start
            ),
            mend=_("Correct one of the two times."),
        )


def _people(job: Job) -> Iterator[Finding]:
    days = [day for day in (day_of(test.tested_on) for test in job.tests) if day]
    last = max(days, default=None)
    expires, signed = day_of(job.tester.certification_expires), day_of(job.tester.signed_on)
    if last and expires and expires < last:
        yield Finding(
            level=Level.CHECK,
            code="certification_expired",
            path="tester.certification_expires",
            what=_(
                "The tester's certification ran out on {expires}, before the test of {last}."
            ).format(expires=day_in_words(expires), last=day_in_words(last)),
            mend=_("Correct the date, or have a certified tester repeat the test."),
        )
    if last and signed and signed < last:
        yield Finding(
            level=Level.CHECK,
            code="signed_before_test",
            path="tester.signed_on",
            what=_("The report is signed on {signed}, before the test of {last}.").format(
                signed=day_in_words(signed), last=day_in_words(last)
            ),
            mend=_("Correct the date of signing."),
        )
