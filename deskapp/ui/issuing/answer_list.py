"""Answers about a report, each with icon and word."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QVBoxLayout, QWidget

from deskapp.i18n import _, ngettext
from deskapp.session.checking import STANDING_WORDS, AnswerLevel
from deskapp.ui.glyphs import Glyph
from deskapp.ui.marks import Notice
from deskapp.ui.theme import GRID
from deskapp.ui.words import Size, Words

if TYPE_CHECKING:
    from deskapp.session.checking import Answer, Checked

_GLYPHS = {
    AnswerLevel.GOOD: Glyph.DONE,
    AnswerLevel.KNOW: Glyph.NOTE,
    AnswerLevel.BAD: Glyph.FAIL,
}


class AnswerList(QWidget):
    """A line for each answer below a summary; empty until something was checked."""

    def __init__(self) -> None:
        super().__init__()
        self.summary = Words(size=Size.STRONG)
        self.summary.hide()
        self.notices: list[Notice] = []
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(GRID)
        self._column.addWidget(self.summary)

    def show_answers(self, checked: Checked) -> None:
        """Show what was found."""
        self.clear()
        bad = sum(answer.standing is AnswerLevel.BAD for answer in checked.answers)
        words = ngettext("{n} answer is not in order.", "{n} answers are not in order.", bad)
        self.summary.setText(words.format(n=bad) if bad else _("Nothing is out of order."))
        self.summary.show()
        for answer in checked.answers:
            self._add(answer)

    def clear(self) -> None:
        """Show nothing."""
        self.summary.hide()
        for notice in self.notices:
            self._column.removeWidget(notice)
            notice.hide()
            notice.deleteLater()
        self.notices = []

    def _add(self, answer: Answer) -> None:
        notice = Notice(Size.BODY)
        self._column.addWidget(notice)
        notice.say(_GLYPHS[answer.standing], _(STANDING_WORDS[answer.standing]), answer.text)
        self.notices.append(notice)
