"""Many calls into Qt do not use None up, whatever the release of Python and Qt."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]

MANY_CALLS = """
import sys
from deskapp.app.none_guard import keep_none, loses_references
from PySide6.QtCore import QObject
lost = loses_references()
kept = keep_none()
thing = QObject()
for _ in range(100_000):
    thing.setObjectName("x")
print(lost, kept, sys.getrefcount(None) > 1000)
"""


def test_that_a_hundred_thousand_calls_do_not_end_the_program() -> None:
    done = subprocess.run(
        [sys.executable, "-c", MANY_CALLS],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=True,
    )
    lost, kept, plenty = done.stdout.split()
    assert plenty == "True"
    assert kept == ("True" if lost == "True" and sys.version_info < (3, 12) else "False")
