"""Worked limits against figures from outside the program."""

from __future__ import annotations

import pytest
from limit_cases import case, edition, outcome, row, rule, system, trial, typed

from deskapp.domain.choices import Metric, Stage, YesNo
from deskapp.domain.result import Verdict
from deskapp.limits.case import Comparison
from deskapp.limits.catalogue import Catalogue
from deskapp.limits.judge import compare, judge
from deskapp.limits.select import choose_row
from deskapp.units.convert import from_unit, to_unit

FOUR = rule("per_floor_area", rate=4.0)


# Rule: IECC 2012 to 2021, 4 cfm per 100 ft2, simple acceptance. Sums by hand.
@pytest.mark.parametrize(
    ("flow", "per_100", "verdict"),
    [
        (80.0, "4.00", Verdict.PASS),
        (80.4, "4.02", Verdict.FAIL),
        (81.0, "4.05", Verdict.FAIL),
    ],
)
def test_that_2000_square_feet_allow_80_cfm(flow: float, per_100: str, verdict: Verdict) -> None:
    result = outcome(FOUR, case(flow, area=(2000.0, "ft2")))
    assert result.verdict is verdict
    assert result.limit_value == 80.0
    assert f"{per_100} cfm per 100 ft²" in result.lines[1]


# Source: ENERGY STAR Rater Field Checklist, Rev 08, items 6.4.1, 6.4.2, 6.5, footnote 37.
@pytest.mark.parametrize(
    ("area", "stage", "metric", "returns", "limit"),
    [
        (900.0, Stage.ROUGH_IN, Metric.TOTAL, 2, 40.0),
        (900.0, Stage.ROUGH_IN, Metric.TOTAL, 3, 60.0),
        (900.0, Stage.FINAL, Metric.TOTAL, 3, 120.0),
        (2400.0, Stage.ROUGH_IN, Metric.TOTAL, 2, 96.0),
        (2400.0, Stage.FINAL, Metric.TOTAL, 2, 192.0),
        (2400.0, Stage.FINAL, Metric.TOTAL, 3, 288.0),
        (800.0, Stage.FINAL, Metric.OUTSIDE, 2, 40.0),
        (1000.0, Stage.FINAL, Metric.OUTSIDE, 2, 40.0),
    ],
)
def test_that_energy_star_takes_the_greater_of_rate_and_floor(
    shipped: Catalogue, area: float, stage: Stage, metric: Metric, returns: int, limit: float
) -> None:
    code = shipped.edition("energy-star-homes-3-rev-08")
    assert code is not None
    facts = system(
        area_served=typed(area, "ft2"),
        returns=typed(returns, "1"),
        air_handler_installed=YesNo.YES,
    )
    chosen = choose_row(code, facts, trial(stage, metric)).row
    assert chosen is not None
    at_limit = judge(code, chosen, case(limit, area=(area, "ft2")))
    assert (at_limit.verdict, at_limit.limit_value) == (Verdict.PASS, limit)
    above = judge(code, chosen, case(limit + 0.01, area=(area, "ft2")))
    assert above.verdict is Verdict.FAIL


# Sums by hand: 220 and 140 cfm in 1,800 ft2.
def test_that_1800_square_feet_show_the_hand_worked_rates() -> None:
    total = outcome(rule("per_floor_area", rate=12.0), case(220.0, area=(1800.0, "ft2")))
    outside = outcome(rule("per_floor_area", rate=8.0), case(140.0, area=(1800.0, "ft2")))
    assert "12.22 cfm per 100 ft²" in total.lines[1]
    assert total.verdict is Verdict.FAIL
    assert "7.78 cfm per 100 ft²" in outside.lines[1]
    assert outside.verdict is Verdict.PASS


# Source: California 2008 Residential Appendices (percent of nominal flow, 400 cfm per ton).
@pytest.mark.parametrize(
    ("percent", "fan", "limit"),
    [
        (4, 1200, 48),
        (5, 1200, 60),
        (6, 1200, 72),
        (10, 1200, 120),
        (15, 1200, 180),
        (5, 1302, 65.1),
        (6, 400, 24),
    ],
)
def test_that_a_share_of_fan_flow_gives_the_hand_worked_limit(
    percent: float, fan: float, limit: float
) -> None:
    made = rule("percent_of_fan_flow", percent=percent)
    result = outcome(made, case(limit, fan=(fan, "cfm")))
    assert (result.verdict, result.limit_value) == (Verdict.PASS, limit)


