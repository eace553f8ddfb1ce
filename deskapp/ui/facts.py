"""What there is to know about a thing, in two columns."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout

from deskapp.ui.theme import GRID
from deskapp.ui.words import Words

if TYPE_CHECKING:
    from collections.abc import Iterable


def fact_grid(facts: Iterable[tuple[str, str]]) -> QGridLayout:
    """Return labels at the left and texts, which can be copied, at the right."""
    grid = QGridLayout()
    grid.setHorizontalSpacing(2 * GRID)
    grid.setVerticalSpacing(GRID)
    grid.setColumnStretch(1, 1)
    for row, (name, text) in enumerate(facts):
        grid.addWidget(Words(name, muted=True, wraps=False), row, 0, Qt.AlignmentFlag.AlignTop)
        grid.addWidget(Words(text).can_be_copied(), row, 1)
    return grid
