"""A message in the window that stays until it is seen to, with what can be done about it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QWidget

from deskapp.i18n import _, said
from deskapp.ui.glyphs import Glyph
from deskapp.ui.marks import Mark
from deskapp.ui.theme import GRID
from deskapp.ui.words import Card, Command, Words

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from deskapp.i18n import Said

    Ways = Callable[[], Mapping[str, Callable[[], object]]]


class NoticeBar(QFrame):
    """One message at a time, above the page; hidden while there is none.

    `topic` tells what the message is about, so that it can be withdrawn once that is settled.
    """

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.topic = ""
        self.told: tuple[str, Said, Ways] | None = None
        self.buttons: list[Command] = []
        card = Card()
        self._line = QHBoxLayout(card)
        self._line.setContentsMargins(2 * GRID, GRID, GRID, GRID)
        self._line.setSpacing(12)
        self._line.addWidget(Mark(Glyph.CHECK, 22), 0, Qt.AlignmentFlag.AlignTop)
        self._words = Words().can_be_copied()
        self._line.addWidget(self._words, 1)
        outer = QHBoxLayout(self)
        outer.setContentsMargins(GRID, GRID, GRID, 0)
        outer.addWidget(card)
        self.hide()

    @property
    def text(self) -> str:
        """The message shown; empty if there is none."""
        return self._words.text() if self.topic else ""

    def tell(self, topic: str, text: Said, ways: Ways) -> None:
        """Show a message about `topic`; `ways` gives what can be done, each a button.

        What was told is kept in `told`, to be told again in another language.
        """
        self.withdraw()
        self.topic = topic
        self.told = (topic, text, ways)
        self._words.setText(said(text))
        for words, act in (*ways().items(), (_("Close"), self.withdraw)):
            button = Command(words)
            button.clicked.connect(act)
            self._line.addWidget(button, 0, Qt.AlignmentFlag.AlignVCenter)
            self.buttons.append(button)
        self.show()

    def withdraw(self, topic: str = "") -> None:
        """Take the message away; with a `topic`, only if it is about that."""
        if topic and topic != self.topic:
            return
        self.topic = ""
        self.told = None
        for button in self.buttons:
            self._line.removeWidget(button)
            button.hide()
            button.deleteLater()
        self.buttons = []
        self.hide()
