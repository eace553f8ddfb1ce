"""The start: painted first, loaded afterwards."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings
from pytestqt.qtbot import QtBot

from deskapp.app.window import Opening, load_desk
from deskapp.session.holding import let_go
from deskapp.ui.desk import Desk
from deskapp.ui.furnish import Furniture
from deskapp.ui.workbench import Workbench

ROOT = Path(__file__).resolve().parents[2]
LATE = (
    "pydantic",
    "pint",
    "babel",
    "reportlab",
    "PIL",
    "deskapp.domain.job",
    "deskapp.session.editor",
)

FIRST_PAINT = """
import json, sys
import deskapp.app.window as window
from PySide6.QtWidgets import QApplication
def tell(self):
    print(json.dumps(sorted(sys.modules)))
    QApplication.quit()
window.Opening._load = tell
window.run_window()
"""


def run(program: str, folder: Path) -> str:
    variables = {**os.environ, "QT_QPA_PLATFORM": "offscreen", "PYTHONPATH": str(ROOT)}
    variables["XDG_CONFIG_HOME"] = str(folder)
    command = [sys.executable, "-c", program]
    done = subprocess.run(
        command, env=variables, capture_output=True, text=True, check=True, timeout=300
    )
    return done.stdout


def test_that_nothing_big_is_loaded_before_the_first_paint(tmp_path: Path) -> None:
    loaded = json.loads(run(FIRST_PAINT, tmp_path))
    assert "deskapp.ui.main_window" in loaded
    assert [name for name in LATE if name in loaded] == []


def test_that_everything_is_loaded_after_the_first_paint_and_a_wish_is_done_then(
    qtbot: QtBot, started: Callable[[Path], Opening], tmp_path: Path
) -> None:
    opening = started(tmp_path)
    window = opening.window
    window.start.ways[0].click()
    window.show()
    qtbot.waitUntil(lambda: isinstance(window.furniture, Furniture), timeout=20_000)
    assert isinstance(window.stack.currentWidget(), Workbench)


def test_that_a_job_named_on_the_command_line_is_opened(
    qtbot: QtBot, started: Callable[[Path], Opening], desk: Desk, bench: Workbench, tmp_path: Path
) -> None:
    path = desk.save(bench.bridge.editor, tmp_path / "named.ductjob")
    let_go(bench.bridge.editor)
    opening = started(tmp_path)
    opening.window.open_file(path)
    assert "named.ductjob" in opening.window.start.remark_text
    opening.window.show()
    qtbot.waitUntil(lambda: opening.window.windowTitle().startswith("J-0001"), timeout=20_000)


def test_that_jobs_used_last_are_offered_at_the_start(
    qtbot: QtBot, started: Callable[[Path], Opening], tmp_path: Path, bench: Workbench
) -> None:
    desk = load_desk(tmp_path, tmp_path)
    path = desk.save(bench.bridge.editor, tmp_path / "again.ductjob")
    let_go(bench.bridge.editor)
    opening = started(tmp_path)
    opening.window.show()
    qtbot.waitUntil(lambda: opening.window.start.recent_buttons != [], timeout=20_000)
    button = opening.window.start.recent_buttons[0]
    assert button.text() == path.name
    button.click()
    qtbot.waitUntil(lambda: opening.window.windowTitle().startswith("J-0001"), timeout=20_000)


@pytest.mark.parametrize(("kept", "is_dark"), [("dark", True), ("light", False), ("odd", False)])
def test_that_the_appearance_chosen_before_is_used_from_the_first_paint(
    started: Callable[[Path], Opening], tmp_path: Path, kept: str, is_dark: bool
) -> None:
    memory = QSettings(str(tmp_path / "window.ini"), QSettings.Format.IniFormat)
    memory.setValue("appearance", kept)
    memory.sync()
    opening = started(tmp_path)
    assert opening.theme.colors.dark == is_dark


def test_that_damaged_preferences_are_told_at_the_start(
    qtbot: QtBot, started: Callable[[Path], Opening], tmp_path: Path
) -> None:
    (tmp_path / "preferences.json").write_text("{ not read", encoding="utf-8")
    opening = started(tmp_path)
    opening.window.show()
    qtbot.waitUntil(lambda: opening.window.furniture is not None, timeout=20_000)
    assert "preferences" in opening.window.start.remark_text
