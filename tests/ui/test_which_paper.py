"""Which of the papers is printed is chosen before the printer."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtPrintSupport import QPrintDialog
from pytestqt.qtbot import QtBot

from deskapp.session.reports import ReportKind
from deskapp.ui.main_window import MainWindow
from deskapp.ui.papers.print_dialog import PrintDialog
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
    bench.report_page.papers.ask_how_to_print(ReportKind.COMPLIANCE)
    asking = next(d for d in window.findChildren(PrintDialog) if d.isVisible())
    held = asking.papers[ReportKind.COMPLIANCE]
    assert not held.isEnabled()
    assert "stops keep it back" in held.text()
    assert asking.kind is None, "no other paper is printed by mistake"
    assert not asking.go_on.isEnabled()
    asking.papers[ReportKind.TECHNICAL].click()
    assert asking.go_on.isEnabled()
    asking.reject()
