"""Days that lie ahead, and pictures much older than the work they belong to."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, timedelta

from deskapp.domain import paths
from deskapp.domain.fields import label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.measured import Day, day_of
from deskapp.i18n import _
from deskapp.units.display import day_in_words

OLD_PHOTO = timedelta(days=90)
"""How long before the permit and the first test a picture may be taken without a remark.

House rule; common practice, no source."""

_NO_PHOTOS = ("sketch.plan", "tester.signature")

# What has happened when it is recorded; days on which something is due may lie ahead.
_DONE = (
    "tests.*.tested_on",
    "leaks.*.repaired_on",
    "rereadings.*.read_on",
    "gauges.*.calibrated_on",
    "fans.*.calibrated_on",
    "tester.signed_on",
    "site.permit_date",
)


def days_ahead(job: Job, today: date) -> Iterator[Finding]:
    """Yield each day of something done that lies after `today`."""
    for pattern in _DONE:
        for path, value in paths.expand(job, pattern):
            day = day_of(value) if isinstance(value, Day) else None
            if day is None or day <= today:
                continue
            yield Finding(
                level=Level.CHECK,
                code="day_ahead",
                path=path,
                what=_("{label} is {day}, and today is {today}.").format(
                    label=label_of(path), day=day_in_words(day), today=day_in_words(today)
                ),
                mend=_("Correct the day, or the clock of this computer."),
            )


def old_photos(job: Job) -> Iterator[Finding]:
    """Yield each picture taken long before the permit and the first test of the job."""
    days = [day_of(test.tested_on) for test in job.tests]
    known = [day for day in (*days, day_of(job.site.permit_date)) if day is not None]
    if not known:
        return
    begun = min(known)
    for path, photo in job.pictures():
        taken = None if path in _NO_PHOTOS else _day_taken(photo.taken)
        if taken is None or taken >= begun - OLD_PHOTO:
            continue
        yield Finding(
            level=Level.CHECK,
            code="photo_old",
            path=path,
            what=_("The photo {name} was taken on {taken}, {days} days before this job.").format(
                name=photo.name or photo.caption or label_of(path),
                taken=day_in_words(taken),
                days=(begun - taken).days,
            ),
            allowed=_("The job begins on {day}, with its permit or its first test.").format(
                day=day_in_words(begun)
            ),
            mend=_("Make sure that it shows this work, or take it out."),
        )


def _day_taken(written: str) -> date | None:
    try:
        return datetime.fromisoformat(written).date()
    except ValueError:
        return None
