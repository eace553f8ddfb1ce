"""Each kind of rule: at the limit, just beside it, and with something missing.

Where no source is named, the numbers are invented and the sums done by hand.
"""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from limit_cases import case, edition, outcome, row, rule

from deskapp.domain.limit import Rule, SingleRule
from deskapp.domain.measured import Measured
from deskapp.domain.result import Verdict
from deskapp.limits.case import Case, Comparison, Undecided
from deskapp.limits.judge import RULES, compare, judge, rule_text
from deskapp.units.convert import from_unit

# kind: (rule, facts beside the flow, flow just at the limit, unit, pressure)
AT_LIMIT: dict[str, tuple[Any, dict[str, Any], float, str, float]] = {
    "per_floor_area": (
        rule("per_floor_area", rate=4.0),
        {"area": (1520.0, "ft2")},
        60.8,
        "cfm",
        25,
    ),
    "greater_of": (
        rule("greater_of", rate=4.0, floor=40.0),
        {"area": (900.0, "ft2")},
        40.0,
        "cfm",
        25,
    ),
    "absolute": (rule("absolute", flow=25.0), {}, 25.0, "cfm", 25),
    "floor_area_fraction": (
        rule("floor_area_fraction", fraction=0.1),
        {"area": (1456.0, "ft2")},
        145.6,
        "cfm",
        25,
    ),
    "percent_of_fan_flow": (
        rule("percent_of_fan_flow", percent=15.0),
        {"fan": (1200.0, "cfm")},
        180.0,
        "cfm",
        25,
    ),
    "percent_reduction": (
        rule("percent_reduction", percent=60.0),
        {"first": 500.0},
        200.0,
        "cfm",
        25,
    ),
    "per_duct_surface": (
        rule("per_duct_surface", rate=1.0),
        {"surface": (640.0, "ft2")},
        6.4,
        "cfm",
        25,
    ),
    # at 1 in. w.c. the flow per 100 ft2 equals the class number
    "surface_leakage_class": (
        rule("surface_leakage_class", cl=12.0),
        {"surface": (250.0, "ft2")},
        30.0,
        "cfm",
        249.08891,
    ),
    # at 1 Pa the flow per m2 equals the coefficient
    "surface_class": (rule("surface_class", k=0.009), {"surface": (200.0, "m2")}, 1.8, "L/s", 1),
}


def worked(kind: str, factor: float = 1.0) -> tuple[SingleRule, Case, str]:
    made, facts, flow, unit, pressure = AT_LIMIT[kind]
    return made, case(flow * factor, unit, pressure, **facts), unit


def compared(kind: str, of: Case) -> Comparison:
    made, _, _, unit, _ = AT_LIMIT[kind]
    result = compare(made, of, unit)
    assert isinstance(result, Comparison)
    return result


def test_that_every_rule_kind_is_tried_here() -> None:
    assert set(AT_LIMIT) == set(RULES) - {"no_number"}


def test_that_a_rule_without_a_number_decides_nothing_and_says_what_it_asks_for() -> None:
    made = rule("no_number", text="Ducts inside the envelope.")
    result = outcome(made, case(20.0))
    assert result.verdict is Verdict.NONE
    assert (result.limit_value, result.margin) == (None, None)
    assert "Ducts inside the envelope" in result.reason
    assert result.rule_text == "Ducts inside the envelope"


@pytest.mark.parametrize("kind", AT_LIMIT)
def test_that_a_flow_just_at_the_limit_meets_it(kind: str) -> None:
    made, of, unit = worked(kind)
    result = outcome(made, of, of.target_pressure, unit)
    assert result.verdict is Verdict.PASS
    assert result.margin == 0.0


@pytest.mark.parametrize("kind", AT_LIMIT)
def test_that_a_hundredth_of_a_percent_more_does_not(kind: str) -> None:
    made, of, unit = worked(kind, 1.0001)
    result = outcome(made, of, of.target_pressure, unit)
    assert result.verdict is Verdict.FAIL
    assert result.margin is not None
    assert result.margin < 0.0


