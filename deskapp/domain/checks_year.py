"""The year a house was built, beside the days on which it was tested."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from deskapp.domain.fields import field_at, label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.measured import day_of, si_of
from deskapp.i18n import _

EARLIEST_USUAL = 1800
"""Houses with ducts that are older earn a second look. House rule; common practice, no source."""

MOST_AHEAD = 5
"""How many years after a test a house may be finished. House rule; common practice, no source."""

_PATH = "house.year_built"


def check(job: Job) -> Iterator[Finding]:
    """Yield what is odd about the year beside the last test; without one, about the year alone."""
    built, tested = _built(job), _last_test(job)
    if built is None:
        return
    if built < EARLIEST_USUAL:
        yield _finding(
            Level.CHECK,
            _("{label} is {year}.").format(label=label_of(_PATH), year=built),
            _("Usual: {year} or later.").format(year=EARLIEST_USUAL),
        )
    elif tested is not None and built > tested:
        what = _("{label} is {year}, and the last test was made in {tested}.")
        yield _ahead(what.format(label=label_of(_PATH), year=built, tested=tested), built, tested)


def year_ahead(job: Job, today: date) -> Iterator[Finding]:
    """Yield what is odd about the year of a house without a dated test, beside `today`."""
    built = _built(job)
    if built is not None and _last_test(job) is None and built > today.year:
        what = _("{label} is {year}, and this year is {today}.")
        text = what.format(label=label_of(_PATH), year=built, today=today.year)
        yield _ahead(text, built, today.year)


def _ahead(what: str, built: int, year: int) -> Finding:
    if built > year + MOST_AHEAD:
        return _finding(
            Level.STOP, what, _("Allowed: up to {year}.").format(year=year + MOST_AHEAD)
        )
    return _finding(Level.CHECK, what, _("That is right only for a house not finished yet."))


def _finding(level: Level, what: str, allowed: str) -> Finding:
    return Finding(
        level=level,
        code="year_built",
        path=_PATH,
        what=what,
        allowed=allowed,
        mend=_("Correct the year, or clear the field.")
        if level is Level.STOP
        else _("Correct the year; it stands if it is right."),
    )


def _built(job: Job) -> int | None:
    """Return the year; None where there is none, or one out of all range, which is told anyway."""
    year, span = si_of(job.house.year_built), field_at(_PATH).allowed
    if year is None or span is None or not span.low <= year <= span.high:
        return None
    return int(year)


def _last_test(job: Job) -> int | None:
    days = [day_of(test.tested_on) for test in job.tests]
    return max((day.year for day in days if day is not None), default=None)
