"""An error in a slot: told, and the job stays."""

from __future__ import annotations

import sys
import threading
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QTimer
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QPushButton
from pytestqt.exceptions import capture_exceptions
from pytestqt.qtbot import QtBot

from deskapp.app.window import Opening
from deskapp.ui import crash
from deskapp.ui.crash import CrashGuard, Rescue
from deskapp.ui.furnish import Furniture
from deskapp.ui.main_window import MainWindow
from deskapp.ui.workbench import Workbench


@pytest.fixture
def guard(window: MainWindow) -> CrashGuard:
    return CrashGuard(window)


def break_down() -> Rescue:
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

    def rescue() -> Rescue:
        told.append(furniture.keep_copy())
        return Rescue.COPIED if told[-1] else Rescue.NOT_COPIED

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


def guard_of(opening: Opening) -> CrashGuard:
    guard = opening.window.findChild(CrashGuard)
    assert isinstance(guard, CrashGuard)
    return guard


def test_that_the_dialog_says_what_became_of_the_work_and_no_more(
    started: Callable[[Path], Opening], tmp_path: Path, qtbot: QtBot
) -> None:
    opening = started(tmp_path)
    window = opening.window
    window.show()
    qtbot.waitUntil(lambda: window.furniture is not None, timeout=20_000)
    guard, furniture = guard_of(opening), window.furniture
    assert isinstance(furniture, Furniture)

    def told(trace: str) -> str:
        guard.caught.emit(trace)
        assert guard.dialog is not None
        text = guard.dialog.advice.text()
        guard.dialog.accept()
        return text

    nothing = "There are no unsaved changes. Go on or start again."
    copied = "a recovery copy of it was written"
    copies = furniture.desk.recovery_folder
    assert told("without a job") == nothing
    furniture.files.new_now()
    assert told("in a job as it was opened") == nothing
    assert furniture.bench is not None
    furniture.bench.bridge.enter_soon("title", "Typed at this moment")
    assert copied in told("while typing")
    assert "Typed at this moment" in next(copies.glob("*/job.json")).read_text(encoding="utf-8")
    copies.rename(tmp_path / "gone")
    copies.write_bytes(b"a file, so that no copy can be written")
    furniture.bench.bridge.enter("title", "Typed later")
    assert copied not in told("with a disk that takes nothing")


@pytest.mark.parametrize("breaks", ["settle", "leave"])
def test_that_an_error_while_closing_keeps_window_and_job(
    window: MainWindow,
    furniture: Furniture,
    bench: Workbench,
    guard: CrashGuard,
    qtbot: QtBot,
    monkeypatch: pytest.MonkeyPatch,
    breaks: str,
) -> None:
    bench.bridge.enter("title", "Not saved")
    guard.install()
    with monkeypatch.context() as patched:
        patched.setattr(furniture, breaks, break_down)
        QTimer.singleShot(0, window, window.close)
        qtbot.waitUntil(lambda: guard.dialog is not None)
    assert window.isVisible()
    assert bench.bridge.value_at("title") == "Not saved"


def test_that_an_error_that_comes_again_and_again_leaves_a_way_to_save(
    guard: CrashGuard, monkeypatch: pytest.MonkeyPatch
) -> None:
    def is_told(trace: str) -> bool:
        guard.caught.emit(trace)
        dialog = guard.dialog
        if dialog is not None:
            dialog.accept()
        return dialog is not None

    assert [is_told("in a clock") for _turn in range(4)] == [True, False, False, False]
    assert is_told("another one")
    assert is_told("in a clock")
    monkeypatch.setattr(crash, "CALM", 0)
    is_told("in a clock")
    assert is_told("in a clock"), "after a while it is told again"


def test_that_an_error_is_told_where_there_is_no_terminal(
    guard: CrashGuard, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "stderr", None)  # as in a window started without one
    guard.catch(RuntimeError, RuntimeError("invented trouble"), None)
    assert guard.dialog is not None
    assert "invented trouble" in guard.dialog.report.toPlainText()
