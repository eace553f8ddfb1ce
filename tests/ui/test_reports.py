"""Saving the reports, what keeps one back, and the preview of the very same pages."""

from __future__ import annotations

from pathlib import Path

import pypdf
import pytest
from PySide6.QtCore import QPoint
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from deskapp.domain.fields import label_of
from deskapp.session.editor import Editor
from deskapp.session.reports import ReportKind, drawn_report, gaps_for
from deskapp.ui.desk import Desk
from deskapp.ui.main_window import MainWindow
from deskapp.ui.pages.report_page import ReportPage
from deskapp.ui.pdf_pages import page_images
from deskapp.ui.preview import WIDTH
from deskapp.ui.words import Command
from deskapp.ui.workbench import Workbench

LONG = 20_000


@pytest.fixture
def page(bench: Workbench) -> ReportPage:
    bench.show_page("report")
    assert isinstance(bench.page, ReportPage)
    return bench.page


def wait_for_preview(page: ReportPage, qtbot: QtBot) -> None:
    qtbot.waitUntil(lambda: page.preview.page_count > 0, timeout=LONG)
    qtbot.waitUntil(lambda: not page.preview.dispatcher.is_busy, timeout=LONG)


def test_that_the_preview_shows_every_page_of_the_report_as_it_will_be_saved(
    page: ReportPage, bench: Workbench, desk: Desk, qtbot: QtBot
) -> None:
    wait_for_preview(page, qtbot)
    order = desk.order_reports(bench.bridge.editor)
    images = page_images(drawn_report(order, ReportKind.HOMEOWNER).data, WIDTH)
    assert page.preview.page_count == len(images)
    shown = page.preview.sheets[0].image
    assert shown.size() == images[0].size()
    assert shown == images[0]


def test_that_the_papers_come_first_and_one_command_of_them_stands_out(page: ReportPage) -> None:
    page.complete()
    papers = page.papers
    foot = papers.mapTo(page, papers.rect().bottomLeft()).y()
    assert all(foot < field.mapTo(page, QPoint()).y() for field in page.fields)
    grounds = {
        one: one.palette().color(QPalette.ColorRole.Button) for one in papers.findChildren(Command)
    }
    usual = grounds[papers.print]
    assert [one for one, ground in grounds.items() if ground != usual] == [papers.all]
    assert len(grounds) > 10


def test_that_the_other_report_can_be_previewed(page: ReportPage, qtbot: QtBot) -> None:
    wait_for_preview(page, qtbot)
    page.preview.pick(1)
    qtbot.waitUntil(lambda: not page.preview.dispatcher.is_busy, timeout=LONG)
    assert page.preview.sheets[0].accessibleName().startswith("Compliance report, page 1 of ")


def test_that_the_preview_follows_the_job_once_typing_has_calmed(
    page: ReportPage, bench: Workbench, qtbot: QtBot
) -> None:
    wait_for_preview(page, qtbot)
    before = page.preview.sheets[0].image
    bench.bridge.enter("tester.company", "Another Company of Testers")
    qtbot.waitUntil(lambda: page.preview.sheets[0].image != before, timeout=LONG)


@pytest.mark.parametrize("kind", [kind for kind in ReportKind if kind is not ReportKind.RETEST])
def test_that_a_report_is_saved_where_the_dialog_says(
    page: ReportPage,
    window: MainWindow,
    bench: Workbench,
    desk: Desk,
    qtbot: QtBot,
    tmp_path: Path,
    kind: ReportKind,
) -> None:
    window.commands.reports[kind].trigger()
    dialog = next(d for d in window.findChildren(QFileDialog) if d.isVisible())
    assert dialog.selectedFiles()[0].endswith(f"J-0001 {kind.value}.pdf")
    target = tmp_path / "report.pdf"
    dialog.setDirectory(str(tmp_path))
    dialog.selectFile(str(target))
    dialog.accept()
    qtbot.waitUntil(lambda: "is saved" in page.papers.message.text, timeout=LONG)
    assert target.read_bytes() == drawn_report(desk.order_reports(bench.bridge.editor), kind).data
    assert "J-0001" in pypdf.PdfReader(target).pages[0].extract_text()


