"""A small job from New to the saved report, without the mouse. The figures are invented."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QApplication, QComboBox, QFileDialog, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from deskapp.session.pages import PAGES
from deskapp.ui.furnish import Furniture
from deskapp.ui.limits.chooser import LimitChooser
from deskapp.ui.main_window import MainWindow
from deskapp.ui.words import Command
from deskapp.ui.workbench import Workbench

CONTROL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
NONE = Qt.KeyboardModifier.NoModifier


class Person:
    """Presses keys in whatever has the focus."""

    def __init__(self, qtbot: QtBot, window: MainWindow) -> None:
        self._qtbot = qtbot
        self._window = window

    @property
    def here(self) -> QWidget:
        widget = QApplication.focusWidget()
        assert widget is not None
        return widget

    def press(self, key: Qt.Key, modifier: Qt.KeyboardModifier = NONE) -> None:
        self._qtbot.keyClick(QApplication.focusWidget() or self._window, key, modifier)

    def type(self, text: str) -> None:
        self._qtbot.keyClicks(self.here, text)

    def tab_to(self, name: str) -> None:
        """Press Tab until the widget with this accessible name, or text, has the focus."""
        for _press in range(200):
            own = getattr(self.here, "text", str)()
            if self.here.accessibleName() == name or own == name:
                return
            self.press(Qt.Key.Key_Tab)
        raise AssertionError(f"Tab never came to {name}")

    def fill(self, name: str, text: str) -> None:
        self.tab_to(name)
        self.type(text)

    def choose(self, name: str, steps: int) -> None:
        """Choose the answer `steps` lines below the empty one."""
        self.tab_to(name)
        for _step in range(steps):
            self.press(Qt.Key.Key_Down)

    def answer(self, name: str, value: str) -> None:
        self.tab_to(f"{name}: {value}")
        self.press(Qt.Key.Key_Space)

    def turn_to(self, page_id: str) -> None:
        number = [page.id for page in PAGES].index(page_id) + 1
        self.press(Qt.Key(Qt.Key.Key_0.value + number), CONTROL)


def dialog_of(window: MainWindow, kind: type[QWidget]) -> QWidget:
    return next(widget for widget in window.findChildren(kind) if widget.isVisible())


def type_the_job(person: Person, window: MainWindow, qtbot: QtBot) -> None:
    person.press(Qt.Key.Key_N, CONTROL)
    person.fill("Job number", "J-7")
    person.turn_to("house")
    person.fill("Floor area served", "1520")
    person.answer("Air handler in place during the test", "Yes")
    person.tab_to("Choose a limit…")
    person.press(Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: isinstance(QApplication.activeModalWidget(), LimitChooser))
    dialog = dialog_of(window, LimitChooser)
    assert isinstance(dialog, LimitChooser)
    qtbot.keyClicks(dialog.search, "iecc 2018")
    qtbot.keyClick(dialog.search, Qt.Key.Key_Return)
    qtbot.waitUntil(window.isActiveWindow)
    person.turn_to("setup")
    for name, text in (
        ("Lowest flow (fan 1, ring 1)", "20"),
        ("Highest flow (fan 1, ring 1)", "150"),
        ("Coefficient (fan 1, ring 1)", "9.5"),
        ("Exponent (fan 1, ring 1)", "0.5"),
        ("Lowest signal (fan 1, ring 1)", "25"),
        ("Highest signal (fan 1, ring 1)", "250"),
    ):
        person.fill(name, text)
    person.choose("Stage", 1)
    person.choose("What was measured", 1)
    person.choose("Direction", 2)
    person.choose("Duct pressure is against", 1)
    person.fill("Target pressure", "25")
    person.choose("Ring fitted", 1)
    person.choose("Air density", 2)
    person.turn_to("readings")
    person.tab_to("Duct pressure (test 1, reading 1)")
    for text in ("-25.0", "-24.8", "-25.1"):
        person.type(text)
        person.press(Qt.Key.Key_Return)


def test_that_a_job_is_made_from_new_to_the_saved_report_without_a_mouse(
    window: MainWindow, furniture: Furniture, qtbot: QtBot, tmp_path: Path
) -> None:
    person = Person(qtbot, window)
    type_the_job(person, window, qtbot)
    bench = furniture.bench
    assert isinstance(bench, Workbench)
    person.turn_to("readings")
    person.tab_to("Fan signal (test 1, reading 1)")
    for text in ("32.4", "31.9", "32.6"):
        person.type(text)
        person.press(Qt.Key.Key_Return)
    bench.bridge.settle()
    bench.show_rest()
    assert [card.verdict for card in bench.result.cards] == ["Pass"]
    person.press(Qt.Key.Key_S, CONTROL)
    answer(window, tmp_path / "keys.ductjob", qtbot)
    qtbot.waitUntil(lambda: not furniture.has_unsaved)
    assert (tmp_path / "keys.ductjob").exists()
    with qtbot.waitActive(window):  # without a screen nobody gives the focus back
        window.activateWindow()
    person.press(Qt.Key.Key_H, CONTROL | SHIFT)
    answer(window, tmp_path / "keys.pdf", qtbot)
    qtbot.waitUntil((tmp_path / "keys.pdf").exists, timeout=20_000)


def answer(window: MainWindow, path: Path, qtbot: QtBot) -> None:
    """Paste a file name into the file dialog and press Enter."""
    qtbot.waitUntil(lambda: isinstance(QApplication.activeModalWidget(), QFileDialog))
    dialog = dialog_of(window, QFileDialog)
    line = dialog.findChild(QLineEdit, "fileNameEdit")
    assert isinstance(line, QLineEdit)
    line.selectAll()
    QApplication.clipboard().setText(str(path))
    qtbot.keyClick(line, Qt.Key.Key_V, CONTROL)
    if line.completer() is not None:
        line.completer().popup().hide()
    qtbot.keyClick(line, Qt.Key.Key_Return)
    qtbot.waitUntil(window.isActiveWindow)


def test_that_enter_presses_a_button_that_has_the_focus(qtbot: QtBot) -> None:
    button = Command("Add a reading")
    qtbot.addWidget(button)
    with qtbot.waitSignal(button.clicked):
        qtbot.keyClick(button, Qt.Key.Key_Return)


def test_that_a_page_turned_to_by_its_key_again_stays_where_it_was_scrolled_to(
    bench: Workbench, window: MainWindow
) -> None:
    turn = window.commands.page_menu.actions()
    turn[1].trigger()
    QApplication.processEvents()
    page = bench.page
    bar = page.verticalScrollBar()
    assert bar.maximum() > 200
    bar.setValue(200)
    turn[0].trigger()
    QApplication.processEvents()
    turn[1].trigger()
    for _turn in range(5):
        QApplication.processEvents()
    assert bench.page is page
    assert bar.value() == 200
    held = bench.window().focusWidget()
    assert page.isAncestorOf(held)
    place = held.mapTo(page.viewport(), held.rect().center())
    assert page.viewport().rect().contains(place), "the cursor is in sight"


def test_that_the_key_of_the_page_shown_leads_to_its_beginning(
    bench: Workbench, window: MainWindow
) -> None:
    """Common practice, no source: the key of a page puts the cursor into that page."""
    turn = window.commands.page_menu.actions()[1]
    turn.trigger()
    QApplication.processEvents()
    page, first = bench.page, window.focusWidget()
    page.verticalScrollBar().setValue(page.verticalScrollBar().maximum())
    for _step in range(6):
        page.focusNextChild()
    QApplication.processEvents()
    page.verticalScrollBar().setValue(page.verticalScrollBar().maximum())
    assert window.focusWidget() is not first
    turn.trigger()
    for _turn in range(5):
        QApplication.processEvents()
    assert window.focusWidget() is first
    assert page.verticalScrollBar().value() == 0


def test_that_the_wheel_scrolls_and_neither_changes_a_choice_nor_brings_the_cursor_to_it(
    bench: Workbench,
) -> None:
    for step in PAGES:
        bench.show_page(step.id)
        boxes = bench.page.findChildren(QComboBox)
        for box in boxes:
            assert box.focusPolicy() is not Qt.FocusPolicy.WheelFocus
            before = box.currentIndex()
            point = QPointF(4, 4)
            event = QWheelEvent(
                point,
                QPointF(box.mapToGlobal(point.toPoint())),
                QPoint(),
                QPoint(0, -120),
                Qt.MouseButton.NoButton,
                Qt.KeyboardModifier.NoModifier,
                Qt.ScrollPhase.NoScrollPhase,
                False,
            )
            QApplication.sendEvent(box, event)
            assert box.currentIndex() == before
            assert not box.hasFocus()


def test_that_enter_begins_a_job_on_the_start_page(window: MainWindow, qtbot: QtBot) -> None:
    assert QApplication.focusWidget() is window.start.ways[0]
    qtbot.keyClick(window.start.ways[0], Qt.Key.Key_Return)
    assert window.stack.currentWidget() is not window.start