@pytest.mark.parametrize("kind", AT_LIMIT)
def test_that_a_hundredth_of_a_percent_less_does(kind: str) -> None:
    made, of, unit = worked(kind, 0.9999)
    result = outcome(made, of, of.target_pressure, unit)
    assert result.verdict is Verdict.PASS
    assert result.margin is not None
    assert result.margin > 0.0


@pytest.mark.parametrize("at_least", [False, True])
@pytest.mark.parametrize("limit", [80.0, 60.8, 0.1 + 0.2, 33.6])
def test_that_one_bit_decides_in_the_codes_unit(limit: float, at_least: bool) -> None:
    def met(measured: float) -> bool:
        return Comparison(measured, limit, "cfm", 0.0, at_least=at_least).is_met

    assert met(limit)
    assert met(math.nextafter(limit, math.inf)) is at_least
    assert met(math.nextafter(limit, 0.0)) is not at_least


def test_that_the_greatest_flow_that_passes_is_given_in_si() -> None:
    for kind in AT_LIMIT:
        _, of, _ = worked(kind)
        assert compared(kind, of).limit_flow == pytest.approx(of.flow, rel=1e-12)


def test_that_four_cfm_typed_per_hundred_square_feet_meets_a_limit_of_four_for_any_area() -> None:
    for area in range(101, 6000, 7):
        flow = 4.0 * area / 100.0
        made = rule("per_floor_area", rate=4.0)
        assert outcome(made, case(flow, area=(float(area), "ft2"))).verdict is Verdict.PASS, area


@pytest.mark.parametrize("percent", range(1, 60))
def test_that_a_fraction_of_the_area_is_taken_as_written(percent: int) -> None:
    # plain floats give 0.29 * 100 = 28.999999999999996
    made = rule("floor_area_fraction", fraction=percent / 100)
    result = outcome(made, case(float(percent), area=(100.0, "ft2")))
    assert (result.verdict, result.margin) == (Verdict.PASS, 0.0)


@given(
    kind=st.sampled_from(sorted(AT_LIMIT)),
    factor=st.floats(min_value=0.0, max_value=3.0),
    more=st.floats(min_value=0.0, max_value=3.0),
)
def test_that_more_leakage_never_turns_a_fail_into_a_pass(
    kind: str, factor: float, more: float
) -> None:
    less_leaky = compared(kind, worked(kind, factor)[1])
    leakier = compared(kind, worked(kind, factor + more)[1])
    assert less_leaky.is_met or not leakier.is_met


@pytest.mark.parametrize("kind", sorted(AT_LIMIT))
def test_that_the_verdict_turns_once_around_the_limit(kind: str) -> None:
    _, of, _ = worked(kind)
    flow = of.flow
    for _ in range(200):
        flow = math.nextafter(flow, 0.0)
    met: list[bool] = []
    for _ in range(400):
        flow = math.nextafter(flow, math.inf)
        met.append(compared(kind, of.model_copy(update={"flow": flow})).is_met)
    assert met == sorted(met, reverse=True)
    assert met[0]


def test_that_a_smaller_area_never_turns_a_fail_into_a_pass() -> None:
    made = rule("per_floor_area", rate=4.0)
    verdicts = [
        outcome(made, case(60.8, area=(float(area), "ft2"))).verdict for area in range(1400, 1600)
    ]
    assert verdicts == sorted(verdicts)  # fail before pass
    assert verdicts.count(Verdict.PASS) == 80


MISSING = {
    "per_floor_area": "Floor area served",
    "greater_of": "Floor area served",
    "floor_area_fraction": "Floor area served",
    "percent_of_fan_flow": "Air handler flow",
    "percent_reduction": "earlier test",
    "per_duct_surface": "Duct surface of the tested section",
    "surface_class": "Duct surface of the tested section",
    "surface_leakage_class": "Duct surface of the tested section",
}


@pytest.mark.parametrize("kind", MISSING)
def test_that_a_missing_fact_is_named_and_gives_no_verdict(kind: str) -> None:
    made, _, flow, unit, pressure = AT_LIMIT[kind]
    result = outcome(made, case(flow, unit, pressure), pressure, unit)
    assert result.verdict is Verdict.NONE
    assert MISSING[kind] in result.reason
    assert "Enter" in result.reason
    assert result.measured is None