# Source: EN 12237 and EN 1507 class limits, f = k p^0.65, from a trade page on EN 16798-3;
# values worked out separately with the general power law.
CLASS_LIMITS = {
    0.027: {25: 0.21879, 250: 0.97729, 400: 1.32649, 1000: 2.40638},
    0.009: {25: 0.07293, 250: 0.32576, 400: 0.44216, 1000: 0.80213},
    0.003: {25: 0.02431, 250: 0.10859, 400: 0.14739, 1000: 0.26738},
    0.001: {25: 0.00810, 250: 0.03620, 400: 0.04913, 1000: 0.08913},
}


@pytest.mark.parametrize("k", CLASS_LIMITS)
@pytest.mark.parametrize("pressure", [25, 250, 400, 1000])
def test_that_an_air_tightness_class_has_the_published_limit(k: float, pressure: int) -> None:
    of = case(1.0, "L/s", float(pressure), surface=(100.0, "m2"))
    result = compare(rule("surface_class", k=k), of, "L/s")
    assert isinstance(result, Comparison)
    assert result.unit == "L/s/m2"
    assert result.limit == pytest.approx(CLASS_LIMITS[k][pressure], abs=6e-6)
    assert result.measured == 0.01


# Source: F = CL P^0.65 as quoted from the duct air leakage test manual; values worked out apart.
@pytest.mark.parametrize(
    ("cl", "pressure", "unit", "limit"),
    [
        (12, 0.5, "inH2O", 7.6474),
        (12, 1.0, "inH2O", 12.0),
        (12, 2.0, "inH2O", 18.8300),
        (12, 3.0, "inH2O", 24.5081),
        (12, 4.0, "inH2O", 29.5475),
        (4, 25.0, "Pa", 0.8976),
        (4, 4.0, "inH2O", 9.8492),
    ],
)
def test_that_a_leakage_class_has_the_published_limit(
    cl: float, pressure: float, unit: str, limit: float
) -> None:
    of = case(5.0, pressure=from_unit(pressure, unit), surface=(100.0, "ft2"))
    result = compare(rule("surface_leakage_class", cl=cl), of, "cfm")
    assert isinstance(result, Comparison)
    assert result.unit == "cfm/100ft2"
    assert result.limit == pytest.approx(limit, abs=6e-5)
    assert result.measured == 5.0


# Conversion worked out apart: k = CL * 0.508 / 249.08891^0.65 L/(s m2).
@pytest.mark.parametrize(
    ("cl", "k"), [(3, 0.0042204), (4, 0.0056272), (6, 0.0084408), (12, 0.0168816), (48, 0.0675266)]
)
def test_that_the_two_families_of_classes_agree(cl: float, k: float) -> None:
    of = case(20.0, pressure=400.0, surface=(186.0, "m2"))
    by_cl = compare(rule("surface_leakage_class", cl=cl), of, "cfm")
    by_k = compare(rule("surface_class", k=k), of, "L/s")
    assert isinstance(by_cl, Comparison)
    assert isinstance(by_k, Comparison)
    assert by_cl.limit_flow == pytest.approx(by_k.limit_flow, rel=2e-5)


# Common practice, no source: 150 cfm at 25 Pa is too much for any house below 3,750 ft2.
def test_that_150_cfm_fails_four_per_hundred_below_3750_square_feet() -> None:
    for area in (800.0, 2000.0, 3700.0, 3749.9):
        assert outcome(FOUR, case(150.0, area=(area, "ft2"))).verdict is Verdict.FAIL
    assert outcome(FOUR, case(150.0, area=(3750.0, "ft2"))).verdict is Verdict.PASS


def test_that_the_verdict_is_the_same_whatever_unit_was_typed() -> None:
    for flow in (59.0, 60.0, 60.7, 60.9, 62.0):
        only = row(FOUR)
        verdicts = {
            judge(
                edition(only),
                only,
                case(to_unit(from_unit(flow, "cfm"), unit), unit, area=(1520.0, "ft2")),
            ).verdict
            for unit in ("cfm", "L/s", "m3/h", "L/min")
        }
        assert len(verdicts) == 1
