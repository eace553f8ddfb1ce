"""The small cross that takes a row or a picture out."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QSize
from PySide6.QtWidgets import QToolButton

from deskapp.ui.glyphs import Glyph, icon_of
from deskapp.ui.theme import scaled

_SIDE = 14


class RemoveButton(QToolButton):
    """A cross without a frame, as large as the font asks for."""

    def __init__(self) -> None:
        super().__init__()
        self.setAutoRaise(True)
        self._dress()

    def changeEvent(self, event: QEvent) -> None:
        """Follow the theme and the font."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.PaletteChange, QEvent.Type.FontChange):
            self._dress()

    def _dress(self) -> None:
        side = scaled(_SIDE, self.font())
        self.setIconSize(QSize(side, side))
        self.setIcon(icon_of(Glyph.REMOVE, self, side))
