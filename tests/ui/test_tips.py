"""Each button says what it is or why it cannot be pressed, in its tip and to a screen reader.

A name for whatever takes part is asked for by success criterion 4.1.2 of the Web Content
Accessibility Guidelines 2.1 (from memory); that a tip tells why a button is off: common practice,
no source.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QAccessible, QAction, QHelpEvent
from PySide6.QtWidgets import QAbstractButton, QApplication, QDialog, QToolTip, QWidget
from pytestqt.qtbot import QtBot
from whole import make_whole

from deskapp.session.pages import PAGES
from deskapp.ui.fields.chosen_fields import Choices
from deskapp.ui.fields.plain_line import PlainLine
from deskapp.ui.furnish import Furniture
from deskapp.ui.main_window import MainWindow
from deskapp.ui.photos.signature_dialog import SignatureDialog
from deskapp.ui.row_tabs import RowTab, RowTabs
from deskapp.ui.words import Command
from deskapp.ui.workbench import Workbench

DIALOGS: dict[str, Callable[[Furniture], object]] = {
    "preferences": Furniture.show_preferences,
    "instruments": Furniture.show_instruments,
    "limits": lambda furniture: furniture.bench.choose_limit(),
    "own limits": Furniture.edit_limits,
    "sampling": Furniture.sample_units,
    "branding": Furniture.edit_branding,
    "key": Furniture.edit_signing_key,
    "check": Furniture.check_report,
    "jobs": Furniture.show_jobs,
    "mail": lambda furniture: furniture.bench.mail_reports(),
    "issue": lambda furniture: furniture.bench.issue_report("homeowner"),
    "signature": lambda furniture: SignatureDialog(furniture.bench).open(),
}


def untold(root: QWidget) -> list[str]:
    """Return buttons that show no words and no tip, have no name, or are off without a reason."""
    found: list[str] = []
    for button in root.findChildren(QAbstractButton):
        if not button.isVisibleTo(root) or (button.objectName() or "").startswith("qt_"):
            continue
        told = QAccessible.queryAccessibleInterface(button)
        name = told.text(QAccessible.Text.Name).strip()
        where = (
            f"{type(button).__name__} {name or button.text()} in {type(button.parent()).__name__}"
        )
        if not any(sign.isalnum() for sign in button.text()) and not button.toolTip():
            found.append(f"{where}: a picture without a tip")
        if not name:
            found.append(f"{where}: no name")
        # One that is off with all around it is not off by itself: the page says why.
        is_off = button.testAttribute(Qt.WidgetAttribute.WA_ForceDisabled)
        if is_off and not button.toolTip():
            found.append(f"{where}: off without a reason")
    return found


@pytest.mark.parametrize("page_id", [page.id for page in PAGES])
def test_that_each_button_of_a_page_says_what_it_is(bench: Workbench, page_id: str) -> None:
    bench.show_page(page_id)
    QApplication.processEvents()
    assert untold(bench.window()) == []


@pytest.mark.parametrize("page_id", [page.id for page in PAGES])
def test_that_so_does_each_one_in_a_new_job(new_bench: Workbench, page_id: str) -> None:
    new_bench.show_page(page_id)
    QApplication.processEvents()
    assert untold(new_bench.window()) == []


@pytest.mark.parametrize("name", DIALOGS)
def test_that_each_button_of_a_dialog_says_what_it_is(
    window: MainWindow, bench: Workbench, furniture: Furniture, name: str
) -> None:
    assert bench.isVisible()
    DIALOGS[name](furniture)
    make_whole()
    dialog = next(one for one in window.findChildren(QDialog) if one.isVisible())
    assert untold(dialog) == []
    dialog.close()


def test_that_commands_that_are_off_say_why_without_a_job(
    window: MainWindow, furniture: Furniture
) -> None:
    assert furniture.bench is None
    window.commands.allow_job(False)
    off = [one for one in window.findChildren(QAction) if not one.isEnabled() and one.text()]
    assert window.commands.save in off and window.commands.undo in off
    assert {one.toolTip() for one in off} == {
        "Open a job first.",
        "There is nothing to undo.",
        "There is nothing to redo.",
    }


def test_that_a_command_says_what_it_is_for_again_once_it_can_be_given(
    window: MainWindow, bench: Workbench
) -> None:
    assert bench.isVisible()
    report = next(iter(window.commands.reports.values()))
    assert report.isEnabled()
    assert report.toolTip() == "The answer in plain words, for the people who live there."


def test_that_a_button_is_told_why_it_is_off_and_forgets_it(qtbot: QtBot) -> None:
    button = Command("Copy")
    qtbot.addWidget(button)
    button.allow(False, "Choose one first.")
    assert (button.toolTip(), button.accessibleDescription()) == ("Choose one first.",) * 2
    button.allow(True, "Choose one first.")
    assert (button.toolTip(), button.accessibleDescription()) == ("", "")
    assert untold(button.parentWidget() or button) == []


def tip_over(widget: QWidget) -> str:
    """Return what comes up when the mouse rests on a widget."""
    QToolTip.hideText()
    place = QPoint(3, 3)
    event = QHelpEvent(QEvent.Type.ToolTip, place, widget.mapToGlobal(place))
    QApplication.sendEvent(widget, event)
    return QToolTip.text()


@pytest.mark.parametrize("kind", ["line", "choice"])
def test_that_a_text_that_is_cut_is_told_whole_and_one_that_fits_is_not(
    qtbot: QtBot, kind: str
) -> None:
    whole = "Duct test fan with flow-range rings, number FA-01"
    widget: PlainLine | Choices
    if kind == "line":
        widget = PlainLine(whole)
    else:
        widget = Choices()
        widget.addItem(whole)
    qtbot.addWidget(widget)
    widget.setToolTip("Which fan was used.")
    widget.show()
    widget.resize(120, 30)
    assert tip_over(widget) == f"{whole}\nWhich fan was used."
    told = QAccessible.queryAccessibleInterface(widget)
    assert whole in {told.text(QAccessible.Text.Name), told.text(QAccessible.Text.Value)}
    widget.resize(900, 30)
    assert tip_over(widget) == "Which fan was used."


def test_that_a_name_cut_on_a_tab_is_told_in_its_tip(qtbot: QtBot) -> None:
    tab = RowTab()
    qtbot.addWidget(tab)
    whole = "Collar of the run to the north bedroom, at the trunk, behind the access panel"
    tab.show_row(whole, None, "")
    assert tab.toolTip() == tab.accessibleName() == whole
    assert tab.sizeHint().width() < tab.fontMetrics().horizontalAdvance(whole)


def test_that_the_name_of_a_test_stands_whole_on_its_tab_where_there_is_room(
    qtbot: QtBot,
) -> None:
    tabs = RowTabs()
    qtbot.addWidget(tabs)
    names = ["Ground floor, after sealing: total, Mar 11, 2026", "Attic, before the work"]
    tabs.show_rows([(name, None, "") for name in names], 0)
    tabs.resize(1000, 40)
    tabs.show()
    for tab, name in zip(tabs.tabs, names, strict=True):
        assert tab.width() >= tab.fontMetrics().horizontalAdvance(name)
