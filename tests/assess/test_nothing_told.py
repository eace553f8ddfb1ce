"""Readings that contradict each other, and results that tell nothing: the verdict is held.

Invented readings; spreads and uncertainties worked out by hand beside each. That readings which
differ by more than their mean are no repeats of one thing is common practice, no source.
"""

from __future__ import annotations

import pytest
from multi import curve_test, flow_readings, job_of, made_test
from typed import ft2, pa

from deskapp.assess.evaluate import evaluate
from deskapp.domain.choices import Direction
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.limit import Absolute
from deskapp.domain.result import Verdict
from deskapp.domain.site import House


def found(job: Job, code: str) -> list[Finding]:
    return [one for one in evaluate(job).findings if one.code == code]


def test_that_readings_that_differ_by_more_than_their_mean_give_no_verdict() -> None:
    # Mean 40, from 10 to 70: 150 % apart; the limit would be 80 cfm.
    job = job_of(made_test(flow_readings("25 25 25", "40 10 70")))
    assessment = evaluate(job)
    assert assessment.verdict is Verdict.NONE
    (outcome,) = assessment.systems[0].outcomes
    assert "150" in outcome.reason
    assert outcome.measured is None
    (stop,) = found(job, "readings_contradict")
    assert stop.level is Level.STOP
    assert stop.path.startswith("tests.0.readings.")
    assert stop.mend
    assert not found(job, "spread")


def test_that_the_message_leads_to_the_reading_farthest_from_the_others() -> None:
    (stop,) = found(
        job_of(made_test(flow_readings("25 25 25 25", "40 41 4 39"))), "readings_contradict"
    )
    assert stop.path == "tests.0.readings.2.indicated_flow"


@pytest.mark.parametrize(("flows", "verdict"), [("30 50", Verdict.PASS), ("60 62", Verdict.PASS)])
def test_that_a_spread_below_all_of_the_mean_keeps_its_verdict(
    flows: str, verdict: Verdict
) -> None:
    job = job_of(made_test(flow_readings("25 25", flows)))
    assert evaluate(job).verdict is verdict
    assert not found(job, "readings_contradict")


def test_that_points_of_a_curve_are_held_against_each_other_at_the_target() -> None:
    # Along any exponent from 0.5 to 1 the third point lies at a tenth of its neighbors.
    rows = flow_readings("15 20 25 30 40 50", "60 70 8 90 104 118")
    job = job_of(curve_test(rows))
    assert evaluate(job).verdict is Verdict.NONE
    (stop,) = found(job, "readings_contradict")
    assert stop.path == "tests.0.readings.2.indicated_flow"


def test_that_the_two_directions_are_not_held_against_each_other() -> None:
    rows = flow_readings("25 25 -25 -25", "20 21 70 71")
    job = job_of(made_test(rows, direction=Direction.BOTH))
    assert not found(job, "readings_contradict")


def drifting(flows: str, area: str = "2,000") -> Job:
    test = made_test(flow_readings("25 25", flows), baseline_after=pa("20"))
    return job_of(test, house=House(floor_area=ft2(area)), area_served=ft2(area))


def test_that_a_result_no_larger_than_its_uncertainty_decides_nothing_near_the_limit() -> None:
    # By hand, with k = 2: two readings of 21 and 59 give 95 % by scatter, a baseline that drifted
    # by 10 Pa to either side of an induced 15 Pa gives 2 * 0.6 * 10 / (3 ** 0.5 * 15) = 46 %.
    assessment = evaluate(drifting("21 59"))
    budget = assessment.tests[0].budget
    assert budget is not None
    assert budget.expanded / budget.value == pytest.approx((0.95**2 + 0.462**2) ** 0.5, abs=0.01)
    assert assessment.verdict is Verdict.NONE
    (outcome,) = assessment.systems[0].outcomes
    assert outcome.measured is None
    assert "Scatter of the readings" in outcome.reason
    assert "take more readings" in outcome.reason
    (told,) = found(drifting("21 59"), "not_decided")
    assert told.path.startswith("tests.0.readings.")


def test_that_it_still_tells_on_which_side_of_a_limit_far_away_the_leakage_lies() -> None:
    # 54 cfm, give or take 58, against 160 cfm.
    assessment = evaluate(drifting("21 59", area="4,000"))
    assert assessment.verdict is Verdict.PASS


def serving(job: Job, area: float, house: float | None) -> Job:
    """Return the job with these areas of its system and of the house, ft²."""
    system = job.systems[0].model_copy(update={"area_served": ft2(str(area))})
    site = job.house.model_copy(update={"floor_area": None if house is None else ft2(str(house))})
    return job.model_copy(update={"systems": (system,), "house": site})


@pytest.mark.parametrize("house", [2000, 2850])
def test_that_a_system_larger_than_the_house_gives_no_verdict(house: float) -> None:
    # 50 cfm: above the 40 cfm that 4 cfm per 100 ft² allows 1,000 ft², below those of 3,000 ft².
    job = serving(job_of(made_test(flow_readings("25 25", "50 50"))), 3000, house)
    assessment = evaluate(job)
    assert assessment.verdict is Verdict.NONE
    (outcome,) = assessment.systems[0].outcomes
    assert (outcome.measured, outcome.limit_value) == (None, None)
    assert "more than the whole house" in outcome.reason
    assert outcome.reason in (assessment.systems[0].reason, assessment.reason)
    (stop,) = found(job, "area_above_house")
    assert stop.path == "systems.0.area_served"
    assert found(job, "not_decided")[0].path == "systems.0.area_served"
    assert assessment.tests[0].flow is not None, "what was measured is still told"


@pytest.mark.parametrize("house", [None, 2860, 3000])
def test_that_an_area_the_house_can_hold_keeps_its_verdict(house: float | None) -> None:
    # Areas may differ by 5 %: 3,000 is 1.049 times 2,860 (common practice, no source).
    job = serving(job_of(made_test(flow_readings("25 25", "50 50"))), 3000, house)
    assert evaluate(job).verdict is Verdict.PASS


def test_that_a_limit_that_does_not_rest_on_the_area_keeps_its_verdict() -> None:
    job = serving(job_of(made_test(flow_readings("25 25", "50 50"))), 3000, 2000)
    limit = job.compliance.limits[0]
    rule = Absolute(kind="absolute", flow=60)
    rows = tuple(row.model_copy(update={"rule": rule}) for row in limit.edition.rows)
    edition = limit.edition.model_copy(update={"rows": rows})
    limits = (limit.model_copy(update={"edition": edition}),)
    compliance = job.compliance.model_copy(update={"limits": limits})
    assert evaluate(job.model_copy(update={"compliance": compliance})).verdict is Verdict.PASS
