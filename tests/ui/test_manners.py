"""What one can count on: known keys, messages in place, jobs used last, a calm start."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QSettings, Qt, QTime
from PySide6.QtGui import QAction, QImage
from PySide6.QtPrintSupport import QPrintDialog
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QDialog, QFileDialog, QMessageBox, QWidget
from pytestqt.qtbot import QtBot

from deskapp.domain.finding import Level
from deskapp.session.habits import guess
from deskapp.session.pages import PAGES
from deskapp.session.report_kinds import ReportKind
from deskapp.session.resources import Shelf
from deskapp.session.settings import Paper, Preferences, load
from deskapp.ui.columns import Columns
from deskapp.ui.desk import Desk
from deskapp.ui.fields.typed_fields import QuantityField
from deskapp.ui.furnish import Furniture
from deskapp.ui.glyphs import Glyph
from deskapp.ui.levels import level_of
from deskapp.ui.main_window import MainWindow
from deskapp.ui.marks import Mark
from deskapp.ui.pages.form_page import FormPage
from deskapp.ui.theme import Theme
from deskapp.ui.workbench import Workbench

CONTROL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
NONE = Qt.KeyboardModifier.NoModifier


def dialogs(window: MainWindow) -> list[QDialog]:
    return [one for one in window.findChildren(QDialog) if one.isVisible()]


def window_with(
    qtbot: QtBot, theme: Theme, shelf: Shelf, preferences: Preferences, folder: Path
) -> MainWindow:
    """A window as the program opens it the next time."""
    window = MainWindow(theme, QSettings(str(folder / "w.ini"), QSettings.Format.IniFormat))
    qtbot.addWidget(window, before_close_func=MainWindow.forget_changes)
    window.get_ready(Furniture(window, Desk(shelf, preferences, folder)))
    window.show()
    return window


# Jobs used last


def listed(window: MainWindow) -> list[QAction]:
    window.commands.recent_menu.aboutToShow.emit()
    return window.commands.recent_menu.actions()


def test_that_six_jobs_are_offered_the_newest_first_and_the_list_can_be_emptied(
    window: MainWindow,
    furniture: Furniture,
    bench: Workbench,
    desk: Desk,
    qtbot: QtBot,
    tmp_path: Path,
) -> None:
    for number in range(1, 9):
        desk.save(bench.bridge.editor, tmp_path / f"{number}.ductjob")
    texts = [action.text() for action in listed(window) if not action.isSeparator()]
    wanted = [f"{number}.ductjob" for number in (8, 7, 6, 5, 4, 3)]
    assert texts == [*wanted, "Clear this list"]
    furniture.files.open_now(tmp_path / "5.ductjob")
    again = ["5.ductjob", *(name for name in wanted if name != "5.ductjob")]
    qtbot.waitUntil(lambda: [action.text() for action in listed(window)][:6] == again)
    next(action for action in listed(window) if action.text() == "Clear this list").trigger()
    assert [a.text() for a in listed(window) if a.isEnabled() and not a.isSeparator()] == []
    assert desk.preferences.recent == ()


# Saved, and closed


def test_that_the_foot_tells_the_time_of_saving(
    window: MainWindow,
    furniture: Furniture,
    bench: Workbench,
    desk: Desk,
    qtbot: QtBot,
    tmp_path: Path,
) -> None:
    desk.save(bench.bridge.editor, tmp_path / "one.ductjob")
    bench.bridge.enter("title", "Saved again")
    before = QTime.currentTime()
    window.commands.save.trigger()
    qtbot.waitUntil(lambda: not furniture.files.saving.is_busy)
    told = bench.strip.remark_text
    assert told in {f"Saved {time.toString('HH:mm')}" for time in (before, QTime.currentTime())}
    assert bench.strip.isVisible()


def test_that_closing_twice_asks_once_and_one_answer_is_enough(
    window: MainWindow, bench: Workbench, qtbot: QtBot
) -> None:
    bench.bridge.enter("title", "Changed")
    window.close()
    window.close()
    (box,) = [one for one in dialogs(window) if isinstance(one, QMessageBox)]
    assert [button.text().replace("&", "") for button in box.buttons()] != []
    box.button(QMessageBox.StandardButton.Discard).click()
    qtbot.waitUntil(lambda: not window.isVisible())
    assert dialogs(window) == []


# Known keys


@pytest.mark.parametrize(
    ("key", "modifier", "name"),
    [
        (Qt.Key.Key_N, CONTROL, "new"),
        (Qt.Key.Key_O, CONTROL, "open"),
        (Qt.Key.Key_S, CONTROL, "save"),
        (Qt.Key.Key_S, CONTROL | SHIFT, "save_as"),
        (Qt.Key.Key_P, CONTROL, "print"),
        (Qt.Key.Key_Z, CONTROL, "undo"),
        (Qt.Key.Key_Z, CONTROL | SHIFT, "redo"),
        (Qt.Key.Key_Q, CONTROL, "quit"),
    ],
)
@pytest.mark.parametrize("where", ["title", "tests.0.readings.0.fan_signal"])
def test_that_a_known_key_does_the_known_thing_also_from_inside_a_field(
    window: MainWindow,
    bench: Workbench,
    where: str,
    key: Qt.Key,
    modifier: Qt.KeyboardModifier,
    name: str,
) -> None:
    bench.bridge.enter("number", "J-1")
    bench.bridge.enter("number", "J-2")
    bench.bridge.enter("title", "Two steps")
    bench.bridge.undo()
    action: QAction = getattr(window.commands, name)
    done: list[str] = []
    action.triggered.disconnect()
    action.triggered.connect(lambda: done.append(name))
    bench.go_to(where)
    held = QApplication.focusWidget()
    assert held is not None
    before = bench.bridge.editor.job
    QTest.keyClick(held, key, modifier)
    undone = name in ("undo", "redo") and bench.bridge.editor.job is not before
    assert done == [name] or undone


def test_that_escape_closes_what_was_opened_and_keeps_the_job(
    window: MainWindow, furniture: Furniture, bench: Workbench, qtbot: QtBot
) -> None:
    before = bench.bridge.editor.job
    openings = (
        furniture.show_preferences,
        furniture.show_jobs,
        furniture.about,
        furniture.edit_limits,
        window.commands.open.trigger,
        window.commands.print.trigger,
    )
    for opening in openings:
        opening()
        qtbot.waitUntil(lambda: bool(dialogs(window)))
        (dialog,) = dialogs(window)
        assert isinstance(dialog, QFileDialog | QPrintDialog) or dialog.windowTitle()
        QTest.keyClick(dialog, Qt.Key.Key_Escape)
        qtbot.waitUntil(lambda: not dialogs(window))
    assert bench.bridge.editor.job is before


@pytest.mark.parametrize("page_id", [page.id for page in PAGES if page.sections])
def test_that_the_fields_of_a_section_are_visited_as_one_reads(
    bench: Workbench, page_id: str
) -> None:
    bench.show_page(page_id)
    QApplication.processEvents()
    columns = bench.page.findChildren(Columns)
    assert columns or page_id in ("readings", "leave")
    for one in columns:
        fields = [field for field in one.shown if field.isVisible()]
        places = [(field.mapTo(one, QPoint()).y(), field.x()) for field in fields]
        assert places == sorted(places), page_id


# Messages


def marks_in(widget: QWidget) -> list[Glyph]:
    return [mark.glyph for mark in widget.findChildren(Mark) if mark.isVisible()]


@pytest.mark.parametrize(
    ("text", "level"), [("25 Pa", Level.STOP), ("90000", Level.CHECK), ("a barn", Level.STOP)]
)
def test_that_a_message_has_its_icon_stands_under_its_field_and_is_no_window(
    window: MainWindow, bench: Workbench, qtbot: QtBot, text: str, level: Level
) -> None:
    bench.show_page("house")
    assert isinstance(bench.page, FormPage)
    area = next(one for one in bench.page.fields if one.path == "house.floor_area")
    assert isinstance(area, QuantityField)
    area.take_focus()
    area.line.selectAll()
    QTest.keyClicks(area.line, text)
    windows = set(QApplication.topLevelWidgets())
    QTest.keyClick(area.line, Qt.Key.Key_Tab)
    qtbot.waitUntil(area.message.isVisible)
    glyph, word = level_of(level)
    assert area.message.text.startswith(word)
    assert marks_in(area.message) == [glyph]
    below = area.message.mapTo(bench, area.message.rect().topLeft()).y()
    assert below >= area.line.mapTo(bench, area.line.rect().bottomLeft()).y()
    assert {one for one in QApplication.topLevelWidgets() if one.isVisible()} <= windows
    assert dialogs(window) == []


def test_that_the_strip_lists_every_finding_with_its_level_and_field(bench: Workbench) -> None:
    for path in ("house.floor_area", "house.volume", "tests.0.readings.1.fan_signal"):
        bench.bridge.enter(path, "much")
    bench.bridge.enter("systems.0.area_served", "90000")
    bench.show_rest()
    findings = bench.bridge.findings
    assert {finding.level for finding in findings} >= {Level.STOP, Level.CHECK}
    items = [bench.strip.list.item(row) for row in range(bench.strip.list.count())]
    assert len(items) == len(findings)
    for item, finding in zip(items, findings, strict=True):
        assert finding.text in item.text()
        assert item.text().startswith(level_of(finding.level)[1])
        assert item.data(Qt.ItemDataRole.UserRole) == finding.path
    assert sum(map(int, re.findall(r"\d+", bench.strip.summary))) == len(findings)


def test_that_the_icons_of_the_levels_in_the_strip_differ_in_shape(
    bench: Workbench,
) -> None:
    bench.bridge.enter("house.floor_area", "much")
    bench.bridge.enter("systems.0.area_served", "90000")
    bench.show_rest()
    shapes: dict[Level, bytes] = {}
    for row, finding in enumerate(bench.bridge.findings):
        icon = bench.strip.list.item(row).icon().pixmap(48, 48).toImage()
        gray = icon.convertToFormat(QImage.Format.Format_Alpha8)
        shapes[finding.level] = bytes(gray.constBits())
    assert len(shapes) >= 2
    for level in Level:
        icon = level_of(level)[0]
        assert [other for other in Level if level_of(other)[0] is icon] == [level]
    assert len(set(shapes.values())) == len(shapes)


def test_that_only_a_stop_keeps_a_paper_back(
    window: MainWindow, bench: Workbench, qtbot: QtBot
) -> None:
    papers = bench.report_page.papers
    bench.bridge.enter("systems.0.area_served", "1,900")
    levels = {finding.level for finding in bench.bridge.findings}
    assert Level.CHECK in levels
    assert Level.STOP not in levels
    papers.ask_where(ReportKind.COMPLIANCE.value)
    qtbot.waitUntil(lambda: bool(dialogs(window)))
    (dialog,) = dialogs(window)
    assert isinstance(dialog, QFileDialog)
    dialog.reject()
    bench.bridge.enter("house.floor_area", "much")
    papers.ask_where(ReportKind.COMPLIANCE.value)
    assert [one for one in dialogs(window) if isinstance(one, QFileDialog)] == []
    assert "Mend the stops listed above" in papers.message.text
    bench.show_page("report")
    assert "much" in papers.stops.item(0).text()


# The start


def test_that_the_first_start_asks_nothing_and_shows_three_ways(
    qtbot: QtBot, theme: Theme, shelf: Shelf, tmp_path: Path
) -> None:
    window = window_with(qtbot, theme, shelf, Preferences(), tmp_path)
    QApplication.processEvents()
    assert dialogs(window) == []
    assert window.stack.currentWidget() is window.start
    ways = [way.text() for way in window.start.ways if way.isVisible()]
    assert ways[:3] == ["New job", "Open a job…", "Open the sample"]
    assert window.start.recent_buttons == []


@pytest.mark.parametrize(
    ("place", "unit", "paper"),
    [("en_US", "ft²", Paper.LETTER), ("en_CA", "m²", Paper.LETTER), ("de_DE", "m²", Paper.A4)],
)
def test_that_units_and_paper_of_a_new_job_follow_the_place_and_a_choice_is_remembered(
    qtbot: QtBot, theme: Theme, shelf: Shelf, tmp_path: Path, place: str, unit: str, paper: Paper
) -> None:
    preferences = guess(place, "")
    window = window_with(qtbot, theme, shelf, preferences, tmp_path)
    window.start.ways[0].click()
    furniture = window.furniture
    assert isinstance(furniture, Furniture)
    bench = furniture.bench
    assert bench is not None
    bench.bridge.enter("house.floor_area", "100")
    assert bench.bridge.editor.shown_text("house.floor_area").endswith(unit)
    bench.show_page("report")
    papers = bench.report_page.papers.papers
    assert papers.currentData() == paper.value
    other = Paper.A4 if paper is Paper.LETTER else Paper.LETTER
    papers.setCurrentIndex(papers.findData(other.value))
    papers.activated.emit(papers.currentIndex())
    kept, _findings = load(tmp_path, Preferences())
    assert kept.paper is other
