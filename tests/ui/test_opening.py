"""A job file is read beside the window; of several asked for, the last one is opened."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from threading import Event, get_ident

import pytest
from PySide6.QtWidgets import QMessageBox
from pytestqt.qtbot import QtBot

from deskapp.archive import job_file
from deskapp.archive.file_hold import InUse, hold, lock_path_of
from deskapp.session import use_cases
from deskapp.session.editor import Editor
from deskapp.ui.furnish import Furniture
from deskapp.ui.main_window import MainWindow
from deskapp.ui.progress import ProgressLine
from deskapp.ui.workbench import Workbench

SLOW = 700
"""Milliseconds after which the line that tells of the reading has come up; it comes after 500."""

ReadWhole = Callable[[], None]


class Gate:
    """Holds the reading of the files named back until it is opened."""

    def __init__(self, run: Callable[..., Editor]) -> None:
        self._run = run
        self._opened = Event()
        self.held: set[str] = set()
        self.read: list[str] = []
        self.threads: set[int] = set()

    def open(self) -> None:
        """Let what waits and all that follows be read."""
        self._opened.set()

    def pass_through(self, path: Path, *others: object) -> Editor:
        """Wait for the opening, then read."""
        self.threads.add(get_ident())
        if path.stem in self.held:
            assert self._opened.wait(20)
        editor = self._run(path, *others)
        self.read.append(path.stem)
        return editor


@pytest.fixture
def gate(monkeypatch: pytest.MonkeyPatch) -> Iterator[Gate]:
    held = Gate(use_cases.open_job)
    monkeypatch.setattr(use_cases, "open_job", held.pass_through)
    yield held
    held.open()


@pytest.fixture
def other(editor: Editor, tmp_path: Path) -> Callable[[str], Path]:
    """Writes another job, called as its file."""

    def write(name: str) -> Path:
        path = tmp_path / f"{name}.ductjob"
        job_file.write(path, editor.job.model_copy(update={"title": name}), {})
        return path

    return write


def title(bench: Workbench) -> object:
    return bench.bridge.value_at("title")


def is_free(path: Path) -> bool:
    """Whether nobody holds the file."""
    try:
        hold(lock_path_of(path)).release()
    except InUse:
        return False
    return True


def box_in(window: MainWindow, qtbot: QtBot) -> QMessageBox:
    def visible() -> list[QMessageBox]:
        return [box for box in window.findChildren(QMessageBox) if box.isVisible()]

    qtbot.waitUntil(lambda: bool(visible()))
    return visible()[0]


def test_that_the_job_at_hand_is_worked_on_while_another_is_read_and_checked_elsewhere(
    furniture: Furniture,
    bench: Workbench,
    gate: Gate,
    other: Callable[[str], Path],
    read_whole: ReadWhole,
) -> None:
    gate.held = {"maple"}
    furniture.open(other("maple"))
    assert title(bench) == "Larkspur Lot 14"
    bench.show_page("result")
    gate.open()
    read_whole()
    assert title(bench) == "maple"
    assert get_ident() not in gate.threads


def test_that_opening_twice_quickly_opens_the_last_one_and_holds_only_that(
    furniture: Furniture,
    bench: Workbench,
    qtbot: QtBot,
    gate: Gate,
    other: Callable[[str], Path],
    read_whole: ReadWhole,
) -> None:
    gate.held = {"first"}
    first, second = other("first"), other("second")
    furniture.open(first)
    qtbot.waitUntil(lambda: bool(gate.threads))
    furniture.open(second)
    read_whole()
    assert title(bench) == "second"
    gate.open()
    qtbot.waitUntil(lambda: "first" in gate.read and is_free(first))
    assert title(bench) == "second"
    assert not is_free(second)
    assert furniture.desk.preferences.recent[:1] == (str(second),)
    assert str(first) not in furniture.desk.preferences.recent


def test_that_a_bad_file_asked_for_last_keeps_the_job_at_hand(
    window: MainWindow,
    furniture: Furniture,
    bench: Workbench,
    qtbot: QtBot,
    gate: Gate,
    other: Callable[[str], Path],
    tmp_path: Path,
) -> None:
    gate.held = {"good"}
    bad = tmp_path / "bad.ductjob"
    bad.write_bytes(b"PK")
    furniture.open(other("good"))
    furniture.open(bad)
    gate.open()
    box = box_in(window, qtbot)
    assert (box.text(), "bad.ductjob" in box.informativeText()) == ("The job was not opened", True)
    assert title(bench) == "Larkspur Lot 14"
    assert is_free(bad)


def test_that_a_file_that_takes_long_is_told_by_name_and_can_be_given_up(
    window: MainWindow,
    furniture: Furniture,
    qtbot: QtBot,
    gate: Gate,
    other: Callable[[str], Path],
) -> None:
    gate.held = {"slow"}
    slow = other("slow")
    furniture.open(slow)
    line = next(
        one
        for one in window.findChildren(ProgressLine)
        if one.bar.accessibleName() == "Reading the job"
    )
    assert not line.isVisible()
    qtbot.waitUntil(line.isVisible, timeout=20 * SLOW)
    assert line.words.text() == "Reading the job slow.ductjob"
    line.cancel.click()
    assert not line.isVisible()
    gate.open()
    qtbot.waitUntil(lambda: "slow" in gate.read and is_free(slow))
    assert furniture.bench is None
    assert window.stack.currentWidget() is window.start


@pytest.mark.parametrize("answer", ["Discard", "Cancel", "Save"])
def test_that_what_was_typed_while_another_job_was_read_is_asked_about(
    window: MainWindow,
    furniture: Furniture,
    bench: Workbench,
    qtbot: QtBot,
    gate: Gate,
    other: Callable[[str], Path],
    answer: str,
    tmp_path: Path,
) -> None:
    kept = furniture.desk.save(bench.bridge.editor, tmp_path / "kept.ductjob")
    gate.held = {"maple"}
    maple = other("maple")
    furniture.open(maple)
    bench.bridge.enter("title", "Typed meanwhile")
    gate.open()
    box = box_in(window, qtbot)
    box.button(getattr(QMessageBox.StandardButton, answer)).click()
    if answer == "Cancel":
        qtbot.waitUntil(lambda: is_free(maple))
        assert title(bench) == "Typed meanwhile"
        return
    qtbot.waitUntil(lambda: title(bench) == "maple")
    saved = job_file.read(kept).job.title
    assert saved == ("Typed meanwhile" if answer == "Save" else "Larkspur Lot 14")
    assert is_free(kept) and not is_free(maple)


def test_that_changes_given_up_before_are_not_asked_about_again(
    window: MainWindow,
    furniture: Furniture,
    bench: Workbench,
    qtbot: QtBot,
    other: Callable[[str], Path],
) -> None:
    bench.bridge.enter("title", "Given up")
    furniture.open(other("maple"))
    box_in(window, qtbot).button(QMessageBox.StandardButton.Discard).click()
    qtbot.waitUntil(lambda: title(bench) == "maple")
    assert not [box for box in window.findChildren(QMessageBox) if box.isVisible()]


def test_that_the_window_closes_while_a_job_is_read(
    window: MainWindow,
    furniture: Furniture,
    bench: Workbench,
    qtbot: QtBot,
    gate: Gate,
    other: Callable[[str], Path],
) -> None:
    gate.held = {"late"}
    late = other("late")
    furniture.open(late)
    qtbot.waitUntil(lambda: bool(gate.threads))
    window.close()
    assert not window.isVisible()
    gate.open()
    qtbot.waitUntil(lambda: "late" in gate.read and is_free(late))
    assert title(bench) == "Larkspur Lot 14"


def test_that_a_new_job_asked_for_meanwhile_goes_before_the_one_being_read(
    window: MainWindow,
    furniture: Furniture,
    bench: Workbench,
    qtbot: QtBot,
    gate: Gate,
    other: Callable[[str], Path],
) -> None:
    gate.held = {"late"}
    late = other("late")
    furniture.open(late)
    qtbot.waitUntil(lambda: bool(gate.threads))
    window.commands.new.trigger()
    assert title(bench) == ""
    gate.open()
    qtbot.waitUntil(lambda: "late" in gate.read and is_free(late))
    assert title(bench) == ""


def test_that_the_same_file_opened_again_keeps_its_hold(
    furniture: Furniture,
    bench: Workbench,
    other: Callable[[str], Path],
    read_whole: ReadWhole,
) -> None:
    path = other("again")
    furniture.open(path)
    read_whole()
    job_file.write(path, bench.bridge.editor.job.model_copy(update={"title": "By another"}), {})
    furniture.open(path)
    read_whole()
    assert title(bench) == "By another"
    assert not is_free(path)
