"""The year a house was built beside its tests. Bounds are house rules; common practice, no source.

Houses of the 13th century that people still live in are told of in local history: from memory.
"""

from __future__ import annotations

from datetime import date

import pytest

from deskapp.domain.checks import check
from deskapp.domain.checks_year import year_ahead
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.measured import Day, Measured
from deskapp.domain.site import House
from deskapp.domain.trial import LeakageTest

TODAY = date(2026, 3, 11)


def job(year: int | None, *tested: str) -> Job:
    built = None if year is None else Measured(si=float(year), unit="1", typed=str(year))
    tests = tuple(
        LeakageTest(key=f"t{at}", tested_on=Day(value=date.fromisoformat(day), typed=day))
        for at, day in enumerate(tested)
    )
    return Job(house=House(year_built=built), tests=tests)


def told(of: Job) -> list[Finding]:
    found = (*check(of), *year_ahead(of, TODAY))
    return [one for one in found if one.path == "house.year_built"]


@pytest.mark.parametrize(
    ("year", "tested", "level"),
    [
        (1978, ("2024-05-01",), None),
        (1800, ("2024-05-01",), None),
        (1799, ("2024-05-01",), Level.CHECK),
        (1240, (), Level.CHECK),
        (999, (), Level.STOP),
        (2024, ("2024-05-01",), None),
        (2025, ("2024-05-01",), Level.CHECK),
        (2025, ("2024-05-01", "2025-02-01"), None),
        (2029, ("2024-05-01",), Level.CHECK),
        (2030, ("2024-05-01",), Level.STOP),
        (2026, (), None),
        (2027, (), Level.CHECK),
        (2031, (), Level.CHECK),
        (2032, (), Level.STOP),
        (2101, (), Level.STOP),
        (None, ("2024-05-01",), None),
    ],
)
def test_that_a_year_is_held_against_the_last_test_or_today(
    year: int | None, tested: tuple[str, ...], level: Level | None
) -> None:
    found = told(job(year, *tested))
    assert [one.level for one in found] == ([] if level is None else [level])


def test_that_a_year_after_the_test_is_told_with_both_years_and_how_to_mend_it() -> None:
    (one,) = told(job(2027, "2024-05-01"))
    assert one.what == "Year built is 2027, and the last test was made in 2024."
    assert "not finished yet" in one.allowed
    assert "Correct the year" in one.mend
    (far,) = told(job(2067, "2024-05-01"))
    assert far.allowed == "Allowed: up to 2029."
