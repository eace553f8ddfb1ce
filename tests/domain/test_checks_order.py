"""Days that cannot follow each other as they stand are remarked. Common practice, no source."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from deskapp.domain.checks import check
from deskapp.domain.finding import Finding, Level
from deskapp.domain.instrument import Fan, Gauge
from deskapp.domain.job import Job
from deskapp.domain.leak import Leak
from deskapp.domain.measured import Day
from deskapp.domain.people import Tester
from deskapp.domain.repair import Rereading
from deskapp.domain.trial import LeakageTest, SetUp


def day(text: str) -> Day:
    return Day(value=date.fromisoformat(text), typed=text)


def remarks(job: Job) -> list[Finding]:
    return [finding for finding in check(job) if finding.code == "days_out_of_order"]


def made(on: str, key: str = "t1", **more: Any) -> LeakageTest:
    return LeakageTest(key=key, tested_on=day(on), setup=SetUp(fan="f1", gauge="g1"), **more)


def retest(on: str) -> tuple[LeakageTest, LeakageTest]:
    return made("2026-03-11"), made(on, "t2", retest_of="t1")


def fan(calibrated: str, due: str = "2027-12-31") -> tuple[Fan, ...]:
    return (Fan(key="f1", calibrated_on=day(calibrated), due_on=day(due)),)


def gauge(calibrated: str) -> Job:
    held = Gauge(key="g1", calibrated_on=day(calibrated))
    return Job(gauges=(held,), tests=(made("2026-03-11"),))


def signed(repaired: str) -> Job:
    leak = Leak(key="l1", repaired_on=day(repaired))
    return Job(leaks=(leak,), tester=Tester(signed_on=day("2026-03-11")))


def repaired(on: str, system: str = "") -> Job:
    """A leak of the first system, found in a test of it; another was tested earlier."""
    leak = Leak(key="l1", system=system, repaired_on=day(on))
    others = (made("2026-02-01", "t0", system="s2"),) if system else ()
    return Job(leaks=(leak,), tests=(*others, made("2026-03-11", system="s1")))


def reread(on: str) -> Job:
    row = Rereading(key="q1", test="t1", read_on=day(on))
    return Job(rereadings=(row,), tests=(made("2026-03-11"),))


@pytest.mark.parametrize(
    ("good", "bad", "path"),
    [
        (
            Job(fans=fan("2026-03-11", "2026-03-11")),
            Job(fans=fan("2026-03-12", "2026-03-11")),
            "fans.0.calibrated_on",
        ),
        (gauge("2026-03-11"), gauge("2026-04-01"), "gauges.0.calibrated_on"),
        (repaired("2026-03-11"), repaired("2026-03-10"), "leaks.0.repaired_on"),
        (repaired("2026-03-11", "s1"), repaired("2026-03-10", "s1"), "leaks.0.repaired_on"),
        (reread("2026-03-11"), reread("2026-03-10"), "rereadings.0.read_on"),
        (
            Job(fans=fan("2026-03-10"), tests=(made("2026-03-11"),)),
            Job(fans=fan("2026-03-12"), tests=(made("2026-03-11"),)),
            "fans.0.calibrated_on",
        ),
        (Job(tests=retest("2026-03-11")), Job(tests=retest("2026-03-10")), "tests.1.tested_on"),
        (signed("2026-03-11"), signed("2026-03-12"), "tester.signed_on"),
    ],
)
def test_that_days_in_the_wrong_order_are_remarked_and_the_same_day_is_not(
    good: Job, bad: Job, path: str
) -> None:
    assert remarks(good) == []
    (found,) = remarks(bad)
    assert (found.level, found.path) == (Level.CHECK, path)


def test_that_the_remark_names_both_fields_both_days_and_the_mend() -> None:
    (found,) = remarks(Job(tests=retest("2026-03-10")))
    what = found.what.replace("\N{NO-BREAK SPACE}", " ")
    assert what == "Test date (test 1) is Mar 11, 2026, but Test date (test 2) is Mar 10, 2026."
    assert found.allowed == "Test date (test 1) comes first, or on the same day."
    assert found.mend == "Correct one of the two days."


def test_that_an_instrument_no_test_used_is_not_held_against_a_test() -> None:
    other = (Fan(key="f9", calibrated_on=day("2026-04-01"), due_on=day("2027-04-01")),)
    assert remarks(Job(fans=other, tests=(made("2026-03-11"),))) == []


def test_that_a_day_nobody_can_read_is_left_to_its_own_message() -> None:
    odd = made("2026-03-11").model_copy(update={"tested_on": Day(value=None, typed="soon")})
    assert remarks(Job(fans=fan("2026-03-12"), tests=(odd,))) == []
