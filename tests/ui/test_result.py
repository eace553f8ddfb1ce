"""The live result and the page of the result say what the assessment says."""

from __future__ import annotations

from datetime import datetime

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QWidget
from pytestqt.qtbot import QtBot

from deskapp.domain.result import LimitOutcome, Verdict
from deskapp.session.outcome_words import outcome_words
from deskapp.session.pages import PAGES
from deskapp.session.safety_desk import acknowledge
from deskapp.ui.glyphs import Glyph
from deskapp.ui.marks import Mark
from deskapp.ui.pages.result_page import ResultPage
from deskapp.ui.pages.result_parts import Arithmetic
from deskapp.ui.scale_bar import ScaleBar
from deskapp.ui.workbench import Workbench
from deskapp.units.display import Formatter, UnitSystem
from deskapp.units.kinds import Kind
from deskapp.units.numbers import NumberStyle

FORMATTER = Formatter(UnitSystem.IP, NumberStyle.POINT)


def texts(widget: QWidget) -> str:
    return "\n".join(label.text() for label in widget.findChildren(QLabel))


def outcome(measured: float, limit: float, margin: float, unit: str = "cfm") -> LimitOutcome:
    return LimitOutcome(
        limit="k1",
        edition="An invented code",
        body="An invented body",
        verdict=Verdict.PASS if margin >= 0 else Verdict.FAIL,
        measured=measured,
        limit_value=limit,
        margin=margin,
        unit=unit,
    )


@pytest.fixture
def page(bench: Workbench) -> ResultPage:
    bench.show_page("result")
    assert isinstance(bench.page, ResultPage)
    return bench.page


def test_that_the_pane_shows_verdict_measured_value_limit_and_margin(bench: Workbench) -> None:
    card = bench.result.cards[0]
    result = bench.bridge.assessment.systems[0].outcomes[0]
    words = outcome_words(result, bench.bridge.formatter)
    assert words is not None
    said = texts(card)
    assert card.verdict == "Pass"
    assert "Ground floor" in said
    for text in (words.measured, words.limit, words.margin):
        assert text in said
    assert card.accessibleName() == "Ground floor: Pass"


def test_that_the_pane_says_what_is_missing(new_bench: Workbench) -> None:
    assert [card.verdict for card in new_bench.result.cards] == ["No verdict yet"]
    assert new_bench.bridge.assessment.systems[0].reason in texts(new_bench.result.cards[0])


def test_that_panel_and_page_say_which_unreadable_value_holds_a_result(
    bench: Workbench, page: ResultPage, qtbot: QtBot
) -> None:
    path = "tests.0.ambient.indoor_temperature"
    bench.bridge.enter(path, "lukewarm")
    bench.show_rest()
    result = bench.bridge.assessment.tests[0]
    assert result.flow is None
    assert result.held.startswith("Indoor temperature")
    assert result.held in texts(bench.result.cards[0])
    qtbot.waitUntil(lambda: "No result from this test" in texts(page))
    assert "no result yet" not in texts(page) + texts(bench.result)
    bench.bridge.enter(path, "70 F")
    bench.show_rest()
    assert result.held not in texts(bench.result.cards[0])


def test_that_the_pane_stands_below_the_page_in_a_narrow_window(
    bench: Workbench, qtbot: QtBot
) -> None:
    assert not bench.result.is_flat
    window = bench.window()
    window.resize(760, 640)
    qtbot.waitUntil(lambda: bench.result.is_flat and bench.result.y() > bench.pages.y())
    assert [card.verdict for card in bench.result.cards] == ["Pass", "Fail"]
    window.resize(1280, 800)
    qtbot.waitUntil(lambda: not bench.result.is_flat and bench.result.x() > bench.pages.x())


