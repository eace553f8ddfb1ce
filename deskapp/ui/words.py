"""Labels and frames that take their type size and colors from the theme."""

from __future__ import annotations

from enum import StrEnum

from PySide6.QtCore import QEvent, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPalette, QPen
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QSizePolicy, QWidget

from deskapp.ui.glyphs import Glyph, color_of, icon_of, paint_glyph
from deskapp.ui.theme import GRID, colors_of, scaled, sized


class Size(StrEnum):
    """Type sizes, from page titles to small print."""

    TITLE = "title"
    HEADING = "heading"
    BODY = "body"
    STRONG = "strong"
    SMALL = "small"


_FACTORS = {
    Size.TITLE: (1.55, True),
    Size.HEADING: (1.15, True),
    Size.BODY: (1.0, False),
    Size.STRONG: (1.0, True),
    Size.SMALL: (0.9, False),
}


class Words(QLabel):
    """Plain text that wraps; `muted` text is quieter but still readable."""

    def __init__(
        self, text: str = "", size: Size = Size.BODY, *, muted: bool = False, wraps: bool = True
    ) -> None:
        super().__init__(text)
        factor, strong = _FACTORS[size]
        self.setFont(sized(self.font(), factor, strong=strong))
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setWordWrap(wraps)
        if muted:
            self.setForegroundRole(QPalette.ColorRole.PlaceholderText)

    def can_be_copied(self) -> Words:
        """Let the text be selected with the mouse; return the label itself."""
        self.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.setCursor(Qt.CursorShape.IBeamCursor)
        return self


class Mark(QWidget):
    """A glyph in its own color, as high as `side` points."""

    def __init__(self, glyph: Glyph, side: int = 18) -> None:
        super().__init__()
        self._glyph = glyph
        side = scaled(side, self.font())
        self.setFixedSize(QSize(side, side))
        self.setAccessibleName(glyph.value)

    @property
    def glyph(self) -> Glyph:
        """What is drawn."""
        return self._glyph

    def show_glyph(self, glyph: Glyph, words: str = "") -> None:
        """Draw another glyph; `words` say to a screen reader what it stands for."""
        self._glyph = glyph
        self.setAccessibleName(words or glyph.value)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the glyph."""
        colors = colors_of(self.palette())
        painter = QPainter(self)
        ink = QColor(color_of(self._glyph, colors))
        paint_glyph(painter, QRectF(self.rect()), self._glyph, ink, QColor(colors.card))
        painter.end()
        event.accept()


class Card(QFrame):
    """A quiet sheet that holds what belongs together."""

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the sheet."""
        colors = colors_of(self.palette())
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(colors.line), 1))
        painter.setBrush(QColor(colors.card))
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5), 8, 8)
        painter.end()
        event.accept()


class Command(QPushButton):
    """A button with a verb, and a glyph if one helps; `main` for the one that goes on."""

    def __init__(self, text: str, glyph: Glyph | None = None, *, main: bool = False) -> None:
        super().__init__(text)
        self._glyph = glyph
        self._main = main
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self._dress()

    def sizeHint(self) -> QSize:
        """Leave some air around the text."""
        hint = super().sizeHint()
        return QSize(hint.width() + 2 * GRID, max(hint.height(), self.fontMetrics().height() + 14))

    def changeEvent(self, event: QEvent) -> None:
        """Follow the theme."""
        if event.type() == QEvent.Type.ApplicationPaletteChange:
            self._dress()
        super().changeEvent(event)

    def _dress(self) -> None:
        colors = colors_of(self.palette())
        if self._main:
            palette = QPalette()
            palette.setColor(QPalette.ColorRole.Button, QColor(colors.accent))
            palette.setColor(QPalette.ColorRole.ButtonText, QColor(colors.on_accent))
            palette.setColor(QPalette.ColorRole.Mid, QColor(colors.accent))
            self.setPalette(palette)
        if self._glyph is not None:
            ink = colors.on_accent if self._main else None
            side = scaled(16, self.font())
            self.setIconSize(QSize(side, side))
            self.setIcon(icon_of(self._glyph, self, side, ink=ink))


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

    def say(self, glyph: Glyph, word: str, text: str) -> None:
        """Show `text` after the word that goes with the glyph ("Check")."""
        self._mark.show_glyph(glyph, word)
        self._text.setText(f"{word}: {text}" if word else text)
        self._text.setAccessibleName(self._text.text())
        self.show()
