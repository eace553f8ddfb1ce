"""Copying the set-up of an earlier test from the page of the set-up."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from deskapp.domain.choices import Direction
from deskapp.session.editor import Editor
from deskapp.session.saving import save_as
from deskapp.ui.furnish import Furniture
from deskapp.ui.instruments.earlier_card import EarlierCard
from deskapp.ui.instruments.setup_page import SetupPage
from deskapp.ui.workbench import Workbench


@pytest.fixture
def saved(editor: Editor, furniture: Furniture, tmp_path: Path) -> Path:
    """The invented job as a file used last."""
    editor.enter("tests.0.setup.fan_attachment", "Return grille")
    path = save_as(editor, tmp_path / "earlier.ductjob")
    furniture.desk.prefer(furniture.desk.preferences.with_recent(path))
    return path


def card(bench: Workbench) -> EarlierCard:
    bench.show_page("setup")
    assert isinstance(bench.page, SetupPage)
    return bench.page.earlier


def test_that_the_set_up_of_the_job_used_last_is_copied_and_listed(
    saved: Path, new_bench: Workbench, qtbot: QtBot
) -> None:
    before = new_bench.bridge.editor.job
    here = card(new_bench)
    dialog = here.ask_which()
    qtbot.waitUntil(lambda: dialog.list.count() == 2)
    assert "Larkspur Lot 14" in dialog.list.item(0).text()
    assert saved.exists()
    qtbot.keyClick(dialog.list, Qt.Key.Key_Return)
    assert not dialog.isVisible()
    qtbot.waitUntil(lambda: not here.said.isHidden())
    job = new_bench.bridge.editor.job
    assert job.tests[0].setup.direction is Direction.DEPRESSURIZE
    assert not job.tests[0].setup.fan_attachment
    assert job.tests[0].readings == before.tests[0].readings
    assert "Direction: Depressurized" in here.said.text()
    new_bench.bridge.undo()
    assert new_bench.bridge.editor.job == before
    assert here.said.isHidden()


def test_that_another_test_of_the_job_is_offered_first_and_the_one_shown_is_not(
    bench: Workbench, qtbot: QtBot
) -> None:
    here = card(bench)
    bench.bridge.enter("tests.0.setup.target_pressure", "30 Pa")
    setups = [test.setup for test in bench.bridge.editor.job.tests]
    assert setups[0] != setups[1]
    dialog = here.ask_which()
    assert dialog.list.count() == 1
    assert dialog.list.item(0).text().startswith("This job: Test 2")
    dialog.copy_button.click()
    qtbot.waitUntil(lambda: not here.said.isHidden())
    setups = [test.setup for test in bench.bridge.editor.job.tests]
    assert setups[0] == setups[1]


def test_that_without_any_earlier_set_up_it_says_so(new_bench: Workbench) -> None:
    dialog = card(new_bench).ask_which()
    assert not dialog.copy_button.isEnabled()
    assert dialog.remark.text() == "No earlier job is known yet."
