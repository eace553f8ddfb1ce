"""Whoever works by keyboard sees where he is: what has the focus looks otherwise than without it.

WCAG 2.2, success criteria 2.4.7 (focus visible) and 1.4.11 (3:1 for what shows a state).
"""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication, QHBoxLayout, QMessageBox, QPushButton, QWidget
from pytestqt.qtbot import QtBot
from resting import settle

from deskapp.session.colors import contrast
from deskapp.session.pages import PAGES
from deskapp.ui.main_window import MainWindow
from deskapp.ui.theme import Appearance, Theme
from deskapp.ui.words import Command
from deskapp.ui.workbench import Workbench


def stops_of(root: QWidget) -> list[QWidget]:
    """What the Tab key reaches in `root`."""
    tab = Qt.FocusPolicy.TabFocus.value
    return [
        one
        for one in root.findChildren(QWidget)
        if one.focusPolicy().value & tab == tab
        and one.isVisible()
        and one.isEnabled()
        and one.focusProxy() is None
    ]


def picture(widget: QWidget) -> QImage:
    """Return how a widget looks."""
    return widget.grab().toImage()


@pytest.fixture
def still_cursor(qapp: QApplication) -> Iterator[None]:
    usual = qapp.cursorFlashTime()
    qapp.setCursorFlashTime(0)
    yield
    qapp.setCursorFlashTime(usual)


@pytest.mark.usefixtures("still_cursor")
@pytest.mark.parametrize("page_id", [page.id for page in PAGES])
def test_that_the_focus_is_seen_wherever_the_tab_key_leads(
    window: MainWindow, bench: Workbench, page_id: str
) -> None:
    bench.show_page(page_id)
    assert bench.page.isVisible()
    settle()
    unseen: list[str] = []
    for stop in stops_of(window):
        outside = next(one for one in stops_of(window) if one is not stop)
        outside.setFocus(Qt.FocusReason.TabFocusReason)
        without = picture(stop)
        stop.setFocus(Qt.FocusReason.TabFocusReason)
        if stop.hasFocus() and picture(stop) == without:
            unseen.append(f"{type(stop).__name__} “{stop.accessibleName()}”")
    assert unseen == []


@pytest.mark.parametrize("appearance", [Appearance.LIGHT, Appearance.DARK])
@pytest.mark.parametrize("is_main", [False, True])
def test_that_the_ring_of_a_button_stands_out(
    qtbot: QtBot, theme: Theme, appearance: Appearance, is_main: bool
) -> None:
    theme.choose(appearance)
    box = QWidget()
    qtbot.addWidget(box)
    row = QHBoxLayout(box)
    button, other = Command("Save", main=is_main), Command("Discard")
    row.addWidget(button)
    row.addWidget(other)
    with qtbot.waitActive(box):
        box.show()
        box.activateWindow()
    settle()
    other.setFocus()
    without = picture(button)
    button.setFocus()
    with_focus = picture(button)
    middle = with_focus.width() // 2
    changed = [
        contrast(without.pixelColor(middle, y).name(), with_focus.pixelColor(middle, y).name())
        for y in range(6)
    ]
    theme.choose(Appearance.LIGHT)
    assert max(changed) >= 3.0


def test_that_the_buttons_of_a_question_show_which_has_the_focus(
    qtbot: QtBot, theme: Theme, window: MainWindow
) -> None:
    assert theme
    buttons = QMessageBox.StandardButton
    box = QMessageBox(window)
    box.setStandardButtons(buttons.Save | buttons.Discard | buttons.Cancel)
    qtbot.addWidget(box)
    with qtbot.waitActive(box):
        box.open()
        box.activateWindow()
    settle()
    looks: list[QImage] = []
    for button in box.findChildren(QPushButton):
        button.setFocus()
        looks.append(picture(box))
    assert len(looks) == 3
    assert all(one != two for at, one in enumerate(looks) for two in looks[:at])
