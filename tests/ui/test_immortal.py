"""Many calls into Qt do not use None, True and False up, whatever the release of Python and Qt."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]

MANY_CALLS = """
import sys
from deskapp.app.immortal import keep_alive, loses_references
from PySide6.QtCore import QObject
lost = loses_references()
kept = keep_alive()
thing = QObject()
for _ in range(200_000):
    thing.setObjectName("x")
    thing.signalsBlocked()
    thing.isWidgetType()
print(lost, kept, min(map(sys.getrefcount, (None, True, False))) > 50)
"""


def test_that_hundreds_of_thousands_of_calls_do_not_end_the_program() -> None:
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
