"""Four invented jobs: places and readings are made up, the sums were done by hand."""

from __future__ import annotations

from typing import Any

import pytest
from limit_cases import NO, YES, case, system, trial, typed

from deskapp.domain.choices import Metric, Stage, WorkKind
from deskapp.domain.limit import LimitRow
from deskapp.domain.result import LimitOutcome, Verdict
from deskapp.limits.catalogue import Catalogue
from deskapp.limits.judge import judge
from deskapp.limits.select import choose_row


def judged(
    shipped: Catalogue, code_id: str, facts: dict[str, Any], stage: Stage, flow: float
) -> tuple[LimitRow, LimitOutcome]:
    code = shipped.edition(code_id)
    assert code is not None
    row = choose_row(code, system(**facts), trial(stage)).row
    assert row is not None
    return row, judge(code, row, case(flow).model_copy(update={"area": facts["area_served"]}))


@pytest.mark.parametrize("code_id", ["iecc-2018", "iecc-2021"])
@pytest.mark.parametrize(
    ("flow", "area", "handler", "limit", "verdict"),
    [
        (54.2, 1520.0, YES, 60.8, Verdict.PASS),
        (39.0, 1120.0, NO, 33.6, Verdict.FAIL),
        (29.7, 1120.0, NO, 33.6, Verdict.PASS),
        # the trap: with the air handler ticked by mistake the upper floor seems to pass
        (39.0, 1120.0, YES, 44.8, Verdict.PASS),
    ],
)
def test_that_each_system_of_the_new_house_is_judged_by_itself(
    shipped: Catalogue,
    code_id: str,
    flow: float,
    area: float,
    handler: str,
    limit: float,
    verdict: Verdict,
) -> None:
    facts = {
        "area_served": typed(area, "ft2"),
        "air_handler_installed": handler,
        "all_ducts_inside": NO,
    }
    row, result = judged(shipped, code_id, facts, Stage.ROUGH_IN, flow)
    assert row.id == f"rough-in-with{'' if handler is YES else 'out'}-air-handler"
    assert (result.limit_value, result.verdict) == (limit, verdict)


def test_that_the_house_as_a_whole_would_have_hidden_the_leaky_floor(shipped: Catalogue) -> None:
    facts = {
        "area_served": typed(2640.0, "ft2"),
        "air_handler_installed": YES,
        "all_ducts_inside": NO,
    }
    _, result = judged(shipped, "iecc-2021", facts, Stage.ROUGH_IN, 93.1)
    assert (result.limit_value, result.verdict) == (105.6, Verdict.PASS)
    assert "3.53 cfm per 100 ft²" in result.lines[1]


def test_that_the_retrofit_passes_by_fan_flow_and_by_reduction(shipped: Catalogue) -> None:
    code = shipped.edition("sample-retrofit-program")
    assert code is not None
    facts = system(work=WorkKind.EXISTING, fan_flow=typed(1200.0, "cfm"))
    row = choose_row(code, facts, trial(Stage.AFTER_REPAIR)).row
    assert row is not None
    after = judge(code, row, case(167.9, first=617.4, fan=(1200.0, "cfm")))
    assert (after.verdict, after.limit_value, after.unit) == (Verdict.PASS, 180.0, "cfm")
    assert after.margin == 12.1
    assert "167.9 ≤ 180.0: pass, 12.1 cfm to spare" in after.lines
    assert "72.8 ≥ 60.0: pass, 12.8 points to spare" in after.lines
    assert any("14.0% of the air handler" in line for line in after.lines)
    before = judge(code, row, case(617.4, fan=(1200.0, "cfm")))
    assert before.verdict is Verdict.NONE
    assert before.margin is not None
    assert before.margin < 0
    barely = judge(code, row, case(250.0, first=617.4, fan=(1200.0, "cfm")))
    assert barely.verdict is Verdict.FAIL


def test_that_the_manufactured_home_is_judged_at_50_pa(shipped: Catalogue) -> None:
    code = shipped.edition("sample-manufactured-home-program")
    assert code is not None
    facts = system(work=WorkKind.EXISTING)
    row = choose_row(code, facts, trial(Stage.AFTER_REPAIR, Metric.OUTSIDE)).row
    assert row is not None
    area = (1456.0, "ft2")
    after = judge(code, row, case(121.0, pressure=50.0, first=312.0, area=area))
    assert (after.verdict, after.limit_value) == (Verdict.PASS, 145.6)
    assert any("8.3%" in line for line in after.lines)
    assert "61.2 ≥ 50.0: pass, 11.2 points to spare" in after.lines
    # the trap: the same number entered as a test at 25 Pa must not be judged
    assert judge(code, row, case(121.0, first=312.0, area=area)).verdict is Verdict.NONE


@pytest.mark.parametrize(("flow", "unit"), [(61.5, "L/s"), (221.4, "m3/h"), (130.3, "cfm")])
def test_that_the_clinic_passes_class_b_in_any_unit(
    shipped: Catalogue, flow: float, unit: str
) -> None:
    code = shipped.edition("en-16798-3")
    assert code is not None
    facts = system(duct_surface=typed(186.0, "m2"))
    unfixed = choose_row(code, facts, trial(Stage.FINAL))
    assert unfixed.row is None
    assert "ATC 4 (class B)" in unfixed.reason
    row = choose_row(code, facts, trial(Stage.FINAL), fixed="atc-4").row
    assert row is not None
    of = case(flow, unit, 400.0, surface=(186.0, "m2"))
    result = judge(code, row, of)
    assert (result.verdict, result.unit) == (Verdict.PASS, "L/s/m2")
    assert result.lines[-1] == "0.331 ≤ 0.442: pass, 0.112 L/(s·m²) to spare"
    stricter = code.row("atc-3")
    assert stricter is not None
    assert judge(code, stricter, of).verdict is Verdict.FAIL


def test_that_the_clinic_would_miss_leakage_class_4(shipped: Catalogue) -> None:
    code = shipped.edition("ashrae-90-1")
    assert code is not None
    result = judge(code, code.rows[0], case(61.5, "L/s", 400.0, surface=(186.0, "m2")))
    assert result.verdict is Verdict.FAIL
    assert result.measured == pytest.approx(6.51, abs=0.005)
