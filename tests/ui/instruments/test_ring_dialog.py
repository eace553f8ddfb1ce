"""Fitting a ring from certificate pairs while one types or pastes."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from pytestqt.qtbot import QtBot

from deskapp.session.instruments.ring_fit import RingFitting
from deskapp.session.settings import Preferences
from deskapp.ui.instruments.ring_dialog import RingDialog

# Invented pairs; the third one of STRAY was misread.
SIGNALS = (20.0, 40.0, 80.0, 160.0, 240.0, 300.0)
FLOWS = (50.5, 71.2, 101.4, 142.3, 175.1, 195.6)
CLEAN = "Signal\tFlow\n" + "".join(f"{s:g}\t{q:g}\n" for s, q in zip(SIGNALS, FLOWS, strict=True))
STRAY = CLEAN.replace("101.4", "110.4")


@pytest.fixture
def dialog(qtbot: QtBot, theme: object) -> RingDialog:
    assert theme
    dialog = RingDialog("40 to 200 cfm", (), Preferences(), None)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    qtbot.addWidget(dialog)
    dialog.open()
    return dialog


def paste(dialog: RingDialog, qtbot: QtBot, block: str) -> None:
    QGuiApplication.clipboard().setText(block)
    dialog.table.setCurrentCell(0, 0)
    dialog.table.setFocus()
    qtbot.keyClick(dialog.table, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)


def off_line(dialog: RingDialog, row: int) -> str:
    item = dialog.table.item(row, 2)
    assert item is not None
    return item.text()


def test_that_a_pasted_table_is_fitted_as_numpy_fits_it(dialog: RingDialog, qtbot: QtBot) -> None:
    """Straight line through the logarithms, held against numpy.polyfit."""
    paste(dialog, qtbot, CLEAN)
    exponent, logarithm = np.polyfit(np.log(SIGNALS), np.log(FLOWS), 1)
    assert f"{np.exp(logarithm):.3f}\N{NO-BREAK SPACE}cfm" in dialog.law.text()
    assert f"exponent {exponent:.4f}" in dialog.law.text()
    assert dialog.fill.isEnabled()
    expected = 100.0 * (FLOWS[0] / (np.exp(logarithm) * SIGNALS[0] ** exponent) - 1.0)
    assert f"{abs(expected):.2f}%" in off_line(dialog, 0)


def test_that_the_stray_pair_is_named_and_set_apart(dialog: RingDialog, qtbot: QtBot) -> None:
    paste(dialog, qtbot, STRAY)
    assert any("Pair 3" in text for text in dialog.finding_texts)
    assert "look here" in off_line(dialog, 2)
    assert "look here" not in off_line(dialog, 4)


def test_that_a_cell_that_cannot_be_read_is_asked_about_and_keeps_the_ring_unfilled(
    dialog: RingDialog, qtbot: QtBot
) -> None:
    paste(dialog, qtbot, CLEAN)
    item = dialog.table.item(1, 1)
    assert item is not None
    item.setText("seventy")
    assert any("seventy" in text for text in dialog.finding_texts)
    assert not dialog.fill.isEnabled()
    assert dialog.law.text() == ""
    item.setText("71.2")
    assert dialog.finding_texts == []
    assert dialog.fill.isEnabled()


def test_that_there_is_always_a_row_left_to_type_in(dialog: RingDialog, qtbot: QtBot) -> None:
    paste(dialog, qtbot, CLEAN)
    last = dialog.table.rowCount() - 1
    assert dialog.table.pairs[last].signal == ""
    item = dialog.table.item(last, 0)
    assert item is not None
    item.setText("350")
    assert dialog.table.rowCount() == last + 2


def test_that_the_fit_is_handed_over_once(dialog: RingDialog, qtbot: QtBot) -> None:
    paste(dialog, qtbot, CLEAN)
    with qtbot.waitSignal(dialog.filled) as filled:
        dialog.fill.click()
    fitting = filled.args[0]
    assert isinstance(fitting, RingFitting)
    assert fitting.can_fill
    assert not dialog.isVisible()


def test_that_tab_leads_from_number_to_number(dialog: RingDialog, qtbot: QtBot) -> None:
    table = dialog.table
    table.setCurrentCell(0, 0)
    table.setFocus()
    reached: list[tuple[int, int]] = []
    for _step in range(3):
        qtbot.keyClick(table, Qt.Key.Key_Tab)
        reached.append((table.currentRow(), table.currentColumn()))
    assert reached == [(0, 1), (1, 0), (1, 1)]
    qtbot.keyClick(table, Qt.Key.Key_Tab, Qt.KeyboardModifier.ShiftModifier)
    qtbot.keyClick(table, Qt.Key.Key_Tab, Qt.KeyboardModifier.ShiftModifier)
    assert (table.currentRow(), table.currentColumn()) == (0, 1)
