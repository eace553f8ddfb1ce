"""Issuing a report and keeping a signing key, in the window; the job is invented."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from threading import Event

import pytest
from PySide6.QtCore import Qt, QThreadPool
from PySide6.QtWidgets import QDialog, QFileDialog
from pytestqt.qtbot import QtBot

from deskapp.report.build.papers import paper_code
from deskapp.report.sealing import keys
from deskapp.report.sealing.examine import examine
from deskapp.session import issuing, signing_key
from deskapp.session.report_kinds import ReportKind
from deskapp.session.reports import DrawnReport, ReportOrder
from deskapp.ui.desk import Desk
from deskapp.ui.issuing.answer_list import AnswerList
from deskapp.ui.issuing.check_dialog import ReportCheckDialog
from deskapp.ui.issuing.issue_dialog import IssueDialog
from deskapp.ui.issuing.key_dialog import KeyDialog
from deskapp.ui.main_window import MainWindow
from deskapp.ui.paper_card import PaperCard
from deskapp.ui.workbench import Workbench

LONG = 20_000
WORDS = "a short sentence"


@pytest.fixture
def card(bench: Workbench) -> PaperCard:
    bench.show_page("report")
    return bench.report_page.papers


@pytest.fixture
def key(desk: Desk) -> signing_key.Certified:
    return signing_key.make(desk.folder, "Pat Example", WORDS, WORDS, datetime.now(UTC))


def shown(window: MainWindow, kind: type[QDialog]):
    return next(d for d in window.findChildren(kind) if d.isVisible())


def asked(window: MainWindow, bench: Workbench, kind: str = "homeowner") -> IssueDialog:
    bench.issue_report(kind)
    return shown(window, IssueDialog)


def issue(dialog: IssueDialog, card: PaperCard, target: Path, qtbot: QtBot) -> None:
    dialog.place_at(target)
    dialog.by.setText("Pat Example")
    with qtbot.waitSignal(card.was_issued, timeout=LONG):
        dialog.issue_button.click()


def test_that_issuing_writes_the_file_records_it_and_saves_the_job(
    window: MainWindow, bench: Workbench, card: PaperCard, desk: Desk, qtbot: QtBot, tmp_path: Path
) -> None:
    editor = bench.bridge.editor
    desk.save(editor, tmp_path / "job")
    assert card.rows[ReportKind.HOMEOWNER].standing.text == "Never issued."
    target = tmp_path / "one.pdf"
    issue(asked(window, bench), card, target, qtbot)
    assert target.read_bytes().startswith(b"%PDF")
    assert [one.by for one in editor.job.issued] == ["Pat Example"]
    qtbot.waitUntil(lambda: not editor.is_dirty)
    assert desk.open_to_read(tmp_path / "job.ductjob").job.issued == editor.job.issued
    assert "is issued as issue 1" in card.message.text
    assert "tells of the job as it is" in card.rows[ReportKind.HOMEOWNER].standing.text


def test_that_enter_issues_once_all_is_told_and_says_what_is_missing_before(
    window: MainWindow, bench: Workbench, card: PaperCard, qtbot: QtBot, tmp_path: Path
) -> None:
    dialog = asked(window, bench)
    target = tmp_path / "entered.pdf"
    dialog.place_at(target)
    dialog.by.setText("")
    dialog.reason.setFocus()
    qtbot.keyClick(dialog.reason, Qt.Key.Key_Return)
    assert "Issued by" in dialog.message.text
    assert dialog.focusWidget() is dialog.by
    assert not target.exists()
    dialog.by.setText("Pat Example")
    with qtbot.waitSignal(card.was_issued, timeout=LONG):
        qtbot.keyClick(dialog.by, Qt.Key.Key_Return)
    assert target.read_bytes().startswith(b"%PDF")


def test_that_a_key_of_somebody_else_is_remarked_and_refuses_nothing(
    window: MainWindow, bench: Workbench, card: PaperCard, key: signing_key.Certified
) -> None:
    assert card
    dialog = asked(window, bench)
    dialog.by.setText("pat  example ")
    assert dialog.signer.isHidden()
    dialog.by.setText("Robin Sample")
    assert not dialog.signer.isHidden()
    assert "Robin Sample issued it" in dialog.signer.text
    assert f"belongs to {key.owner}" in dialog.signer.text
    assert dialog.issue_button.isEnabled()
    dialog.sign.setChecked(False)
    assert dialog.signer.isHidden()
    dialog.sign.setChecked(True)
    dialog.by.setText("Pat Example, Example Testing")
    assert dialog.signer.isHidden()


def test_that_a_job_without_a_file_asks_for_one_after_issuing(
    window: MainWindow, bench: Workbench, card: PaperCard, qtbot: QtBot, tmp_path: Path
) -> None:
    issue(asked(window, bench), card, tmp_path / "one.pdf", qtbot)
    assert shown(window, QFileDialog).selectedFiles()[0].endswith(".ductjob")


def test_that_a_change_is_told_and_a_second_issue_asks_why(
    window: MainWindow, bench: Workbench, card: PaperCard, qtbot: QtBot, tmp_path: Path
) -> None:
    issue(asked(window, bench), card, tmp_path / "one.pdf", qtbot)
    shown(window, QFileDialog).close()
    bench.bridge.enter("comments", "seen again")
    assert "no longer tells of this job" in card.rows[ReportKind.HOMEOWNER].standing.text
    dialog = asked(window, bench)
    qtbot.waitUntil(lambda: "seen again" in dialog.changes.text(), timeout=LONG)
    dialog.by.setText("Pat Example")
    dialog.issue_button.click()
    assert "Reason" in dialog.message.text and dialog.isVisible()
    dialog.reason.setText("A word was added")
    issue(dialog, card, tmp_path / "two.pdf", qtbot)
    last = bench.bridge.editor.job.issued[-1]
    assert (last.revision, last.reason) == (2, "A word was added")


def test_that_a_report_is_signed_and_a_wrong_passphrase_writes_nothing(
    window: MainWindow,
    bench: Workbench,
    card: PaperCard,
    key: signing_key.Certified,
    qtbot: QtBot,
    tmp_path: Path,
) -> None:
    target = tmp_path / "one.pdf"
    dialog = asked(window, bench)
    assert dialog.sign.isChecked() and "Pat Example" in dialog.sign.text()
    dialog.by.setText("Pat Example")
    dialog.place_at(target)
    dialog.issue_button.click()
    assert "Passphrase" in dialog.message.text
    dialog.passphrase.setText("not that one")
    dialog.issue_button.click()
    qtbot.waitUntil(lambda: "does not open the key" in dialog.message.text, timeout=LONG)
    assert not target.exists() and not bench.bridge.editor.job.issued
    dialog.passphrase.setText(WORDS)
    issue(dialog, card, target, qtbot)
    (seal,) = examine(target.read_bytes()).seals
    assert seal.holds and seal.key_mark == key.key_mark


def test_that_a_folder_that_cannot_be_written_keeps_the_dialog_open(
    window: MainWindow, bench: Workbench, qtbot: QtBot, tmp_path: Path
) -> None:
    dialog = asked(window, bench)
    dialog.by.setText("Pat Example")
    dialog.place_at(tmp_path / "no folder" / "one.pdf")
    dialog.issue_button.click()
    qtbot.waitUntil(lambda: "could not be written" in dialog.message.text, timeout=LONG)
    assert dialog.isVisible() and not bench.bridge.editor.job.issued


def test_that_a_stop_keeps_the_compliance_report_from_being_issued(
    window: MainWindow, bench: Workbench, card: PaperCard
) -> None:
    bench.bridge.enter("systems.0.area_served", "plenty")
    bench.issue_report("compliance")
    assert not [d for d in window.findChildren(IssueDialog) if d.isVisible()]
    assert "cannot be made yet" in card.message.text


def test_that_a_key_is_made_and_removed_in_its_dialog(
    window: MainWindow, desk: Desk, qtbot: QtBot
) -> None:
    window.commands.signing_key.trigger()
    dialog = shown(window, KeyDialog)
    dialog.owner.setText("Pat Example")
    dialog.passphrase.setText(WORDS)
    dialog.again.setText("something else")
    dialog.make_button.click()
    qtbot.waitUntil(lambda: "not the same" in dialog.message.text, timeout=LONG)
    assert dialog.owner.text() == "Pat Example"
    dialog.again.setText(WORDS)
    with qtbot.waitSignal(dialog.key_changed, timeout=LONG):
        dialog.make_button.click()
    assert signing_key.kept(desk.folder) is not None
    dialog.remove()
    assert signing_key.kept(desk.folder) is None
    assert "no longer used" in dialog.message.text


def test_that_the_key_dialog_opens_in_its_first_entry_and_enter_tries_to_make_the_key(
    window: MainWindow, desk: Desk, qtbot: QtBot
) -> None:
    window.commands.signing_key.trigger()
    dialog = shown(window, KeyDialog)
    assert dialog.focusWidget() is dialog.owner
    qtbot.keyClick(dialog.owner, Qt.Key.Key_Return)
    assert dialog.message.isVisible() and "Name of the signer" in dialog.message.text
    qtbot.keyClicks(dialog.owner, "Pat Example")
    assert not dialog.message.isVisible()
    dialog.passphrase.setText(WORDS)
    qtbot.keyClick(dialog.passphrase, Qt.Key.Key_Return)
    assert "Passphrase again" in dialog.message.text
    assert dialog.focusWidget() is dialog.again
    qtbot.keyClicks(dialog.again, "another")
    assert not dialog.message.isVisible()
    qtbot.keyClick(dialog.again, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: "not the same" in dialog.message.text, timeout=LONG)
    assert dialog.focusWidget() is dialog.again
    dialog.again.setText(WORDS)
    with qtbot.waitSignal(dialog.key_changed, timeout=LONG):
        qtbot.keyClick(dialog.again, Qt.Key.Key_Return)
    assert signing_key.kept(desk.folder) is not None


def test_that_a_key_that_is_being_made_tells_so_and_can_be_given_up(
    window: MainWindow, desk: Desk, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    gate, over = Event(), Event()
    before = keys.make_key

    def slow(owner: str, passphrase: str, now: datetime) -> bytes:
        gate.wait(20)
        over.set()
        return before(owner, passphrase, now)

    monkeypatch.setattr(keys, "make_key", slow)
    window.commands.signing_key.trigger()
    dialog = shown(window, KeyDialog)
    dialog.owner.setText("Pat Example")
    dialog.passphrase.setText(WORDS)
    dialog.again.setText(WORDS)
    dialog.make_button.click()
    qtbot.waitUntil(dialog.progress.isVisible, timeout=LONG)
    assert dialog.progress.words.text() == "Step 1 of 3: making the key"
    dialog.progress.cancel.click()
    assert not dialog.progress.isVisible() and dialog.make_button.isEnabled()
    gate.set()
    assert over.wait(20)
    QThreadPool.globalInstance().waitForDone(LONG)
    assert signing_key.kept(desk.folder) is None


def test_that_issuing_can_be_given_up_before_the_file_is_written(
    window: MainWindow,
    bench: Workbench,
    qtbot: QtBot,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    gate = Event()
    before = issuing.drawn_report

    def slow(order: ReportOrder, kind: ReportKind) -> DrawnReport:
        gate.wait(20)
        return before(order, kind)

    monkeypatch.setattr(issuing, "drawn_report", slow)
    dialog = asked(window, bench)
    dialog.by.setText("Pat Example")
    dialog.place_at(tmp_path / "one.pdf")
    dialog.issue_button.click()
    qtbot.waitUntil(dialog.progress.isVisible, timeout=LONG)
    assert dialog.progress.words.text() == "Step 3 of 5: drawing the pages"
    dialog.cancel.click()
    assert "nothing was issued" in dialog.message.text and dialog.isVisible()
    gate.set()
    QThreadPool.globalInstance().waitForDone(LONG)
    assert not (tmp_path / "one.pdf").exists() and not bench.bridge.editor.job.issued


def test_that_taking_a_certificate_needs_a_file_and_its_passphrase(
    window: MainWindow, desk: Desk, qtbot: QtBot, tmp_path: Path
) -> None:
    elsewhere = tmp_path / "elsewhere"
    signing_key.make(elsewhere, "Pat Example", WORDS, WORDS, datetime.now(UTC))
    window.commands.signing_key.trigger()
    dialog = shown(window, KeyDialog)
    dialog.take_button.click()
    assert "Choose the certificate file first" in dialog.message.text
    dialog.choose(elsewhere / signing_key.KEY_FILE)
    dialog.file_passphrase.setText("wrong")
    dialog.take_button.click()
    qtbot.waitUntil(lambda: "does not open the key" in dialog.message.text, timeout=LONG)
    dialog.file_passphrase.setText(WORDS)
    with qtbot.waitSignal(dialog.key_changed, timeout=LONG):
        dialog.take_button.click()
    assert signing_key.kept(desk.folder) is not None


def checked(window: MainWindow, file: Path, qtbot: QtBot) -> ReportCheckDialog:
    window.commands.check_report.trigger()
    dialog = shown(window, ReportCheckDialog)
    dialog.check(file)
    qtbot.waitUntil(lambda: bool(dialog.answers.notices), timeout=LONG)
    return dialog


def told(answers: AnswerList) -> str:
    return "\n".join(notice.text for notice in answers.notices)


def test_that_a_report_is_checked_and_the_job_inside_opens_as_a_copy(
    window: MainWindow, bench: Workbench, card: PaperCard, qtbot: QtBot, tmp_path: Path
) -> None:
    target = tmp_path / "one.pdf"
    issue(asked(window, bench), card, target, qtbot)
    shown(window, QFileDialog).close()
    bench.bridge.enter("comments", "")
    bench.bridge.editor.mark_saved(tmp_path / "job.ductjob")
    number = bench.bridge.editor.job.number
    dialog = checked(window, target, qtbot)
    assert dialog.answers.summary.text() == "Nothing is out of order."
    assert "issue 1" in told(dialog.answers) and "Note: The report is not signed" in told(
        dialog.answers
    )
    dialog.open_button.click()
    assert bench.bridge.editor.path is None and bench.bridge.editor.job.number == number


@pytest.mark.parametrize("junk", [b"", b"no report", b"%PDF-1.7\n%%EOF"])
def test_that_a_file_that_is_no_report_is_told(
    window: MainWindow, bench: Workbench, qtbot: QtBot, tmp_path: Path, junk: bytes
) -> None:
    file = tmp_path / "junk.pdf"
    file.write_bytes(junk)
    dialog = checked(window, file, qtbot)
    assert told(dialog.answers).startswith("Not in order: ")
    assert not dialog.open_button.isVisible()
    dialog.check(tmp_path / "gone.pdf")
    qtbot.waitUntil(lambda: "gone.pdf cannot be read" in dialog.message.text, timeout=LONG)
    assert bench.isVisible()


def test_that_a_paper_is_looked_up_once_a_scanner_is_done(
    window: MainWindow, bench: Workbench, card: PaperCard, qtbot: QtBot, tmp_path: Path
) -> None:
    issue(asked(window, bench), card, tmp_path / "one.pdf", qtbot)
    shown(window, QFileDialog).close()
    window.commands.check_report.trigger()
    dialog = shown(window, ReportCheckDialog)
    qtbot.keyClicks(dialog.code, "feed feed feed feed")
    dialog.look_up_button.click()
    assert "belongs to another job" in told(dialog.paper_answers)
    dialog.code.clear()
    for line in paper_code(bench.bridge.editor.job.issued[0]).splitlines():
        qtbot.keyClicks(dialog.code, line)
        qtbot.keyClick(dialog.code, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: "It is the latest" in told(dialog.paper_answers), timeout=LONG)


def test_that_without_a_job_only_files_are_checked(window: MainWindow) -> None:
    window.commands.check_report.trigger()
    dialog = shown(window, ReportCheckDialog)
    assert not dialog.code.isEnabled() and dialog.choose_button.isEnabled()


def test_that_an_unchanged_job_gives_a_further_paper_of_its_issue(
    window: MainWindow, bench: Workbench, card: PaperCard, desk: Desk, qtbot: QtBot, tmp_path: Path
) -> None:
    editor = bench.bridge.editor
    desk.save(editor, tmp_path / "job")
    issue(asked(window, bench), card, tmp_path / "one.pdf", qtbot)
    dialog = asked(window, bench)
    assert not dialog.by.isEnabled() and dialog.by.text() == "Pat Example"
    assert not dialog.reason.isEnabled()
    dialog.place_at(tmp_path / "two.pdf")
    with qtbot.waitSignal(card.was_issued, timeout=LONG):
        dialog.issue_button.click()
    first, further = editor.job.issued
    assert (further.revision, further.mark) == (first.revision, first.mark)
    assert first.made_on is None and further.made_on is not None
    assert "further paper of issue 1" in card.message.text
    qtbot.waitUntil(lambda: not editor.is_dirty)
