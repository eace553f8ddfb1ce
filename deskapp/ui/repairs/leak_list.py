"""The leaks found, the most pressing first, with what closes them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QWidget

from deskapp.i18n import _
from deskapp.ui.advice_cards import WordsCard
from deskapp.ui.glyphs import Glyph
from deskapp.ui.marks import Mark
from deskapp.ui.theme import GRID
from deskapp.ui.words import Size, Words

if TYPE_CHECKING:
    from deskapp.ui.bridge import Bridge

# Marks of open leaks by level of severity, from unknown to critical.
_OPEN_GLYPHS = (Glyph.NONE, Glyph.NOTE, Glyph.NOTE, Glyph.CHECK, Glyph.STOP)


class LeakListCard(WordsCard):
    """The leak list, numbered as on photographs and papers."""

    def __init__(self, bridge: Bridge) -> None:
        intro = _("Open ones first, then by severity. The numbers are those of photos and reports.")
        super().__init__(bridge, _("Leak list"), intro)

    def words(self) -> tuple[object, ...]:
        """Return the leaks found."""
        from deskapp.session.leak_words import leak_list

        return leak_list(self.bridge.editor)

    def row(self, number: int, words: object) -> QWidget:
        """Return a leak with mark, number, severity, and while it is open what closes it."""
        from deskapp.session.leak_words import LeakWords

        assert isinstance(words, LeakWords)
        del number
        box = QWidget()
        grid = QGridLayout(box)
        grid.setContentsMargins(0, 0, 0, 2)
        grid.setHorizontalSpacing(GRID)
        grid.setVerticalSpacing(1)
        mark = Mark(Glyph.DONE, 18)
        state = _("open") if words.is_open else _("sealed")
        mark.show_glyph(_OPEN_GLYPHS[words.level] if words.is_open else Glyph.DONE, state)
        grid.addWidget(mark, 0, 0, Qt.AlignmentFlag.AlignTop)
        head = _("{number}. {place} ({state})").format(
            number=words.number, place=words.place, state=state
        )
        grid.addWidget(Words(head, Size.STRONG).can_be_copied(), 0, 1)
        lines = [(words.severity, False)]
        if words.is_open:
            lines += [(words.advice, False), (words.source, True)]
        for line, (text, is_small) in enumerate(lines, 1):
            if text:
                size = Size.SMALL if is_small else Size.BODY
                grid.addWidget(Words(text, size, muted=is_small).can_be_copied(), line, 1)
        grid.setColumnStretch(1, 1)
        return box
