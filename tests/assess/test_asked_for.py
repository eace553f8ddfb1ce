"""Tests asked for beside those made, and tests not asked for. Jobs are invented.

The ring gives 4 * sqrt(signal) cfm, so a signal of 100 Pa is 40 cfm (hand arithmetic).
Source of the rules: ENERGY STAR Rater Field Checklist, Rev 08, items 6.4, 6.5 and footnote 41.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from typed import FAN, GAUGE, ft2, leakage_test, readings, typed

from deskapp.assess.evaluate import evaluate
from deskapp.domain.choices import FanFlowMethod, Metric, Stage, WorkKind, YesNo
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Compliance, Job
from deskapp.domain.limit import ChosenLimit, Edition
from deskapp.domain.measured import Measured
from deskapp.domain.paths import put
from deskapp.domain.result import LimitOutcome, SystemResult, Verdict
from deskapp.domain.site import House
from deskapp.domain.system import DuctSystem
from deskapp.domain.trial import LeakageTest
from deskapp.limits.catalogue import load
from deskapp.units.kinds import Kind

SHIPPED = load(Path(__file__).parents[2] / "resources" / "limits")


def shipped(edition_id: str) -> Edition:
    found = SHIPPED.edition(edition_id)
    assert found is not None
    return found


def trial(key: str, signal: str, metric: Metric, stage: Stage = Stage.FINAL) -> LeakageTest:
    made = leakage_test(key, "s1", "tiny", readings("-25.0", signal), "0.0", stage=stage)
    return made.model_copy(update={"setup": made.setup.model_copy(update={"metric": metric})})


def job(edition_id: str, *tests: LeakageTest, row: str = "", **facts: Any) -> Job:
    system = {
        "key": "s1",
        "name": "System 1",
        "area_served": ft2("1,000"),
        "air_handler_installed": YesNo.YES,
        "returns": typed("2", Kind.COUNT),
        "all_ducts_inside": YesNo.NO,
        **facts,
    }
    chosen = ChosenLimit(key="k1", edition=shipped(edition_id), row=row)
    return Job(
        number="T-2",
        house=House(floor_area=ft2("1,000")),
        systems=(DuctSystem(**system),),
        gauges=(GAUGE,),
        fans=(FAN,),
        tests=tests,
        compliance=Compliance(limits=(chosen,)),
    )


def judged(made: Job) -> SystemResult:
    (system,) = evaluate(made).systems
    return system


def by_row(made: Job) -> dict[str, LimitOutcome]:
    return {outcome.row: outcome for outcome in judged(made).outcomes}


def findings(made: Job, code: str) -> list[Finding]:
    return [finding for finding in evaluate(made).findings if finding.code == code]


CHECKLIST = "energy-star-homes-3-rev-08"
TOTAL = trial("t1", "182.25", Metric.TOTAL)  # 54 cfm: within 80, above 40
LOW_TOTAL = trial("t1", "90.25", Metric.TOTAL)  # 38 cfm: within 40
OUTSIDE = trial("t2", "49.0", Metric.OUTSIDE)  # 28 cfm: within 40


def test_that_a_missing_second_test_keeps_the_verdict_open_and_is_told() -> None:
    made = job(CHECKLIST, TOTAL, all_ducts_inside=YesNo.YES)
    rows = by_row(made)
    assert rows["final"].verdict is Verdict.PASS
    assert rows["outside"].verdict is Verdict.NONE
    assert not rows["outside"].is_waived
    assert judged(made).verdict is Verdict.NONE
    assert "Leakage to outside is asked for as well" in judged(made).reason
    (finding,) = findings(made, "test_missing")
    assert finding.level is Level.CHECK
    assert "footnote 41" in finding.what  # the waiver that could still hold, by claim


def test_that_with_both_tests_nothing_is_missing() -> None:
    made = job(CHECKLIST, TOTAL, OUTSIDE)
    assert {row: one.verdict for row, one in by_row(made).items()} == {
        "final": Verdict.PASS,
        "outside": Verdict.PASS,
    }
    assert judged(made).verdict is Verdict.PASS
    assert findings(made, "test_missing") == []


def test_that_the_total_is_missing_where_only_the_outside_test_was_made() -> None:
    made = job(CHECKLIST, OUTSIDE)
    rows = by_row(made)
    assert rows["outside"].verdict is Verdict.PASS
    assert rows["final"].verdict is Verdict.NONE
    assert "Total leakage is asked for as well" in judged(made).reason
    assert judged(made).verdict is Verdict.NONE


def test_that_a_total_whose_row_is_not_settled_is_not_called_missing() -> None:
    made = put(job(CHECKLIST, TOTAL, OUTSIDE), "systems.0.returns", None)
    system = judged(made)
    assert system.verdict is Verdict.NONE
    assert "is not answered" in system.reason
    assert findings(made, "test_missing") == []
    (finding,) = findings(made, "not_decided")
    assert "Ducted returns" in finding.what


def test_that_a_total_at_rough_in_serves_beside_an_outside_test_at_the_end() -> None:
    rough = trial("t1", "90.25", Metric.TOTAL, Stage.ROUGH_IN)
    made = job(CHECKLIST, rough, OUTSIDE)
    assert set(by_row(made)) == {"rough-in", "outside"}
    assert judged(made).verdict is Verdict.PASS


def test_that_at_rough_in_no_second_test_is_asked_for() -> None:
    made = job(CHECKLIST, trial("t1", "90.25", Metric.TOTAL, Stage.ROUGH_IN))
    assert set(by_row(made)) == {"rough-in"}
    assert judged(made).verdict is Verdict.PASS


def test_that_a_low_total_waives_the_outside_test_and_says_so() -> None:
    made = job(CHECKLIST, LOW_TOTAL)
    outside = by_row(made)["outside"]
    assert outside.is_waived
    assert outside.verdict is Verdict.NONE
    assert outside.test == ""
    assert "footnote 41" in outside.waiver
    assert "38.0 ≤ 40.0" in outside.waiver
    assert outside.status is not None
    assert judged(made).verdict is Verdict.PASS
    (note,) = findings(made, "waived")
    assert note.level is Level.NOTE
    assert findings(made, "test_missing") == []
    assert findings(made, "not_decided") == []


def test_that_a_waiver_does_not_soften_a_test_that_was_made() -> None:
    rough = trial("t1", "90.25", Metric.TOTAL, Stage.ROUGH_IN)  # 38 cfm, before the drywall
    leaky = trial("t2", "110.25", Metric.OUTSIDE)  # 42 cfm: above 40
    made = job(CHECKLIST, rough, leaky)
    outside = by_row(made)["outside"]
    assert outside.verdict is Verdict.FAIL
    assert "footnote 41" in outside.waiver
    assert judged(made).verdict is Verdict.FAIL


def test_that_an_outside_test_above_a_total_of_its_stage_is_refused_with_the_reason() -> None:
    leaky = trial("t2", "110.25", Metric.OUTSIDE)  # 42 cfm, of 38 cfm in all
    made = job(CHECKLIST, LOW_TOTAL, leaky)
    outside = by_row(made)["outside"]
    assert outside.verdict is Verdict.NONE
    assert "cannot exceed" in outside.reason
    assert judged(made).verdict is Verdict.NONE
    (stop,) = findings(made, "outside_above_total")
    assert stop.level is Level.STOP


def test_that_a_missing_test_does_not_hide_a_fail() -> None:
    flow = put(TOTAL, "setup.ring", "small")  # 9.5 * 13.5 = 128 cfm: above 80
    made = job(CHECKLIST, flow)
    assert judged(made).verdict is Verdict.FAIL


def test_that_a_row_fixed_by_hand_is_the_only_one_asked_about() -> None:
    made = job(CHECKLIST, TOTAL, row="final")
    assert set(by_row(made)) == {"final"}
    assert judged(made).verdict is Verdict.PASS


@pytest.mark.parametrize("field", ["stage", "metric"])
def test_that_nothing_is_asked_for_before_stage_and_measure_are_known(field: str) -> None:
    made = put(job(CHECKLIST, TOTAL), f"tests.0.setup.{field}", None)
    assert findings(made, "test_missing") == []
    assert judged(made).verdict is Verdict.NONE


@pytest.mark.parametrize("edition_id", ["iecc-2009", "north-carolina-2018", "california-2008"])
def test_that_an_alternative_is_never_asked_for_as_well(edition_id: str) -> None:
    flow = typed("1200 cfm", Kind.FLOW)
    made = job(edition_id, LOW_TOTAL, work=WorkKind.ALTERED, fan_flow=flow)
    assert len(judged(made).outcomes) == 1
    assert judged(made).verdict is Verdict.PASS


# Source: IECC 2015 and 2018 as quoted in a trade article: no test with all ducts inside.
@pytest.mark.parametrize("edition_id", ["iecc-2015", "iecc-2018"])
def test_that_an_untested_system_inside_is_waived_and_never_passes(edition_id: str) -> None:
    made = job(edition_id, all_ducts_inside=YesNo.YES, air_handler_inside=YesNo.YES)
    system = judged(made)
    (outcome,) = system.outcomes
    assert outcome.is_waived
    assert system.verdict is Verdict.NONE
    assert system.reason.startswith("Waived, not tested.")
    assert "R403.3.3" in system.reason
    assert evaluate(made).verdict is Verdict.NONE


def test_that_an_untested_system_outside_is_simply_untested() -> None:
    system = judged(job("iecc-2018"))
    assert system.outcomes == ()
    assert system.reason == "No test of this system is recorded."


def test_that_one_limit_that_waives_does_not_speak_for_another() -> None:
    made = job("iecc-2018", all_ducts_inside=YesNo.YES)
    other = ChosenLimit(key="k2", edition=shipped("iecc-2021"))
    both = made.model_copy(
        update={"compliance": Compliance(limits=(*made.compliance.limits, other))}
    )
    system = judged(both)
    assert [outcome.limit for outcome in system.outcomes] == ["k1"]
    assert system.reason == "No test of this system is recorded."


def test_that_altered_californian_ducts_are_waived_row_by_row() -> None:
    claimed = Compliance(
        exemption_claimed=YesNo.YES,
        exemption_reason="Smoke test seen and verified",
        limits=(ChosenLimit(key="k1", edition=shipped("california-2016-single-family")),),
    )
    for work, waived in ((WorkKind.ALTERED, True), (WorkKind.NEW, False)):
        made = job("california-2016-single-family", work=work)
        made = made.model_copy(update={"compliance": claimed})
        assert bool(judged(made).outcomes) is waived


def test_that_a_claim_no_limit_knows_of_is_asked_about() -> None:
    made = put(job("iecc-2021", TOTAL), "compliance.exemption_claimed", YesNo.YES)
    (finding,) = findings(made, "exemption_unsupported")
    assert finding.path == "compliance.exemption_claimed"
    inside = put(
        job("iecc-2018", TOTAL, all_ducts_inside=YesNo.YES),
        "compliance.exemption_claimed",
        YesNo.YES,
    )
    assert findings(inside, "exemption_unsupported") == []


# Source of the rule: California, see tests of the nominal flow. 3 tons: 1,200 cfm, 5 % are 60.
def test_that_a_californian_job_is_judged_by_the_nominal_flow() -> None:
    made = job(
        "california-2016-single-family",
        TOTAL,
        work=WorkKind.NEW,
        cooling_capacity=typed("3 tons", Kind.POWER),
    )
    (outcome,) = judged(made).outcomes
    assert (outcome.verdict, outcome.limit_value) == (Verdict.PASS, 60.0)
    assert outcome.lines[0] == "400 cfm per ton × 3 tons = 1,200 cfm"


@pytest.mark.parametrize("method", [FanFlowMethod.MEASURED, FanFlowMethod.DESIGN])
def test_that_a_flow_said_to_be_measured_is_asked_for(method: FanFlowMethod) -> None:
    made = job(
        "california-2016-single-family",
        TOTAL,
        work=WorkKind.NEW,
        cooling_capacity=typed("3 tons", Kind.POWER),
        fan_flow_method=method,
    )
    assert judged(made).verdict is Verdict.NONE
    assert "Air handler flow is missing" in judged(made).reason


@pytest.mark.parametrize("field", ["fan_flow", "heating_output"])
def test_that_no_nominal_flow_stands_in_for_text_that_was_not_read(field: str) -> None:
    made = job(
        "california-2016-single-family",
        TOTAL,
        work=WorkKind.NEW,
        cooling_capacity=typed("3 tons", Kind.POWER),
        **{field: Measured(si=None, typed="about 900")},
    )
    assert judged(made).verdict is Verdict.NONE


def test_that_a_system_passed_over_is_asked_about_once_another_was_read() -> None:
    attic = DuctSystem(key="s2", name="Attic", area_served=ft2("800"))
    made = job(CHECKLIST, TOTAL)
    two = made.model_copy(update={"systems": (*made.systems, attic)})
    (finding,) = findings(two, "untested_system")
    assert (finding.level, finding.path) == (Level.CHECK, "systems.1.name")
    assert finding.what == "Attic: No test of this system is recorded."
    unread = two.model_copy(update={"tests": ()})
    assert findings(unread, "untested_system") == [], "nothing has been read yet"
    begun = put(two, "tests", (*two.tests, LeakageTest(key="t9", system="s2")))
    assert findings(begun, "untested_system") == [], "its test is there, to be read next"


# Source: IECC 2018 as quoted in a trade article: no test with all ducts inside.
@pytest.mark.parametrize(("inside", "asked"), [(YesNo.YES, 0), (YesNo.NO, 1)])
def test_that_a_system_whose_test_is_waived_is_not_asked_about(inside: YesNo, asked: int) -> None:
    made = job("iecc-2018", TOTAL)
    other = DuctSystem(
        key="s2",
        name="Loft",
        area_served=ft2("800"),
        all_ducts_inside=inside,
        air_handler_inside=inside,
    )
    two = made.model_copy(update={"systems": (*made.systems, other)})
    assert len(findings(two, "untested_system")) == asked
