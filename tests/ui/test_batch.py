"""The reports of several jobs, made from the list of jobs; the jobs are invented."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from threading import Event

import pytest
from pypdf import PdfReader
from PySide6.QtCore import QItemSelectionModel, Qt
from pytestqt.qtbot import QtBot

from deskapp.archive import job_file
from deskapp.domain.data_files import resources_folder
from deskapp.report.sealing.examine import examine
from deskapp.session import batch, signing_key
from deskapp.session.report_kinds import Naming, ReportKind
from deskapp.ui.desk import Desk
from deskapp.ui.furnish import Furniture
from deskapp.ui.jobs.jobs_dialog import JobsDialog
from deskapp.ui.jobs.reports_dialog import ReportsDialog
from deskapp.ui.main_window import MainWindow
from deskapp.ui.workbench import Workbench

LONG = 90_000
WORDS = "a short sentence"


@pytest.fixture
def jobs(desk: Desk) -> Path:
    """Two good jobs and a damaged file in the folder for jobs."""
    folder = desk.place_for_jobs()
    read = job_file.read(resources_folder() / "sample_jobs" / "crossover")
    for name in ("a", "b"):
        job = read.job.model_copy(update={"number": f"J-{name}"})
        job_file.write(folder / f"{name}.ductjob", job, read.photos)
    (folder / "bad.ductjob").write_bytes(b"PK")
    return folder


@pytest.fixture
def listed(window: MainWindow, jobs: Path, qtbot: QtBot) -> JobsDialog:
    assert jobs.is_dir()
    window.commands.jobs.trigger()
    dialog = window.findChild(JobsDialog)
    assert isinstance(dialog, JobsDialog)
    qtbot.waitUntil(lambda: dialog.counts.text() == "3 of 3 jobs", timeout=10_000)
    return dialog


def asked(window: MainWindow, listed: JobsDialog, tmp_path: Path) -> ReportsDialog:
    """Press the button of the list, and wish for homeowner reports alone."""
    listed.reports.click()
    assert not listed.isVisible()
    dialog = window.findChild(ReportsDialog)
    assert isinstance(dialog, ReportsDialog)
    assert dialog.isVisible() and not dialog.isModal()
    dialog.form.folder.setText(str(tmp_path / "out"))
    for kind, box in dialog.form.kinds.items():
        box.setChecked(kind is ReportKind.HOMEOWNER)
    return dialog


def make(dialog: ReportsDialog, qtbot: QtBot) -> None:
    with qtbot.waitSignal(dialog.run.ended, timeout=LONG):
        dialog.make_button.click()


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_that_all_jobs_listed_get_reports_and_the_bad_one_is_told_and_led_to(
    window: MainWindow, listed: JobsDialog, qtbot: QtBot, tmp_path: Path
) -> None:
    dialog = asked(window, listed, tmp_path)
    assert dialog.form.listed.isChecked()
    assert dialog.form.listed.text() == "All 3 jobs listed"
    dialog.form.names.setCurrentIndex(dialog.form.names.findData(Naming.FILE.value))
    make(dialog, qtbot)
    assert names(tmp_path / "out") == ["a homeowner.pdf", "b homeowner.pdf"]
    assert dialog.message.text == "2 reports were made. 1 job lacks something: it comes first."
    first, *others = dialog.list.as_text().split("\n\n")
    assert first.startswith("bad.ductjob\nNot made: ") and "bad.ductjob is damaged" in first
    made = [one.splitlines()[1] for one in sorted(others)]
    assert made == ["Made: a homeowner.pdf", "Made: b homeowner.pdf"]
    opened: list[Path] = []
    dialog._open_folder = opened.append
    dialog.open_folder.click()
    assert opened == [tmp_path / "out"]
    with qtbot.waitSignal(dialog.picked) as picked:
        dialog.open_job.click()
    assert Path(picked.args[0]).name == "bad.ductjob"


def test_that_the_selected_jobs_alone_are_made_in_the_language_chosen(
    window: MainWindow, listed: JobsDialog, qtbot: QtBot, tmp_path: Path
) -> None:
    listed.search.setText("ductjob")
    rows = [at for at, one in enumerate(listed.table.jobs.lines) if not one.problem]
    flags = QItemSelectionModel.SelectionFlag
    listed.table.clearSelection()
    for row in rows:
        index = listed.table.jobs.index(row, 0)
        listed.table.selectionModel().select(index, flags.Select | flags.Rows)
    assert len(listed.table.selected) == 2
    dialog = asked(window, listed, tmp_path)
    assert dialog.form.selected.isChecked()
    dialog.form.languages.setCurrentIndex(dialog.form.languages.findData("es"))
    make(dialog, qtbot)
    assert dialog.message.text == "2 reports were made."
    page = PdfReader(tmp_path / "out" / "J-a homeowner.pdf").pages[0].extract_text()
    assert "fugas" in page.casefold()


def test_that_files_that_are_there_stay_unless_they_are_to_be_replaced(
    window: MainWindow, listed: JobsDialog, qtbot: QtBot, tmp_path: Path
) -> None:
    listed.search.setText("a.ductjob")
    dialog = asked(window, listed, tmp_path)
    make(dialog, qtbot)
    dialog.again.click()
    make(dialog, qtbot)
    assert names(tmp_path / "out") == ["J-a homeowner 2.pdf", "J-a homeowner.pdf"]
    dialog.again.click()
    dialog.form.over.setChecked(True)
    make(dialog, qtbot)
    assert len(names(tmp_path / "out")) == 2


def test_that_they_are_issued_and_signed_and_recorded_in_their_jobs(
    window: MainWindow, listed: JobsDialog, desk: Desk, jobs: Path, qtbot: QtBot, tmp_path: Path
) -> None:
    signing_key.make(desk.folder, "Pat Example", WORDS, WORDS, datetime.now(UTC))
    listed.search.setText("a.ductjob")
    dialog = asked(window, listed, tmp_path)
    dialog.form.issue.setChecked(True)
    dialog.form.sign.setChecked(True)
    assert "Pat Example" in dialog.form.sign.text()
    dialog.make_button.click()
    assert "Passphrase" in dialog.message.text
    dialog.form.passphrase.setText("not that one")
    dialog.make_button.click()
    qtbot.waitUntil(lambda: "does not open the key" in dialog.message.text, timeout=LONG)
    assert not (tmp_path / "out").exists()
    dialog.form.passphrase.setText(WORDS)
    dialog.form.by.setText("Sam Example")
    make(dialog, qtbot)
    [issue] = job_file.read(jobs / "a.ductjob").job.issued
    assert (issue.by, issue.revision) == ("Sam Example", 1)
    [seal] = examine((tmp_path / "out" / "J-a homeowner issue 1.pdf").read_bytes()).seals
    assert seal.holds
    dialog.again.click()
    make(dialog, qtbot)
    assert dialog.message.text == "0 reports were made."
    assert "Nothing was issued." in dialog.list.as_text()


@pytest.fixture
def gate(monkeypatch: pytest.MonkeyPatch) -> Event:
    """What papers wait for before they are written."""
    opened = Event()
    before = batch.write_papers

    def slow(*order: object) -> object:
        opened.wait(60)
        return before(*order)

    monkeypatch.setattr(batch, "write_papers", slow)
    return opened


def test_that_the_window_is_worked_in_meanwhile_and_stopping_begins_no_other_job(
    window: MainWindow,
    listed: JobsDialog,
    furniture: Furniture,
    qtbot: QtBot,
    tmp_path: Path,
    gate: Event,
) -> None:
    dialog = asked(window, listed, tmp_path)
    dialog.make_button.click()
    qtbot.waitUntil(lambda: "Job 1 of 3: " in dialog.progress.words.text(), timeout=LONG)
    assert dialog.progress.isVisible() and not dialog.again.isEnabled()
    furniture.new()
    assert isinstance(window.stack.currentWidget(), Workbench)
    furniture.bench.bridge.enter("title", "Typed meanwhile")
    with qtbot.waitSignal(dialog.run.ended, timeout=LONG):
        dialog.progress.cancel.click()
        gate.set()
    assert "Stopped: 2 jobs were not begun." in dialog.message.text
    assert len(dialog.list.outcomes) == 1


def test_that_escape_while_reports_are_made_stops_and_tells_and_closes_only_after_that(
    window: MainWindow,
    listed: JobsDialog,
    qtbot: QtBot,
    tmp_path: Path,
    gate: Event,
) -> None:
    dialog = asked(window, listed, tmp_path)
    dialog.make_button.click()
    qtbot.waitUntil(lambda: "Job 1 of 3: " in dialog.progress.words.text(), timeout=LONG)
    with qtbot.waitSignal(dialog.run.ended, timeout=LONG):
        qtbot.keyClick(dialog, Qt.Key.Key_Escape)
        assert dialog.isVisible()
        assert dialog.message.text.startswith("Stopping: ")
        dialog.close()
        assert dialog.isVisible()
        gate.set()
    assert dialog.isVisible()
    assert "Stopped: 2 jobs were not begun." in dialog.message.text
    qtbot.keyClick(dialog, Qt.Key.Key_Escape)
    assert not dialog.isVisible()


def test_that_what_is_missing_is_said_before_anything_is_made(
    window: MainWindow, listed: JobsDialog, tmp_path: Path
) -> None:
    dialog = asked(window, listed, tmp_path)
    dialog.form.kinds[ReportKind.HOMEOWNER].setChecked(False)
    dialog.make()
    assert dialog.message.text.endswith("Reports: choose at least one kind.")
    dialog.form.kinds[ReportKind.HOMEOWNER].setChecked(True)
    dialog.form.folder.clear()
    dialog.make()
    assert dialog.message.text.endswith("Folder: choose where the reports go.")


def test_that_a_folder_that_cannot_be_made_is_told(
    window: MainWindow, listed: JobsDialog, qtbot: QtBot, tmp_path: Path
) -> None:
    dialog = asked(window, listed, tmp_path)
    (tmp_path / "file").write_text("x")
    dialog.form.folder.setText(str(tmp_path / "file" / "out"))
    dialog.make_button.click()
    qtbot.waitUntil(lambda: "cannot be used as a folder" in dialog.message.text, timeout=LONG)
    assert dialog.make_button.isVisible()


def test_that_everything_in_the_form_has_a_name(
    window: MainWindow, listed: JobsDialog, tmp_path: Path
) -> None:
    form = asked(window, listed, tmp_path).form
    for part in (form.folder, form.by, form.reason, form.passphrase):
        assert part.accessibleName()
    assert form.missing() is None
