"""The program itself is killed in the middle of an edit; its next start asks what is to be done."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from deskapp.app.window import Opening
from deskapp.archive import job_file
from deskapp.domain.job import Job
from deskapp.ui.dialogs.recover_dialog import RecoverDialog
from deskapp.ui.furnish import Furniture

ROOT = Path(__file__).resolve().parents[2]
EDITING = """
import sys, time
from pathlib import Path
from PySide6.QtWidgets import QApplication
from deskapp.app.window import Opening
app, folder = QApplication([]), Path(sys.argv[1])
opening = Opening(app, folder)
opening.window.open_file(folder / "kept.ductjob")
opening.window.show()
end = time.monotonic() + 60
copied = False
while time.monotonic() < end and not any(folder.glob("recovery/*/job.json")):
    app.processEvents()
    furniture = opening.window.furniture
    if furniture is not None and furniture.bench is not None and not copied:
        furniture.bench.bridge.enter("title", "Typed before the end")
        copied = True
    time.sleep(0.01)
print("copied", flush=True)
while True:
    app.processEvents()
    time.sleep(0.01)
"""


@pytest.fixture
def killed(tmp_path: Path) -> Path:
    """The folder of a program that was killed a while after an edit."""
    job_file.write(tmp_path / "kept.ductjob", Job(number="J-9", title="As saved"), {})
    variables = {**os.environ, "PYTHONPATH": str(ROOT), "QT_QPA_PLATFORM": "offscreen"}
    command = [sys.executable, "-c", EDITING, str(tmp_path)]
    with subprocess.Popen(command, env=variables, stdout=subprocess.PIPE, text=True) as program:
        try:
            assert program.stdout is not None
            assert program.stdout.readline() == "copied\n"
        finally:
            program.kill()
    assert list(tmp_path.glob("recovery/*/job.json"))
    return tmp_path


def test_that_the_next_start_offers_three_ways_and_restores_nothing_unasked(
    qtbot: QtBot, started: Callable[[Path], Opening], killed: Path
) -> None:
    window = started(killed).window
    window.show()
    qtbot.waitUntil(lambda: window.furniture is not None, timeout=60_000)
    (dialog,) = [one for one in window.findChildren(RecoverDialog) if one.isVisible()]
    assert [one.text() for one in dialog.choices] == ["Recover", "Keep both", "Open the saved one"]
    assert window.stack.currentWidget() is window.start
    assert job_file.read(killed / "kept.ductjob").job.title == "As saved"
    dialog.choices[0].click()
    furniture = window.furniture
    assert isinstance(furniture, Furniture)
    qtbot.waitUntil(lambda: furniture.files.editor is not None, timeout=10_000)
    editor = furniture.files.editor
    assert editor is not None
    assert editor.job.title == "Typed before the end"
    assert window.isWindowModified()
    assert job_file.read(killed / "kept.ductjob").job.title == "As saved"
