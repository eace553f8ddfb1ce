"""Checks of what people wrote of themselves: when a stop was acknowledged, and mail addresses."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date, datetime, time

from deskapp.domain import paths
from deskapp.domain.fields import FIELDS, label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.measured import day_of
from deskapp.domain.safety import Acknowledgment
from deskapp.i18n import _
from deskapp.units.display import day_in_words, in_sentences

# An address is anything before one @ and a name with a dot after it; RFC 5321 allows more, which
# no owner has.
_ADDRESS = re.compile(r"[^@\s]+@[^@\s.]+(\.[^@\s.]+)*\.[^@\s.\d]{2,}")
_AFTERWARDS = "_after"


def check(job: Job) -> Iterator[Finding]:
    """Yield acknowledgments that do not go with the days of the tests, and odd addresses."""
    for at, record in enumerate(job.acknowledgments):
        yield from _acknowledged(job, at, record)
    yield from _addresses(job)


def _acknowledged(job: Job, at: int, record: Acknowledgment) -> Iterator[Finding]:
    """Yield what is odd about the time of an acknowledgment.

    Common practice, no source: somebody answers for a stop on the day of the test, before a fan
    runs. What was measured after the work is answered for afterwards.
    """
    when, begun = _moment(record.at), _begun(job)
    if when is None or not begun:
        return
    first, last = min(begun), max(begun)
    is_late = when.date() > last[0] or (when.date() == last[0] and when.time() > last[1])
    if when.date() < first[0]:
        words = _("{name} acknowledged a stop on {when}, before the first test of {day}.")
        mend = _("Walk through the house on the day of the test, and acknowledge it then.")
        day = first[0]
    elif is_late and not _is_about_afterwards(record):
        words = _("{name} acknowledged a stop on {when}, after the last test of {day} had begun.")
        mend = _("If somebody answered for it on site, say in the reason who and when.")
        day = last[0]
    else:
        return
    yield Finding(
        level=Level.CHECK,
        code="acknowledged_out_of_order",
        path=f"acknowledgments.{at}",
        what=words.format(
            name=record.name, when=in_sentences().moment(record.at), day=day_in_words(day)
        ),
        allowed=record.answer + ".",
        mend=mend,
    )


def _begun(job: Job) -> list[tuple[date, time]]:
    """Return when each test began; the end of its day where no time is known."""
    found: list[tuple[date, time]] = []
    for test in job.tests:
        day = day_of(test.tested_on)
        if day is not None:
            found.append((day, _clock(test.start_time) or time.max))
    return found


def _clock(typed: str) -> time | None:
    try:
        return time.fromisoformat(typed)
    except ValueError:
        return None


def _moment(written: str) -> datetime | None:
    try:
        return datetime.fromisoformat(written)
    except ValueError:
        return None


def _is_about_afterwards(record: Acknowledgment) -> bool:
    return any(part.partition("=")[0].endswith(_AFTERWARDS) for part in record.cause)


def _addresses(job: Job) -> Iterator[Finding]:
    for spec in FIELDS:
        if not spec.path.endswith(".email"):
            continue
        for path, value in paths.expand(job, spec.path):
            text = str(value or "").strip()
            if text and not _ADDRESS.fullmatch(text):
                yield Finding(
                    level=Level.CHECK,
                    code="odd_address",
                    path=path,
                    what=_("{label}: “{typed}” does not look like a mail address.").format(
                        label=label_of(path), typed=text
                    ),
                    allowed=_("Usual is a name, @ and a place, such as pat@example.org."),
                    mend=_("Correct it, or leave it if it is right."),
                )
