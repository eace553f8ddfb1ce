"""Work is kept: recovery copies, jobs open twice, files changed outside, disks that are full."""

from __future__ import annotations

import errno
import json
import os
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QSettings, Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QLabel,
    QLineEdit,
    QMessageBox,
    QWidget,
)
from pytestqt.qtbot import QtBot

from deskapp.app.window import Opening
from deskapp.archive import job_file
from deskapp.archive.file_hold import lock_path_of
from deskapp.session.editor import Editor
from deskapp.session.opening import new_job
from deskapp.session.recovery import find_offers
from deskapp.session.resources import Shelf
from deskapp.session.saving import save_as
from deskapp.session.settings import Preferences
from deskapp.ui.autosaver import Autosaver
from deskapp.ui.desk import Desk
from deskapp.ui.dialogs.recover_dialog import RecoverDialog
from deskapp.ui.furnish import Furniture
from deskapp.ui.main_window import MainWindow
from deskapp.ui.workbench import Workbench
from tests.crashing import leave_copy

ReadWhole = Callable[[], None]


def box_in(window: QWidget) -> QMessageBox:
    return next(box for box in window.findChildren(QMessageBox) if box.isVisible())


def press(box: QMessageBox, words: str) -> None:
    next(button for button in box.buttons() if button.text() == words).click()


def words_of(box: QMessageBox) -> set[str]:
    return {button.text() for button in box.buttons()}


@pytest.fixture
def saved(bench: Workbench, desk: Desk, tmp_path: Path) -> Path:
    """The invented job, saved in a file and open in the window."""
    return desk.save(bench.bridge.editor, tmp_path / "kept.ductjob")


@pytest.fixture
def left(editor: Editor, desk: Desk, tmp_path: Path) -> Path:
    """A saved job that was edited on before the program was ended."""
    path = save_as(editor, tmp_path / "left.ductjob")
    editor.enter("title", "Edited on")
    leave_copy(editor, desk.recovery_folder)
    desk.offers, _findings = find_offers(desk.recovery_folder)
    return path


def dialog_in(window: QWidget) -> RecoverDialog:
    return next(dialog for dialog in window.findChildren(RecoverDialog) if dialog.isVisible())


def choose(dialog: RecoverDialog, words: str) -> None:
    next(button for button in dialog.choices if button.text() == words).click()


# Recovery copies


def test_that_a_copy_is_written_beside_the_window_and_gone_after_a_clean_close(
    qtbot: QtBot, editor: Editor, tmp_path: Path
) -> None:
    saver = Autosaver(tmp_path, pause=0.01)
    saver.follow(editor)
    with qtbot.waitSignal(saver.worked):
        editor.enter("title", "Edited")
    (folder,) = tmp_path.iterdir()
    assert job_file.read(folder).job.title == "Edited"
    with qtbot.waitSignal(saver.worked):
        editor.enter("title", "Edited again")
    assert job_file.read(folder).job.title == "Edited again"
    saver.end()
    assert list(tmp_path.iterdir()) == []


def test_that_a_copy_that_cannot_be_written_is_told_in_the_window(
    bench: Workbench, furniture: Furniture
) -> None:
    furniture.files.not_copied.emit("The disk is full.")
    assert "No recovery copy can be kept" in bench.notice.text
    furniture.files.copied.emit()
    assert bench.notice.text == ""


def test_that_closing_the_window_leaves_neither_copy_nor_lock(
    window: MainWindow, saved: Path, bench: Workbench, desk: Desk, qtbot: QtBot
) -> None:
    bench.bridge.enter("title", "Given up")
    qtbot.waitUntil(lambda: any(desk.recovery_folder.glob("*/job.json")), timeout=10_000)
    assert lock_path_of(saved).exists()
    window.close()
    discard = box_in(window).button(QMessageBox.StandardButton.Discard)
    discard.click()
    qtbot.waitUntil(lambda: not window.isVisible())
    assert list(desk.recovery_folder.iterdir()) == []
    assert not lock_path_of(saved).exists()