@pytest.mark.parametrize(
    ("area", "words"),
    [
        (Measured(si=None, unit="ft2", typed="about 1500"), 'reads "about 1500"'),
        (Measured(si=0.0, unit="ft2", typed="0 ft2"), "above zero"),
        (Measured(si=-2.0, unit="ft2", typed="-22 ft2"), "above zero"),
        (Measured(si=2.0, unit="Pa", typed="2"), "not a unit for it"),
    ],
)
def test_that_an_area_of_no_use_is_quoted_and_gives_no_verdict(area: Measured, words: str) -> None:
    of = Case(flow=0.02, target_pressure=25.0, area=area)
    result = outcome(rule("per_floor_area", rate=4.0), of)
    assert result.verdict is Verdict.NONE
    assert words in result.reason


def test_that_a_first_test_without_leakage_gives_no_reduction() -> None:
    result = outcome(rule("percent_reduction", percent=60.0), case(0.0, first=0.0))
    assert result.verdict is Verdict.NONE
    assert "no leakage" in result.reason


def test_that_more_leakage_than_at_first_is_a_negative_reduction() -> None:
    result = outcome(rule("percent_reduction", percent=60.0), case(150.0, first=100.0))
    assert (result.verdict, result.measured, result.margin) == (Verdict.FAIL, -50.0, -110.0)
    assert result.unit == "percent"


def test_that_a_limit_for_another_pressure_gives_no_verdict() -> None:
    of = case(50.0, area=(1520.0, "ft2"), pressure=50.0)
    result = outcome(rule("per_floor_area", rate=4.0), of)
    assert result.verdict is Verdict.NONE
    assert "25 Pa" in result.reason
    assert "50 Pa" in result.reason
    assert result.measured is None


def test_that_a_tenth_of_an_inch_of_water_counts_as_25_pa() -> None:
    # 0.1 in. w.c. = 24.909 Pa; the IECC writes "0.1 inches w.g. (25 Pa)".
    of = case(50.0, area=(1520.0, "ft2"), pressure=from_unit(0.1, "inH2O"))
    assert outcome(rule("per_floor_area", rate=4.0), of).verdict is Verdict.PASS


def test_that_the_lines_carry_the_arithmetic() -> None:
    result = outcome(rule("per_floor_area", rate=4.0), case(54.2, area=(1520.0, "ft2")))
    assert result.lines == (
        "4.0 cfm per 100 ft² × 1,520 ft² ÷ 100 = 60.8 cfm",
        "Measured 54.2 cfm, which is 3.57 cfm per 100 ft² of floor area served",
        "54.2 ≤ 60.8: pass, 6.6 cfm to spare",
    )
    assert (result.measured, result.limit_value, result.margin) == (54.2, 60.8, 6.6)
    assert result.rule_text == "at most 4.0 cfm per 100 ft² of floor area served, at 25 Pa"


def test_that_a_borderline_line_does_not_look_wrong() -> None:
    result = outcome(rule("per_floor_area", rate=4.0), case(60.804, area=(1520.0, "ft2")))
    assert result.verdict is Verdict.FAIL
    assert result.lines[-1] == "60.804 > 60.800: fail, 0.004 cfm too much"
    assert "which is 4.0003 cfm per 100 ft²" in result.lines[1]


def test_that_an_extrapolated_flow_is_told_of() -> None:
    of = case(54.2, area=(1520.0, "ft2"), extrapolated=True)
    assert "not reached" in outcome(rule("per_floor_area", rate=4.0), of).lines[-1]


def test_that_an_area_typed_in_square_meters_serves() -> None:
    result = outcome(rule("per_floor_area", rate=4.0), case(54.2, area=(141.2, "m2")))
    assert result.limit_value == pytest.approx(4.0 * 141.2 / 0.09290304 / 100.0)


