"""Floor areas beside each other on the page of house and systems. The figures are invented."""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from deskapp.ui.limits.area_card import AreaCard, FigureTable
from deskapp.ui.marks import Mark, Notice
from deskapp.ui.pages.house_page import HousePage
from deskapp.ui.workbench import Workbench


@pytest.fixture
def card(bench: Workbench) -> AreaCard:
    bench.show_page("house")
    assert isinstance(bench.page, HousePage)
    return bench.page.areas


def texts(card: AreaCard) -> str:
    said = "\n".join(label.text() for label in card.findChildren(QLabel))
    return said.replace("\N{NO-BREAK SPACE}", " ")


def test_that_systems_stand_beside_the_house(card: AreaCard, bench: Workbench) -> None:
    said = texts(card)
    house = bench.bridge.assessment.house
    assert [check.name for check in house.area_checks] == ["Ground floor", "Upper floor"]
    for text in ("Ground floor", "1,520 ft²", "Upper floor", "1,120 ft²", "2,640 ft²"):
        assert text in said
    assert "The systems serve as much as the house has." in said


def test_that_a_part_served_by_no_system_is_told(
    card: AreaCard, bench: Workbench, qtbot: QtBot
) -> None:
    bench.bridge.enter("house.floor_area", "4,000")
    qtbot.waitUntil(lambda: "34.0% of the house is served by no system" in texts(card))


def test_that_an_unusual_area_per_ton_is_told_in_words(
    card: AreaCard, bench: Workbench, qtbot: QtBot
) -> None:
    bench.bridge.enter("systems.0.cooling_capacity", "3 ton")
    bench.bridge.enter("systems.1.cooling_capacity", "12 ton")
    checks = bench.bridge.assessment.house.area_checks
    assert [check.per_ton_usual for check in checks] == [True, False]
    qtbot.waitUntil(lambda: "unusual area per ton" in texts(card))
    said = [notice.text for notice in card.findChildren(Notice)]
    assert "a usual area per ton" in said


def test_that_each_figure_shows_its_own_verdict(
    card: AreaCard, bench: Workbench, qtbot: QtBot
) -> None:
    bench.bridge.enter("systems.0.area_from_plans", "1,520")
    bench.bridge.enter("systems.0.area_measured", "1,100")
    figures = bench.bridge.assessment.systems[0].areas
    assert [figure.verdict.value for figure in figures] == ["pass", "fail"]
    qtbot.waitUntil(lambda: len(card.findChildren(FigureTable)) == 1)
    table = card.findChildren(FigureTable)[0]
    assert [mark.glyph.value for mark in table.findChildren(Mark)] == ["pass", "fail"]
    said = texts(card)
    assert "this one decides" in said
    assert "1,100 ft²" in said
    assert "the verdict hangs on the floor area" in said


def test_that_a_house_total_that_hides_a_failing_system_is_warned_of(
    card: AreaCard, bench: Workbench, qtbot: QtBot
) -> None:
    bench.bridge.enter("systems.0.area_served", "3,520")
    bench.bridge.enter("house.floor_area", "4,640")
    assessment = bench.bridge.assessment
    assert [system.verdict.value for system in assessment.systems] == ["pass", "fail"]
    assert assessment.house.would_hide
    qtbot.waitUntil(lambda: "All systems together stay within their limits" in texts(card))
