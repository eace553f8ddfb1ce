"""A test after a repair says which test it repeats. Common practice, no source."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from deskapp.domain.checks import check
from deskapp.domain.choices import Metric, Part, Stage, YesNo
from deskapp.domain.job import Job
from deskapp.domain.leak import Leak
from deskapp.domain.measured import Day
from deskapp.domain.trial import LeakageTest, SetUp


def day(text: str) -> Day:
    return Day(value=date.fromisoformat(text), typed=text)


def made(key: str, stage: Stage, on: str = "2026-03-11", **more: Any) -> LeakageTest:
    setup = SetUp(stage=stage, metric=more.pop("metric", Metric.TOTAL), part=more.pop("part", None))
    return LeakageTest(key=key, **{"system": "s1", **more}, tested_on=day(on), setup=setup)


def sealed(on: str) -> Leak:
    return Leak(key="l1", repaired=YesNo.YES, repaired_on=day(on))


def unnamed(*tests: LeakageTest, leaks: tuple[Leak, ...] = ()) -> list[str]:
    job = Job(tests=tests, leaks=leaks)
    return [one.path for one in check(job) if one.code == "retest_unnamed"]


FIRST = made("t1", Stage.BEFORE_REPAIR)


def test_that_a_test_after_the_repair_is_asked_which_one_it_repeats() -> None:
    after = made("t2", Stage.AFTER_REPAIR)
    assert unnamed(FIRST, after) == ["tests.1.retest_of"]
    [finding] = [one for one in check(Job(tests=(FIRST, after))) if one.code == "retest_unnamed"]
    assert finding.mend == "Choose Test 1 under “Retest of”, if it repeats that one."
    assert unnamed(FIRST, after.model_copy(update={"retest_of": "t1"})) == []


def test_that_a_leak_sealed_between_two_tests_asks_too() -> None:
    first, then = made("t1", Stage.ROUGH_IN), made("t2", Stage.ROUGH_IN, "2026-03-20")
    assert unnamed(first, then, leaks=(sealed("2026-03-15"),)) == ["tests.1.retest_of"]
    assert unnamed(first, then, leaks=(sealed("2026-03-25"),)) == []
    assert unnamed(first, then) == []


@pytest.mark.parametrize(
    "other",
    [
        {"system": "s2"},
        {"system": ""},
        {"metric": Metric.OUTSIDE},
        {"part": Part.SUPPLY},
    ],
)
def test_that_a_test_of_something_else_repeats_none(other: dict[str, Any]) -> None:
    assert unnamed(FIRST, made("t2", Stage.AFTER_REPAIR, **other)) == []
