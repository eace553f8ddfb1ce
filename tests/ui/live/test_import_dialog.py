"""Readings from a file: columns proposed, mended, remembered for the gauge."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from deskapp.session.live.columns import SampleField
from deskapp.session.live.import_log import TextLog, open_log
from deskapp.session.settings import Preferences
from deskapp.ui.live.gauge_card import GaugeCard
from deskapp.ui.live.gauge_readings_page import GaugeReadingsPage
from deskapp.ui.live.import_dialog import ImportDialog
from deskapp.ui.live.kit import LiveKit, load_kit
from deskapp.ui.workbench import Workbench

# Invented logs.
NAMED = "Duct pressure [Pa];Fan signal [Pa]\n-25,1;31,5\n-24,9;32,0\n-25,0;31,8\n"
BARE = "1,-25.1,31.5\n2,-24.9,32.0\n3,-25.0,31.8\n"
RECORDING = "time [s],duct pressure [Pa],fan signal [Pa]\n" + "".join(
    f"{n},-25.{n % 2},32\n" for n in range(60)
)


def dialog_for(qtbot: QtBot, tmp_path: Path, text: str) -> ImportDialog:
    path = tmp_path / "log.csv"
    path.write_text(text, encoding="utf-8")
    log, kit = open_log(path), load_kit()
    assert isinstance(log, TextLog)
    assert isinstance(kit, LiveKit)
    dialog = ImportDialog(log, Preferences(), kit.rules, 10.0, None)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    qtbot.addWidget(dialog)
    dialog.open()
    read_whole(qtbot, dialog)
    return dialog


def read_whole(qtbot: QtBot, one: ImportDialog | GaugeCard) -> None:
    qtbot.waitUntil(lambda: not one.is_reading)


def pick(qtbot: QtBot, dialog: ImportDialog, field: SampleField, position: int) -> None:
    box = dialog.columns[field]
    box.setCurrentIndex(box.findData(position))
    box.activated.emit(box.currentIndex())
    read_whole(qtbot, dialog)


def test_that_headings_choose_the_columns_and_commas_are_read(
    qtbot: QtBot, theme: object, tmp_path: Path
) -> None:
    assert theme
    dialog = dialog_for(qtbot, tmp_path, NAMED)
    assert dialog.columns[SampleField.DUCT_PRESSURE].currentData() == 0
    assert dialog.columns[SampleField.FAN_SIGNAL].currentData() == 1
    assert [reading["duct_pressure"] for reading in dialog.readings] == [
        "-25.1 Pa",
        "-24.9 Pa",
        "-25.0 Pa",
    ]
    assert dialog.take.isEnabled()


def test_that_a_log_without_headings_asks_for_the_duct_pressure(
    qtbot: QtBot, theme: object, tmp_path: Path
) -> None:
    assert theme
    dialog = dialog_for(qtbot, tmp_path, BARE)
    assert not dialog.take.isEnabled()
    assert "duct pressure" in dialog.remark.text
    pick(qtbot, dialog, SampleField.DUCT_PRESSURE, 1)
    assert len(dialog.readings) == 3
    pick(qtbot, dialog, SampleField.FAN_SIGNAL, 1)
    assert not dialog.take.isEnabled()
    assert "one thing only" in dialog.remark.text
    pick(qtbot, dialog, SampleField.FAN_SIGNAL, 2)
    assert dialog.readings[0]["fan_signal"] == "31.5 Pa"


def test_that_a_recording_is_averaged_unless_told_otherwise(
    qtbot: QtBot, theme: object, tmp_path: Path
) -> None:
    assert theme
    dialog = dialog_for(qtbot, tmp_path, RECORDING)
    assert dialog.average.isChecked()
    assert 3 <= len(dialog.readings) <= 6
    dialog.average.setChecked(False)
    assert dialog.readings == []
    assert not dialog.take.isEnabled()
    read_whole(qtbot, dialog)
    assert len(dialog.readings) == 60


@pytest.fixture
def card(bench: Workbench) -> GaugeCard:
    bench.show_page("readings")
    assert isinstance(bench.page, GaugeReadingsPage)
    return bench.page.gauge


def test_that_imported_readings_follow_the_last_one_and_columns_are_remembered(
    bench: Workbench, card: GaugeCard, tmp_path: Path, qtbot: QtBot
) -> None:
    bench.bridge.enter("gauges.0.serial", "GA-17")
    path = tmp_path / "log.csv"
    path.write_text(BARE, encoding="utf-8")
    card.import_log(path)
    assert card.remark == "Reading log.csv…"
    read_whole(qtbot, card)
    dialog = bench.window().findChild(ImportDialog)
    assert dialog is not None
    pick(qtbot, dialog, SampleField.DUCT_PRESSURE, 1)
    pick(qtbot, dialog, SampleField.FAN_SIGNAL, 2)
    dialog.take.click()
    held = bench.bridge.value_at("tests.0.readings")
    assert [reading.duct_pressure.si for reading in held[3:]] == [-25.1, -24.9, -25.0]
    assert "3 readings" in card.remark
    card.import_log(path)
    read_whole(qtbot, card)
    again = bench.window().findChildren(ImportDialog)[-1]
    assert again.columns[SampleField.FAN_SIGNAL].currentData() == 2
    read_whole(qtbot, again)
    assert again.take.isEnabled()
    again.reject()


def test_that_a_file_that_is_no_log_is_told_on_the_page(
    card: GaugeCard, tmp_path: Path, qtbot: QtBot
) -> None:
    path = tmp_path / "words.txt"
    path.write_text("nothing here but words\n", encoding="utf-8")
    card.import_log(path)
    read_whole(qtbot, card)
    assert "cannot be taken in" in card.remark
