"""How sure a comparison is, beside a verdict that never changes for it.

Invented readings. Expected: normal distribution by scipy, arithmetic by hand. The rule itself,
simple acceptance, is that of the codes; JCGM 106 and ILAC-G8 are from memory.
"""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from multi import flow_readings, job_of, made_test
from scipy.stats import norm
from typed import EDITION, cfm, ft2, readings

from deskapp.assess.evaluate import evaluate
from deskapp.domain.choices import FanFlowMethod, Metric, Stage
from deskapp.domain.job import Compliance, Job
from deskapp.domain.limit import (
    Absolute,
    ChosenLimit,
    EitherOf,
    FloorAreaFraction,
    GreaterOf,
    LimitRow,
    PercentOfFanFlow,
    PercentReduction,
    PerDuctSurface,
    PerFloorArea,
    SurfaceClass,
    SurfaceLeakageClass,
    Verification,
)
from deskapp.domain.result import LimitOutcome, Verdict


def judged_by(job: Job, rule: Any) -> LimitOutcome:
    row = LimitRow(
        id="r1",
        title="invented",
        clause="invented",
        metric=Metric.TOTAL,
        pressure_pa=25.0,
        rule=rule,
        status=Verification.USER,
        source="invented for tests",
    )
    edition = EDITION.model_copy(update={"rows": (row,)})
    limits = (ChosenLimit(key="l1", edition=edition),)
    judged = job.model_copy(update={"compliance": Compliance(limits=limits)})
    (outcome,) = evaluate(judged).systems[0].outcomes
    return outcome


def leaking(flow: str, **facts: Any) -> Job:
    rows = flow_readings("25 25 25", f"{flow} {flow} {flow}")
    return job_of(made_test(rows), **facts)


def test_that_a_measured_value_near_its_limit_earns_a_remark_and_keeps_its_verdict() -> None:
    near = judged_by(leaking("79"), PerFloorArea(kind="per_floor_area", rate=4.0))
    assert near.verdict is Verdict.PASS
    assert near.too_close
    assert "Too close to call" in near.remark
    assert "stays" in near.remark
    far = judged_by(leaking("50"), PerFloorArea(kind="per_floor_area", rate=4.0))
    assert far.verdict is Verdict.PASS
    assert not far.too_close
    assert far.remark == ""


def test_that_just_above_the_limit_it_fails_and_the_remark_says_how_sure_that_is() -> None:
    outcome = judged_by(leaking("81"), PerFloorArea(kind="per_floor_area", rate=4.0))
    assert outcome.verdict is Verdict.FAIL
    assert outcome.too_close
    assert outcome.probability is not None
    assert outcome.probability < 0.5


def test_that_uncertainty_and_probability_are_those_worked_out_by_hand() -> None:
    outcome = judged_by(leaking("79"), PerFloorArea(kind="per_floor_area", rate=4.0))
    # By hand: 5 % flow, 0.6 * 1 % pressure, 1 % area, each over sqrt 3; nothing else.
    share = ((0.05**2 + (0.6 * 0.01) ** 2 + 0.01**2) / 3) ** 0.5
    assert outcome.unit == "cfm"
    assert outcome.uncertainty == pytest.approx(2 * 79 * share, rel=1e-4)
    assert outcome.probability == pytest.approx(norm.cdf((80 - 79) / (79 * share)), rel=1e-3)


@pytest.mark.parametrize(
    ("rule", "facts", "unit"),
    [
        (Absolute(kind="absolute", flow=80), {}, "cfm"),
        (GreaterOf(kind="greater_of", rate=4.0, floor=40.0), {}, "cfm"),
        (GreaterOf(kind="greater_of", rate=1.0, floor=80.0), {}, "cfm"),
        (FloorAreaFraction(kind="floor_area_fraction", fraction=0.04), {}, "cfm"),
        (
            PercentOfFanFlow(kind="percent_of_fan_flow", percent=6.0),
            {"fan_flow": cfm("1,333"), "fan_flow_method": FanFlowMethod.MEASURED},
            "cfm",
        ),
        (PerDuctSurface(kind="per_duct_surface", rate=20.0), {"duct_surface": ft2("400")}, "cfm"),
        (SurfaceClass(kind="surface_class", k=0.125), {"duct_surface": ft2("400")}, "L/s/m2"),
        (
            SurfaceLeakageClass(kind="surface_leakage_class", cl=90.0),
            {"duct_surface": ft2("400")},
            "cfm/100ft2",
        ),
    ],
)
def test_that_every_kind_of_rule_is_told_how_sure_it_is(
    rule: Any, facts: dict[str, Any], unit: str
) -> None:
    outcome = judged_by(leaking("79", **facts), rule)
    assert outcome.unit == unit
    assert outcome.uncertainty is not None
    assert outcome.measured is not None
    assert 0.05 < outcome.uncertainty / outcome.measured < 0.12
    assert outcome.probability is not None
    assert (outcome.probability > 0.5) == (outcome.verdict is Verdict.PASS)


