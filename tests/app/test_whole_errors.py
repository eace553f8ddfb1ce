"""An error of the interpreter in a method that Qt calls does not end the program."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]

WITHIN_CALLS = """
import sys
from PySide6.QtCore import QCoreApplication, QEvent
from PySide6.QtWidgets import QApplication, QWidget

class Mixed:
    def closeEvent(self, event):
        [][3]

class Before(Mixed, QWidget):
    def event(self, event):
        if event.type() == QEvent.Type.User:
            1 / 0
        return super().event(event)

from deskapp.app.whole_errors import keep_errors_whole
keep_errors_whole()
keep_errors_whole()

class After(QWidget):
    def event(self, event):
        if event.type() == QEvent.Type.User:
            (lambda: 0)(1)
        return super().event(event)

app = QApplication([])
told = []
for kind in (Before, After):
    try:
        QCoreApplication.sendEvent(kind(), QEvent(QEvent.Type.User))
    except Exception as error:
        told.append(type(error).__name__)
try:
    Before().close()
except Exception as error:
    told.append(type(error).__name__)
print(*told)
"""

CLOSING = """
import sys
from pathlib import Path
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
from deskapp.app.window import Opening
from deskapp.ui.crash import CrashGuard

app = QApplication([])
opening = Opening(app, Path(sys.argv[1]))
window = opening.window
window.show()
clock = QTimer()

def go_on():
    if window.furniture is None:
        return
    clock.stop()
    window.furniture.files.new_now()
    window.furniture.bench.bridge.enter("title", "Not saved")
    window.furniture.leave = lambda: None  # called with an argument
    QTimer.singleShot(0, window.commands.quit.trigger)
    QTimer.singleShot(200, look)

def look():
    guard = window.findChild(CrashGuard)
    title = window.furniture.bench.bridge.value_at("title")
    print(window.isVisible(), guard.dialog is not None, title, flush=True)
    app.exit(0)

clock.timeout.connect(go_on)
clock.start(50)
app.exec()
window.furniture.close_down()
"""


def outcome(code: str, *words: str) -> str:
    done = subprocess.run(
        [sys.executable, "-c", code, *words],
        env={**os.environ, "PYTHONPATH": str(ROOT), "QT_QPA_PLATFORM": "offscreen"},
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout.strip()


@pytest.mark.skipif(sys.version_info >= (3, 12), reason="there each error is an object at once")
def test_that_an_error_of_the_interpreter_within_a_call_is_raised_and_ends_nothing() -> None:
    assert outcome(WITHIN_CALLS) == "ZeroDivisionError TypeError IndexError"


def test_that_the_window_stays_with_its_job_and_tells_of_such_an_error(tmp_path: Path) -> None:
    assert outcome(CLOSING, str(tmp_path)) == "True True Not saved"
