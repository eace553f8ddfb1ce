"""The sheet of a field check: live outcome, arithmetic, record, and the plot of the history."""

from __future__ import annotations

import re
from datetime import date

import fluids
import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot
from scipy.constants import foot, inch, minute

from deskapp.domain.register import InstrumentRegister
from deskapp.session.instruments.register_editor import RegisterEditor
from deskapp.session.settings import Preferences
from deskapp.ui.instruments.check_dialog import FieldCheckDialog
from deskapp.ui.instruments.instrument_form import CheckPart

TODAY = date(2026, 11, 25)
# An invented fan and an invented check.
RING = {"flow_low": "40", "flow_high": "200", "coefficient": "11.3", "exponent": "0.5"}
ENTRIES = {
    "check.done_on": "2026-05-02",
    "check.tester": "A. Sample",
    "check.hole_diameter": "4 in",
    "check.plate_pressure": "95 Pa",
    "check.fan_signal": "133 Pa",
}


@pytest.fixture
def editor() -> RegisterEditor:
    editor = RegisterEditor(InstrumentRegister(), Preferences())
    editor.add_row("fans")
    editor.enter("fans.0.serial", "FA-01")
    for name, text in RING.items():
        editor.enter(f"fans.0.rings.0.{name}", text)
    return editor


@pytest.fixture
def dialog(qtbot: QtBot, theme: object, editor: RegisterEditor) -> FieldCheckDialog:
    assert theme
    dialog = FieldCheckDialog(editor, "fans.0", TODAY, None)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    qtbot.addWidget(dialog)
    dialog.open()
    dialog.complete()
    return dialog


def fill(dialog: FieldCheckDialog, entries: dict[str, str]) -> None:
    for path, text in entries.items():
        dialog.bridge.enter(path, text)


def test_that_nothing_is_claimed_while_entries_are_missing(dialog: FieldCheckDialog) -> None:
    assert dialog.outcome_text == ""
    assert dialog.wanted.text() != ""
    assert not dialog.record.isEnabled()


def test_that_the_expected_flow_is_that_of_the_orifice_equation(dialog: FieldCheckDialog) -> None:
    """Held against the library fluids with a coefficient of 0.60 and no approach velocity."""
    fill(dialog, ENTRIES)
    mass = fluids.flow_meter_discharge(
        D=1e6, Do=4 * inch, P1=101_325.0, P2=101_325.0 - 95.0, rho=1.2041, C=0.6
    )
    expected = mass / 1.2041 / (foot**3 / minute)
    shown = re.findall(r"([\d.]+)\N{NO-BREAK SPACE}cfm", " ".join(dialog.steps_shown))
    assert any(float(flow) == pytest.approx(expected, rel=1e-4) for flow in shown)
    assert "within the tolerance" in dialog.outcome_text


def test_that_the_outcome_follows_each_entry(dialog: FieldCheckDialog) -> None:
    fill(dialog, ENTRIES | {"check.fan_signal": "170 Pa"})
    assert "outside the tolerance" in dialog.outcome_text
    fill(dialog, {"check.tolerance": "20 %"})
    assert "within the tolerance" in dialog.outcome_text
    fill(dialog, {"check.plate_pressure": ""})
    assert dialog.outcome_text == ""


def test_that_a_recorded_check_joins_the_history_and_is_undone(
    dialog: FieldCheckDialog, editor: RegisterEditor, qtbot: QtBot
) -> None:
    fill(dialog, ENTRIES)
    dialog.record.click()
    assert not dialog.isVisible()
    assert len(editor.register.fans[0].checks) == 1
    part = CheckPart(editor)
    qtbot.addWidget(part)
    part.show_fan("fans.0")
    assert not part.plot.isHidden()
    assert "One field check" in part.words.text()
    editor.undo()
    part.show_fan("fans.0")
    assert part.plot.isHidden()
    assert editor.register.fans[0].checks == ()
