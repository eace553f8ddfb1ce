"""Which of two versions of a job holds more: the one in a recovery copy, or the one in its file."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.i18n import _, ngettext

if TYPE_CHECKING:
    from datetime import datetime

    from deskapp.domain.job import Job

SAVED_WITH_IT_S = 2
"""Within so many seconds file and copy count as written at one time: some disks keep times to two
seconds. From memory, not checked against a text."""


def counts(job: Job) -> tuple[int, ...]:
    """Return how many rows of each kind people count a job holds."""
    readings = sum(len(test.readings) for test in job.tests)
    return len(job.systems), len(job.tests), readings, len(job.leaks), len(job.photos)


def counts_words(copy: Job, saved: Job) -> str:
    """Say where the copy holds more rows, or fewer, than the saved file; empty where nowhere."""
    pairs = zip(_count_words(counts(copy)), counts(copy), counts(saved), strict=True)
    found = [
        _("{count} instead of {other}").format(count=words, other=other)
        for words, n, other in pairs
        if n != other
    ]
    return ", ".join(found)


def age_words(written: datetime, saved_on: datetime) -> str:
    """Say whether a copy is newer than the saved file, or older."""
    seconds = (written - saved_on).total_seconds()
    if abs(seconds) <= SAVED_WITH_IT_S:
        return _("as old as the saved file")
    return _("newer than the saved file") if seconds > 0 else _("older than the saved file")


def _count_words(numbers: tuple[int, ...]) -> tuple[str, ...]:
    systems, tests, readings, leaks, photos = numbers
    return (
        ngettext("{n} system", "{n} systems", systems).format(n=systems),
        ngettext("{n} test", "{n} tests", tests).format(n=tests),
        ngettext("{n} reading", "{n} readings", readings).format(n=readings),
        ngettext("{n} leak", "{n} leaks", leaks).format(n=leaks),
        ngettext("{n} photo", "{n} photos", photos).format(n=photos),
    )
