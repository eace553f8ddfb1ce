"""When a stop was acknowledged, and mail addresses. Invented people and days.

That a stop is answered for on the day of the test and before a fan runs is common practice, no
source. Addresses of the domain example.org are set aside for examples (RFC 2606).
"""

from __future__ import annotations

from datetime import date

import pytest

from deskapp.domain.checks import check
from deskapp.domain.finding import Level
from deskapp.domain.job import Job
from deskapp.domain.measured import Day
from deskapp.domain.safety import Acknowledgment
from deskapp.domain.site import Client
from deskapp.domain.trial import LeakageTest


def made_on(day: int, start: str = "") -> LeakageTest:
    when = Day(value=date(2026, 3, day), typed=f"2026-03-{day}")
    return LeakageTest(key=f"t{day}{start}", tested_on=when, start_time=start)


def acknowledged(at: str, field: str = "safety.gas_smell") -> Acknowledgment:
    return Acknowledgment(
        stop="s",
        cause=(f"{field}=yes",),
        text="Gas was smelled.",
        answer="Smell of gas: Yes",
        name="Kim Example",
        reason="Valve shut by the gas company",
        at=at,
    )


@pytest.mark.parametrize(
    ("at", "told"),
    [
        ("2026-03-11T08:40", ""),
        ("2026-03-11T09:30", ""),
        ("2026-03-11T09:31", "after the last test"),
        ("2026-03-12T07:00", "after the last test"),
        ("2026-03-10T16:00", "before the first test"),
        ("no time", ""),
    ],
)
def test_that_an_acknowledgment_goes_with_the_day_of_the_test(at: str, told: str) -> None:
    job = Job(tests=(made_on(11, "09:30"),), acknowledgments=(acknowledged(at),))
    found = [one for one in check(job) if one.code == "acknowledged_out_of_order"]
    assert [told in one.what for one in found] == ([True] if told else [])
    for one in found:
        assert (one.level, one.path) == (Level.CHECK, "acknowledgments.0")
        assert "Kim Example" in one.what


def test_that_one_between_two_tests_is_as_it_should_be() -> None:
    job = Job(tests=(made_on(11), made_on(20)), acknowledgments=(acknowledged("2026-03-20T18:00"),))
    assert [one for one in check(job) if one.code == "acknowledged_out_of_order"] == []


def test_that_what_was_measured_after_the_work_is_acknowledged_afterwards() -> None:
    late = acknowledged("2026-03-12T08:00", "safety.ambient_co_after")
    job = Job(tests=(made_on(11),), acknowledgments=(late,))
    assert [one for one in check(job) if one.code == "acknowledged_out_of_order"] == []


@pytest.mark.parametrize(
    ("typed", "odd"),
    [
        ("pat@x", True),
        ("pat", True),
        ("pat example.org", True),
        ("pat@example.", True),
        ("pat@@example.org", True),
        ("pat@example.o", True),
        ("pat@example.org", False),
        ("pat.o'neill+duct@mail.example.org", False),
        ("josé@correo.example", False),
        ("", False),
    ],
)
def test_that_an_odd_mail_address_is_remarked_and_stops_nothing(typed: str, odd: bool) -> None:
    found = [one for one in check(Job(client=Client(email=typed))) if one.code == "odd_address"]
    assert len(found) == odd
    assert all(one.level is Level.CHECK and one.path == "client.email" for one in found)