def test_that_a_stop_keeps_only_the_compliance_report_back_and_says_which(
    page: ReportPage, window: MainWindow, bench: Workbench
) -> None:
    bench.bridge.enter("systems.0.area_served", "plenty")
    page.papers.ask_where("compliance")
    assert not [d for d in window.findChildren(QFileDialog) if d.isVisible()]
    assert "cannot be made yet" in page.papers.message.text
    assert "plenty" in page.papers.stops.item(0).text()
    page.papers.stops.itemActivated.emit(page.papers.stops.item(0))
    assert bench.page.page.id == "house"
    bench.show_page("report")
    page.papers.ask_where("homeowner")
    assert [d for d in window.findChildren(QFileDialog) if d.isVisible()]


def test_that_what_is_not_filled_in_is_listed_only_here_and_leads_to_its_field(
    page: ReportPage, bench: Workbench, desk: Desk
) -> None:
    gaps = gaps_for(ReportKind.COMPLIANCE, desk.order_reports(bench.bridge.editor))
    assert gaps
    names = [page.papers.gaps.item(at).text() for at in range(page.papers.gaps.count())]
    assert names == [label_of(gap.path) for gap in gaps]
    first = page.papers.gaps.visualItemRect(page.papers.gaps.item(0))
    assert page.papers.gaps.viewport().rect().contains(first)
    assert not {gap.text for gap in gaps} & {f.text for f in bench.bridge.findings}
    page.papers.gaps.itemActivated.emit(page.papers.gaps.item(0))
    assert bench.focusWidget().accessibleName() in gaps[0].what


def test_that_the_paper_is_remembered_and_used(
    page: ReportPage, bench: Workbench, desk: Desk, qtbot: QtBot
) -> None:
    wait_for_preview(page, qtbot)
    letter = page.preview.sheets[0].image.size()
    at = page.papers.papers.findData("a4")
    page.papers.papers.setCurrentIndex(at)
    page.papers.papers.activated.emit(at)
    assert desk.preferences.paper.value == "a4"
    assert bench.bridge.preferences.paper.value == "a4"
    qtbot.waitUntil(lambda: page.preview.sheets[0].image.size() != letter, timeout=LONG)


def test_that_a_folder_that_cannot_be_written_is_told_in_place(
    page: ReportPage, qtbot: QtBot, tmp_path: Path
) -> None:
    page.papers.save("homeowner", tmp_path / "no folder" / "report.pdf")
    qtbot.waitUntil(lambda: page.papers.message.text.startswith("Must be mended"), timeout=LONG)
    assert "report.pdf" in page.papers.message.text


def test_that_without_a_retest_its_report_is_not_offered_and_its_command_says_why(
    page: ReportPage, window: MainWindow
) -> None:
    assert page.papers.rows[ReportKind.RETEST].isHidden()
    window.commands.reports[ReportKind.RETEST].trigger()
    assert not [d for d in window.findChildren(QFileDialog) if d.isVisible()]
    assert "repeats an earlier one" in page.papers.message.text


def test_that_nothing_said_of_one_job_stays_when_another_is_shown(
    page: ReportPage, bench: Workbench, new_editor: Editor, qtbot: QtBot, tmp_path: Path
) -> None:
    papers = page.papers
    papers.save("homeowner", tmp_path / "one.pdf")
    qtbot.waitUntil(lambda: "is saved" in papers.message.text, timeout=LONG)
    bench.strip.remark("Saved.")
    assert papers.message.isVisible() and papers._open.isVisible()
    bench.open(new_editor)
    bench.show_page("report")
    assert not papers.message.isVisible() and not papers._open.isVisible()
    assert bench.strip.remark_text == ""


def test_that_a_paper_done_after_another_job_was_opened_is_not_told_as_one_of_that_job(
    page: ReportPage, bench: Workbench, new_editor: Editor, qtbot: QtBot, tmp_path: Path
) -> None:
    papers = page.papers
    (tmp_path / "file").write_text("x")
    for place in (tmp_path / "one.pdf", tmp_path / "file" / "two.pdf"):
        papers.save("homeowner", place)
        assert papers.undertaking.is_busy
        bench.open(new_editor)
        bench.show_page("report")
        qtbot.waitUntil(lambda: not papers.undertaking.is_busy, timeout=LONG)
        assert not papers._open.isVisible()
        assert papers.message.isVisible() is (place.name == "two.pdf")
    assert (tmp_path / "one.pdf").is_file()
    assert "The job shown before: " in papers.message.text
