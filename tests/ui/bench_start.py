"""How long it takes from starting the program to a painted window, beside an empty window.

Run it by hand: ``python tests/ui/bench_start.py [repetitions]``. Both programs are started in turn,
each in a fresh process on the offscreen platform, and the medians are compared. The goal is at most
1.5 times the empty window.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

GOAL = 1.5
ROOT = Path(__file__).resolve().parents[2]

EMPTY = """
import sys, time
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QMainWindow, QTableWidget
class Window(QMainWindow):
    def paintEvent(self, event):
        super().paintEvent(event)
        QTimer.singleShot(0, self.tell)
    def tell(self):
        print(time.time(), flush=True)
        QApplication.quit()
app = QApplication(sys.argv)
window = Window()
window.setCentralWidget(QTableWidget(20, 6))
window.resize(1280, 800)
window.show()
app.exec()
"""

OURS = """
import time
from deskapp.app.cli import main
import deskapp.app.window as window
from PySide6.QtWidgets import QApplication
def tell(self):
    print(time.time(), flush=True)
    QApplication.quit()
window.Opening._load = tell
main([])
"""


def start(program: str, folder: str) -> float:
    """Start `program` in a fresh process; return the seconds until its window was painted."""
    variables = {
        **os.environ,
        "QT_QPA_PLATFORM": "offscreen",
        "PYTHONPATH": str(ROOT),
        "XDG_CONFIG_HOME": folder,
    }
    before = time.time()
    done = subprocess.run(
        [sys.executable, "-c", program],
        env=variables,
        capture_output=True,
        text=True,
        check=True,
    )
    return float(done.stdout.split()[0]) - before


def main() -> int:
    """Measure and print; return 1 if the goal is missed."""
    repetitions = int(sys.argv[1]) if len(sys.argv) > 1 else 15
    with TemporaryDirectory() as folder:
        for program in (EMPTY, OURS):
            start(program, folder)
        pairs = [(start(EMPTY, folder), start(OURS, folder)) for _ in range(repetitions)]
    empty = median(pair[0] for pair in pairs)
    ours = median(pair[1] for pair in pairs)
    print(f"empty window with one table  {empty * 1000:6.0f} ms (median of {repetitions})")
    print(f"Ductfolio, first paint       {ours * 1000:6.0f} ms")
    print(f"ratio                        {ours / empty:6.2f}   (goal: at most {GOAL})")
    return 0 if ours / empty <= GOAL else 1


if __name__ == "__main__":
    sys.exit(main())
