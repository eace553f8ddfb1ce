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
    for window in QApplication.topLevelWidgets():
        for building in window.findChildren(InTurns):
            building.complete()
    QApplication.processEvents()