def test_that_the_area_counts_only_where_the_limit_rests_on_it() -> None:
    by_area = judged_by(leaking("79"), PerFloorArea(kind="per_floor_area", rate=4.0))
    flat = judged_by(leaking("79"), Absolute(kind="absolute", flow=80))
    floor = judged_by(leaking("79"), GreaterOf(kind="greater_of", rate=1.0, floor=80.0))
    assert by_area.uncertainty is not None
    assert flat.uncertainty is not None
    assert by_area.uncertainty > flat.uncertainty
    assert floor.uncertainty == pytest.approx(flat.uncertainty)


def reduced(first: str, now: str, *, rings: tuple[str, str]) -> Job:
    tests = (
        made_test(readings("25 25", f"{first} {first}"), "t1", ring=rings[0]),
        made_test(readings("25 25", f"{now} {now}"), "t2", ring=rings[1], stage=Stage.AFTER_REPAIR),
    )
    return job_of(*tests)


def test_that_a_reduction_read_with_one_ring_is_surer_than_with_two() -> None:
    rule = PercentReduction(kind="percent_reduction", percent=50.0)
    same = judged_by(reduced("169", "49", rings=("medium", "medium")), rule)
    # Flows by hand: 24 * 13 = 312, 24 * 7 = 168, 9.5 * 13 = 123.5 cfm.
    other = judged_by(reduced("169", "169", rings=("medium", "small")), rule)
    assert same.unit == other.unit == "percent"
    # By hand: 1 - 7 / 13 and 1 - 123.5 / 312 in percent.
    assert same.measured == pytest.approx(46.15, abs=0.01)
    assert other.measured == pytest.approx(60.42, abs=0.01)
    assert same.uncertainty is not None
    assert other.uncertainty is not None
    assert same.uncertainty < 1.5 < other.uncertainty


def test_that_no_reduction_is_counted_from_readings_that_contradict_each_other() -> None:
    # 168, 360 and 24 cfm differ by more than their mean of 184, which tells nothing; 60 cfm now is
    # no proof of a reduction then. Common practice, no source.
    rule = PercentReduction(kind="percent_reduction", percent=50.0)
    first = made_test(flow_readings("25 25 25", "168 360 24"), "t1")
    job = job_of(first, made_test(flow_readings("25 25", "60 60"), "t2"))
    outcome = judged_by(job, rule)
    assert outcome.verdict is Verdict.NONE
    assert outcome.measured is None


def test_that_meeting_one_of_two_ways_surely_is_not_too_close() -> None:
    rule = EitherOf(
        kind="either_of",
        rules=(
            Absolute(kind="absolute", flow=80),
            PerFloorArea(kind="per_floor_area", rate=10.0),
        ),
    )
    outcome = judged_by(leaking("79"), rule)
    assert outcome.verdict is Verdict.PASS
    assert not outcome.too_close
    assert outcome.probability == pytest.approx(1.0)
    close = EitherOf(kind="either_of", rules=(rule.rules[0], Absolute(kind="absolute", flow=81)))
    assert judged_by(leaking("79"), close).too_close


def test_that_an_undecided_limit_claims_no_probability() -> None:
    outcome = judged_by(leaking("79"), PercentOfFanFlow(kind="percent_of_fan_flow", percent=6.0))
    assert outcome.verdict is Verdict.NONE
    assert outcome.probability is None
    assert not outcome.too_close


@settings(max_examples=60, deadline=None)
@given(flow=st.integers(1, 4000), rate=st.sampled_from([1.0, 3.0, 4.0, 6.0, 8.0]))
def test_that_the_verdict_is_simple_acceptance_whatever_the_uncertainty(
    flow: int, rate: float
) -> None:
    # Flows in tenths of a cfm against rate * 20, both exact in the unit of the rule.
    job = leaking(str(flow / 10))
    outcome = judged_by(job, PerFloorArea(kind="per_floor_area", rate=rate))
    wanted = Verdict.PASS if flow / 10 <= rate * 20 else Verdict.FAIL
    assert outcome.verdict is wanted
    assert outcome.probability is not None
    assert outcome.uncertainty is not None
    assert outcome.too_close == (abs(flow / 10 - rate * 20) < outcome.uncertainty)


def test_that_probability_falls_as_leakage_rises() -> None:
    rule = Absolute(kind="absolute", flow=80)
    chances = [judged_by(leaking(str(flow)), rule).probability or 0 for flow in range(70, 92, 2)]
    assert chances == sorted(chances, reverse=True)
    assert judged_by(leaking("80"), rule).probability == pytest.approx(0.5)
