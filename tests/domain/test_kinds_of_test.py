"""What a job records of the kinds of test a duct tester runs."""

from __future__ import annotations

import pytest

from deskapp.domain.checks import missing
from deskapp.domain.choices import CHOICE_LABELS, Direction, Method, Metric, Part
from deskapp.domain.fields import FIELDS, field_at, label_of
from deskapp.domain.job import Job
from deskapp.domain.trial import LeakageTest, SetUp


@pytest.mark.parametrize("choices", [Method, Part, Direction, Metric])
def test_that_every_answer_has_its_words(choices: type) -> None:
    assert set(CHOICE_LABELS[choices]) == {answer.value for answer in choices}


def test_that_an_old_test_opens_as_one_pressure_of_the_whole() -> None:
    setup = SetUp.model_validate({"stage": "final", "metric": "total"})
    assert (setup.method, setup.part) == (None, None)
    assert setup.is_whole


@pytest.mark.parametrize(
    ("part", "whole"), [(Part.WHOLE, True), (Part.SUPPLY, False), (Part.RETURN, False)]
)
def test_that_a_side_is_not_the_whole(part: Part, whole: bool) -> None:
    assert SetUp(part=part).is_whole is whole


def test_that_a_test_of_the_house_belongs_to_no_system() -> None:
    house = LeakageTest(key="t1", system="s1", setup=SetUp(metric=Metric.ENVELOPE))
    ducts = LeakageTest(key="t2", system="s1", setup=SetUp(metric=Metric.TOTAL))
    job = Job(tests=(house, ducts))
    assert [test.key for test in job.tests_of("s1")] == ["t2"]


def test_that_a_test_of_the_house_needs_no_system_in_the_report() -> None:
    house = LeakageTest(key="t1", setup=SetUp(metric=Metric.ENVELOPE))
    ducts = LeakageTest(key="t2", setup=SetUp(metric=Metric.TOTAL))
    gaps = missing(Job(tests=(house, ducts)))
    assert "tests.0.system" not in gaps
    assert "tests.1.system" in gaps


def test_that_a_register_is_named_by_its_number() -> None:
    assert label_of("registers.2.pan_before") == "Pan reading before (register 3)"


def test_that_none_of_the_owners_fields_is_asked_of_a_compliance_report() -> None:
    for field in FIELDS:
        if field.path.startswith(("registers.", "screening.", "house.bill", "house.room")):
            assert not field.needed
    assert not field_at("systems.*.supply_resistance").needed
