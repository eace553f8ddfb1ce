"""A job file is read beside the window; of several asked for, the last one is opened."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from threading import Event, get_ident

import pytest
from PySide6.QtWidgets import QMessageBox
from pytestqt.qtbot import QtBot

from deskapp.archive import job_file
from deskapp.archive.file_hold import InUse, hold, lock_path_of
from deskapp.session import opening
from deskapp.session.editor import Editor
from deskapp.session.opening import JobFileProblem, open_job
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
    held = Gate(open_job)
    monkeypatch.setattr(opening, "open_job", held.pass_through)
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


@dataclass(frozen=True)
class Scene:
    """A window with a job at hand, and other jobs that may be held back while they are read."""

    window: MainWindow
    furniture: Furniture
    bench: Workbench
    gate: Gate
    other: Callable[[str], Path]
    qtbot: QtBot

    @property
    def title(self) -> object:
        """The name of the job at hand."""
        return self.bench.bridge.value_at("title")

    def open(self, name: str, *, held: bool = False) -> Path:
        """Have another job opened; one that is held is being read then."""
        if held:
            self.gate.held.add(name)
        path = self.other(name)
        self.furniture.open(path)
        if held:
            self.qtbot.waitUntil(lambda: bool(self.gate.threads))
        return path

    def open_gate(self, late: Path) -> None:
        """Let all be read, and wait until one that nobody wants is let go."""
        self.gate.open()
        self.qtbot.waitUntil(lambda: late.stem in self.gate.read and is_free(late))

    def box(self) -> QMessageBox:
        """The question or message on screen."""
        self.qtbot.waitUntil(lambda: bool(self.boxes()))
        return self.boxes()[0]

    def boxes(self) -> list[QMessageBox]:
        return [box for box in self.window.findChildren(QMessageBox) if box.isVisible()]


@pytest.fixture
def scene(
    window: MainWindow,
    furniture: Furniture,
    bench: Workbench,
    gate: Gate,
    other: Callable[[str], Path],
    qtbot: QtBot,
) -> Scene:
    return Scene(window, furniture, bench, gate, other, qtbot)


def is_free(path: Path) -> bool:
    """Whether nobody holds the file."""
    try:
        hold(lock_path_of(path)).release()
    except InUse:
        return False
    return True


def test_that_the_job_at_hand_is_worked_on_while_another_is_read_and_checked_elsewhere(
    scene: Scene, read_whole: ReadWhole
) -> None:
    scene.open("maple", held=True)
    assert scene.title == "Larkspur Lot 14"
    scene.bench.show_page("result")
    scene.gate.open()
    read_whole()
    assert scene.title == "maple"
    assert get_ident() not in scene.gate.threads


def test_that_opening_twice_quickly_opens_the_last_one_and_holds_only_that(
    scene: Scene, read_whole: ReadWhole
) -> None:
    first = scene.open("first", held=True)
    second = scene.open("second")
    read_whole()
    assert scene.title == "second"
    scene.open_gate(first)
    assert scene.title == "second"
    assert not is_free(second)
    preferences = scene.furniture.desk.preferences
    assert preferences.recent[:1] == (str(second),)
    assert str(first) not in preferences.recent


def test_that_a_bad_file_asked_for_last_keeps_the_job_at_hand(scene: Scene, tmp_path: Path) -> None:
    bad = tmp_path / "bad.ductjob"
    bad.write_bytes(b"PK")
    scene.open("good", held=True)
    scene.furniture.open(bad)
    scene.gate.open()
    box = scene.box()
    assert (box.text(), "bad.ductjob" in box.informativeText()) == ("The job was not opened", True)
    assert scene.title == "Larkspur Lot 14"
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
    scene: Scene, answer: str, tmp_path: Path
) -> None:
    bridge = scene.bench.bridge
    kept = scene.furniture.desk.save(bridge.editor, tmp_path / "kept.ductjob")
    maple = scene.open("maple", held=True)
    bridge.enter("title", "Typed meanwhile")
    scene.gate.open()
    scene.box().button(getattr(QMessageBox.StandardButton, answer)).click()
    if answer == "Cancel":
        scene.qtbot.waitUntil(lambda: is_free(maple))
        assert scene.title == "Typed meanwhile"
        return
    scene.qtbot.waitUntil(lambda: scene.title == "maple")
    saved = job_file.read(kept).job.title
    assert saved == ("Typed meanwhile" if answer == "Save" else "Larkspur Lot 14")
    assert is_free(kept) and not is_free(maple)


def test_that_changes_given_up_before_are_not_asked_about_again(scene: Scene) -> None:
    scene.bench.bridge.enter("title", "Given up")
    scene.open("maple")
    scene.box().button(QMessageBox.StandardButton.Discard).click()
    scene.qtbot.waitUntil(lambda: scene.title == "maple")
    assert not scene.boxes()


def test_that_the_window_closes_while_a_job_is_read(scene: Scene) -> None:
    late = scene.open("late", held=True)
    scene.window.close()
    assert not scene.window.isVisible()
    scene.open_gate(late)
    assert scene.title == "Larkspur Lot 14"


def test_that_a_new_job_asked_for_meanwhile_goes_before_the_one_being_read(scene: Scene) -> None:
    late = scene.open("late", held=True)
    scene.window.commands.new.trigger()
    assert scene.title == ""
    scene.open_gate(late)
    assert scene.title == ""


def test_that_the_same_file_opened_again_keeps_its_hold(
    scene: Scene, read_whole: ReadWhole
) -> None:
    path = scene.open("again")
    read_whole()
    changed = scene.bench.bridge.editor.job.model_copy(update={"title": "By another"})
    job_file.write(path, changed, {})
    scene.furniture.open(path)
    read_whole()
    assert scene.title == "By another"
    assert not is_free(path)


def test_that_a_bad_file_asks_for_no_change_to_be_given_up(scene: Scene, tmp_path: Path) -> None:
    scene.bench.bridge.enter("title", "Not saved")
    bad = tmp_path / "bad.ductjob"
    bad.write_bytes(b"no job")
    scene.furniture.open(bad)
    assert "not opened" in scene.box().text()
    assert len(scene.boxes()) == 1
    assert scene.title == "Not saved"


@pytest.mark.parametrize("answer", ["Discard", "Cancel"])
def test_that_unsaved_changes_are_asked_about_once_the_other_job_was_read(
    scene: Scene, answer: str
) -> None:
    scene.bench.bridge.enter("title", "Not saved")
    path = scene.open("other", held=True)
    assert scene.boxes() == []
    scene.gate.open()
    scene.box().button(getattr(QMessageBox.StandardButton, answer)).click()
    if answer == "Discard":
        scene.qtbot.waitUntil(lambda: scene.title == "other")
    else:
        scene.qtbot.waitUntil(lambda: is_free(path))
        assert scene.title == "Not saved"
    assert scene.boxes() == []


@pytest.mark.parametrize("way", ["sample", "tour"])
def test_that_a_sample_that_cannot_be_read_asks_for_no_change_to_be_given_up(
    scene: Scene, monkeypatch: pytest.MonkeyPatch, way: str
) -> None:
    def stumble(path: Path) -> None:
        raise JobFileProblem("not-a-job", f"{path.name} is no job.")

    scene.bench.bridge.enter("title", "Not saved")
    monkeypatch.setattr(job_file, "read", stumble)
    if way == "sample":
        scene.furniture.open_sample()
    else:
        scene.furniture.show_around()
    assert "not opened" in scene.box().text()
    assert len(scene.boxes()) == 1
    assert scene.title == "Not saved"


def test_that_unsaved_changes_are_asked_about_before_a_sample_takes_their_place(
    scene: Scene,
) -> None:
    scene.bench.bridge.enter("title", "Not saved")
    scene.furniture.open_sample()
    assert scene.title == "Not saved"
    scene.box().button(QMessageBox.StandardButton.Discard).click()
    assert scene.title != "Not saved"
