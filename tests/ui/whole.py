"""Waits until what was opened stands there whole: dialogs are built between turns of the loop."""

from __future__ import annotations

from PySide6.QtCore import QThreadPool
from PySide6.QtWidgets import QApplication

from deskapp.ui.building import InTurns


def make_whole() -> None:
    """Let work beside the window end, and what is being built be built."""
    QApplication.processEvents()
    QThreadPool.globalInstance().waitForDone(20_000)
    build_whole()


def build_whole() -> None:
    """Let what is being built be built."""
    QApplication.processEvents()
    tops = QApplication.topLevelWidgets()
    built = [one for top in tops for one in top.findChildren(InTurns) if not one.is_over]
    for building in built:
        building.complete()
    if built:
        QApplication.processEvents()
