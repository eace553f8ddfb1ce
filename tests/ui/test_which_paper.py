"""Which of the papers is printed is chosen before the printer."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtPrintSupport import QPrintDialog
from pytestqt.qtbot import QtBot

from deskapp.session.reports import ReportKind
from deskapp.ui.main_window import MainWindow
from deskapp.ui.marks import Notice
from deskapp.ui.papers.print_dialog import PrintDialog
from deskapp.ui.places import path_of
from deskapp.ui.workbench import Workbench


def test_that_another_paper_than_the_one_previewed_can_be_printed_by_keys(
    window: MainWindow, bench: Workbench, qtbot: QtBot
) -> None:
    window.commands.print.trigger()
    asking = next(d for d in window.findChildren(PrintDialog) if d.isVisible())
    qtbot.waitUntil(asking.papers[ReportKind.HOMEOWNER].hasFocus)
    assert all(dot.text() and dot.accessibleDescription() for dot in asking.papers.values())
    qtbot.keyClick(asking.focusWidget(), Qt.Key.Key_Down)
    assert asking.kind is ReportKind.COMPLIANCE
    qtbot.keyClick(asking, Qt.Key.Key_Return)
    dialog = next(d for d in window.findChildren(QPrintDialog) if d.isVisible())
    assert dialog.windowTitle() == "Compliance report"
    dialog.reject()
    assert not bench.report_page.papers.undertaking.is_busy


def test_that_a_paper_that_stops_keep_back_says_so_and_cannot_be_printed(
    window: MainWindow, bench: Workbench
) -> None:
    bench.bridge.choose("safety.gas_smell", "yes")
    bench.show_page("report")
    bench.report_page.papers.ask_how_to_print(ReportKind.COMPLIANCE, lambda: None)
    asking = next(d for d in window.findChildren(PrintDialog) if d.isVisible())
    held = asking.papers[ReportKind.COMPLIANCE]
    assert not held.isEnabled()
    assert "stops keep it back" in held.text()
    assert asking.kind is None, "no other paper is printed by mistake"
    assert not asking.go_on.isEnabled()
    asking.papers[ReportKind.TECHNICAL].click()
    assert asking.go_on.isEnabled()
    asking.reject()


@pytest.mark.parametrize("asks_printer", [False, True])
def test_that_whoever_does_not_print_after_all_is_back_where_he_was(
    window: MainWindow, bench: Workbench, asks_printer: bool
) -> None:
    path = "systems.0.area_served"
    bench.go_to(path)
    window.commands.print.trigger()
    asking = next(d for d in window.findChildren(PrintDialog) if d.isVisible())
    if asks_printer:
        asking.papers[ReportKind.HOMEOWNER].click()
        asking.go_on.click()
        next(d for d in window.findChildren(QPrintDialog) if d.isVisible()).reject()
    else:
        asking.reject()
    assert bench.page.page.id == "house"
    assert path_of(window.focusWidget()) == path


def test_that_the_certificate_says_before_it_is_printed_what_is_not_filled_in(
    window: MainWindow, bench: Workbench
) -> None:
    bench.bridge.enter("tester.name", "")
    window.commands.print.trigger()
    asking = next(d for d in window.findChildren(PrintDialog) if d.isVisible())
    gaps = bench.report_page.papers.gaps.count()
    assert gaps
    told = f"Not filled in yet: {gaps}"
    assert told in asking.papers[ReportKind.COMPLIANCE].accessibleDescription()
    assert told not in asking.papers[ReportKind.HOMEOWNER].accessibleDescription()
    seen = [one for one in asking.findChildren(Notice) if one.isVisible()]
    assert len(seen) == 1
    asking.reject()
