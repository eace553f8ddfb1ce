"""Labels, frames and buttons that take their type size and colors from the theme.

Part of the first paint: everything here is drawn by the style, from the palette. Whatever sets a
color on a painter would load the big namespace ``Qt``, which takes as long as all the rest.
"""

from __future__ import annotations

import re
from enum import StrEnum
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QSize
from PySide6.QtGui import QColor, QKeyEvent, QPalette
from PySide6.QtWidgets import QFrame, QLabel, QPushButton, QSizePolicy, QWidget

from deskapp.ui.theme import GRID, colors_of, scaled, sized

if TYPE_CHECKING:
    from deskapp.session.colors import Colors
    from deskapp.ui.glyphs import Glyph


_WORD_JOINER = "\N{WORD JOINER}"
_PARTED_UNIT = re.compile(r"/(?=(?:s|h|min|100|1000|\()(?![A-Za-z]))")
"""The slash in a unit, ``L/s``, after which a line would go on below."""
ICON_GAP = 7
FLAT_INDENT = GRID
"""Between the glyph of a button and its words, and before the words of a flat one."""


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


def with_whole_units(text: str) -> str:
    """Return `text` so that no line ends within a unit; the mark for it cannot be seen."""
    return _PARTED_UNIT.sub("/" + _WORD_JOINER, text) if "/" in text else text


class Words(QLabel):
    """Plain text that wraps; `muted` text is quieter but still readable."""

    def __init__(
        self, text: str = "", size: Size = Size.BODY, *, muted: bool = False, wraps: bool = True
    ) -> None:
        super().__init__()
        self._usual = self.font()
        self.resize_words(size)
        self.setWordWrap(wraps)
        self.setText(text)
        if muted:
            self.setForegroundRole(QPalette.ColorRole.PlaceholderText)

    def resize_words(self, size: Size) -> None:
        """Write in another size."""
        factor, strong = _FACTORS[size]
        self.setFont(sized(self._usual, factor, strong=strong))

    def setText(self, text: str, /) -> None:
        """Show `text` letter by letter, also where it could be taken for markup."""
        if "<" in text:
            from PySide6.QtCore import Qt

            self.setTextFormat(Qt.TextFormat.PlainText)
        super().setText(with_whole_units(text))

    def text(self) -> str:
        """Return the text as it was given."""
        return super().text().replace(_WORD_JOINER, "")

    def setWordWrap(self, on: bool, /) -> None:
        """Let the text go on in a new line; where it does already, nothing is laid out anew."""
        if on != self.wordWrap():
            super().setWordWrap(on)

    def can_be_copied(self) -> Words:
        """Let the text be selected with the mouse; return the label itself."""
        from PySide6.QtCore import Qt

        self.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.setCursor(Qt.CursorShape.IBeamCursor)
        return self


class Card(QFrame):
    """A quiet sheet that holds what belongs together; the style rounds its corners."""

    def __init__(self) -> None:
        super().__init__()
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self.setBackgroundRole(QPalette.ColorRole.Button)
        self.setAutoFillBackground(not _is_refined(self))

    def changeEvent(self, event: QEvent) -> None:
        """Leave the ground to our own style as soon as it is there."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange:
            self.setAutoFillBackground(not _is_refined(self))


def _is_refined(widget: QWidget) -> bool:
    return widget.style().objectName() == "quiet"


class Command(QPushButton):
    """A button with a verb, and a glyph if one helps; `main` for the one that goes on."""

    def __init__(self, text: str, glyph: Glyph | None = None, *, main: bool = False) -> None:
        super().__init__(text)
        self._glyph = glyph
        self._main = main
        self._colors: Colors | None = None
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self._dress()

    def show_glyph(self, glyph: Glyph) -> None:
        """Put a glyph before the text."""
        self._glyph = glyph
        self._dress()

    def allow(self, on: bool, why: str) -> None:
        """Let it be pressed, or say in the tip and to a screen reader why it cannot be."""
        self.setEnabled(on)
        told = "" if on else why
        self.setToolTip(told)
        self.setAccessibleDescription(told)

    def sizeHint(self) -> QSize:
        """Leave some air around the text."""
        metrics = self.fontMetrics()
        icon = 0 if self.icon().isNull() else self.iconSize().width() + ICON_GAP
        beside = 2 * FLAT_INDENT if self.isFlat() else 4 * GRID
        width = metrics.horizontalAdvance(self.text()) + icon + beside
        return QSize(width, metrics.height() + 14)

    def minimumSizeHint(self) -> QSize:
        """Show the whole text."""
        return self.sizeHint()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Act on Enter as well as on the space bar."""
        from PySide6.QtCore import Qt

        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
            return
        super().keyPressEvent(event)

    def changeEvent(self, event: QEvent) -> None:
        """Follow the theme, as soon as this button has its new colors."""
        super().changeEvent(event)
        is_palette = event.type() == QEvent.Type.PaletteChange
        if is_palette and colors_of(self.palette()) is not self._colors:
            self._dress()

    def _dress(self) -> None:
        self._colors = colors = colors_of(self.palette())
        if self._main:
            palette = QPalette()
            palette.setColor(QPalette.ColorRole.Button, QColor(colors.accent))
            palette.setColor(QPalette.ColorRole.ButtonText, QColor(colors.on_accent))
            palette.setColor(QPalette.ColorRole.Mid, QColor(colors.accent))
            off = QPalette.ColorGroup.Disabled
            palette.setColor(off, QPalette.ColorRole.Button, QColor(colors.still_tint))
            palette.setColor(off, QPalette.ColorRole.ButtonText, QColor(colors.muted))
            palette.setColor(off, QPalette.ColorRole.Mid, QColor(colors.line))
            self.setPalette(palette)
        if self._glyph is not None:
            from deskapp.ui.glyphs import icon_of

            ink = colors.on_accent if self._main else None
            side = scaled(16, self.font())
            self.setIconSize(QSize(side, side))
            self.setIcon(icon_of(self._glyph, self, side, ink=ink))
