"""What the library of the window takes by itself, to be held beside `bench_slots`.

Run it by hand: ``python tests/ui/bare_slots.py [rounds]``. Measured is processor time in bare
widgets of Qt, without our style, words or arithmetic: a page of as many labels and lines as our
largest one is laid out anew, as it is when help opens beside it, and is given other colors; and a
dialog is opened over it. What these take, ours cannot go below.
"""

from __future__ import annotations

import os
import sys
import time
from statistics import median
from typing import TYPE_CHECKING

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import (
    QApplication,
    QDialog,
    QDialogButtonBox,
    QGridLayout,
    QLabel,
    QLineEdit,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

if TYPE_CHECKING:
    from collections.abc import Callable

ROWS, PAGES = 75, 9
"""Labels that wrap, each beside a line: about as many as the page of the set-up has."""


def page() -> QScrollArea:
    """Return a page of bare widgets."""
    inside, area = QWidget(), QScrollArea()
    grid = QGridLayout(inside)
    for row in range(ROWS):
        label = QLabel(f"Label number {row} of this page, long enough to go on in a new line")
        label.setWordWrap(True)
        for column, part in enumerate((label, QLineEdit(f"{row}"), QLabel("= 12.3 L/s"))):
            grid.addWidget(part, row, column)
    area.setWidgetResizable(True)
    area.setWidget(inside)
    return area


def took(app: QApplication, step: Callable[[], object]) -> float:
    """Return the ms of the longest turn of a step and what follows from it."""
    turns: list[float] = []
    for work in (step, *[app.processEvents] * 5):
        begin = time.thread_time()
        work()
        turns.append((time.thread_time() - begin) * 1000)
    return max(turns)


def palettes() -> tuple[QPalette, QPalette]:
    """Return a light and a dark palette."""
    return QPalette(QColor("#eeeeee")), QPalette(QColor("#222222"))


def open_dialog(parent: QWidget) -> None:
    """Open a dialog of a few widgets."""
    dialog = QDialog(parent)
    column = QVBoxLayout(dialog)
    for text in ("Some words", "and some more"):
        column.addWidget(QLabel(text))
    column.addWidget(QDialogButtonBox(QDialogButtonBox.StandardButton.Close))
    dialog.open()


def close_dialog(parent: QWidget) -> None:
    """Close it again."""
    for dialog in parent.findChildren(QDialog):
        dialog.reject()
        dialog.deleteLater()


def main() -> int:
    """Measure and print."""
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 9
    app = QApplication(sys.argv[:1])
    app.setStyle("Fusion")
    window = QWidget()
    column = QVBoxLayout(window)
    pages = [page() for _number in range(PAGES)]
    for other in pages:
        column.addWidget(other)
    for other in pages[1:]:
        other.hide()
    window.resize(1280, 800)
    window.show()
    took(app, lambda: None)
    light, dark = palettes()
    steps: dict[str, Callable[[], object]] = {
        "a page made narrower": lambda: window.resize(900, 800),
        "a page made wider": lambda: window.resize(1280, 800),
        "other colors for all pages": lambda: app.setPalette(dark),
        "the colors as before": lambda: app.setPalette(light),
        "a dialog opened": lambda: open_dialog(window),
        "the dialog closed": lambda: close_dialog(window),
    }
    taken: dict[str, list[float]] = {name: [] for name in steps}
    for _round in range(rounds):
        for name, step in steps.items():
            taken[name].append(took(app, step))
    for name, times in taken.items():
        print(f"bare widgets: {name:<28} {min(times):6.1f} ms, usually {median(times):6.1f} ms")
    return 0


if __name__ == "__main__":
    sys.exit(main())
