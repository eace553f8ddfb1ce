"""Glyphs that stand in a layout, and messages with a glyph before them."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QWidget

from deskapp.i18n import labeled
from deskapp.ui.glyphs import Glyph, color_of, paint_glyph
from deskapp.ui.theme import colors_of, scaled
from deskapp.ui.words import Size, Words


class Mark(QWidget):
    """A glyph in its own color, as high as `side` points."""

    def __init__(self, glyph: Glyph, side: int = 18) -> None:
        super().__init__()
        self._glyph = glyph
        self.resize_glyph(side)

    def resize_glyph(self, side: int) -> None:
        """Draw it as high as `side` points."""
        side = scaled(side, self.font())
        self.setFixedSize(QSize(side, side))

    @property
    def glyph(self) -> Glyph:
        """What is drawn."""
        return self._glyph

    def show_glyph(self, glyph: Glyph, words: str = "") -> None:
        """Draw another glyph; `words` say to a screen reader what it stands for."""
        if (glyph, words) == (self._glyph, self.accessibleName()):
            return
        self._glyph = glyph
        self.setAccessibleName(words)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the glyph."""
        colors = colors_of(self.palette())
        painter = QPainter(self)
        ink = QColor(color_of(self._glyph, colors))
        paint_glyph(painter, QRectF(self.rect()), self._glyph, ink, QColor(colors.card))
        painter.end()
        event.accept()


class Notice(QWidget):
    """An icon and a text in one line, such as the message under a field."""

    def __init__(self, size: Size = Size.SMALL) -> None:
        super().__init__()
        self._mark = Mark(Glyph.NOTE, 16)
        self._text = Words(size=size)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 2, 0, 0)
        row.setSpacing(6)
        row.addWidget(self._mark, 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(self._text, 1)
        self.hide()

    @property
    def text(self) -> str:
        """The text shown."""
        return self._text.text()

    def set_wraps(self, on: bool) -> None:
        """Let the text go on in a line below, or keep it in one."""
        self._text.setWordWrap(on)

    def say(self, glyph: Glyph, word: str, text: str) -> None:
        """Show `text` after the word that goes with the glyph ("Check")."""
        self._mark.show_glyph(glyph, word)
        self._text.setText(labeled(word, text) if word else text)
        self._text.setAccessibleName(self._text.text())
        if self.parentWidget() is None:
            # Not a window of its own: it comes up with the parent it is given later.
            self.setAttribute(Qt.WidgetAttribute.WA_WState_ExplicitShowHide, False)
        else:
            self.show()
