"""Help at the side, help in front of a dialog, and the way around: all by keys."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from deskapp.session.help.data import tour_steps
from deskapp.ui.company.usual_dialog import UsualDialog
from deskapp.ui.furnish import Furniture
from deskapp.ui.help.help_panel import HelpPanel
from deskapp.ui.help.topic_view import TopicDialog
from deskapp.ui.help.tour_bar import TourBar
from deskapp.ui.main_window import MainWindow
from deskapp.ui.theme import Appearance, Theme
from deskapp.ui.workbench import Workbench

F1 = Qt.Key.Key_F1


def focus(window: MainWindow) -> object:
    return window.focusWidget()


def press(qtbot: QtBot, key: Qt.Key, modifier=Qt.KeyboardModifier.NoModifier) -> None:
    widget = QApplication.focusWidget()
    assert widget is not None
    qtbot.keyClick(widget, key, modifier)


def panel_of(window: MainWindow) -> HelpPanel:
    panel = window.findChild(HelpPanel)
    assert isinstance(panel, HelpPanel)
    return panel


@pytest.mark.parametrize(
    ("path", "title"),
    [
        ("systems.0.area_served", "Floor area served"),
        ("tests.0.readings.0.fan_signal", "Fan signal"),
        ("tests.0.setup.stage", "Stage"),
        ("systems.0.air_handler_installed", "Air handler in place during the test"),
    ],
)
def test_that_f1_explains_the_field_that_has_the_cursor(
    window: MainWindow, bench: Workbench, qtbot: QtBot, path: str, title: str
) -> None:
    bench.go_to(path)
    before = focus(window)
    press(qtbot, F1)
    panel = panel_of(window)
    assert panel.isVisible()
    assert panel.view.topic is not None
    assert panel.view.topic.title == title
    assert title in panel.view.toPlainText()
    press(qtbot, Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: not panel.isVisible() and focus(window) is before)


def test_that_f1_elsewhere_explains_the_page(
    window: MainWindow, bench: Workbench, qtbot: QtBot
) -> None:
    bench.show_page("result")
    bench.steps.setFocus()
    press(qtbot, F1)
    topic = panel_of(window).view.topic
    assert topic is not None
    assert topic.title == "Result"


def test_that_a_formula_is_shown_with_its_units_and_source(
    window: MainWindow, bench: Workbench, qtbot: QtBot
) -> None:
    bench.go_to("fans.0.rings.0.coefficient")
    press(qtbot, F1)
    text = panel_of(window).view.toPlainText()
    assert "Q = K * signal^n" in text
    assert "fan pressure signal, zero or positive [Pa]" in text
    assert "ASTM E1554" in text


def test_that_topics_are_searched_and_opened_by_keys_without_a_job(
    window: MainWindow, furniture: Furniture, qtbot: QtBot
) -> None:
    furniture.help()
    panel = panel_of(window)
    qtbot.keyClicks(panel.search, "too close")
    assert panel.list.count() >= 2
    assert panel.list.item(0).flags() == Qt.ItemFlag.NoItemFlags
    qtbot.keyClick(panel.search, Qt.Key.Key_Return)
    assert panel.view.topic is not None
    assert panel.view.topic.id == "about:close"
    panel.search.setText("zzyzx")
    assert panel.list.item(0).text().startswith("Nothing found")
    qtbot.keyClick(panel.search, Qt.Key.Key_Return)
    assert panel.stack.currentWidget() is panel.list


def test_that_a_link_leads_to_another_topic(
    window: MainWindow, bench: Workbench, qtbot: QtBot
) -> None:
    bench.go_to("systems.0.area_served")
    press(qtbot, F1)
    view = panel_of(window).view
    view.wanted.emit("about:area")
    assert view.topic is not None
    assert view.topic.id == "about:area"


def test_that_f1_explains_a_field_of_a_dialog_in_front_of_it(
    furniture: Furniture, window: MainWindow, qtbot: QtBot
) -> None:
    furniture.edit_usual()
    dialog = next(one for one in window.findChildren(UsualDialog) if one.isVisible())
    field = dialog.sheets[0].fields[0]
    field.input.setFocus()
    qtbot.keyClick(field.input, F1)
    shown = dialog.findChild(TopicDialog)
    assert isinstance(shown, TopicDialog)
    assert shown.isVisible()
    assert shown.view.topic is not None
    assert shown.view.topic.title == field.spec.label
    shown.accept()
    dialog.reject()


def test_that_help_follows_the_appearance(
    window: MainWindow, bench: Workbench, qtbot: QtBot, theme: Theme
) -> None:
    bench.go_to("systems.0.area_served")
    press(qtbot, F1)
    view = panel_of(window).view
    light = view.toHtml()
    theme.choose(Appearance.DARK)
    qtbot.waitUntil(lambda: view.toHtml() != light)


def test_that_the_way_around_is_walked_by_keys_and_ends_at_any_time(
    window: MainWindow, furniture: Furniture, qtbot: QtBot
) -> None:
    window.commands.tour.trigger()
    bench = furniture.bench
    assert bench is not None
    bar = bench.findChild(TourBar)
    assert isinstance(bar, TourBar)
    seen = []
    for step in tour_steps():
        qtbot.waitUntil(lambda: bar.next.hasFocus())
        seen.append(bench.page.page.id)
        assert bar.title.text() == step.title
        assert step.text in bar.next.accessibleDescription()
        press(qtbot, Qt.Key.Key_Return)
    assert seen == [step.page for step in tour_steps()]
    assert not bar.isVisible()
    window.commands.tour.trigger()
    assert bar.isVisible()
    press(qtbot, Qt.Key.Key_Escape)
    assert not bar.isVisible()


def test_that_opening_another_job_ends_the_way_around(
    window: MainWindow, furniture: Furniture
) -> None:
    window.commands.tour.trigger()
    assert furniture.bench is not None
    bar = furniture.bench.findChild(TourBar)
    assert isinstance(bar, TourBar)
    furniture.files.new_now()
    assert not bar.isVisible()
