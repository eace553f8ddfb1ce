"""The frame: files, menus, title, closing."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QMimeData, QObject, QPoint, QPointF, QSettings, Qt, QUrl
from PySide6.QtGui import QDropEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QDialog, QFileDialog, QMessageBox, QWidget
from pytestqt.qtbot import QtBot

from deskapp.session.editor import Editor
from deskapp.session.pages import PAGES
from deskapp.ui.desk import Desk
from deskapp.ui.furnish import Furniture
from deskapp.ui.main_window import MainWindow
from deskapp.ui.theme import Appearance, Theme
from deskapp.ui.workbench import Workbench

ReadWhole = Callable[[], None]


def dialog_in(window: QWidget, qtbot: QtBot) -> QFileDialog:
    qtbot.waitUntil(lambda: any(d.isVisible() for d in window.findChildren(QFileDialog)))
    return next(d for d in window.findChildren(QFileDialog) if d.isVisible())


def choose(dialog: QFileDialog, path: Path) -> None:
    """Answer a file dialog as a person would: pick the file and accept."""
    dialog.setDirectory(str(path.parent))
    dialog.selectFile(str(path))
    dialog.accept()


def box_in(window: QWidget) -> QMessageBox:
    return next(box for box in window.findChildren(QMessageBox) if box.isVisible())


def press(box: QMessageBox, button: QMessageBox.StandardButton) -> None:
    box.button(button).click()


def test_that_the_start_page_leads_to_a_new_job(window: MainWindow, furniture: Furniture) -> None:
    assert window.stack.currentWidget() is window.start
    window.start.ways[0].click()
    assert furniture.bench is not None
    assert window.stack.currentWidget() is furniture.bench
    assert furniture.bench.page.page.id == "client"


def test_that_the_start_page_leads_to_the_sample(window: MainWindow, furniture: Furniture) -> None:
    window.start.ways[2].click()
    assert furniture.files.editor is not None
    assert furniture.files.editor.job.systems
    assert furniture.files.editor.path is None, "a sample is opened as a copy"


def test_that_what_is_asked_for_before_everything_is_loaded_is_done_afterwards(
    qtbot: QtBot, window: MainWindow, desk: Desk, tmp_path: Path
) -> None:
    from PySide6.QtCore import QSettings

    early = MainWindow(window.theme, QSettings(str(tmp_path / "x.ini"), QSettings.Format.IniFormat))
    qtbot.addWidget(early, before_close_func=MainWindow.forget_changes)
    early.start.ways[0].click()
    assert early.start.remark_text == "Getting ready…"
    furniture = Furniture(early, desk)
    early.get_ready(furniture)
    assert early.stack.currentWidget() is furniture.bench


def test_that_the_title_names_the_job_and_marks_unsaved_changes(
    window: MainWindow, bench: Workbench
) -> None:
    assert window.windowTitle() == "J-0001 Larkspur Lot 14[*] — Ductfolio"
    assert not window.isWindowModified()
    bench.bridge.enter("title", "Larkspur Lot 15")
    bench.show_rest()
    assert window.windowTitle().startswith("J-0001 Larkspur Lot 15[*]")
    assert window.isWindowModified()
    bench.bridge.undo()
    bench.show_rest()
    assert not window.isWindowModified()


@pytest.mark.parametrize("name", ["Lot 15", "Lot [*]", "[*] lot", "Lot [*][*] 15"])
def test_that_the_title_on_screen_has_the_mark_behind_any_name(
    window: MainWindow, bench: Workbench, name: str
) -> None:
    bench.bridge.enter("title", name)
    bench.show_rest()
    # What the system is given to show, with Qt's place for the mark filled.
    assert window.windowHandle().title() == f"J-0001 {name}* — Ductfolio"
    bench.bridge.undo()
    bench.show_rest()
    assert window.windowHandle().title() == "J-0001 Larkspur Lot 14 — Ductfolio"


def test_that_undo_and_redo_say_what_they_would_do(window: MainWindow, bench: Workbench) -> None:
    commands = window.commands
    assert not commands.undo.isEnabled()
    bench.bridge.enter("systems.0.area_served", "1,400")
    bench.show_rest()
    assert commands.undo.text() == "Undo floor area served (system 1)"
    commands.undo.trigger()
    bench.show_rest()
    assert not commands.undo.isEnabled()
    assert commands.redo.text() == "Redo floor area served (system 1)"
    commands.redo.trigger()
    assert bench.bridge.entry_text("systems.0.area_served") == "1,400"


def test_that_undo_inside_a_field_undoes_the_job_and_shows_it(
    bench: Workbench, qtbot: QtBot
) -> None:
    bench.page.reveal("title")
    line = bench.focusWidget()
    line.selectAll()
    qtbot.keyClicks(line, "Another")
    qtbot.keyClick(line, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert bench.bridge.value_at("title") == "Larkspur Lot 14"
    assert line.text() == "Larkspur Lot 14"


def test_that_saving_asks_for_a_file_once_and_then_writes_it_again(
    window: MainWindow, bench: Workbench, furniture: Furniture, qtbot: QtBot, tmp_path: Path
) -> None:
    bench.bridge.enter("title", "Saved twice")
    window.commands.save.trigger()
    choose(dialog_in(window, qtbot), tmp_path / "one.ductjob")
    path = tmp_path / "one.ductjob"
    qtbot.waitUntil(path.exists)
    qtbot.waitUntil(lambda: not furniture.files.saving.is_busy)
    assert not window.isWindowModified()
    assert bench.strip.remark_text.startswith("Saved ")
    first = path.read_bytes()
    bench.bridge.enter("title", "Saved a third time")
    bench.show_rest()
    assert bench.strip.remark_text == "Changed since it was saved"
    window.commands.save.trigger()
    qtbot.waitUntil(lambda: not furniture.files.saving.is_busy)
    assert path.read_bytes() != first
    assert furniture.files.editor is not None
    assert furniture.files.editor.path == path


def test_that_text_still_being_typed_is_saved_too(
    window: MainWindow,
    bench: Workbench,
    furniture: Furniture,
    desk: Desk,
    qtbot: QtBot,
    tmp_path: Path,
) -> None:
    path = tmp_path / "typed.ductjob"
    desk.save(bench.bridge.editor, path)
    bench.page.reveal("title")
    line = bench.focusWidget()
    line.selectAll()
    qtbot.keyClicks(line, "Half typed")
    window.commands.save.trigger()
    qtbot.waitUntil(lambda: not furniture.files.saving.is_busy)
    assert desk.open_to_read(path).job.title == "Half typed"


def test_that_save_as_writes_a_second_file_with_the_usual_ending(
    window: MainWindow, bench: Workbench, desk: Desk, qtbot: QtBot, tmp_path: Path
) -> None:
    desk.save(bench.bridge.editor, tmp_path / "first.ductjob")
    window.commands.save_as.trigger()
    choose(dialog_in(window, qtbot), tmp_path / "second")
    qtbot.waitUntil((tmp_path / "second.ductjob").exists)
    assert (tmp_path / "first.ductjob").exists()


def test_that_a_job_is_opened_by_the_dialog_and_listed_as_recent(
    window: MainWindow,
    bench: Workbench,
    furniture: Furniture,
    desk: Desk,
    qtbot: QtBot,
    tmp_path: Path,
) -> None:
    path = desk.save(bench.bridge.editor, tmp_path / "kept.ductjob")
    desk.prefer(desk.preferences.without_recent())
    furniture.files.new_now()
    window.commands.open.trigger()
    choose(dialog_in(window, qtbot), path)
    qtbot.waitUntil(lambda: window.windowTitle().startswith("J-0001"))
    window.commands.recent_menu.aboutToShow.emit()
    texts = [action.text() for action in window.commands.recent_menu.actions()]
    assert texts[0] == "kept.ductjob"
    assert texts[-1] == "Clear this list"
    window.commands.recent_menu.actions()[-1].trigger()
    assert desk.recent() == ()


def test_that_a_recent_job_that_is_gone_is_marked_and_cannot_be_chosen(
    window: MainWindow, bench: Workbench, desk: Desk, tmp_path: Path
) -> None:
    path = desk.save(bench.bridge.editor, tmp_path / "gone.ductjob")
    path.unlink()
    window.commands.recent_menu.aboutToShow.emit()
    action = window.commands.recent_menu.actions()[0]
    assert action.text() == "gone.ductjob (no longer there)"
    assert not action.isEnabled()


def test_that_a_file_that_is_no_job_is_told_in_plain_words_and_the_open_job_stays(
    window: MainWindow,
    bench: Workbench,
    furniture: Furniture,
    tmp_path: Path,
    read_whole: ReadWhole,
) -> None:
    broken = tmp_path / "broken.ductjob"
    broken.write_bytes(b"no zip at all")
    before = bench.bridge.editor
    furniture.open(broken)
    read_whole()
    box = box_in(window)
    assert box.text() == "The job was not opened"
    assert "broken.ductjob" in box.informativeText()
    assert bench.bridge.editor is before


def test_that_a_job_that_cannot_be_written_stays_unsaved(
    window: MainWindow, bench: Workbench, furniture: Furniture, qtbot: QtBot, tmp_path: Path
) -> None:
    bench.bridge.enter("title", "Nowhere to go")
    bench.bridge.editor.path = tmp_path / "no folder" / "job.ductjob"
    furniture.save()
    qtbot.waitUntil(lambda: not furniture.files.saving.is_busy)
    assert bench.notice.text.startswith("The job is not saved yet. ")
    assert "That folder does not exist. Choose another one." in bench.notice.text
    assert [button.text() for button in bench.notice.buttons] == ["Save as…", "Try again", "Close"]
    assert [box for box in window.findChildren(QMessageBox) if box.isVisible()] == []
    bench.show_rest()
    assert window.isWindowModified()


@pytest.mark.parametrize("answer", ["Discard", "Cancel", "Save"])
def test_that_closing_with_changes_asks_once(
    window: MainWindow,
    bench: Workbench,
    desk: Desk,
    qtbot: QtBot,
    tmp_path: Path,
    answer: str,
) -> None:
    path = desk.save(bench.bridge.editor, tmp_path / "close.ductjob")
    bench.bridge.enter("title", "Changed")
    window.close()
    assert window.isVisible()
    press(box_in(window), getattr(QMessageBox.StandardButton, answer))
    if answer == "Cancel":
        assert window.isVisible()
        return
    qtbot.waitUntil(lambda: not window.isVisible())
    saved = desk.open_to_read(path).job.title
    assert saved == ("Changed" if answer == "Save" else "Larkspur Lot 14")


@pytest.mark.usefixtures("bench")
def test_that_closing_without_changes_asks_nothing(window: MainWindow, qtbot: QtBot) -> None:
    window.close()
    qtbot.waitUntil(lambda: not window.isVisible())


def test_that_another_job_is_opened_only_after_the_question_about_changes(
    window: MainWindow, bench: Workbench
) -> None:
    bench.bridge.enter("title", "Changed")
    window.commands.new.trigger()
    assert bench.bridge.value_at("title") == "Changed"
    press(box_in(window), QMessageBox.StandardButton.Discard)
    assert bench.bridge.value_at("title") == ""
    assert not window.isWindowModified()


def test_that_a_job_file_dropped_on_the_window_is_opened(
    window: MainWindow,
    bench: Workbench,
    furniture: Furniture,
    desk: Desk,
    tmp_path: Path,
    read_whole: ReadWhole,
) -> None:
    path = desk.save(bench.bridge.editor, tmp_path / "dropped.ductjob")
    furniture.files.new_now()
    mime = QMimeData()
    mime.setUrls([QUrl.fromLocalFile(str(path))])
    event = QDropEvent(
        QPointF(5, 5),
        Qt.DropAction.CopyAction,
        mime,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )
    window.dropEvent(event)
    read_whole()
    assert window.windowTitle().startswith("J-0001")


def test_that_the_pages_have_keys_and_menus_have_no_key_twice(
    window: MainWindow, bench: Workbench
) -> None:
    for action, page in zip(window.commands.page_menu.actions(), PAGES, strict=True):
        action.trigger()
        assert bench.page.page.id == page.id
    keys = [
        action.shortcut().toString()
        for menu in window.commands.menus
        for action in menu.actions()
        if action.shortcut().toString()
    ]
    assert len(keys) == len(set(keys))
    assert {"Ctrl+N", "Ctrl+O", "Ctrl+S", "Ctrl+Shift+S", "Ctrl+Z", "Ctrl+Shift+Z"} <= set(keys)


@pytest.mark.usefixtures("bench")
def test_that_the_appearance_can_be_chosen(window: MainWindow, qtbot: QtBot) -> None:
    window.commands.appearance["dark"].trigger()
    assert window.theme.colors.dark
    ground = window.backgroundRole()
    qtbot.waitUntil(lambda: window.palette().color(ground).name() == window.theme.colors.window)
    window.choose_appearance(Appearance.LIGHT)
    assert not window.theme.colors.dark


def test_that_the_samples_are_listed_and_open(
    window: MainWindow, furniture: Furniture, desk: Desk
) -> None:
    window.commands.sample_menu.aboutToShow.emit()
    actions = window.commands.sample_menu.actions()
    assert [action.text() for action in actions] == [sample.title for sample in desk.samples()]
    actions[-1].trigger()
    assert furniture.files.editor is not None
    assert furniture.files.editor.job.title == actions[-1].text()


class _Watch(QObject):
    """Notes every window that comes up."""

    def __init__(self) -> None:
        super().__init__()
        self.seen: list[str] = []

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Show and isinstance(watched, QWidget) and watched.isWindow():
            self.seen.append(repr(watched))
        return False


def test_that_building_all_pages_lets_no_stray_window_flash_up(
    qapp: QApplication, furniture: Furniture, editor: Editor
) -> None:
    watch = _Watch()
    qapp.installEventFilter(watch)
    try:
        furniture.files.show(editor)
        assert furniture.bench is not None
        for page in PAGES:
            furniture.bench.show_page(page.id)
        for list_path in ("leaks", "systems", "fans.0.rings", "tests.0.readings"):
            furniture.bench.bridge.add_row(list_path)
    finally:
        qapp.removeEventFilter(watch)
    assert watch.seen == []


def test_that_a_page_turned_to_begins_at_its_top(
    qtbot: QtBot, window: MainWindow, furniture: Furniture
) -> None:
    furniture.open_sample()
    window.resize(1280, 1000)
    assert furniture.bench is not None
    for action in window.commands.page_menu.actions():
        action.trigger()
        page = furniture.bench.page
        qtbot.waitUntil(lambda page=page: page.isAncestorOf(window.focusWidget() or window))
        QApplication.processEvents()
        assert page.verticalScrollBar().value() == 0, page.page.id


def test_that_the_window_opens_no_larger_than_the_screen_has_room_for(
    qtbot: QtBot, theme: Theme, tmp_path: Path
) -> None:
    memory = QSettings(str(tmp_path / "new.ini"), QSettings.Format.IniFormat)
    window = MainWindow(theme, memory)
    qtbot.addWidget(window)
    room = window.screen().availableSize()
    assert window.height() < room.height(), "there is room for the frame too"
    assert window.width() < room.width()
    assert window.height() >= 440, "the least that shows a page"
    window.forget_changes()


def test_that_keys_and_clicks_wait_while_a_dialog_is_in_front(
    window: MainWindow, bench: Workbench, qtbot: QtBot
) -> None:
    def type_into_the_window() -> None:
        handle = window.windowHandle()
        corner = bench.steps.viewport().mapTo(window, QPoint(40, row.center().y()))
        QTest.mouseClick(handle, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, corner)
        QTest.keyClick(handle, Qt.Key.Key_PageDown)

    row = bench.steps.visualItemRect(bench.steps.item(len(PAGES) - 1))
    dialog = QDialog(window)
    dialog.open()
    qtbot.waitUntil(lambda: QApplication.activeModalWidget() is dialog)
    type_into_the_window()
    assert bench.page.page.id == PAGES[0].id
    dialog.reject()
    type_into_the_window()
    assert bench.page.page.id == PAGES[-1].id
