"""The air of a test that was carried over from the one before says so."""

from __future__ import annotations

from datetime import date

import pytest

from deskapp.domain.checks import check
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.measured import Day, Measured
from deskapp.domain.trial import Ambient, LeakageTest, Reading, SetUp
from deskapp.session.rows import new_row

AIR = Ambient(indoor_temperature=Measured(si=293.15, unit="degC", typed="20"), weather="Calm")
READ = (Reading(duct_pressure=Measured(si=-25.0, unit="Pa", typed="-25")),)


def told(job: Job) -> list[Finding]:
    return [one for one in check(job) if one.code == "air_carried_over"]


def two(day: date | None, rows: tuple[Reading, ...], air: Ambient = AIR) -> Job:
    first = LeakageTest(key="t1", tested_on=Day(value=date(2026, 3, 11)), ambient=AIR)
    second = LeakageTest(
        key="t2", tested_on=Day(value=day) if day else None, ambient=air, readings=rows
    )
    return Job(tests=(first, second))


def test_that_a_new_test_says_that_its_air_was_carried_over() -> None:
    job = Job(tests=(LeakageTest(key="t1", tested_on=Day(value=date(2026, 3, 11)), ambient=AIR),))
    assert told(job) == []
    job = job.model_copy(update={"tests": (*job.tests, new_row(job, "tests"))})
    [one] = told(job)
    assert (one.level, one.path) == (Level.NOTE, "tests.1.ambient.indoor_temperature")
    assert "carried over from test 1 of Mar\N{NO-BREAK SPACE}11, 2026" in one.what


@pytest.mark.parametrize(
    ("day", "rows", "level"),
    [
        # Common practice, no source: air is written down once a visit, and anew on another day.
        (date(2026, 3, 11), READ, None),
        (date(2026, 3, 11), (), Level.NOTE),
        (date(2026, 3, 12), READ, Level.CHECK),
        (None, READ, Level.CHECK),
    ],
)
def test_that_the_air_of_another_day_is_a_check(
    day: date | None, rows: tuple[Reading, ...], level: Level | None
) -> None:
    assert [one.level for one in told(two(day, rows))] == ([level] if level else [])


def test_that_air_of_its_own_is_no_matter() -> None:
    assert told(two(date(2026, 3, 12), READ, AIR.model_copy(update={"weather": "Rain"}))) == []
    assert told(two(date(2026, 3, 12), READ, Ambient())) == []


def test_that_a_ring_taken_over_is_told_until_the_test_is_read() -> None:
    first = LeakageTest(key="t1", setup=SetUp(fan="f1", ring="r1"), readings=READ)
    job = Job(tests=(first,))
    job = job.model_copy(update={"tests": (first, new_row(job, "tests"))})

    def carried(some: Job) -> list[Finding]:
        return [found for found in check(some) if found.code == "set_up_carried_over"]

    (one,) = carried(job)
    assert (one.level, one.path) == (Level.NOTE, "tests.1.setup.ring")
    assert one.what == "Test 2 begins with ring, target and direction of test 1."
    for done in ({"readings": READ}, {"setup": SetUp(fan="f1", ring="r2")}, {"retest_of": "t1"}):
        other = job.model_copy(update={"tests": (first, job.tests[1].model_copy(update=done))})
        assert carried(other) == []