EITHER = rule(
    "either_of",
    rules=[
        {"kind": "percent_of_fan_flow", "percent": 15.0},
        {"kind": "percent_reduction", "percent": 60.0},
    ],
)


def test_that_either_way_is_enough_and_both_are_shown() -> None:
    by_fan = outcome(EITHER, case(170.0, first=200.0, fan=(1200.0, "cfm")))
    assert (by_fan.verdict, by_fan.unit) == (Verdict.PASS, "cfm")
    by_cut = outcome(EITHER, case(190.0, first=600.0, fan=(1200.0, "cfm")))
    assert (by_cut.verdict, by_cut.unit) == (Verdict.PASS, "percent")
    neither = outcome(EITHER, case(190.0, first=200.0, fan=(1200.0, "cfm")))
    assert (neither.verdict, neither.unit, neither.margin) == (Verdict.FAIL, "cfm", -10.0)
    for result in (by_fan, by_cut, neither):
        assert result.lines[0].startswith("Alternative 1")
        assert any(line.startswith("Alternative 2") for line in result.lines)


def test_that_the_flow_of_the_limit_belongs_to_the_way_shown() -> None:
    # 15 % of 1,200 cfm is 180 cfm; 60 % less than 600 cfm is 240 cfm (hand arithmetic).
    met = outcome(EITHER, case(100.0, first=600.0, fan=(1200.0, "cfm")))
    assert (met.limit_value, met.unit) == (180.0, "cfm")
    assert met.limit_flow == pytest.approx(from_unit(180.0, "cfm"))
    missed = outcome(EITHER, case(300.0, first=600.0, fan=(1200.0, "cfm")))
    assert missed.verdict is Verdict.FAIL
    assert missed.limit_flow == pytest.approx(from_unit(240.0, "cfm"))


def test_that_one_met_way_is_enough_although_the_other_cannot_be_tried() -> None:
    assert outcome(EITHER, case(170.0, fan=(1200.0, "cfm"))).verdict is Verdict.PASS


def test_that_no_verdict_is_given_while_the_other_way_is_open() -> None:
    result = outcome(EITHER, case(190.0, fan=(1200.0, "cfm")))
    assert result.verdict is Verdict.NONE
    assert "earlier test" in result.reason
    assert result.margin == -10.0


def test_that_the_outcome_says_who_says_so() -> None:
    only = row(rule("absolute", flow=25.0), note="a note")
    result = judge(edition(only), only, case(20.0), key="limit-1")
    assert (result.limit, result.row, result.clause) == ("limit-1", "only", "1")
    assert (result.edition, result.body, result.source) == ("Invented", "Invented", "invented")
    assert (result.status, result.note) == (only.status, "a note")


@pytest.mark.parametrize("unit", ["cfm", "L/s"])
def test_that_percent_rules_decide_in_the_unit_of_the_edition(unit: str) -> None:
    of = case(30.0, unit, fan=(600.0, unit))
    result = outcome(rule("percent_of_fan_flow", percent=5.0), of, unit=unit)
    assert (result.verdict, result.unit, result.limit_value) == (Verdict.PASS, unit, 30.0)


def test_that_every_rule_can_be_told_in_words() -> None:
    told = {kind: rule_text(made) for kind, (made, *_) in AT_LIMIT.items()}
    assert told["per_floor_area"] == "at most 4.0 cfm per 100 ft² of floor area served"
    assert told["greater_of"].endswith("4.0 cfm per 100 ft² of floor area and 40 cfm")
    assert told["absolute"] == "at most 25 cfm"
    assert told["percent_reduction"] == "at least 60% less than in the first test"
    assert "0.009 × p^0.65" in told["surface_class"]
    assert len(set(told.values())) == len(AT_LIMIT)
    both = rule_text(EITHER)
    assert both == f"{told['percent_of_fan_flow']} or {told['percent_reduction']}"


def test_that_an_undecided_rule_gives_its_reason() -> None:
    made: Rule = rule("per_floor_area", rate=4.0)
    result = RULES["per_floor_area"](made, case(10.0), "cfm")
    assert isinstance(result, Undecided)
    assert result.reason.startswith("Floor area served is missing")
