"""The panel of help: short lists of topics near a page, and the width it was left with."""

from __future__ import annotations

from PySide6.QtCore import Qt, QUrl
from pytestqt.qtbot import QtBot

from deskapp.session.help.topics import HelpBook
from deskapp.session.pages import PAGES
from deskapp.ui.help.help_panel import HelpPanel
from deskapp.ui.main_window import MainWindow
from deskapp.ui.workbench import Workbench


def panel_of(window: MainWindow) -> HelpPanel:
    panel = window.findChild(HelpPanel)
    assert isinstance(panel, HelpPanel)
    return panel


def test_that_topics_close_to_a_page_are_few_until_asked_for(
    window: MainWindow, bench: Workbench
) -> None:
    bench.show_page("setup")
    bench.steps.setFocus()
    window.commands.help.trigger()
    view = panel_of(window).view
    topic = HelpBook(bench.bridge.editor.shelf, bench.bridge.preferences).topic("page:setup")
    page = next(page for page in PAGES if page.id == "setup")
    group = f"{page.title} › {page.sections[-1].title}"
    titles = [entry.title for entry in topic.near if entry.group == group]
    assert [title for title in titles if title in view.toPlainText()] != titles
    assert f"{len(titles) - 6} more" in view.toPlainText()
    view.anchorClicked.emit(QUrl(f"more:{group}"))
    assert [title for title in titles if title not in view.toPlainText()] == []


def test_that_help_comes_up_as_wide_as_it_was_left(
    window: MainWindow, bench: Workbench, qtbot: QtBot
) -> None:
    assert bench.isVisible()
    window.commands.help.trigger()
    panel = panel_of(window)
    qtbot.wait(1)
    assert panel.width() < 0.25 * window.width()
    window.resizeDocks([panel], [400], Qt.Orientation.Horizontal)
    qtbot.waitUntil(lambda: panel.width() == 400)
    panel.close()
    second = HelpPanel(window, window.memory)
    second.open_at(HelpBook(bench.bridge.editor.shelf, bench.bridge.preferences), None)
    qtbot.waitUntil(lambda: second.width() == 400)