@pytest.mark.usefixtures("left")
def test_that_the_dialog_says_which_job_when_and_what_differs(
    window: MainWindow, furniture: Furniture
) -> None:
    furniture.offer_recovery()
    dialog = dialog_in(window)
    shown = dialog.findChildren(QWidget)
    texts = " ".join(
        part.text() for part in shown if isinstance(part, QLabel | QAbstractButton | QLineEdit)
    )
    assert "J-0001 Edited on was not saved" in texts
    assert "left.ductjob" in texts
    assert "Entries that differ: Job name." in texts
    assert str(furniture.desk.offers[0].written.year) in texts
    assert [one.text() for one in dialog.choices] == ["Recover", "Keep both", "Open the saved one"]
    assert furniture.files.editor is None, "nothing is restored unasked"


def test_that_recovering_opens_the_changes_unsaved(
    window: MainWindow, furniture: Furniture, left: Path, read_whole: ReadWhole
) -> None:
    furniture.offer_recovery()
    choose(dialog_in(window), "Recover")
    read_whole()
    editor = furniture.files.editor
    assert editor is not None
    assert (editor.job.title, editor.path) == ("Edited on", left)
    assert window.isWindowModified()
    assert window.commands.undo.text() == "Undo recovered changes"
    assert job_file.read(left).job.title == "Larkspur Lot 14"
    assert furniture.desk.offers == ()


def test_that_keeping_both_opens_a_second_file(
    window: MainWindow, furniture: Furniture, left: Path, read_whole: ReadWhole
) -> None:
    furniture.offer_recovery()
    choose(dialog_in(window), "Keep both")
    read_whole()
    editor = furniture.files.editor
    assert editor is not None
    assert editor.path not in (None, left)
    assert editor.job.title == "Edited on"
    assert not window.isWindowModified()
    assert job_file.read(left).job.title == "Larkspur Lot 14"


def test_that_opening_the_saved_one_sets_the_changes_aside(
    window: MainWindow, furniture: Furniture, left: Path, desk: Desk, read_whole: ReadWhole
) -> None:
    furniture.offer_recovery()
    choose(dialog_in(window), "Open the saved one")
    read_whole()
    assert furniture.files.editor is not None
    assert furniture.files.editor.job.title == "Larkspur Lot 14"
    assert furniture.files.editor.path == left
    assert len(list((desk.recovery_folder / "set-aside").iterdir())) == 1
    assert find_offers(desk.recovery_folder) == ((), ())


@pytest.mark.usefixtures("left")
def test_that_deciding_later_asks_again_at_the_next_start(
    window: MainWindow, furniture: Furniture, desk: Desk
) -> None:
    furniture.offer_recovery()
    dialog_in(window).reject()
    assert furniture.files.editor is None
    furniture.close_down()
    offers, _findings = find_offers(desk.recovery_folder)
    assert [offer.name for offer in offers] == ["J-0001 Edited on"]


@pytest.mark.usefixtures("left")
def test_that_enter_recovers(window: MainWindow, furniture: Furniture, qtbot: QtBot) -> None:
    furniture.offer_recovery()
    dialog = dialog_in(window)
    qtbot.waitExposed(dialog)
    qtbot.keyClick(dialog.focusWidget() or dialog, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: furniture.files.editor is not None, timeout=10_000)
    assert furniture.files.has_unsaved


def leave_a_second(desk: Desk, shelf: Shelf) -> None:
    """Let a new job, never saved, be left behind beside the one there is."""
    new = new_job(shelf, Preferences())
    new.enter("title", "Never saved")
    for offer in desk.offers:
        offer.copy.let_go()
    leave_copy(new, desk.recovery_folder)
    desk.offers, _findings = find_offers(desk.recovery_folder)
    assert len(desk.offers) == 2


