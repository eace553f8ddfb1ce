"""Papers beside the page, on the printer, all in one folder, and by mail."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pypdf
import pytest
from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QImage, QPageRanges
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QComboBox, QLineEdit, QMessageBox
from pytestqt.qtbot import QtBot

from deskapp.session import papers_there
from deskapp.session.issue_desk import Wish, hand_out
from deskapp.session.long_work import GivenUp, LongWork
from deskapp.session.mail_draft import MailDraft
from deskapp.session.reports import ReportKind, ReportProblem, drawn_report, offered
from deskapp.session.settings import Paper
from deskapp.ui.desk import Desk
from deskapp.ui.main_window import MainWindow
from deskapp.ui.papers.mail_dialog import MailDialog
from deskapp.ui.papers.print_dialog import PrintDialog
from deskapp.ui.pdf_pages import page_images
from deskapp.ui.preview import PreviewPane
from deskapp.ui.printing import PrintProblem, pages_wanted, print_pages, printer_for
from deskapp.ui.workbench import Workbench

LONG = 30_000
SMALL = QSize(200, 260)
GRAY = QImage.Format.Format_Grayscale8
WIDE, NARROW = QSize(1600, 900), QSize(900, 700)


def pane_of(window: MainWindow, bench: Workbench, qtbot: QtBot) -> PreviewPane:
    """Return the preview beside the page, drawn."""
    window.resize(WIDE)
    window.commands.preview.setChecked(True)
    qtbot.waitUntil(lambda: bench.pane is not None, timeout=LONG)
    assert bench.pane is not None
    wait_for(bench.pane, qtbot)
    return bench.pane


def wait_for(pane: PreviewPane, qtbot: QtBot) -> None:
    qtbot.waitUntil(lambda: pane.card.page_count > 0, timeout=LONG)
    qtbot.waitUntil(lambda: not pane.card.dispatcher.is_busy, timeout=LONG)


def to_file(path: Path, paper: Paper = Paper.LETTER) -> QPrinter:
    printer = printer_for(paper, "Paper")
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(path))
    return printer


# Preview beside the page


def test_that_the_preview_stands_beside_every_page_and_is_the_file_that_is_saved(
    window: MainWindow, bench: Workbench, qtbot: QtBot, tmp_path: Path
) -> None:
    pane = pane_of(window, bench, qtbot)
    for page in ("house", "readings", "report"):
        bench.show_page(page)
        assert pane.isVisible()
    assert not bench.report_page.preview.isVisible()
    bench.report_page.papers.save(pane.card.kind.value, tmp_path / "saved.pdf")
    qtbot.waitUntil(lambda: "is saved" in bench.report_page.papers.message.text, timeout=LONG)
    assert pane.card.drawn is not None
    assert pane.card.drawn.data == (tmp_path / "saved.pdf").read_bytes()


def test_that_the_preview_goes_where_the_window_is_narrow_and_that_is_said(
    window: MainWindow, bench: Workbench, qtbot: QtBot
) -> None:
    pane_of(window, bench, qtbot)
    window.resize(NARROW)
    qtbot.waitUntil(lambda: bench.pane is None)
    bench.show_page("report")
    assert bench.report_page.preview.isVisible()
    window.commands.preview.setChecked(False)
    window.commands.preview.setChecked(True)
    assert bench.pane is None
    window.resize(WIDE)
    qtbot.waitUntil(lambda: bench.pane is not None)


def test_that_the_scroll_position_is_kept_when_the_report_is_drawn_anew(
    window: MainWindow, bench: Workbench, qtbot: QtBot
) -> None:
    pane = pane_of(window, bench, qtbot)
    bar = pane.verticalScrollBar()
    qtbot.waitUntil(lambda: bar.maximum() > 300, timeout=LONG)
    bar.setValue(250)
    before = pane.card.drawn
    bench.bridge.enter("tester.company", "Another Company of Testers")
    qtbot.waitUntil(lambda: pane.card.drawn is not before, timeout=LONG)
    assert bar.value() == 250


def test_that_only_the_newest_of_several_changes_is_shown(
    window: MainWindow, bench: Workbench, desk: Desk, qtbot: QtBot
) -> None:
    pane = pane_of(window, bench, qtbot)
    for number in range(4):
        bench.bridge.enter("title", f"Lot {number}")
        pane.card.draw()
    qtbot.waitUntil(lambda: not pane.card.dispatcher.is_busy, timeout=LONG)
    assert pane.card.drawn is not None
    order = desk.order_reports(bench.bridge.editor)
    assert pane.card.drawn.data == drawn_report(order, pane.card.kind).data


def test_that_the_page_of_the_field_with_the_cursor_is_found(
    window: MainWindow, bench: Workbench, qtbot: QtBot
) -> None:
    pane = pane_of(window, bench, qtbot)
    at = list(ReportKind).index(ReportKind.TECHNICAL)
    pane.card.pick(at)
    qtbot.waitUntil(lambda: not pane.card.dispatcher.is_busy, timeout=LONG)
    bench.go_to("tests.1.readings.0.fan_signal")
    window.commands.find_in_preview.trigger()
    assert pane.card.drawn is not None
    page = pane.card.drawn.page_of("tests.1.readings.0.fan_signal")
    assert page is not None
    qtbot.waitUntil(lambda: f"is on page {page}" in pane.card.remark)
    text = pypdf.PdfReader(_stream(pane.card.drawn.data)).pages[page - 1].extract_text()
    assert "29.5" in text  # a signal of that test
    assert pane.verticalScrollBar().value() > 0


def test_that_a_field_no_report_prints_is_told_so(
    window: MainWindow, bench: Workbench, qtbot: QtBot
) -> None:
    pane = pane_of(window, bench, qtbot)
    pane.card.show_field("house.volume")
    assert pane.card.remark.endswith("is not printed in this report.")


def _stream(data: bytes) -> object:
    from io import BytesIO

    return BytesIO(data)


# Printing


@pytest.mark.parametrize(("paper", "points"), [(Paper.LETTER, (612, 792)), (Paper.A4, (595, 842))])
def test_that_pages_are_printed_on_the_paper_preferred(
    bench: Workbench, desk: Desk, tmp_path: Path, paper: Paper, points: tuple[int, int]
) -> None:
    # Sizes: ANSI Letter 8.5 × 11 in.; ISO 216 A4 210 × 297 mm, in points of 1/72 in.
    bench.bridge.prefer(desk.preferences.model_copy(update={"paper": paper}))
    data = drawn_report(desk.order_reports(bench.bridge.editor), ReportKind.HOMEOWNER).data
    count = len(pypdf.PdfReader(_stream(data)).pages)
    assert print_pages(data, to_file(tmp_path / "out.pdf", paper), LongWork()) == count
    pages = pypdf.PdfReader(tmp_path / "out.pdf").pages
    assert len(pages) == count
    assert (round(pages[0].mediabox.width), round(pages[0].mediabox.height)) == points
    # The picture is as fine as paper shows: at least 300 dots per inch over the whole page.
    drawn = [one.get_object() for one in pages[0]["/Resources"]["/XObject"].values()]
    assert max(one["/Width"] for one in drawn if "/Width" in one) >= points[0] / 72 * 300


def test_that_a_range_of_pages_is_printed_and_an_empty_one_is_told(
    bench: Workbench, desk: Desk, tmp_path: Path
) -> None:
    data = drawn_report(desk.order_reports(bench.bridge.editor), ReportKind.TECHNICAL).data
    printer = to_file(tmp_path / "two.pdf")
    printer.setPrintRange(QPrinter.PrintRange.PageRange)
    printer.setFromTo(2, 3)
    assert print_pages(data, printer, LongWork()) == 2
    assert len(pypdf.PdfReader(tmp_path / "two.pdf").pages) == 2
    printer = to_file(tmp_path / "none.pdf")
    printer.setPrintRange(QPrinter.PrintRange.PageRange)
    printer.setFromTo(90, 99)
    with pytest.raises(PrintProblem, match="Pages 90 to 99 were asked for"):
        print_pages(data, printer, LongWork())


def test_that_printing_given_up_ends_between_two_pages(
    bench: Workbench, desk: Desk, tmp_path: Path
) -> None:
    data = drawn_report(desk.order_reports(bench.bridge.editor), ReportKind.TECHNICAL).data

    def tell(number: int, _count: int, _name: str) -> None:
        if number == 2:
            work.give_up()

    told: list[int] = []
    work = LongWork(lambda *step: (told.append(step[0]), tell(*step))[0])
    with pytest.raises(GivenUp):
        print_pages(data, to_file(tmp_path / "part.pdf"), work)
    assert told == [1, 2]
    assert not (tmp_path / "part.pdf").exists()
    (tmp_path / "part.pdf").write_bytes(b"an earlier one")
    work = LongWork(lambda *step: tell(*step))
    with pytest.raises(GivenUp):
        print_pages(data, to_file(tmp_path / "part.pdf"), work)
    assert (tmp_path / "part.pdf").read_bytes() == b"an earlier one"
    assert list(tmp_path.glob("*.pdf*")) == [tmp_path / "part.pdf"]


def test_that_the_printed_page_looks_as_the_page_of_the_file(
    bench: Workbench, desk: Desk, tmp_path: Path
) -> None:
    data = drawn_report(desk.order_reports(bench.bridge.editor), ReportKind.TECHNICAL).data
    print_pages(data, to_file(tmp_path / "all.pdf"), LongWork())

    def grays(pages: bytes) -> list[bytes]:
        """Each page with its letters blurred, since lines of dots fall otherwise."""
        small = [
            page.scaled(SMALL, mode=Qt.TransformationMode.SmoothTransformation)
            for page in page_images(pages, 1700)
        ]
        return [bytes(one.convertToFormat(GRAY).constBits()) for one in small]

    def apart(one: bytes, other: bytes) -> float:
        return sum(abs(a - b) for a, b in zip(one, other, strict=True)) / len(one)

    meant, drawn = grays(data), grays((tmp_path / "all.pdf").read_bytes())
    assert len(meant) == len(drawn) > 2
    for at, page in enumerate(drawn):
        distances = [apart(page, other) for other in meant]
        assert distances[at] < 1, "of 255 steps of gray"
        assert all(other > 3 * distances[at] for n, other in enumerate(distances) if n != at)


def test_that_an_issued_report_is_not_printed_over(
    bench: Workbench, desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    data = drawn_report(desk.order_reports(bench.bridge.editor), ReportKind.HOMEOWNER).data
    path = tmp_path / "issued.pdf"
    path.write_bytes(b"issued")
    monkeypatch.setattr(papers_there, "why_kept", lambda _path: ("issued", "That is an issue."))
    with pytest.raises(ReportProblem, match="That is an issue"):
        print_pages(data, to_file(path), LongWork())
    assert path.read_bytes() == b"issued"


@pytest.mark.usefixtures("qtbot")
@pytest.mark.parametrize(
    ("asked", "order", "wanted"),
    [
        ("1,3,5-6", QPrinter.PageOrder.FirstPageFirst, [0, 2, 4, 5]),
        ("2-3,90", QPrinter.PageOrder.LastPageFirst, [2, 1]),
        ("", QPrinter.PageOrder.LastPageFirst, [7, 6, 5, 4, 3, 2, 1, 0]),
    ],
)
def test_that_just_the_pages_asked_for_are_printed_in_the_order_asked_for(
    tmp_path: Path, asked: str, order: QPrinter.PageOrder, wanted: list[int]
) -> None:
    printer = to_file(tmp_path / "some.pdf")
    printer.setPrintRange(QPrinter.PrintRange.PageRange)
    printer.setPageRanges(QPageRanges.fromString(asked))
    printer.setPageOrder(order)
    assert pages_wanted(printer, 8) == wanted


def test_that_the_command_prints_the_report_of_the_preview(
    window: MainWindow, bench: Workbench, desk: Desk, qtbot: QtBot, tmp_path: Path
) -> None:
    window.commands.print.trigger()
    asking = next(d for d in window.findChildren(PrintDialog) if d.isVisible())
    assert asking.kind is ReportKind.HOMEOWNER
    asking.go_on.click()
    dialog = next(d for d in window.findChildren(QPrintDialog) if d.isVisible())
    assert dialog.windowTitle() == "Homeowner report"
    printers = dialog.findChild(QComboBox, "printers")
    place = dialog.findChild(QLineEdit, "filename")
    if printers is None or place is None:
        pytest.skip("this system's own dialog has no name for a file, and would print on paper")
    printers.setCurrentIndex(printers.count() - 1)  # into a file, which Qt lists last
    assert place.isVisible()
    place.setText(str(tmp_path / "printed.pdf"))
    papers = bench.report_page.papers
    dialog.accept()  # as its button does
    qtbot.waitUntil(lambda: not papers.undertaking.is_busy, timeout=LONG)
    count = len(pypdf.PdfReader(tmp_path / "printed.pdf").pages)
    wanted_words = f"{count} pages are printed into the file {tmp_path / 'printed.pdf'}."
    assert papers.message.text == wanted_words and count > 1
    assert papers._open.isVisible()
    wanted = drawn_report(desk.order_reports(bench.bridge.editor), ReportKind.HOMEOWNER).data
    printed = pypdf.PdfReader(tmp_path / "printed.pdf").pages
    assert len(printed) == len(pypdf.PdfReader(_stream(wanted)).pages)


# All into one folder


def test_that_all_papers_go_into_a_folder_and_replacing_them_is_asked(
    window: MainWindow, bench: Workbench, desk: Desk, qtbot: QtBot, tmp_path: Path
) -> None:
    bench.show_page("report")
    papers = bench.report_page.papers
    papers.save_all(tmp_path / "papers")
    qtbot.waitUntil(lambda: not papers.undertaking.is_busy, timeout=LONG)
    order = desk.order_reports(bench.bridge.editor)
    for kind in offered(order.source.assessment):
        data = (tmp_path / "papers" / f"J-0001 {kind.value}.pdf").read_bytes()
        assert data == drawn_report(order, kind).data
    papers.save_all(tmp_path / "papers")
    assert not papers.undertaking.is_busy
    box = next(box for box in window.findChildren(QMessageBox) if box.isVisible())
    assert "J-0001 compliance.pdf" in box.informativeText()
    next(button for button in box.buttons() if button.text() == "Replace").click()
    assert papers.undertaking.is_busy
    assert papers.undertaking.end()
    assert papers.message.text == "Canceled. Nothing was saved or printed."


# By mail


def test_that_a_draft_with_the_papers_is_opened_and_nothing_sent(
    window: MainWindow, bench: Workbench, qtbot: QtBot, tmp_path: Path
) -> None:
    bench.bridge.enter("client.email", "jordan@example.org")
    window.commands.mail.trigger()
    dialog = next(d for d in window.findChildren(MailDialog) if d.isVisible())
    assert dialog.address.text() == "jordan@example.org"
    opened: list[MailDraft] = []
    dialog.open_draft = lambda draft: bool(opened.append(draft)) or True
    dialog.folder = tmp_path / "for mail"
    dialog.text.setPlainText("Look at this.")
    dialog.start()
    qtbot.waitUntil(lambda: bool(opened) and not dialog.undertaking.is_busy, timeout=LONG)
    (draft,) = opened
    assert draft.text == "Look at this."
    assert [path.name for path in draft.files] == ["J-0001 homeowner.pdf", "J-0001 compliance.pdf"]
    assert all(path.read_bytes().startswith(b"%PDF") for path in draft.files)
    assert "See whether the papers are attached" in dialog.message.text


@pytest.mark.usefixtures("bench")
def test_that_without_a_mail_program_for_files_the_text_and_the_folder_come_up(
    window: MainWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    window.commands.mail.trigger()
    dialog = next(d for d in window.findChildren(MailDialog) if d.isVisible())
    links: list[str] = []
    dialog.open_draft = lambda _draft: False
    dialog.open_link = lambda link: bool(links.append(link)) or True
    dialog.folder = tmp_path / "for mail"
    dialog.start()
    qtbot.waitUntil(lambda: len(links) == 2, timeout=LONG)
    assert links[0].startswith("mailto:")
    assert links[1].endswith("for%20mail") or links[1].endswith("for mail")
    assert "attach J-0001 homeowner.pdf" in dialog.message.text


@pytest.mark.usefixtures("bench")
@pytest.mark.parametrize(
    ("opens", "told"),
    [
        ((False, True), "No mail program could be opened. The folder with the papers was opened"),
        ((True, False), "the folder could not be shown: attach J-0001 homeowner.pdf"),
        ((False, False), "Neither a mail program nor the folder could be opened."),
    ],
)
def test_that_what_did_not_open_is_not_said_to_be_open(
    window: MainWindow, qtbot: QtBot, tmp_path: Path, opens: tuple[bool, bool], told: str
) -> None:
    window.commands.mail.trigger()
    dialog = next(d for d in window.findChildren(MailDialog) if d.isVisible())
    dialog.open_draft = lambda _draft: False
    dialog.open_link = lambda link: opens[not link.startswith("mailto:")]
    dialog.folder = tmp_path / "for mail"
    dialog.start()
    qtbot.waitUntil(lambda: "J-0001 homeowner.pdf" in dialog.message.text, timeout=LONG)
    assert told in dialog.message.text
    if not opens[1]:
        assert str(tmp_path / "for mail") in dialog.message.text


@pytest.mark.usefixtures("bench")
def test_that_a_line_that_is_no_address_is_told_before_anything_is_saved(
    window: MainWindow, tmp_path: Path
) -> None:
    window.commands.mail.trigger()
    dialog = next(d for d in window.findChildren(MailDialog) if d.isVisible())
    dialog.folder = tmp_path / "for mail"
    dialog.address.setText("a@@b, ")
    dialog.start()
    assert not dialog.undertaking.is_busy and not dialog.folder.exists()
    assert "To: “a@@b” is no mail address." in dialog.message.text
    assert dialog.focusWidget() is dialog.address


def test_that_an_issued_file_goes_before_a_draft_as_long_as_it_is_unchanged(
    window: MainWindow, bench: Workbench, desk: Desk, qtbot: QtBot, tmp_path: Path
) -> None:
    kind, file = ReportKind.HOMEOWNER, tmp_path / "as issued.pdf"
    order = desk.order_reports(bench.bridge.editor)
    wish = Wish("Pat Example", "", file)
    made = hand_out(order, kind, wish, desk.preferences, desk.folder, datetime.now(UTC))
    bench.bridge.take_issue(made.issue)
    window.commands.mail.trigger()
    dialog = next(d for d in window.findChildren(MailDialog) if d.isVisible())
    papers = dialog.papers
    assert "a draft made anew" in papers.kinds[kind].text()
    assert papers.about[kind].text() == "Looking for issued papers…"
    away = "its file is not in the folder below"
    qtbot.waitUntil(lambda: away in papers.about[kind].text(), timeout=LONG)
    assert not papers.issued[kind].isVisible() and papers.kinds[kind].isChecked()
    dialog._use_folder(tmp_path)
    qtbot.waitUntil(papers.issued[kind].isVisible, timeout=LONG)
    assert papers.issued[kind].text().startswith("Homeowner report, issue 1 of ")
    assert papers.issued[kind].text().endswith(": as issued.pdf")
    assert papers.drafts == (ReportKind.COMPLIANCE,)
    opened: list[MailDraft] = []
    dialog.open_draft = lambda draft: bool(opened.append(draft)) or True
    dialog.start()
    qtbot.waitUntil(lambda: bool(opened) and not dialog.undertaking.is_busy, timeout=LONG)
    assert [path.name for path in opened[0].files] == ["as issued.pdf", "J-0001 compliance.pdf"]
    papers.kinds[ReportKind.COMPLIANCE].setChecked(False)
    file.write_bytes(file.read_bytes() + b" ")
    dialog.start()
    qtbot.waitUntil(lambda: "no longer the file that was issued" in dialog.message.text)
    assert len(opened) == 1
    dialog._use_folder(tmp_path)
    qtbot.waitUntil(lambda: not papers.issued[kind].isVisible(), timeout=LONG)
    assert papers.issues == ()
