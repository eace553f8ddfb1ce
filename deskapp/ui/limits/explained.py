"""How a limit was worked out, line by line, folded away until asked for."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.session.limits_desk import LinePart, explained
from deskapp.ui.fold import FoldButton
from deskapp.ui.limits.fit_words import held_of
from deskapp.ui.marks import Mark
from deskapp.ui.theme import GRID
from deskapp.ui.words import Words

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from deskapp.domain.result import LimitOutcome
    from deskapp.session.limits_desk import ExplainLine
    from deskapp.ui.bridge import Bridge

_TOP = Qt.AlignmentFlag.AlignTop
_MARKED = (LinePart.CONDITION, LinePart.CONSIDERED)


class Explained(QWidget):
    """A fold with the lines that explain one outcome; they are asked for when it is opened."""

    def __init__(self, bridge: Bridge, system_key: str, outcome: LimitOutcome) -> None:
        super().__init__()
        self._bridge = bridge
        self._system = system_key
        self._outcome = outcome
        self._lines: QWidget | None = None
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        self.button = FoldButton(_("How this limit was worked out"), outcome.edition)
        self.button.turned.connect(self._fold)
        column.addWidget(self.button)
        self._column = column

    @property
    def is_open(self) -> bool:
        """Whether the lines are shown."""
        return self.button.is_open

    def _fold(self, is_open: bool) -> None:
        if is_open and self._lines is None:
            found = explained(self._bridge.editor, self._system, self._outcome)
            self._lines = ExplainLines(found)
            self._column.addWidget(self._lines)
        if self._lines is not None:
            self._lines.setVisible(is_open)


class ExplainLines(QWidget):
    """The lines of an explanation; those that tell of the same thing share one label."""

    def __init__(self, lines: Sequence[ExplainLine]) -> None:
        super().__init__()
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(GRID, 0, 0, GRID)
        self._grid.setHorizontalSpacing(GRID)
        self._grid.setVerticalSpacing(5)
        self._grid.setColumnStretch(2, 1)
        for _part, group in groupby(lines, key=lambda line: line.part):
            self._add(group)

    def _add(self, group: Iterable[ExplainLine]) -> None:
        for number, line in enumerate(group):
            at = self._grid.rowCount()
            if number == 0:
                label = Words(line.label, muted=True, wraps=False)
                self._grid.addWidget(label, at, 0, _TOP)
            text = Words(line.text).can_be_copied()
            if line.part in _MARKED:
                glyph, word = held_of(line.holds)
                mark = Mark(glyph, 16)
                mark.show_glyph(glyph, word)
                self._grid.addWidget(mark, at, 1, _TOP)
                if line.holds is not True:
                    text.setText(f"{line.text} ({word})")
                text.setAccessibleName(f"{line.label}, {word}: {line.text}")
            else:
                text.setAccessibleName(f"{line.label}: {line.text}")
            self._grid.addWidget(text, at, 2)
