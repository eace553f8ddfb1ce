"""The grid of readings, and the verdict that follows while one types."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from deskapp.ui.fields.cells import Cell
from deskapp.ui.pages.form_page import FormPage
from deskapp.ui.row_grid import RowGrid
from deskapp.ui.workbench import Workbench


@pytest.fixture
def grid(bench: Workbench) -> RowGrid:
    bench.show_page("readings")
    assert isinstance(bench.page, FormPage)
    return bench.page.grids[0]


def cell(grid: RowGrid, row: int, name: str) -> Cell:
    return next(c for c in grid.cells if c.path == f"{grid.list_path}.{row}.{name}")


def test_that_enter_goes_down_to_the_same_column_of_the_next_reading(
    grid: RowGrid, qtbot: QtBot
) -> None:
    first = cell(grid, 0, "fan_signal")
    first.setFocus()
    qtbot.keyClick(first, Qt.Key.Key_Return)
    assert cell(grid, 1, "fan_signal").hasFocus()


def test_that_enter_in_a_filled_last_reading_offers_one_that_is_not_in_the_job_until_typed_in(
    grid: RowGrid, bench: Workbench, qtbot: QtBot
) -> None:
    before = bench.bridge.editor.job
    last = cell(grid, 2, "duct_pressure")
    last.setFocus()
    qtbot.keyClick(last, Qt.Key.Key_Return)
    added = cell(grid, 3, "duct_pressure")
    assert added.hasFocus()
    qtbot.keyClick(added, Qt.Key.Key_Return)
    assert added.hasFocus(), "one empty row is enough"
    qtbot.keyClick(added, Qt.Key.Key_Tab)
    assert bench.bridge.editor.job is before, "nothing is stored, and nothing to undo"
    added.setFocus()
    qtbot.keyClicks(added, "-25.3")
    assert bench.bridge.row_count("tests.0.readings") == 3
    qtbot.keyClick(added, Qt.Key.Key_Return)
    assert bench.bridge.value_at("tests.0.readings.3.duct_pressure").si == pytest.approx(-25.3)
    assert cell(grid, 4, "duct_pressure").hasFocus()
    assert bench.bridge.row_count("tests.0.readings") == 4
    bench.bridge.undo()
    assert bench.bridge.editor.job is before, "row and entry are one step"
    assert "tests.0.readings.4.duct_pressure" not in [one.path for one in grid.cells]


def test_that_a_row_offered_and_not_wanted_goes_without_a_trace(
    grid: RowGrid, bench: Workbench, qtbot: QtBot
) -> None:
    before = bench.bridge.editor.job
    grid.add_row()
    offered = cell(grid, 3, "duct_pressure")
    assert offered.hasFocus()
    qtbot.keyClick(offered, Qt.Key.Key_Delete, Qt.KeyboardModifier.ControlModifier)
    assert not offered.isVisible()
    assert cell(grid, 2, "duct_pressure").hasFocus()
    assert bench.bridge.editor.job is before


def test_that_a_pasted_column_goes_down_and_is_one_step_to_undo(
    grid: RowGrid, bench: Workbench, qtbot: QtBot
) -> None:
    before = bench.bridge.editor.job
    top = cell(grid, 0, "fan_signal")
    top.setFocus()
    QGuiApplication.clipboard().setText("31.0\n32.0\n33.0\n34.0\n")
    qtbot.keyClick(top, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    held = [bench.bridge.value_at(f"tests.0.readings.{n}.fan_signal").si for n in range(4)]
    assert held == [31.0, 32.0, 33.0, 34.0]
    bench.bridge.undo()
    assert bench.bridge.editor.job == before


def test_that_ctrl_delete_and_the_button_remove_a_reading(
    grid: RowGrid, bench: Workbench, qtbot: QtBot
) -> None:
    second = bench.bridge.value_at("tests.0.readings.1")
    first = cell(grid, 0, "duct_pressure")
    first.setFocus()
    qtbot.keyClick(first, Qt.Key.Key_Delete, Qt.KeyboardModifier.ControlModifier)
    assert bench.bridge.row_count("tests.0.readings") == 2
    assert bench.bridge.value_at("tests.0.readings.0") == second


def test_that_each_reading_shows_the_flow_at_the_target_pressure(
    grid: RowGrid, bench: Workbench
) -> None:
    from deskapp.units.kinds import Kind

    result = bench.bridge.assessment.tests[0]
    shown = [grid.remark_at(row) for row in range(3)]
    formatter = bench.bridge.formatter
    assert shown == [formatter.show(Kind.FLOW, r.flow_at_target) for r in result.readings]


def test_that_the_verdict_follows_while_one_types_without_leaving_the_field(
    bench: Workbench, qtbot: QtBot
) -> None:
    bench.show_page("house")
    assert isinstance(bench.page, FormPage)
    assert [card.verdict for card in bench.result.cards] == ["Pass", "Fail"]
    bench.page.reveal("systems.0.area_served")
    line = bench.focusWidget()
    assert isinstance(line, Cell) is False
    line.selectAll()
    qtbot.keyClicks(line, "900")
    qtbot.waitUntil(lambda: bench.result.cards[0].verdict == "Fail", timeout=1000)
    assert line.hasFocus()
    assert line.text() == "900"


def test_that_the_message_of_a_reading_stands_below_its_row(
    grid: RowGrid, bench: Workbench, qtbot: QtBot
) -> None:
    one = cell(grid, 1, "fan_signal")
    one.setFocus()
    one.selectAll()
    qtbot.keyClicks(one, "a lot")
    bench.bridge.settle()
    assert grid.message_at(1) == ""
    qtbot.keyClick(one, Qt.Key.Key_Tab)
    assert "a lot" in grid.message_at(1)
    one.setFocus()
    one.selectAll()
    qtbot.keyClicks(one, "31.9")
    bench.bridge.settle()
    assert grid.message_at(1) == ""


def test_that_a_new_reading_starts_with_the_cursor_in_its_first_cell(
    grid: RowGrid,
) -> None:
    grid.add_row()
    assert cell(grid, 3, "duct_pressure").hasFocus()


def test_that_a_pasted_table_fills_several_columns_by_its_headings(
    grid: RowGrid, bench: Workbench, qtbot: QtBot
) -> None:
    top = cell(grid, 0, "duct_pressure")
    top.setFocus()
    QGuiApplication.clipboard().setText(
        "Fan signal [Pa]\tDuct pressure [Pa]\n31.0\t-25.1\n32.0\t-25.2\n33.0\t-25.3\n34.0\t-25.4\n"
    )
    qtbot.keyClick(top, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    for row, (signal, pressure) in enumerate(((31, -25.1), (32, -25.2), (33, -25.3), (34, -25.4))):
        held = bench.bridge.value_at(f"tests.0.readings.{row}")
        assert (held.fan_signal.si, held.duct_pressure.si) == (signal, pressure)
    bench.bridge.undo()
    assert not bench.bridge.editor.is_dirty, "the whole table is one step to undo"


def test_that_one_pasted_row_of_two_cells_fills_both(
    grid: RowGrid, bench: Workbench, qtbot: QtBot
) -> None:
    top = cell(grid, 1, "duct_pressure")
    top.setFocus()
    QGuiApplication.clipboard().setText("-24.7\t30.3")
    qtbot.keyClick(top, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    held = bench.bridge.value_at("tests.0.readings.1")
    assert (held.duct_pressure.si, held.fan_signal.si) == (-24.7, 30.3)
    assert bench.bridge.row_count("tests.0.readings") == 3


def paste(at: Cell, text: str, qtbot: QtBot) -> None:
    at.setFocus()
    QGuiApplication.clipboard().setText(text)
    qtbot.keyClick(at, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)


def test_that_a_block_with_decimal_commas_fills_down_and_right_as_one_step(
    grid: RowGrid, bench: Workbench, qtbot: QtBot
) -> None:
    before = bench.bridge.editor.job
    text = "Duct pressure;Fan signal\n-25,1;31,25\n-25,2;32,5\n-25,3;33,125\n-25,4;34\n"
    paste(cell(grid, 0, "duct_pressure"), text, qtbot)
    held = [bench.bridge.value_at(f"tests.0.readings.{row}") for row in range(4)]
    assert [one.duct_pressure.si for one in held] == [-25.1, -25.2, -25.3, -25.4]
    assert [one.fan_signal.si for one in held] == [31.25, 32.5, 33.125, 34.0]
    assert grid.said.isVisible()
    assert "headings" in grid.said.text()
    bench.bridge.undo()
    assert bench.bridge.editor.job == before


def test_that_ctrl_d_copies_from_the_cell_above_and_the_first_row_has_none(
    grid: RowGrid, bench: Workbench, qtbot: QtBot
) -> None:
    second = cell(grid, 1, "fan_signal")
    second.setFocus()
    qtbot.keyClick(second, Qt.Key.Key_D, Qt.KeyboardModifier.ControlModifier)
    bench.bridge.settle()
    assert second.text() == "32.4"
    assert bench.bridge.value_at("tests.0.readings.1.fan_signal").si == 32.4
    before = bench.bridge.editor.job
    first = cell(grid, 0, "fan_signal")
    first.setFocus()
    qtbot.keyClick(first, Qt.Key.Key_D, Qt.KeyboardModifier.ControlModifier)
    bench.bridge.settle()
    assert bench.bridge.editor.job is before


def test_that_arrows_go_to_the_next_cell_and_through_a_text_being_typed(
    grid: RowGrid, qtbot: QtBot
) -> None:
    cell(grid, 0, "duct_pressure").setFocus(Qt.FocusReason.TabFocusReason)
    for key, row, name in (
        (Qt.Key.Key_Down, 1, "duct_pressure"),
        (Qt.Key.Key_Right, 1, "fan_signal"),
        (Qt.Key.Key_Up, 0, "fan_signal"),
        (Qt.Key.Key_Up, 0, "fan_signal"),
        (Qt.Key.Key_Left, 0, "duct_pressure"),
    ):
        qtbot.keyClick(grid.window().focusWidget(), key)
        assert cell(grid, row, name).hasFocus()
    here = cell(grid, 0, "duct_pressure")
    qtbot.keyClicks(here, "-25")
    qtbot.keyClick(here, Qt.Key.Key_Left)
    assert here.hasFocus()


def test_that_delete_clears_a_cell(grid: RowGrid, bench: Workbench, qtbot: QtBot) -> None:
    here = cell(grid, 1, "fan_signal")
    here.setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.keyClick(here, Qt.Key.Key_Delete)
    bench.bridge.settle()
    assert bench.bridge.value_at("tests.0.readings.1.fan_signal") is None


def test_that_no_reading_moves_when_something_is_told_of_one(
    grid: RowGrid, bench: Workbench, qtbot: QtBot
) -> None:
    bench.show()
    QApplication.processEvents()

    def places() -> list[tuple[int, int]]:
        QApplication.processEvents()
        seen = [one.mapTo(grid, one.rect().topLeft()) for one in grid.cells if one.isVisible()]
        return [(point.x(), point.y()) for point in seen]

    before = places()
    one = cell(grid, 0, "fan_signal")
    one.setFocus()
    one.selectAll()
    qtbot.keyClicks(one, "a lot")
    cell(grid, 2, "fan_signal").setFocus()
    assert places() == before
    assert "a lot" in grid.message.text
    bench.bridge.enter("tests.0.readings.0.fan_signal", "32.4")
    assert grid.message.isHidden()
    assert places() == before
