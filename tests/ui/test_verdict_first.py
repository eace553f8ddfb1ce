"""While somebody types, the verdict comes first, and in the end everything shows the same."""

from __future__ import annotations

from random import Random

import pytest
from PySide6.QtCore import QObject
from PySide6.QtWidgets import QLabel, QLineEdit
from pytestqt.qtbot import QtBot

from deskapp.session.pages import PAGES
from deskapp.ui.desk import Desk
from deskapp.ui.form import RowGroup
from deskapp.ui.pages.form_page import FormPage
from deskapp.ui.slices import Slices
from deskapp.ui.workbench import Workbench

SIGNAL = "tests.0.readings.0.fan_signal"


def type_in(bench: Workbench, path: str, text: str) -> None:
    """Type and make a pause."""
    bench.bridge.enter_soon(path, text)
    bench.bridge.take_pause()


def shown(bench: Workbench) -> list[str]:
    """Return all that labels, lines to type in and the list of steps show."""
    inside = bench.findChildren(QLabel) + bench.findChildren(QLineEdit)
    texts = [part.text() for part in inside if part.isVisibleTo(bench)]
    steps = [bench.steps.item(at).data(0x100 + 1) for at in range(bench.steps.count())]
    return sorted(text for text in (*texts, *steps) if text)


def flow_beside(bench: Workbench) -> str:
    """Return the flow that stands beside the first reading."""
    assert isinstance(bench.page, FormPage)
    group = bench.page.groups[-1]
    assert isinstance(group, RowGroup)
    return group.grids[0].remark_at(0)


def test_that_the_verdict_is_shown_in_the_same_turn_and_the_rest_later(
    qtbot: QtBot, bench: Workbench
) -> None:
    bench.show_page("readings")
    before = flow_beside(bench)
    assert bench.result.cards[0].verdict == "Pass"
    type_in(bench, SIGNAL, "170")
    assert bench.result.cards[0].verdict == "Fail"
    assert flow_beside(bench) == before
    assert bench.waits()
    with qtbot.waitSignal(bench.refreshed):
        pass
    assert flow_beside(bench) != before
    assert not bench.waits()


def test_that_the_rest_waits_while_typing_goes_on(qtbot: QtBot, bench: Workbench) -> None:
    bench.show_page("readings")
    before = flow_beside(bench)
    type_in(bench, SIGNAL, "170")
    bench.bridge.enter_soon(SIGNAL, "25")
    with qtbot.assertNotEmitted(bench.refreshed, wait=60):
        pass
    assert flow_beside(bench) == before
    with qtbot.waitSignal(bench.refreshed):
        bench.bridge.take_pause()
    assert not bench.waits()


def test_that_what_waited_is_done_when_the_new_text_changes_nothing(
    qtbot: QtBot, bench: Workbench
) -> None:
    bench.show_page("readings")
    before = flow_beside(bench)
    type_in(bench, SIGNAL, "250")
    bench.bridge.enter_soon(SIGNAL, "250")
    with qtbot.waitSignal(bench.refreshed):
        bench.bridge.take_pause()
    assert flow_beside(bench) != before


def test_that_turning_the_page_leaves_nothing_behind(bench: Workbench) -> None:
    bench.show_page("readings")
    type_in(bench, "tests.0.readings.0.duct_pressure", "-2500")
    assert bench.waits()
    bench.show_page("client")
    assert not bench.waits()
    assert "filled in" not in str(bench.steps.item(4).data(0x100 + 1))


def test_that_a_change_of_rows_is_shown_at_once_on_the_page(qtbot: QtBot, bench: Workbench) -> None:
    bench.show_page("readings")
    bench.bridge.enter(SIGNAL, "170")
    bench.show_rest()
    before = flow_beside(bench)
    assert bench.result.cards[0].verdict == "Fail"
    bench.bridge.remove_row("tests.0.readings.0")
    assert flow_beside(bench) != before
    with qtbot.waitSignal(bench.refreshed):
        pass
    assert bench.result.cards[0].verdict == "Pass"
    assert not bench.waits()


@pytest.mark.parametrize("seed", range(3))
def test_that_after_any_typing_the_window_shows_what_a_new_one_shows(
    qtbot: QtBot, bench: Workbench, desk: Desk, seed: int
) -> None:
    chance = Random(seed)
    bench.show_page("readings")
    for _turn in range(40):
        test, reading = chance.randrange(2), chance.randrange(3)
        field = chance.choice(("duct_pressure", "fan_signal"))
        text = chance.choice(("-25", "25.1", "31", "250", "abc", "", "0.1 in wg", "9999999", "-0"))
        type_in(bench, f"tests.{test}.readings.{reading}.{field}", text)
        if chance.random() < 0.2:
            bench.bridge.undo()
    bench.bridge.leave()
    qtbot.waitUntil(lambda: not bench.waits())
    fresh = Workbench(desk, bench.bridge.editor)
    qtbot.addWidget(fresh)
    fresh.resize(bench.size())
    fresh.strip.remark("Not saved yet")
    for page in PAGES[:-1]:
        for one in (bench, fresh):
            one.show_page(page.id)
            assert one.page.is_whole
        assert shown(bench) == shown(fresh), page.id


def test_that_slices_take_turns_and_new_ones_replace_what_is_left(qtbot: QtBot) -> None:
    owner = QObject()
    slices = Slices(owner)
    done: list[str] = []
    slices.begin([lambda: done.append("old")] * 3)
    slices.begin([lambda: done.append("first"), lambda: done.append("second")])
    assert done == []
    qtbot.waitUntil(lambda: len(done) == 2)
    assert done == ["first", "second"]
    assert not slices.is_due
