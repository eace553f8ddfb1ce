"""The program asks only before what cannot be taken back, and the guide lists each place."""

from __future__ import annotations

import ast
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
UI = ROOT / "deskapp" / "ui"
ASKING = {"ask_about", "ask_to_save", "QMessageBox"}
BOXES = "dialogs/boxes.py"


def questions() -> list[str]:
    """Return the file of each place that puts a question, once for each."""
    return sorted(
        str(file.relative_to(UI))
        for file in UI.rglob("*.py")
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Name)
        and node.func.id in ASKING
        and file != UI / BOXES
    )


def test_that_the_guide_lists_every_question() -> None:
    assert questions() == [
        "issuing/key_dialog.py",
        "job_files.py",
        "job_files.py",
        "job_saver.py",
        "limits/own_dialog.py",
        "limits/sampling_dialog.py",
        "papers/may_write.py",
        "photos/export_bar.py",
    ]
    guide = " ".join((ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").split())
    assert (
        "The program asks before it acts in eight places, where something would be lost:" in guide
    )
