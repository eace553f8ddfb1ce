"""The list of a company's instruments: due states, form, rings, retiring, undo, keeping."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from deskapp.session.instruments import store
from deskapp.session.settings import Preferences
from deskapp.ui.cabinet import Cabinet
from deskapp.ui.fields.typed_fields import LineField
from deskapp.ui.furnish import Furniture
from deskapp.ui.instruments.instruments_dialog import InstrumentsDialog
from deskapp.ui.main_window import MainWindow

TODAY = date(2026, 11, 25)
# Invented instruments.
TEXTS = {
    "gauges.0.description": "Two-channel gauge",
    "gauges.0.serial": "GA-17",
    "gauges.0.due_on": "2026-11-01",
    "fans.0.description": "Duct fan",
    "fans.0.serial": "FA-01",
    "fans.0.due_on": "2027-03-01",
}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "settings"


@pytest.fixture
def cabinet(folder: Path) -> Cabinet:
    cabinet = Cabinet(folder)
    editor = cabinet.editor(Preferences())
    editor.add_row("gauges")
    editor.add_row("fans")
    for path, text in TEXTS.items():
        editor.enter(path, text)
    return cabinet


@pytest.fixture
def dialog(qtbot: QtBot, theme: object, cabinet: Cabinet) -> InstrumentsDialog:
    assert theme
    dialog = InstrumentsDialog(cabinet, Preferences(), TODAY, None)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    qtbot.addWidget(dialog)
    with qtbot.waitActive(dialog):
        dialog.open()
        dialog.activateWindow()
    return dialog


def said_of(dialog: InstrumentsDialog, path: str) -> str:
    return dialog.list.text_of(path).replace("\N{NO-BREAK SPACE}", " ")


def test_that_each_instrument_is_listed_with_what_is_due(dialog: InstrumentsDialog) -> None:
    assert dialog.list.paths == ["gauges.0", "fans.0"]
    assert "Two-channel gauge, GA-17" in said_of(dialog, "gauges.0")
    assert "overdue since Nov 1, 2026, for 24 days" in said_of(dialog, "gauges.0")
    assert "due on Mar 1, 2027, in 96 days" in said_of(dialog, "fans.0")


def test_that_typing_in_the_form_reaches_register_list_and_file(
    dialog: InstrumentsDialog, folder: Path, qtbot: QtBot
) -> None:
    form = dialog.form
    assert form is not None
    serial = form.fields[1]
    assert isinstance(serial, LineField)
    serial.take_focus()
    serial.line.selectAll()
    qtbot.keyClicks(serial.line, "GA-18")
    qtbot.keyClick(serial.line, Qt.Key.Key_Return)
    assert dialog.isVisible()
    assert "GA-18" in said_of(dialog, "gauges.0")
    qtbot.waitUntil(lambda: store.load(folder).register.gauges != ())
    assert store.load(folder).register.gauges[0].gauge.serial == "GA-18"


def test_that_text_still_being_typed_is_kept_when_the_dialog_closes(
    dialog: InstrumentsDialog, folder: Path, qtbot: QtBot
) -> None:
    dialog.add("fans")
    form = dialog.form
    assert form is not None
    name = form.fields[0]
    assert isinstance(name, LineField)
    assert name.line.hasFocus()
    qtbot.keyClicks(name.line, "Spare fan")
    dialog.close()
    assert store.load(folder).register.fans[1].fan.description == "Spare fan"


def test_that_a_retired_instrument_stays_listed_and_comes_back(dialog: InstrumentsDialog) -> None:
    form = dialog.form
    assert form is not None
    form.retire.click()
    assert dialog.editor.register.gauges[0].retired
    assert "retired" in said_of(dialog, "gauges.0")
    assert not form.retired_words.isHidden()
    form.retire.click()
    assert not dialog.editor.register.gauges[0].retired
    assert "overdue" in said_of(dialog, "gauges.0")


def test_that_removing_is_undone_by_the_key(dialog: InstrumentsDialog, qtbot: QtBot) -> None:
    form = dialog.form
    assert form is not None
    form.remove.click()
    assert dialog.list.paths == ["fans.0"]
    qtbot.keyClick(dialog.list, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert dialog.list.paths == ["gauges.0", "fans.0"]
    qtbot.waitUntil(lambda: dialog.redo.isEnabled())


def test_that_rings_stand_in_a_grid_and_can_be_added(dialog: InstrumentsDialog) -> None:
    dialog.list.mark("fans.0")
    form = dialog.form
    assert form is not None
    assert form.rings is not None
    form.rings.grid.add_row()
    assert len(dialog.editor.register.fans[0].fan.rings) == 2
    assert form.rings.choice.count() == 2


def test_that_the_last_instrument_gone_leaves_words_and_no_form(
    dialog: InstrumentsDialog,
) -> None:
    for _each in range(2):
        form = dialog.form
        assert form is not None
        form.remove.click()
    assert dialog.list.paths == []
    assert dialog.form is None


def test_that_a_damaged_file_is_set_aside_and_told_of(
    qtbot: QtBot, theme: object, folder: Path
) -> None:
    assert theme
    folder.mkdir()
    (folder / store.FILE_NAME).write_text("{ no register", encoding="utf-8")
    dialog = InstrumentsDialog(Cabinet(folder), Preferences(), TODAY, None)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    qtbot.addWidget(dialog)
    assert "cannot be read" in dialog.damage.text
    assert not dialog.damage.isHidden()
    kept = [path.read_text(encoding="utf-8") for path in folder.glob("*set-aside*")]
    assert kept == ["{ no register"]


def test_that_the_menu_of_the_company_opens_it(window: MainWindow, qtbot: QtBot) -> None:
    window.commands.instruments.trigger()
    qtbot.waitUntil(lambda: window.findChild(InstrumentsDialog) is not None)
    opened = window.findChild(InstrumentsDialog)
    assert opened is not None
    assert opened.isVisible()
    opened.reject()


def test_that_what_is_overdue_is_told_at_the_start(furniture: Furniture) -> None:
    editor = furniture.desk.cabinet.editor(furniture.desk.preferences)
    assert "Calibration" not in furniture.opening_words
    editor.add_row("gauges")
    editor.enter("gauges.0.description", "Old gauge")
    editor.enter("gauges.0.due_on", "2020-01-01")
    assert "Old gauge: overdue since Jan 1, 2020" in furniture.opening_words.replace(
        "\N{NO-BREAK SPACE}", " "
    )