def test_that_a_job_put_off_is_asked_about_again_when_it_is_opened(
    window: MainWindow, furniture: Furniture, left: Path, desk: Desk, shelf: Shelf
) -> None:
    leave_a_second(desk, shelf)
    furniture.offer_recovery()
    for _each in range(2):
        dialog_in(window).reject()
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    assert not window.findChildren(RecoverDialog)
    assert len(desk.offers) == 2
    furniture.open(left)
    assert furniture.files.editor is None
    assert "left.ductjob" in " ".join(
        part.text() for part in dialog_in(window).findChildren(QLabel)
    )


@pytest.mark.parametrize(("earlier_s", "first"), [(0, "Recover"), (3600, "Keep both")])
def test_that_the_safer_way_is_offered_first_and_both_times_are_told(
    window: MainWindow, furniture: Furniture, left: Path, desk: Desk, earlier_s: int, first: str
) -> None:
    when = desk.offers[0].written.timestamp() + earlier_s
    for offer in desk.offers:
        offer.copy.let_go()
    os.utime(left, (when, when))
    desk.offers, _findings = find_offers(desk.recovery_folder)
    furniture.offer_recovery()
    dialog = dialog_in(window)
    assert dialog.first.text() == first
    assert dialog.first.isDefault()
    assert [one.text() for one in dialog.choices if one.isDefault()] == [first]
    told = " ".join(label.text() for label in dialog.findChildren(QLabel))
    saved_on = desk.offers[0].saved_on
    assert saved_on is not None
    assert saved_on.strftime("%H:%M") in told
    assert desk.offers[0].written.strftime("%H:%M") in told
    assert ("older than the saved file" in told) is (earlier_s > 0)


def test_that_several_jobs_are_asked_about_one_after_the_other(
    window: MainWindow, furniture: Furniture, left: Path, desk: Desk, shelf: Shelf
) -> None:
    leave_a_second(desk, shelf)
    furniture.offer_recovery()
    names: list[str] = []
    while desk.offers:
        names.append(desk.offers[0].name)
        dialog = dialog_in(window)
        choose(dialog, dialog.choices[-1].text())
        QApplication.sendPostedEvents()
    assert sorted(names) == ["J-0001 Edited on", "Never saved"]
    assert left.exists()


def test_that_a_recovery_is_offered_at_the_next_start_and_not_restored_unasked(
    qtbot: QtBot, started: Callable[[Path], Opening], left: Path, desk: Desk
) -> None:
    for offer in desk.offers:
        offer.copy.let_go()
    opening = started(desk.folder)
    opening.window.show()
    qtbot.waitUntil(lambda: opening.window.furniture is not None, timeout=20_000)
    assert dialog_in(opening.window).isVisible()
    assert opening.window.stack.currentWidget() is opening.window.start
    assert left.exists()


def test_that_a_copy_that_cannot_be_read_does_not_keep_the_program_from_starting(
    qtbot: QtBot, started: Callable[[Path], Opening], left: Path, desk: Desk
) -> None:
    for offer in desk.offers:
        offer.copy.let_go()
    (broken,) = desk.recovery_folder.glob("*/job.json")
    broken.write_text("{ half", encoding="utf-8")
    about = broken.with_name("about.json")
    about.write_text(json.dumps({**json.loads(about.read_text()), "tries": 1}), encoding="utf-8")
    opening = started(desk.folder)
    opening.window.show()
    qtbot.waitUntil(lambda: opening.window.furniture is not None, timeout=20_000)
    assert "set aside" in opening.window.start.remark_text
    assert opening.window.findChildren(RecoverDialog) == []
    assert left.exists()


# A job open twice


def wait_for(window: MainWindow, qtbot: QtBot) -> None:
    """Wait until the job it was told to open is read."""
    furniture = window.furniture
    assert isinstance(furniture, Furniture)
    qtbot.waitUntil(lambda: not furniture.files.reading.is_busy)


