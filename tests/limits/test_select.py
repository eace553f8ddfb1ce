"""Which row a job's facts ask for. Rows and facts are invented unless a code is named."""

from __future__ import annotations

from typing import Any

import pytest
from limit_cases import ALTERED, NEW, NO, YES, edition, row, rule, system, trial, typed

from deskapp.domain.choices import Metric, Stage
from deskapp.domain.measured import Measured
from deskapp.limits.catalogue import Catalogue
from deskapp.limits.select import choose_row

ANY = rule("absolute", flow=25.0)


def counted(number: float) -> Measured:
    return typed(number, "1")


CONDITIONS: dict[str, tuple[dict[str, Any], dict[str, Any], dict[str, Any], str]] = {
    # name: (what the row asks, facts that fit, facts that do not, the field named)
    "work": ({"works": [NEW]}, {"work": NEW}, {"work": ALTERED}, "New or existing"),
    "air handler": (
        {"air_handler_installed": True},
        {"air_handler_installed": YES},
        {"air_handler_installed": NO},
        "Air handler in place during the test",
    ),
    "inside": (
        {"all_inside": True},
        {"all_ducts_inside": YES},
        {"all_ducts_inside": NO},
        "All ducts and air handler inside the thermal envelope",
    ),
    "few returns": (
        {"returns_max": 2},
        {"returns": counted(2)},
        {"returns": counted(3)},
        "Ducted returns",
    ),
    "many returns": (
        {"returns_min": 3},
        {"returns": counted(3)},
        {"returns": counted(2)},
        "Ducted returns",
    ),
    "returns between": (
        {"returns_min": 3, "returns_max": 5},
        {"returns": counted(5)},
        {"returns": counted(6)},
        "Ducted returns",
    ),
    "large area": (
        {"area_above_ft2": 1000.0},
        {"area_served": typed(1000.1, "ft2")},
        {"area_served": typed(1000.0, "ft2")},
        "Floor area served",
    ),
    "small area": (
        {"area_up_to_ft2": 1000.0},
        {"area_served": typed(1000.0, "ft2")},
        {"area_served": typed(1000.1, "ft2")},
        "Floor area served",
    ),
}


@pytest.mark.parametrize("name", CONDITIONS)
def test_that_a_condition_lets_a_row_in_and_keeps_it_out(name: str) -> None:
    asked, fitting, unfitting, label = CONDITIONS[name]
    only = edition(row(ANY, **asked))
    choice = choose_row(only, system(**fitting), trial())
    assert choice.row is only.rows[0]
    assert choice.considered[0].fits is True
    assert label in choice.considered[0].why
    choice = choose_row(only, system(**unfitting), trial())
    assert choice.row is None
    assert choice.considered[0].fits is False
    assert label in choice.considered[0].why
    assert "the row is for" in choice.reason


@pytest.mark.parametrize("name", CONDITIONS)
def test_that_a_missing_fact_is_named(name: str) -> None:
    asked, _, _, label = CONDITIONS[name]
    choice = choose_row(edition(row(ANY, **asked)), system(), trial())
    assert choice.row is None
    assert choice.considered[0].fits is None
    assert f"“{label}” is not answered" in choice.reason


def test_that_text_not_understood_counts_as_a_missing_fact() -> None:
    unread = Measured(si=None, unit="ft2", typed="large")
    wrong = Measured(si=1.0, unit="Pa", typed="1")
    for area in (unread, wrong):
        choice = choose_row(
            edition(row(ANY, area_above_ft2=1000.0)), system(area_served=area), trial()
        )
        assert choice.considered[0].fits is None


def test_that_stage_and_measure_are_asked_of_the_test() -> None:
    only = edition(row(ANY, stages=[Stage.FINAL]))
    assert choose_row(only, system(), trial(Stage.FINAL)).row is not None
    assert "Rough-in" in choose_row(only, system(), trial(Stage.ROUGH_IN)).reason
    assert "“Stage” is not answered" in choose_row(only, system(), trial(None)).reason
    outside = choose_row(only, system(), trial(Stage.FINAL, Metric.OUTSIDE))
    assert "Leakage to outside" in outside.reason
    assert "“What was measured”" in choose_row(only, system(), trial(Stage.FINAL, None)).reason


def test_that_a_final_row_does_not_serve_a_repaired_old_system() -> None:
    only = edition(row(ANY, stages=[Stage.FINAL]))
    assert choose_row(only, system(), trial(Stage.AFTER_REPAIR)).row is None


def test_that_a_row_ruled_out_needs_no_further_facts() -> None:
    only = edition(row(ANY, stages=[Stage.FINAL], air_handler_installed=True, returns_min=3))
    choice = choose_row(only, system(), trial(Stage.ROUGH_IN))
    assert choice.considered[0].fits is False


def test_that_an_air_handler_outside_means_not_all_inside() -> None:
    only = edition(row(ANY, all_inside=True))
    choice = choose_row(only, system(air_handler_inside=NO), trial())
    assert choice.considered[0].fits is False


def test_that_contradicting_answers_are_asked_about() -> None:
    only = edition(row(ANY, all_inside=True))
    choice = choose_row(only, system(air_handler_inside=NO, all_ducts_inside=YES), trial())
    assert choice.row is None
    assert "contradict" in choice.reason


def test_that_each_missing_fact_is_asked_once() -> None:
    both = edition(
        row(ANY, id="a", air_handler_installed=True), row(ANY, id="b", air_handler_installed=False)
    )
    reason = choose_row(both, system(), trial()).reason
    assert reason.count("Air handler in place") == 1


