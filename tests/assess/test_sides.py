"""Supply and return measured apart. The flows are those of an invented house."""

from __future__ import annotations

import pytest
from multi import flow_readings, found_codes, found_one, job_of, made_test
from typed import pa

from deskapp.assess.evaluate import evaluate
from deskapp.domain.choices import Metric, Part, Stage
from deskapp.domain.job import Job
from deskapp.domain.result import Verdict
from deskapp.domain.trial import LeakageTest
from deskapp.units.convert import to_unit


def side(part: Part, flow: str, key: str, **other: object) -> LeakageTest:
    return made_test(flow_readings("25 25", f"{flow} {flow}"), key, part=part, **other)


def split_job(total: str = "617") -> Job:
    return job_of(
        side(Part.WHOLE, total, "t1"),
        side(Part.SUPPLY, "347", "t2"),
        side(Part.RETURN, "270", "t3"),
    )


def test_that_both_sides_add_up_to_the_whole() -> None:
    (one,) = evaluate(split_job()).systems[0].sides
    assert to_unit(one.sum, "cfm") == pytest.approx(617.0)
    assert to_unit(one.total or 0, "cfm") == pytest.approx(617.0)
    assert one.difference == pytest.approx(0.0, abs=1e-12)
    assert one.agrees is True
    assert (one.supply_test, one.return_test, one.total_test) == ("t2", "t3", "t1")
    assert "sides_sum" not in found_codes(split_job())


def test_that_a_sum_that_does_not_fit_is_told_with_its_numbers() -> None:
    job = split_job(total="800")
    (one,) = evaluate(job).systems[0].sides
    assert one.agrees is False
    finding = found_one(job, "sides_sum")
    assert finding.path == "tests.1.setup.part"
    for number in ("347.0", "270.0", "617.0", "800.0"):
        assert number in finding.what


def test_that_a_small_difference_within_ten_percent_is_agreement() -> None:
    # 617 of 670: off by 53, allowed 67.
    assert "sides_sum" not in found_codes(split_job(total="670"))
    assert "sides_sum" in found_codes(split_job(total="720"))


def test_that_a_side_alone_is_never_judged_for_the_whole() -> None:
    job = job_of(side(Part.SUPPLY, "20", "t1"))
    system = evaluate(job).systems[0]
    assert system.verdict is Verdict.NONE
    assert "Only one side" in system.reason
    assert system.outcomes == ()
    assert evaluate(job).test("t1").flow is not None  # type: ignore[union-attr]


def test_that_a_later_side_does_not_take_the_place_of_the_whole() -> None:
    assessment = evaluate(split_job(total="70"))
    assert assessment.systems[0].test == "t1"
    assert assessment.verdict is Verdict.PASS
    assert to_unit(assessment.house.flow or 0, "cfm") == pytest.approx(70.0)


def test_that_only_like_tests_are_added_up() -> None:
    job = job_of(
        side(Part.SUPPLY, "347", "t1"),
        side(Part.RETURN, "270", "t2", stage=Stage.AFTER_REPAIR),
        side(Part.RETURN, "100", "t3", metric=Metric.OUTSIDE),
        side(Part.RETURN, "300", "t4", target_pressure=pa("50")),
    )
    assert evaluate(job).systems[0].sides == ()


def test_that_before_and_after_are_kept_apart() -> None:
    after = {"stage": Stage.AFTER_REPAIR}
    job = job_of(
        *split_job().tests,
        side(Part.SUPPLY, "95", "t4", **after),
        side(Part.RETURN, "73", "t5", **after),
    )
    first, second = evaluate(job).systems[0].sides
    assert to_unit(first.sum, "cfm") == pytest.approx(617.0)
    assert to_unit(second.sum, "cfm") == pytest.approx(168.0)
    assert second.total is None
    assert second.agrees is None
