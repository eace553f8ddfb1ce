"""Changing a template in its dialog: by key, with the very PDF beside it, kept and used."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from deskapp.session.report_kinds import ReportKind
from deskapp.session.reports import draft_bytes, drawn_report
from deskapp.ui.desk import Desk
from deskapp.ui.main_window import MainWindow
from deskapp.ui.pages.report_page import ReportPage
from deskapp.ui.papers.template_dialog import TemplateDialog
from deskapp.ui.pdf_pages import page_images
from deskapp.ui.preview import WIDTH
from deskapp.ui.workbench import Workbench

LONG = 40_000


@pytest.fixture
def page(bench: Workbench) -> ReportPage:
    bench.show_page("report")
    assert isinstance(bench.page, ReportPage)
    return bench.page


@pytest.fixture
def dialog(page: ReportPage, window: MainWindow, qtbot: QtBot) -> TemplateDialog:
    page.papers.rows[ReportKind.HOMEOWNER].change.click()
    [opened] = window.findChildren(TemplateDialog)
    qtbot.waitUntil(lambda: opened.sheets.count > 0, timeout=LONG)
    return opened


def wait_for_pages(dialog: TemplateDialog, qtbot: QtBot) -> None:
    qtbot.waitUntil(
        lambda: not dialog.dispatcher.is_busy and dialog.remark.text() != "Drawing…", timeout=LONG
    )


def test_that_alt_and_an_arrow_move_a_part_and_the_pages_follow(
    dialog: TemplateDialog, desk: Desk, bench: Workbench, qtbot: QtBot
) -> None:
    assert dialog.blocks.at == (0,)
    first = dialog.sheets.sheets[0].image
    QTest.keyClick(dialog.blocks, Qt.Key.Key_Down, Qt.KeyboardModifier.AltModifier)
    assert dialog.blocks.at == (1,)
    assert dialog.draft.blocks()[0].title == "Danger panel"
    for _step in range(5):
        QTest.keyClick(dialog.blocks, Qt.Key.Key_Down, Qt.KeyboardModifier.AltModifier)
    qtbot.waitUntil(lambda: dialog.sheets.sheets[0].image != first, timeout=LONG)
    wait_for_pages(dialog, qtbot)
    data = draft_bytes(desk.order_reports(bench.bridge.editor), dialog.draft)
    assert dialog.sheets.sheets[0].image == page_images(data, WIDTH)[0]


def test_that_the_space_bar_leaves_a_part_out_but_not_one_that_has_to_stay(
    dialog: TemplateDialog,
) -> None:
    rows = dialog.draft.blocks()
    QTest.keyClick(dialog.blocks, Qt.Key.Key_Space)
    assert not dialog.draft.blocks()[0].is_shown
    QTest.keyClick(dialog.blocks, Qt.Key.Key_Space)
    assert dialog.draft.blocks() == rows
    QTest.keyClick(dialog.blocks, Qt.Key.Key_Down)
    assert dialog.draft.blocks()[1].stays
    QTest.keyClick(dialog.blocks, Qt.Key.Key_Space)
    assert dialog.draft.blocks()[1].is_shown


def test_that_a_wrong_name_is_told_and_the_last_good_pages_stay(
    dialog: TemplateDialog, qtbot: QtBot
) -> None:
    shown = dialog.sheets.sheets[0].image
    dialog.form.boxes[("title",)].setPlainText("For {ownr}")
    qtbot.waitUntil(lambda: "{ownr} is not known here" in dialog.message.text, timeout=LONG)
    assert dialog.sheets.sheets[0].image == shown
    dialog.save()
    assert dialog.isVisible()


def test_that_a_template_saved_is_used_and_can_be_put_back(
    dialog: TemplateDialog, page: ReportPage, desk: Desk, bench: Workbench, qtbot: QtBot
) -> None:
    editor = bench.bridge.editor
    before = drawn_report(desk.order_reports(editor), ReportKind.HOMEOWNER).data
    dialog.form.boxes[("title",)].setPlainText("A title of our own")
    dialog.name.setText("Short")
    draft = dialog.draft
    dialog.save()
    assert desk.preferences.own_templates == {"homeowner": "short.toml"}
    order = desk.order_reports(editor)
    assert drawn_report(order, ReportKind.HOMEOWNER).data == draft_bytes(order, draft)
    row = page.papers.rows[ReportKind.HOMEOWNER]
    qtbot.waitUntil(lambda: row.templates.currentText() == "Short", timeout=LONG)
    row.templates.setCurrentIndex(0)
    row.templates.activated.emit(0)
    assert desk.preferences.own_templates == {}
    assert drawn_report(desk.order_reports(editor), ReportKind.HOMEOWNER).data == before


def test_that_a_template_needs_a_name(dialog: TemplateDialog) -> None:
    dialog.name.setText("  ")
    dialog.save()
    assert "Give the template a name" in dialog.message.text
    assert dialog.isVisible()


def test_that_a_template_put_into_the_folder_by_hand_is_told_until_it_is_chosen(
    page: ReportPage, desk: Desk
) -> None:
    told = page.papers.about_templates
    page.papers.refresh()
    assert told.isHidden()
    path = desk.folder / "templates" / "ours.toml"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(desk.shelf.templates["homeowner"].read_text("utf-8"), "utf-8")
    page.papers.refresh()
    assert not told.isHidden()
    assert "“ours” (Homeowner report)" in told.text
    row = page.papers.rows[ReportKind.HOMEOWNER]
    at = row.templates.findData("ours.toml")
    row.templates.activated.emit(at)
    page.papers.refresh()
    assert told.isHidden()