def test_that_the_page_shows_the_arithmetic_the_units_and_the_readings(
    page: ResultPage, bench: Workbench
) -> None:
    said = texts(page)
    assessment = bench.bridge.assessment
    formatter = bench.bridge.formatter
    for system in assessment.systems:
        result = assessment.test(system.test)
        assert result is not None
        assert result.flow is not None
        assert result.flow_per_area is not None
        for line in system.outcomes[0].lines:
            assert line in said
        for unit in ("cfm", "L/s", "m3/h"):
            assert formatter.show(Kind.FLOW, result.flow, unit) in said
        for unit in ("cfm/100ft2", "cfm/1000ft2", "L/s/m2"):
            assert formatter.show(Kind.FLOW_PER_AREA, result.flow_per_area, unit) in said
        for reading in result.readings:
            assert reading.flow_at_target is not None
            assert formatter.show(Kind.FLOW, reading.flow_at_target) in said
        assert result.hole_area is not None
        assert formatter.show(Kind.AREA, result.hole_area, "in2") in said


def test_that_the_working_is_unfolded_on_demand_with_formula_and_source(
    page: ResultPage, bench: Workbench, qtbot: QtBot
) -> None:
    working = page.findChildren(Arithmetic)[0]
    assert not working.is_open
    working.toggle()
    assert working.is_open
    qtbot.waitUntil(lambda: working.is_written)
    said = texts(working)
    for step in bench.bridge.assessment.tests[0].steps:
        assert step.label in said
        assert step.formula in said
        assert step.source in said


def test_that_the_page_follows_the_job(page: ResultPage, bench: Workbench) -> None:
    assert "Ground floor: Pass" in texts(page)
    bench.bridge.enter("systems.0.area_served", "900")
    assert bench.page is page
    fresh = "\n".join(
        label.text() for label in page.findChildren(QLabel) if "Ground floor" in label.text()
    )
    assert "Ground floor: Fail" in fresh


@pytest.mark.parametrize(
    ("measured", "limit", "margin", "said"),
    [
        (54.2, 60.8, 6.6, ("54.2 cfm", "at most 60.8 cfm", "6.6 cfm to spare")),
        (39.0, 33.6, -5.4, ("39.0 cfm", "at most 33.6 cfm", "5.4 cfm too much")),
        (60.0, 60.0, 0.0, ("60.0 cfm", "at most 60.0 cfm", "0.0 cfm to spare")),
        (60.004, 60.0, -0.004, ("60.004 cfm", "at most 60.000 cfm", "0.004 cfm too much")),
    ],
)
def test_that_an_outcome_is_told_with_enough_digits(
    measured: float, limit: float, margin: float, said: tuple[str, str, str]
) -> None:
    words = outcome_words(outcome(measured, limit, margin), FORMATTER)
    assert words is not None
    told = (words.measured, words.limit, words.margin)
    assert tuple(text.replace("\N{NO-BREAK SPACE}", " ") for text in told) == said


def test_that_a_required_reduction_is_told_as_a_least_value() -> None:
    met = outcome_words(outcome(72.8, 60.0, 12.8, "percent"), FORMATTER)
    missed = outcome_words(outcome(40.0, 60.0, -20.0, "percent"), FORMATTER)
    assert met is not None
    assert missed is not None
    assert met.limit == "at least 60.0%"
    assert missed.margin == "20.0 points short"


def test_that_an_outcome_without_numbers_is_not_told() -> None:
    bare = outcome(1.0, 1.0, 0.0).model_copy(update={"measured": None})
    assert outcome_words(bare, FORMATTER) is None


def test_that_the_scale_draws_fill_and_notch_where_the_numbers_are(qtbot: QtBot) -> None:
    bar = ScaleBar()
    qtbot.addWidget(bar)
    bar.resize(262, 18)
    bar.show_values(30.0, 60.0, "pass", ("30 cfm", "at most 60 cfm"))
    image = bar.grab().toImage()
    middle = image.height() // 2
    filled = image.pixelColor(round(260 * 0.2), middle)
    beyond = image.pixelColor(round(260 * 0.6), middle)
    notch = image.pixelColor(1 + round(260 * 60 / 78), middle)
    assert filled.green() > filled.red() + 30
    assert beyond.lightness() > 200
    assert notch.lightness() < 90
    assert bar.accessibleName() == "30 cfm, at most 60 cfm"


