"""Rows: tabs, adding, removing, and which one is shown."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QWidget
from pytestqt.qtbot import QtBot
from shiboken6 import delete

from deskapp.session.editor import Editor
from deskapp.ui.form import RowGroup
from deskapp.ui.head_row import HeadRow
from deskapp.ui.pages.form_page import FormPage
from deskapp.ui.workbench import Workbench


def group(bench: Workbench, page_id: str, list_path: str) -> RowGroup:
    bench.show_page(page_id)
    page = bench.page
    assert isinstance(page, FormPage)
    return next(g for g in page.groups if isinstance(g, RowGroup) and g.list_path == list_path)


def titles(rows: RowGroup) -> list[str]:
    return [tab.text() for tab in rows.tabs.tabs]


def test_that_each_system_has_a_tab_with_its_name(bench: Workbench) -> None:
    assert titles(group(bench, "house", "systems")) == ["Ground floor", "Upper floor"]


def test_that_a_tab_follows_the_name_while_it_is_typed(bench: Workbench) -> None:
    rows = group(bench, "house", "systems")
    bench.bridge.enter("systems.1.name", "Attic rooms")
    assert titles(rows)[1] == "Attic rooms"


def test_that_picking_a_tab_shows_that_row_on_every_page(bench: Workbench) -> None:
    rows = group(bench, "setup", "tests")
    rows.tabs.tabs[1].click()
    assert rows.fields[0].path == "tests.1.system"
    assert group(bench, "readings", "tests").fields[0].path.startswith("tests.1.")


def test_that_the_arrow_keys_go_from_tab_to_tab(bench: Workbench, qtbot: QtBot) -> None:
    rows = group(bench, "house", "systems")
    rows.tabs.tabs[0].setFocus()
    qtbot.keyClick(rows.tabs.tabs[0], Qt.Key.Key_Right)
    assert rows.tabs.tabs[1].hasFocus()
    assert rows.fields[0].path == "systems.1.name"


@pytest.mark.parametrize(
    ("page_id", "list_path"),
    [("house", "systems"), ("setup", "gauges"), ("setup", "fans"), ("setup", "tests")],
)
def test_that_a_row_is_added_with_the_cursor_in_it_and_can_be_removed_and_undone(
    bench: Workbench, page_id: str, list_path: str
) -> None:
    rows = group(bench, page_id, list_path)
    before = bench.bridge.row_count(list_path)
    rows.add_row()
    assert bench.bridge.row_count(list_path) == before + 1
    assert rows.fields[0].path.startswith(f"{list_path}.{before}.")
    assert rows.fields[0].input.hasFocus()
    rows.take_out()
    assert bench.bridge.row_count(list_path) == before
    bench.bridge.undo()
    assert bench.bridge.row_count(list_path) == before + 1


def test_that_a_list_without_rows_says_so_and_offers_to_add_one(bench: Workbench) -> None:
    rows = group(bench, "leaks", "leaks")
    assert titles(rows) == []
    assert rows.none_text.startswith("No leak")
    rows.add_row()
    assert rows.none_text == ""


def test_that_a_tab_shows_that_something_in_its_row_wants_attention(bench: Workbench) -> None:
    rows = group(bench, "house", "systems")
    bench.bridge.enter("systems.1.area_served", "plenty")
    assert rows.tabs.tabs[1].accessibleName() == "Upper floor, Must be mended"
    assert rows.tabs.tabs[0].accessibleName() == "Ground floor"


def test_that_removing_the_last_row_shown_moves_to_the_one_before(bench: Workbench) -> None:
    rows = group(bench, "house", "systems")
    rows.tabs.tabs[1].click()
    rows.take_out()
    assert rows.fields[0].path == "systems.0.name"


def test_that_another_job_starts_with_its_first_rows(bench: Workbench, new_editor: Editor) -> None:
    rows = group(bench, "house", "systems")
    rows.tabs.tabs[1].click()
    new_editor.add_row("systems")
    bench.open(new_editor)
    assert group(bench, "house", "systems").fields[0].path == "systems.0.name"


def test_that_a_row_taken_apart_as_garbage_lets_its_widgets_go_without_an_error(
    qtbot: QtBot,
) -> None:
    box, words = QWidget(), QLabel("Words")
    qtbot.addWidget(box)
    row = HeadRow(words, (QLabel("more"),))
    box.setLayout(row)
    assert row.count() == 2
    vars(row).clear()
    with qtbot.captureExceptions() as errors:
        delete(words)
        row.invalidate()
        assert (row.count(), row.itemAt(0)) == (0, None)
    assert errors == []
