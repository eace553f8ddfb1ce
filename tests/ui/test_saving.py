"""A job file is written beside the window: what is typed meanwhile stays, and counts as unsaved."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from threading import Event

import pytest
from PySide6.QtWidgets import QDialog, QFileDialog, QMessageBox
from pytestqt.qtbot import QtBot

from deskapp.archive import job_file
from deskapp.session.saving import Saved, SaveOrder
from deskapp.ui.desk import Desk
from deskapp.ui.furnish import Furniture
from deskapp.ui.main_window import MainWindow
from deskapp.ui.workbench import Workbench

SLOW = 700
"""Milliseconds after which the line that tells of the writing has come up; it comes after 500."""


class Gate:
    """Holds every writing back until it is opened, and counts them."""

    def __init__(self, run: Callable[[SaveOrder], Saved]) -> None:
        self._run = run
        self._opened = Event()
        self.written = 0

    def open(self) -> None:
        """Let what waits and all that follows be written."""
        self._opened.set()

    def pass_through(self, order: SaveOrder) -> Saved:
        """Wait for the opening, then write."""
        assert self._opened.wait(20)
        self.written += 1
        return self._run(order)


@pytest.fixture
def saved(bench: Workbench, desk: Desk, tmp_path: Path) -> Path:
    return desk.save(bench.bridge.editor, tmp_path / "kept.ductjob")


@pytest.fixture
def gate(saved: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Gate]:
    assert saved.exists()
    held = Gate(SaveOrder.run)
    monkeypatch.setattr(SaveOrder, "run", lambda order: held.pass_through(order))
    yield held
    held.open()


def idle(furniture: Furniture) -> bool:
    return not furniture.files.saving.is_busy


def title_in(path: Path) -> str:
    return job_file.read(path).job.title


def test_that_what_is_typed_while_the_file_is_written_stays_and_is_unsaved(
    window: MainWindow,
    furniture: Furniture,
    bench: Workbench,
    qtbot: QtBot,
    saved: Path,
    gate: Gate,
) -> None:
    bench.bridge.enter("title", "As it was")
    furniture.save()
    bench.bridge.enter("title", "Typed later")
    gate.open()
    qtbot.waitUntil(lambda: idle(furniture))
    assert title_in(saved) == "As it was"
    assert bench.bridge.value_at("title") == "Typed later"
    assert window.isWindowModified()
    bench.bridge.undo()
    bench.show_rest()
    assert not window.isWindowModified()


def test_that_saving_again_meanwhile_writes_once_more_only_what_is_new(
    furniture: Furniture, bench: Workbench, qtbot: QtBot, saved: Path, gate: Gate
) -> None:
    bench.bridge.enter("title", "First")
    furniture.save()
    furniture.save()
    furniture.save()
    gate.open()
    qtbot.waitUntil(lambda: idle(furniture) and not furniture.has_unsaved)
    assert (gate.written, title_in(saved)) == (1, "First")
    bench.bridge.enter("title", "Second")
    furniture.save()
    bench.bridge.enter("title", "Third")
    furniture.save()
    qtbot.waitUntil(lambda: idle(furniture) and not furniture.has_unsaved)
    assert title_in(saved) == "Third"


def test_that_saving_a_new_job_twice_at_once_asks_for_a_file_once(
    window: MainWindow,
    furniture: Furniture,
    new_bench: Workbench,
    qtbot: QtBot,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    held, path = Gate(SaveOrder.run), tmp_path / "new.ductjob"
    monkeypatch.setattr(SaveOrder, "run", lambda order: held.pass_through(order))
    new_bench.bridge.enter("title", "First")
    furniture.save()
    dialog = window.findChild(QFileDialog)
    assert isinstance(dialog, QFileDialog)
    dialog.fileSelected.emit(str(path))
    dialog.close()
    assert furniture.files.saving.is_busy
    new_bench.bridge.enter("title", "Second")
    window.commands.save.trigger()
    window.close()
    held.open()
    qtbot.waitUntil(lambda: not window.isVisible())
    assert [one for one in window.findChildren(QDialog) if one.isVisible()] == []
    assert title_in(path) == "Second"


def test_that_closing_waits_for_the_file_and_asks_nothing(
    window: MainWindow,
    furniture: Furniture,
    bench: Workbench,
    qtbot: QtBot,
    saved: Path,
    gate: Gate,
) -> None:
    bench.bridge.enter("title", "Saved, then closed")
    furniture.save()
    window.close()
    assert window.isVisible()
    gate.open()
    qtbot.waitUntil(lambda: not window.isVisible())
    assert title_in(saved) == "Saved, then closed"


def test_that_closing_asks_about_what_came_after_the_file_was_ordered(
    window: MainWindow,
    furniture: Furniture,
    bench: Workbench,
    qtbot: QtBot,
    saved: Path,
    gate: Gate,
) -> None:
    bench.bridge.enter("title", "Saved")
    furniture.save()
    bench.bridge.enter("title", "Not saved")
    window.close()
    gate.open()
    qtbot.waitUntil(lambda: bool(window.findChildren(QMessageBox)))
    assert window.isVisible()
    box = window.findChildren(QMessageBox)[0]
    box.button(QMessageBox.StandardButton.Save).click()
    qtbot.waitUntil(lambda: not window.isVisible())
    assert title_in(saved) == "Not saved"


def test_that_another_job_opens_only_after_the_file_is_written(
    window: MainWindow,
    furniture: Furniture,
    bench: Workbench,
    qtbot: QtBot,
    saved: Path,
    gate: Gate,
) -> None:
    bench.bridge.enter("title", "The first job")
    furniture.save()
    window.commands.new.trigger()
    assert bench.bridge.value_at("title") == "The first job"
    gate.open()
    qtbot.waitUntil(lambda: bench.bridge.value_at("title") == "")
    assert title_in(saved) == "The first job"
    assert not window.isWindowModified()


def test_that_a_file_that_takes_long_is_told_in_place(
    furniture: Furniture, bench: Workbench, qtbot: QtBot, gate: Gate
) -> None:
    line = furniture.files.progress_line()
    qtbot.addWidget(line)
    bench.bridge.enter("title", "Slow")
    furniture.save()
    qtbot.waitUntil(line.isVisible, timeout=20 * SLOW)
    assert line.words.text() == "writing kept.ductjob"
    assert not line.cancel.isVisible()
    gate.open()
    qtbot.waitUntil(lambda: not line.isVisible())