def test_that_an_open_matter_of_safety_stands_above_a_pass(bench: Workbench) -> None:
    assert bench.result.danger.isHidden()
    bench.bridge.enter("safety.zone_limit", "-5 Pa")
    bench.bridge.enter("safety.zone_pressure_after", "-9 Pa")
    bench.show_rest()
    assert bench.bridge.assessment.systems[0].verdict is Verdict.PASS
    card = bench.result.cards[0]
    assert card.verdict == "Leakage alone: pass"
    assert card.accessibleName() == "Ground floor: Leakage alone: pass"
    mark = card.findChild(Mark)
    assert isinstance(mark, Mark)
    assert (mark.glyph, mark.accessibleName()) == (Glyph.CHECK, card.verdict)
    assert bench.result.danger.isVisible()
    said = bench.result.danger.text
    assert said.startswith("Danger: Not about leakage, and it comes first: After the work air was")
    found = bench.bridge.finding_at("safety.zone_pressure_after")
    assert found is not None
    assert found.text.index("licensed technician") < found.text.index("acknowledge")
    bench.result.set_flat(True)
    assert bench.result.danger.text == "Danger: safety first"
    assert bench.result.danger.toolTip() == said.removeprefix("Danger: ")
    bench.bridge.enter("safety.zone_pressure_after", "-4 Pa")
    bench.show_rest()
    assert bench.result.danger.isHidden()
    assert bench.result.cards[0].verdict == "Pass"


def test_that_a_danger_somebody_went_past_stays_beside_the_pass(
    page: ResultPage, bench: Workbench
) -> None:
    bench.bridge.choose("safety.gas_smell", "yes")
    reason = "Gas company shut it off"
    acknowledge(bench.bridge.editor, "gas_smell", "Kim Example", reason, datetime(2026, 3, 1, 9))
    bench.show_rest()
    said = "Gas was smelled. Acknowledged by Kim Example, not cleared."
    assert bench.result.danger.isVisible()
    assert bench.result.danger.text == f"Danger: {said}"
    assert bench.result.cards[0].verdict == "Leakage alone: pass"
    bench.result.set_flat(True)
    assert bench.result.danger.text == "Danger: acknowledged, not cleared"
    assert bench.result.danger.toolTip() == said
    assert bench.page is page
    assert said in texts(page)
    at = next(at for at, one in enumerate(PAGES) if one.id == "result")
    spoken = bench.steps.item(at).data(Qt.ItemDataRole.AccessibleTextRole)
    assert spoken.endswith("safety first")
    bench.bridge.choose("safety.gas_smell", "no")
    bench.show_rest()
    assert bench.result.danger.isHidden()
    assert bench.result.cards[0].verdict == "Pass"


def test_that_page_and_step_of_the_result_say_that_safety_comes_first(
    page: ResultPage, bench: Workbench
) -> None:
    assert "speak of duct leakage alone" not in texts(page)
    at = next(at for at, one in enumerate(PAGES) if one.id == "result")
    bench.bridge.choose("safety.gas_smell", "yes")
    bench.show_rest()
    assert bench.page is page
    said = texts(page)
    assert "Gas was smelled. Leave the building" in said
    assert "The verdicts below speak of duct leakage alone." in said
    assert "Ground floor · Leakage alone: pass" in said
    spoken = bench.steps.item(at).data(Qt.ItemDataRole.AccessibleTextRole)
    assert spoken.endswith("safety first")


def test_that_the_pane_says_that_a_calibration_had_run_out(bench: Workbench) -> None:
    test = bench.bridge.editor.job.tests[0]
    bench.bridge.enter("tests.0.tested_on", "2026-03-11")
    fans = [fan.key for fan in bench.bridge.editor.job.fans]
    row = fans.index(test.setup.fan) if test.setup.fan else 0
    bench.bridge.enter(f"fans.{row}.due_on", "2020-01-05")
    bench.show_rest()
    card = bench.result.cards[0]
    assert card.verdict == "Pass"
    assert "the calibration of the fan ran out on" in card.remark.text
    assert not card.remark.isHidden()
    bench.result.set_flat(True)
    assert card.verdict == "Pass, with a remark"
    assert card.accessibleName() == "Ground floor: Pass, with a remark"
    assert "ran out on" in card.toolTip()
