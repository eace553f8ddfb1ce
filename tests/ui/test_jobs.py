"""The list of jobs, and what the start page tells of them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from threading import Event, current_thread, main_thread

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QStyleOptionViewItem, QWidget
from pytestqt.qtbot import QtBot

from deskapp.archive import job_file
from deskapp.domain.job import Job
from deskapp.domain.leak import Photo
from deskapp.session.editor import Editor
from deskapp.session.job_index import JobIndex
from deskapp.session.job_line import JobLine
from deskapp.session.job_status import JobStatus
from deskapp.ui.desk import Desk
from deskapp.ui.furnish import Furniture
from deskapp.ui.jobs.job_reader import JobReader
from deskapp.ui.jobs.jobs_dialog import JobsDialog
from deskapp.ui.main_window import MainWindow
from deskapp.ui.progress import ProgressLine

ReadWhole = Callable[[], None]


def numbers(dialog: JobsDialog) -> list[str]:
    return [line.number for line in dialog.table.jobs.lines]


def shown(dialog: JobsDialog, row: int) -> list[str]:
    model = dialog.table.jobs
    return [model.index(row, column).data() for column in range(model.columnCount())]


@pytest.fixture
def some_jobs(desk: Desk, editor: Editor) -> Path:
    """Three jobs in the folder for jobs: one whose second system failed, one new, one damaged."""
    folder = desk.place_for_jobs()
    job_file.write(folder / "failed.ductjob", editor.job, {})
    job_file.write(folder / "new.ductjob", Job(number="J-7", title="Maple"), {})
    (folder / "broken.ductjob").write_bytes(b"no zip at all")
    return folder


@pytest.fixture
def dialog(qtbot: QtBot, window: MainWindow, furniture: Furniture, some_jobs: Path) -> JobsDialog:
    """The list, opened from the menu and read to its end."""
    assert some_jobs.is_dir()
    window.commands.jobs.trigger()
    dialog = window.findChild(JobsDialog)
    assert isinstance(dialog, JobsDialog)
    qtbot.waitUntil(lambda: dialog.counts.text() == "3 of 3 jobs", timeout=10_000)
    assert furniture.bench is None
    return dialog


def test_that_a_job_is_found_by_typing_and_opened_by_enter(
    dialog: JobsDialog, furniture: Furniture, some_jobs: Path, read_whole: ReadWhole
) -> None:
    assert QApplication.focusWidget() is dialog.search
    QTest.keyClicks(dialog.search, "larkspur")
    assert numbers(dialog) == ["J-0001"]
    assert dialog.counts.text() == "1 of 3 jobs"
    QTest.keyClick(dialog.search, Qt.Key.Key_Return)
    read_whole()
    assert furniture.files.editor is not None
    assert furniture.files.editor.path == some_jobs / "failed.ductjob"


def test_that_a_share_that_is_away_is_told_and_its_jobs_stay(
    qtbot: QtBot, window: MainWindow, desk: Desk, some_jobs: Path, tmp_path: Path
) -> None:
    share = tmp_path / "share"
    some_jobs.rename(share)
    some_jobs.mkdir()
    desk.preferences = desk.preferences.model_copy(update={"more_job_folders": str(share)})
    window.commands.jobs.trigger()
    first = window.findChild(JobsDialog)
    assert isinstance(first, JobsDialog)
    qtbot.waitUntil(lambda: first.counts.text() == "3 of 3 jobs", timeout=10_000)
    assert first.away.isHidden()
    first.reject()
    share.rename(tmp_path / "unplugged")
    window.commands.jobs.trigger()
    dialog = next(one for one in window.findChildren(JobsDialog) if one.isVisible())
    qtbot.waitUntil(lambda: not dialog.away.isHidden(), timeout=10_000)
    assert dialog.counts.text() == "3 of 3 jobs"
    assert "not reachable now" in shown(dialog, 0)


def test_that_letters_typed_in_the_table_go_to_the_search(dialog: JobsDialog) -> None:
    dialog.table.setFocus()
    QTest.keyClicks(dialog.table, "map")
    assert dialog.search.text() == "map"
    assert numbers(dialog) == ["J-7"]


def test_that_arrows_move_in_the_list_while_one_types(dialog: JobsDialog) -> None:
    assert dialog.table.currentIndex().row() == 0
    QTest.keyClick(dialog.search, Qt.Key.Key_Down)
    assert dialog.table.currentIndex().row() == 1
    assert dialog.search.hasFocus()


def test_that_a_line_tells_status_and_what_is_to_be_seen_to(dialog: JobsDialog) -> None:
    dialog.search.setText("larkspur")
    assert shown(dialog, 0) == [
        "J-0001 Larkspur Lot 14",
        "14 Larkspur Lane",
        "",
        "",
        "waiting for a retest",
        "Retest: Upper floor",
    ]


def test_that_a_damaged_file_is_listed_with_what_is_wrong_and_is_not_opened(
    dialog: JobsDialog, furniture: Furniture
) -> None:
    dialog.search.setText("broken")
    assert shown(dialog, 0)[0] == "broken.ductjob"
    assert shown(dialog, 0)[4] == "cannot be read"
    assert "is damaged" in dialog.remark.text()
    assert not dialog.open_one.isEnabled()
    QTest.keyClick(dialog.search, Qt.Key.Key_Return)
    assert dialog.isVisible()
    assert furniture.files.editor is None


def test_that_the_cursor_stays_on_its_job_while_more_is_read(
    dialog: JobsDialog, furniture: Furniture, qtbot: QtBot, some_jobs: Path
) -> None:
    row = next(at for at, one in enumerate(dialog.table.jobs.lines) if one.number == "J-7")
    dialog.table.selectRow(row)
    job_file.write(some_jobs / "later.ductjob", Job(number="J-8"), {})
    furniture.jobs.refresh()
    qtbot.waitUntil(lambda: dialog.counts.text() == "4 of 4 jobs", timeout=10_000)
    assert "J-8" in numbers(dialog)
    assert dialog.table.line is not None
    assert dialog.table.line.number == "J-7"


@pytest.fixture
def slow_reading(monkeypatch: pytest.MonkeyPatch, desk: Desk) -> Event:
    """1,234 jobs of which one is read at each step, and none after the first few until set."""
    gate, held = Event(), desk.place_for_jobs()
    for number in range(4):
        job_file.write(held / f"{number}.ductjob", Job(number=f"J-{number}"), {})
    before, read = JobIndex.read_some, JobIndex.progress

    def read_some(index: JobIndex, seconds: float) -> bool:
        if index.progress[0] >= 2 and seconds:
            gate.wait(20)
        return before(index, 0.000_001 if seconds else 0.0)

    def progress(index: JobIndex) -> tuple[int, int]:
        done, count = read.fget(index)
        return done, 1230 + count

    monkeypatch.setattr(JobIndex, "read_some", read_some)
    monkeypatch.setattr(JobIndex, "progress", property(progress))
    return gate


def test_that_a_long_reading_tells_how_far_it_is_and_stops_and_goes_on(
    qtbot: QtBot, window: MainWindow, furniture: Furniture, slow_reading: Event
) -> None:
    window.commands.jobs.trigger()
    dialog = window.findChild(JobsDialog)
    assert isinstance(dialog, JobsDialog)
    qtbot.waitUntil(dialog.progress.isVisible, timeout=10_000)
    qtbot.waitUntil(lambda: dialog.progress.words.text() == "Reading jobs, 2 of 1,234")
    assert dialog.counts.text() == "4 jobs so far"
    assert not dialog.read_on.isVisible()
    dialog.progress.cancel.click()
    assert not dialog.progress.isVisible()
    assert "not read yet only the name" in dialog.counts.text()
    assert dialog.read_on.isVisible()
    slow_reading.set()
    furniture.jobs.refresh()
    qtbot.wait(50)
    assert dialog.read_on.isVisible(), "what is saved meanwhile does not read on"
    dialog.read_on.click()
    qtbot.waitUntil(lambda: dialog.counts.text() == "4 of 4 jobs", timeout=10_000)
    assert not dialog.read_on.isVisible()
    assert sorted(numbers(dialog)) == ["J-0", "J-1", "J-2", "J-3"]


def test_that_a_status_can_be_chosen(dialog: JobsDialog) -> None:
    dialog.status.setCurrentIndex(dialog.status.findText("Draft"))
    assert numbers(dialog) == ["J-7"]


def test_that_words_nothing_holds_are_told(dialog: JobsDialog) -> None:
    dialog.search.setText("nowhere")
    assert dialog.counts.text() == "No job holds these words."
    assert not dialog.open_one.isEnabled()


def test_that_everything_in_the_list_has_a_name(dialog: JobsDialog) -> None:
    for widget in (dialog.search, dialog.status, dialog.table):
        assert widget.accessibleName()


def test_that_an_empty_list_shows_the_ways_to_begin(
    qtbot: QtBot, window: MainWindow, furniture: Furniture
) -> None:
    window.start.ways[3].click()
    dialog = window.findChild(JobsDialog)
    assert isinstance(dialog, JobsDialog)
    qtbot.waitUntil(lambda: dialog.ways[0].isVisible(), timeout=10_000)
    assert [way.text() for way in dialog.ways] == ["New job", "Open a job…", "Open the sample"]
    dialog.ways[2].click()
    assert furniture.files.editor is not None
    assert furniture.files.editor.job.systems


def test_that_the_start_page_tells_what_is_due_and_leads_there(
    qtbot: QtBot,
    window: MainWindow,
    furniture: Furniture,
    some_jobs: Path,
    desk: Desk,
    read_whole: ReadWhole,
) -> None:
    desk.prefer(desk.preferences.with_recent(some_jobs / "new.ductjob"))
    window.start.show_recent(desk.recent())
    furniture.jobs.refresh()
    qtbot.waitUntil(lambda: window.start.due_buttons != [], timeout=10_000)
    (button,) = window.start.due_buttons
    assert button.text() == "J-0001 Larkspur Lot 14: Retest: Upper floor"
    texts = {w.text() for w in window.start.findChildren(QWidget) if hasattr(w, "text")}
    assert "J-7 Maple · draft" in texts
    button.click()
    read_whole()
    assert furniture.files.editor is not None
    assert furniture.files.editor.path == some_jobs / "failed.ductjob"


def test_that_a_new_job_is_saved_in_the_folder_for_jobs(
    window: MainWindow, furniture: Furniture, desk: Desk, qtbot: QtBot
) -> None:
    from PySide6.QtWidgets import QFileDialog

    furniture.files.new_now()
    furniture.save()
    qtbot.waitUntil(lambda: any(d.isVisible() for d in window.findChildren(QFileDialog)))
    dialog = next(d for d in window.findChildren(QFileDialog) if d.isVisible())
    assert Path(dialog.directory().absolutePath()) == desk.preferences.jobs_path
    assert desk.preferences.jobs_path.is_dir()


def test_that_a_photo_of_another_job_is_told_when_the_job_is_opened_and_saved(
    furniture: Furniture, desk: Desk, qtbot: QtBot
) -> None:
    folder = desk.place_for_jobs()
    photos = (Photo(digest="d" * 64, name="duct.jpg"),)
    job_file.write(folder / "first.ductjob", Job(number="J-1", photos=photos), {})
    job_file.write(folder / "second.ductjob", Job(number="J-2", photos=photos), {})

    def told() -> str:
        editor = furniture.files.editor
        assert editor is not None
        return " ".join(one.what for one in editor.findings if one.code == "photo-in-another-job")

    furniture.files.open_now(folder / "second.ductjob")
    qtbot.waitUntil(lambda: "J-1 (file first.ductjob)" in told(), timeout=10_000)
    (folder / "first.ductjob").rename(folder / "renamed.ductjob")
    furniture.files.save()
    qtbot.waitUntil(lambda: "J-1 (file renamed.ductjob)" in told(), timeout=10_000)


def test_that_a_danger_gone_past_stands_in_the_status_of_a_job(dialog: JobsDialog) -> None:
    model = dialog.table.jobs
    told = ("Gas was smelled. Acknowledged by Kim Example, not cleared",)
    plain = JobLine(path="/a.ductjob", changed=1, status=JobStatus.READY)
    past = plain.model_copy(update={"path": "/b.ductjob", "dangers": told})
    still = past.model_copy(update={"path": "/c.ductjob", "status": JobStatus.STOPPED})
    model.show_lines((plain, past, still))
    assert [shown(dialog, row)[4] for row in range(3)] == [
        "ready",
        "ready, danger not cleared",
        "safety stop is open",
    ]
    icons = [model.index(row, 4).data(Qt.ItemDataRole.DecorationRole) for row in range(3)]
    pictures = [icon.pixmap(16).toImage() for icon in icons]
    assert pictures[0] != pictures[1] != pictures[2], "no sign of a job that is done"


def test_that_jobs_of_the_same_name_can_be_told_apart_in_the_list(dialog: JobsDialog) -> None:
    alike = [
        JobLine(path=f"/jobs/{file}.ductjob", changed=1, number="J-1", title="Maple")
        for file in ("spring", "fall")
    ]
    dialog.table.jobs.show_lines(alike)
    assert [shown(dialog, row)[0] for row in range(2)] == [
        "J-1 Maple (file spring.ductjob)",
        "J-1 Maple (file fall.ductjob)",
    ]


def test_that_a_name_that_is_cut_keeps_its_end(dialog: JobsDialog) -> None:
    table, option = dialog.table, QStyleOptionViewItem()
    for column in range(4):
        index = table.model().index(0, column)
        table.itemDelegateForColumn(column).initStyleOption(option, index)
        assert option.textElideMode == Qt.TextElideMode.ElideMiddle  # type: ignore[attr-defined]
    tip = table.model().index(0, 0).data(Qt.ItemDataRole.ToolTipRole)
    assert shown(dialog, 0)[0] in tip


@pytest.mark.usefixtures("window")
def test_that_a_line_opened_in_the_middle_of_the_reading_tells_how_far_it_is(
    qtbot: QtBot, furniture: Furniture, slow_reading: Event
) -> None:
    furniture.jobs.refresh()
    reader = furniture.jobs.findChild(JobReader)
    assert isinstance(reader, JobReader)
    qtbot.waitUntil(lambda: reader.last_told is not None, timeout=10_000)
    line = ProgressLine(reader, "Reading jobs, {n} of {count}")
    qtbot.addWidget(line)
    qtbot.waitUntil(lambda: line.words.text() == "Reading jobs, 2 of 1234")
    slow_reading.set()
    qtbot.waitUntil(lambda: not reader.is_busy, timeout=10_000)


@pytest.mark.usefixtures("dialog")
def test_that_the_list_is_kept_only_beside_the_window(
    monkeypatch: pytest.MonkeyPatch, qtbot: QtBot, furniture: Furniture
) -> None:
    threads: list[bool] = []
    monkeypatch.setattr(JobIndex, "keep", lambda _index: threads.append(in_thread_of_window()))
    reader = furniture.jobs.findChild(JobReader)
    assert isinstance(reader, JobReader)
    reader.told.emit(2, 4, "")
    assert threads == []
    reader.start()
    reader.end()
    qtbot.waitUntil(lambda: bool(threads), timeout=10_000)
    assert not any(threads)


def in_thread_of_window() -> bool:
    return current_thread() is main_thread()
