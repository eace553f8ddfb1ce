"""Entries of earlier jobs, offered while one types."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from deskapp.session.editor import Editor
from deskapp.session.recall import FILE_NAME
from deskapp.session.saving import save_as
from deskapp.ui.company.preferring import show_preferences
from deskapp.ui.fields.line import EntryLine
from deskapp.ui.furnish import Furniture
from deskapp.ui.main_window import MainWindow
from deskapp.ui.workbench import Workbench


def line(bench: Workbench, path: str) -> EntryLine:
    bench.go_to(path)
    held = bench.focusWidget()
    assert isinstance(held, EntryLine)
    return held


def saved(furniture: Furniture, editor: Editor, path: Path, qtbot: QtBot) -> None:
    editor.enter("site.city", "Boise")
    editor.enter("client.name", "An Owner")
    furniture.files.show(editor)
    save_as(editor, path)
    furniture.files.save()
    qtbot.waitUntil(lambda: bool(furniture.recaller.offered("site.city")))


def test_that_an_entry_of_an_earlier_job_is_offered_and_taken_by_keys(
    furniture: Furniture, editor: Editor, tmp_path: Path, qtbot: QtBot
) -> None:
    saved(furniture, editor, tmp_path / "a.ductjob", qtbot)
    furniture.files.new_now()
    bench = furniture.bench
    assert bench is not None
    city = line(bench, "site.city")
    qtbot.keyClicks(city, "oi")
    popup = city.completer().popup()
    qtbot.waitUntil(popup.isVisible)
    qtbot.keyClick(popup, Qt.Key.Key_Down)
    qtbot.keyClick(popup, Qt.Key.Key_Return)
    bench.bridge.settle()
    assert bench.bridge.value_at("site.city") == "Boise"
    assert city.text() == "Boise"
    assert line(bench, "client.name").completer() is None


def test_that_samples_and_jobs_without_a_file_teach_nothing(
    bench: Workbench, furniture: Furniture, qtbot: QtBot
) -> None:
    qtbot.waitUntil(lambda: furniture.recaller.held is not None)
    assert furniture.recaller.offered("site.address") == ()
    assert bench.bridge.value_at("site.address")
    assert not (furniture.desk.folder / FILE_NAME).exists()


def test_that_entries_can_be_forgotten_and_no_longer_be_offered(
    furniture: Furniture, window: MainWindow, editor: Editor, tmp_path: Path, qtbot: QtBot
) -> None:
    saved(furniture, editor, tmp_path / "a.ductjob", qtbot)
    dialog = show_preferences(window, furniture.desk, furniture)
    dialog.rows["offer_entries"].input.click()
    assert furniture.recaller.offered("site.city") == ()
    dialog.rows["offer_entries"].restore.click()
    assert furniture.recaller.offered("site.city") == ("Boise",)
    forget = next(link for link in dialog.links if link.text() == "Forget earlier entries")
    forget.click()
    assert dialog.remark.text() == "Earlier entries are forgotten."
    assert furniture.recaller.offered("site.city") == ()
    assert not (furniture.desk.folder / FILE_NAME).exists()
