"""The dialog of preferences: made from the model, each change holds at once and is kept."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QCheckBox, QWidget
from pytestqt.qtbot import QtBot

from deskapp.session import settings
from deskapp.session.preference_form import PreferenceField, PreferenceInput, preference_fields
from deskapp.session.settings import Preferences
from deskapp.ui.company.preferences_dialog import PreferencesDialog
from deskapp.ui.company.preferring import show_preferences
from deskapp.ui.desk import Desk
from deskapp.ui.fields.chosen_fields import Choices
from deskapp.ui.furnish import Furniture
from deskapp.ui.main_window import MainWindow
from deskapp.ui.workbench import Workbench
from deskapp.units.display import UnitSystem


@pytest.fixture
def dialog(window: MainWindow, furniture: Furniture) -> PreferencesDialog:
    return show_preferences(window, furniture.desk, furniture)


def choose(dialog: PreferencesDialog, name: str, value: str) -> None:
    box = dialog.rows[name].input
    assert isinstance(box, Choices)
    box.setCurrentIndex(box.findData(value))
    box.activated.emit(box.currentIndex())


def test_that_control_comma_opens_the_preferences(window: MainWindow, qtbot: QtBot) -> None:
    qtbot.keyClick(window, Qt.Key.Key_Comma, Qt.KeyboardModifier.ControlModifier)
    (dialog,) = window.findChildren(PreferencesDialog)
    assert dialog.isVisible()


def test_that_each_preference_of_the_model_has_a_row_with_name_and_description(
    dialog: PreferencesDialog,
) -> None:
    for field in preference_fields():
        row = dialog.rows[field.name]
        assert row.input.accessibleName() == field.label
        assert row.input.accessibleDescription() == field.help
        assert field.help
        assert field.section
    assert set(Preferences.model_fields) - {"recent", "own_templates", "guessed"} <= set(
        dialog.rows
    )


def test_that_units_change_at_once_in_the_open_job_and_are_kept(
    bench: Workbench, window: MainWindow, furniture: Furniture, desk: Desk
) -> None:
    before = bench.bridge.editor.job
    dialog = show_preferences(window, furniture.desk, furniture)
    choose(dialog, "unit_system", "si")
    assert bench.bridge.preferences.unit_system is UnitSystem.SI
    assert bench.bridge.shown_text("systems.0.area_served") == "141.2\N{NO-BREAK SPACE}m²"
    assert bench.bridge.editor.job is before
    kept, findings = settings.load(desk.folder, Preferences())
    assert (kept.unit_system, findings) == (UnitSystem.SI, ())
    assert window.commands.units["si"].isChecked()


def test_that_a_preference_goes_back_to_its_default(
    dialog: PreferencesDialog, furniture: Furniture
) -> None:
    row = dialog.rows["jobs_folder"]
    row.line.setText("/somewhere")
    row.line.editingFinished.emit()
    assert furniture.desk.preferences.jobs_folder == "/somewhere"
    assert not row.restore.isHidden()
    row.restore.click()
    assert furniture.desk.preferences.jobs_folder == ""
    assert row.restore.isHidden()


def test_that_a_preference_that_cannot_be_kept_says_why_under_it(
    dialog: PreferencesDialog, furniture: Furniture, tmp_path: Path
) -> None:
    furniture.desk.folder = tmp_path / "file"
    furniture.desk.folder.write_text("in the way", encoding="utf-8")
    choose(dialog, "paper", "a4")
    assert dialog.rows["paper"].message.isVisible()
    assert "could not be kept" in dialog.rows["paper"].message.text


def test_that_the_appearance_is_among_them_and_changes_at_once(
    dialog: PreferencesDialog, window: MainWindow
) -> None:
    choose(dialog, "appearance", "dark")
    assert window.theme.colors.dark
    assert window.commands.appearance["dark"].isChecked()


def test_that_a_switch_is_shown_as_one(qtbot: QtBot) -> None:
    field = PreferenceField("wet", "Weather", "Wet", "Whether it rains.", PreferenceInput.SWITCH)
    parent = QWidget()
    qtbot.addWidget(parent)
    dialog = PreferencesDialog([field], {"wet": False}, {"wet": False}, [], parent)
    tick = dialog.rows["wet"].input
    assert isinstance(tick, QCheckBox)
    with qtbot.waitSignal(dialog.chosen) as told:
        tick.click()
    assert told.args == ["wet", True]