def test_that_an_open_fact_keeps_a_fitting_row_from_being_taken() -> None:
    both = edition(row(ANY, id="plain"), row(ANY, id="inside", all_inside=True))
    assert choose_row(both, system(), trial()).row is None
    choice = choose_row(both, system(all_ducts_inside=NO), trial())
    assert choice.row is both.rows[0]


def test_that_several_fitting_rows_ask_for_a_choice() -> None:
    both = edition(row(ANY, id="a", title="Class A"), row(ANY, id="b", title="Class B"))
    choice = choose_row(both, system(), trial())
    assert choice.row is None
    assert "Class A; Class B" in choice.reason
    assert choose_row(both, system(), trial(), fixed="b").row is both.rows[1]


def test_that_an_alternative_never_takes_the_place_of_a_fitting_row() -> None:
    both = edition(row(ANY, id="main"), row(ANY, id="other", alternative_to="main"))
    assert choose_row(both, system(), trial()).row is both.rows[0]
    assert choose_row(both, system(), trial(), fixed="other").row is both.rows[1]


def test_that_an_open_alternative_does_not_hold_up_a_fitting_row() -> None:
    both = edition(
        row(ANY, id="main"), row(ANY, id="other", alternative_to="main", all_inside=True)
    )
    assert choose_row(both, system(), trial()).row is both.rows[0]


def test_that_an_alternative_is_taken_where_the_main_row_does_not_fit() -> None:
    both = edition(
        row(ANY, id="main"),
        row(ANY, id="other", alternative_to="main", metric=Metric.OUTSIDE),
    )
    assert choose_row(both, system(), trial(metric=Metric.OUTSIDE)).row is both.rows[1]


def test_that_a_row_fixed_by_hand_goes_before_the_facts_and_says_so() -> None:
    only = edition(row(ANY, air_handler_installed=True))
    choice = choose_row(only, system(air_handler_installed=NO), trial(), fixed="only")
    assert choice.row is only.rows[0]
    assert "chosen by hand" in choice.reason
    assert "Air handler in place" in choice.reason


def test_that_a_fitting_row_fixed_by_hand_needs_no_remark() -> None:
    only = edition(row(ANY))
    assert choose_row(only, system(), trial(), fixed="only").reason == ""


def test_that_a_row_for_another_measure_cannot_be_fixed() -> None:
    only = edition(row(ANY))
    choice = choose_row(only, system(), trial(metric=Metric.OUTSIDE), fixed="only")
    assert choice.row is None
    assert "cannot judge this test" in choice.reason


def test_that_a_fixed_row_that_is_not_there_is_told() -> None:
    choice = choose_row(edition(row(ANY)), system(), trial(), fixed="gone")
    assert choice.row is None
    assert '"gone"' in choice.reason


# Source: IECC 2009, 403.2.2, as compared with 2012 in a trade article; the 8 from memory.
@pytest.mark.parametrize(
    ("stage", "metric", "air_handler", "expected"),
    [
        (Stage.ROUGH_IN, Metric.TOTAL, YES, "rough-in-with-air-handler"),
        (Stage.ROUGH_IN, Metric.TOTAL, NO, "rough-in-without-air-handler"),
        (Stage.FINAL, Metric.TOTAL, YES, "final-total"),
        (Stage.FINAL, Metric.OUTSIDE, YES, "final-outside"),
    ],
)
def test_that_the_2009_code_takes_total_or_outside(
    shipped: Catalogue, stage: Stage, metric: Metric, air_handler: str, expected: str
) -> None:
    code = shipped.edition("iecc-2009")
    assert code is not None
    chosen = choose_row(code, system(air_handler_installed=air_handler), trial(stage, metric)).row
    assert chosen is not None
    assert chosen.id == expected


# Source: IECC 2024, R403.3.8, from memory, not checked against the text.
@pytest.mark.parametrize(
    ("area", "returns", "air_handler", "inside", "expected"),
    [
        (1000.1, 2, NO, NO, "equipment-not-installed-up-to-2-returns"),
        (1000.1, 3, NO, NO, "equipment-not-installed-3-returns"),
        (1000.0, 3, NO, NO, "equipment-not-installed-small"),
        (2400.0, 2, YES, YES, "all-installed-inside-up-to-2-returns"),
        (2400.0, 4, YES, YES, "all-installed-inside-3-returns"),
        (900.0, 1, YES, YES, "all-installed-inside-small"),
    ],
)
def test_that_the_2024_code_asks_for_returns_area_and_place(
    shipped: Catalogue, area: float, returns: float, air_handler: str, inside: str, expected: str
) -> None:
    code = shipped.edition("iecc-2024")
    assert code is not None
    facts = system(
        area_served=typed(area, "ft2"),
        returns=counted(returns),
        air_handler_installed=air_handler,
        all_ducts_inside=inside,
    )
    chosen = choose_row(code, facts, trial()).row
    assert chosen is not None
    assert chosen.id == expected


def test_that_california_2008_picks_the_fan_flow_row_and_leaves_the_reduction_to_the_hand(
    shipped: Catalogue,
) -> None:
    code = shipped.edition("california-2008")
    assert code is not None
    facts = system(work=ALTERED)
    chosen = choose_row(code, facts, trial(Stage.AFTER_REPAIR)).row
    assert chosen is not None
    assert chosen.id == "altered-total"
    by_hand = choose_row(code, facts, trial(Stage.AFTER_REPAIR), fixed="altered-reduction")
    assert by_hand.row is not None
    assert by_hand.reason == ""
