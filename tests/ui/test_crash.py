"""An error in a slot: told, and the job stays."""

from __future__ import annotations

import sys
import threading

import pytest
from PySide6.QtCore import QTimer
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QPushButton
from pytestqt.exceptions import capture_exceptions
from pytestqt.qtbot import QtBot

from deskapp.ui.crash import CrashGuard
from deskapp.ui.furnish import Furniture
from deskapp.ui.main_window import MainWindow
from deskapp.ui.workbench import Workbench


@pytest.fixture
def guard(window: MainWindow) -> CrashGuard:
    return CrashGuard(window)


def break_down() -> bool:
    raise RuntimeError("invented trouble")


def test_that_an_error_in_a_slot_shows_a_dialog_and_keeps_the_job(
    guard: CrashGuard, bench: Workbench, qtbot: QtBot
) -> None:
    before = bench.bridge.editor.job
    guard.install()
    QTimer.singleShot(0, break_down)
    qtbot.waitUntil(lambda: guard.dialog is not None)
    assert guard.dialog is not None
    assert "invented trouble" in guard.dialog.report.toPlainText()
    assert bench.bridge.editor.job is before
    copy, close = guard.dialog.findChildren(QPushButton)
    copy.click()
    assert "invented trouble" in QGuiApplication.clipboard().text()
    assert close.text() == "Close"
    close.click()
    qtbot.waitUntil(lambda: guard.dialog is None)
    bench.bridge.enter("title", "Going on")
    assert bench.bridge.value_at("title") == "Going on"


def test_that_a_recovery_copy_is_written_before_the_error_is_told(
    window: MainWindow, furniture: Furniture, bench: Workbench
) -> None:
    told: list[bool] = []

    def rescue() -> bool:
        told.append(furniture.keep_copy())
        return told[-1]

    guard = CrashGuard(window, rescue, lambda trace: furniture.report_on(trace, ["Qt: a remark"]))
    bench.bridge.enter("client.name", "Jordan Example")
    folder = furniture.desk.recovery_folder
    assert not list(folder.glob("*")) if folder.exists() else True
    guard.caught.emit("Traceback: invented trouble")
    assert told == [True]
    assert list(folder.glob("*"))
    assert guard.dialog is not None
    assert "recovery copy" in guard.dialog.advice.text()
    report = guard.dialog.report.toPlainText()
    assert "invented trouble" in report
    assert "Qt: a remark" in report
    assert "client.name = text of 14 characters" in report
    assert "Jordan" not in report
    assert furniture.keep_copy()


def test_that_an_error_while_rescuing_is_no_way_out_of_the_dialog(window: MainWindow) -> None:
    guard = CrashGuard(window, break_down, lambda _trace: str(break_down()))
    guard.caught.emit("Traceback: invented trouble")
    assert guard.dialog is not None
    assert guard.dialog.report.toPlainText() == "Traceback: invented trouble"
    assert "recovery copy" not in guard.dialog.advice.text()


def test_that_only_one_dialog_is_shown_at_a_time(guard: CrashGuard, qtbot: QtBot) -> None:
    for _turn in range(3):
        try:
            break_down()
        except RuntimeError as error:
            guard.catch(type(error), error, error.__traceback__)
    qtbot.waitUntil(lambda: guard.dialog is not None)
    dialogs = [w for w in guard.parent().children() if w is guard.dialog]
    assert len(dialogs) == 1


def test_that_an_error_of_another_thread_is_shown_in_this_one(
    guard: CrashGuard, qtbot: QtBot
) -> None:
    def work() -> None:
        try:
            break_down()
        except RuntimeError as error:
            guard.catch(type(error), error, error.__traceback__)

    thread = threading.Thread(target=work)
    thread.start()
    thread.join()
    qtbot.waitUntil(lambda: guard.dialog is not None)


def test_that_the_interpreter_is_told_to_call_the_guard(guard: CrashGuard) -> None:
    with capture_exceptions():
        guard.install()
        assert sys.excepthook == guard.catch
