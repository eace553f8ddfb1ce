"""A key leads from part to part of the window, and a page turned to by key takes what is typed.

F6 for the next part of a window, Shift+F6 for the one before: common practice of desktops.
"""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from deskapp.session.pages import PAGES
from deskapp.ui.main_window import MainWindow
from deskapp.ui.places import path_of
from deskapp.ui.stops import is_entry, stops_in
from deskapp.ui.workbench import Workbench

F6, NONE, SHIFT = Qt.Key.Key_F6, Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.ShiftModifier


def focus(window: MainWindow) -> QWidget:
    held = window.focusWidget()
    assert held is not None
    return held


def part_with_cursor(bench: Workbench, window: MainWindow) -> str:
    parts = {"steps": bench.steps, "page": bench.page, "result": bench.result, "strip": bench.strip}
    held = focus(window)
    return next(name for name, part in parts.items() if part is held or part.isAncestorOf(held))


def press(qtbot: QtBot, window: MainWindow, modifier: Qt.KeyboardModifier) -> None:
    qtbot.keyClick(QApplication.focusWidget() or window, F6, modifier)


def test_that_a_key_leads_from_a_field_through_all_parts_and_back_into_it(
    window: MainWindow, bench: Workbench, qtbot: QtBot
) -> None:
    path = "systems.0.area_served"
    bench.go_to(path)
    seen: list[str] = []
    for _part in range(4):
        press(qtbot, window, NONE)
        seen.append(part_with_cursor(bench, window))
    assert seen == ["result", "strip", "steps", "page"]
    assert path_of(focus(window)) == path, "the cursor comes back to where it was"
    back: list[str] = []
    for _part in range(4):
        press(qtbot, window, SHIFT)
        back.append(part_with_cursor(bench, window))
    assert back == ["steps", "strip", "result", "page"]


@pytest.mark.parametrize("page_id", [page.id for page in PAGES])
def test_that_the_key_works_on_every_page(
    window: MainWindow, bench: Workbench, qtbot: QtBot, page_id: str
) -> None:
    bench.show_page(page_id)
    bench.page.take_focus()
    before = part_with_cursor(bench, window)
    seen = [before]
    for _part in range(3):
        press(qtbot, window, NONE)
        seen.append(part_with_cursor(bench, window))
    assert set(seen) == {"steps", "page", "result", "strip"}


@pytest.mark.parametrize("number", range(1, len(PAGES) + 1))
def test_that_a_page_turned_to_by_its_number_takes_what_is_typed_and_shows_its_head(
    window: MainWindow, bench: Workbench, qtbot: QtBot, number: int
) -> None:
    window.resize(1024, 768)
    key = Qt.Key(Qt.Key.Key_0.value + number)
    qtbot.keyClick(QApplication.focusWidget() or window, key, Qt.KeyboardModifier.ControlModifier)
    page = bench.page
    assert page.page.id == PAGES[number - 1].id
    QApplication.processEvents()
    assert page.verticalScrollBar().value() == 0
    held = focus(window)
    assert not held.visibleRegion().isEmpty()
    seen = [one for one in stops_in(page, page.viewport().rect()) if is_entry(one)]
    assert is_entry(held) is bool(seen)
    if page.page.id in ("setup", "readings", "leave"):
        assert isinstance(held, QLineEdit), "it was a button"


def test_that_a_page_without_an_entry_or_a_button_in_sight_stays_at_its_head(
    window: MainWindow, bench: Workbench, qtbot: QtBot
) -> None:
    window.resize(1024, 520)
    bench.show_page("result")
    page = bench.page
    qtbot.waitUntil(lambda: page.verticalScrollBar().maximum() > 0)
    page.take_focus()
    for _turn in range(5):
        QApplication.processEvents()
    assert page.verticalScrollBar().value() == 0
    assert focus(window) is page
    frames = [one for one in page.children() if isinstance(one, QWidget) and one.isVisible()]
    shown = page.viewport().geometry()
    assert shown in [one.geometry() for one in frames if one is not page.viewport()]
    qtbot.keyClick(page, Qt.Key.Key_PageDown)
    assert page.verticalScrollBar().value() > 0, "its keys scroll it"