@pytest.fixture
def second(qtbot: QtBot, window: MainWindow, desk: Desk, saved: Path, tmp_path: Path) -> MainWindow:
    """A second window that was told to open the job which is open in the first."""
    memory = QSettings(str(tmp_path / "second.ini"), QSettings.Format.IniFormat)
    second = MainWindow(window.theme, memory)
    qtbot.addWidget(second, before_close_func=MainWindow.forget_changes)
    second.get_ready(Furniture(second, desk))
    second.show()
    second.open_file(saved)
    wait_for(second, qtbot)
    return second


def test_that_the_second_window_says_who_has_the_job(second: MainWindow) -> None:
    box = box_in(second)
    assert box.text() == "This job is open elsewhere"
    assert box.informativeText().startswith("kept.ductjob is open on the computer ")
    assert words_of(box) == {"Open a copy to read", "Cancel"}
    press(box, "Cancel")
    assert second.stack.currentWidget() is second.start


def test_that_the_second_window_opens_a_copy_without_a_file(
    second: MainWindow, qtbot: QtBot
) -> None:
    press(box_in(second), "Open a copy to read")
    wait_for(second, qtbot)
    assert isinstance(second.furniture, Furniture)
    editor = second.furniture.files.editor
    assert editor is not None
    assert editor.path is None
    assert editor.job.title == "Larkspur Lot 14"
    assert second.furniture.bench is not None
    assert "a copy of kept.ductjob to read" in second.furniture.bench.notice.text


def test_that_a_job_marked_by_another_computer_can_be_opened_all_the_same(
    window: MainWindow, furniture: Furniture, left: Path, desk: Desk, read_whole: ReadWhole
) -> None:
    desk.offers = ()
    holder = {"host": "van-2", "user": "sam", "process": 7, "since": "2026-03-11T08:40:00"}
    lock_path_of(left).write_text(json.dumps(holder), encoding="utf-8")
    furniture.open(left)
    read_whole()
    box = box_in(window)
    assert "van-2, by sam, since Mar\N{NO-BREAK SPACE}11, 2026, 08:40" in box.informativeText()
    assert words_of(box) == {"Open a copy to read", "Open it all the same", "Cancel"}
    press(box, "Open it all the same")
    read_whole()
    assert furniture.files.editor is not None
    assert furniture.files.editor.path == left


# Saving


def test_that_a_file_changed_outside_is_asked_about_before_it_is_written_over(
    window: MainWindow, furniture: Furniture, bench: Workbench, qtbot: QtBot, saved: Path
) -> None:
    other = bench.bridge.editor.job.model_copy(update={"title": "Changed elsewhere"})
    job_file.write(saved, other, {})
    bench.bridge.enter("title", "Changed here")
    furniture.save()
    qtbot.waitUntil(lambda: not furniture.files.saving.is_busy)
    box = box_in(window)
    assert box.text() == "The file has changed meanwhile"
    assert job_file.read(saved).job.title == "Changed elsewhere"
    press(box, "Save over it")
    qtbot.waitUntil(lambda: not furniture.files.saving.is_busy)
    assert job_file.read(saved).job.title == "Changed here"
    assert not window.isWindowModified()


def test_that_a_full_disk_is_told_in_place_and_saving_can_be_tried_again(
    window: MainWindow,
    furniture: Furniture,
    bench: Workbench,
    qtbot: QtBot,
    saved: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    before = saved.read_bytes()

    def refuse(_handle: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    bench.bridge.enter("title", "Too much")
    with monkeypatch.context() as patched:
        patched.setattr(os, "fsync", refuse)
        furniture.save()
        qtbot.waitUntil(lambda: not furniture.files.saving.is_busy)
    assert "The disk is full. Free some space or choose another disk." in bench.notice.text
    assert bench.notice.isVisible()
    bench.show_rest()
    assert window.isWindowModified()
    assert saved.read_bytes() == before
    next(button for button in bench.notice.buttons if button.text() == "Try again").click()
    qtbot.waitUntil(lambda: not furniture.files.saving.is_busy)
    assert bench.notice.text == ""
    assert not window.isWindowModified()
    assert job_file.read(saved).job.title == "Too much"
