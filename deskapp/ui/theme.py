"""The palette, spacing and type sizes of the window, light and dark.

Part of the first paint: the big namespace ``Qt`` is loaded only by `Theme.refine`.
"""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPalette

from deskapp.session.colors import DARK, LIGHT, Colors

if TYPE_CHECKING:
    from PySide6.QtWidgets import QApplication, QStyle

GRID = 8
UNBOUND = 16_777_215
"""The largest size of a widget, which the library takes for no limit."""
_USUAL_LINE = 15


class Appearance(StrEnum):
    """What the person chose: follow the system, or stay light or dark."""

    SYSTEM = "system"
    LIGHT = "light"
    DARK = "dark"


def colors_of(palette: QPalette) -> Colors:
    """Return our colors that go with the palette of a widget."""
    is_dark = palette.color(QPalette.ColorRole.Window).lightness() < 128
    return DARK if is_dark else LIGHT


def palette_of(colors: Colors) -> QPalette:
    """Return the palette of one appearance."""
    role = QPalette.ColorRole
    by_role = {
        role.Window: colors.window,
        role.WindowText: colors.text,
        role.Base: colors.field,
        role.AlternateBase: colors.still_tint,
        role.Text: colors.text,
        role.PlaceholderText: colors.muted,
        role.Button: colors.card,
        role.ButtonText: colors.text,
        role.BrightText: colors.failed,
        role.ToolTipBase: colors.card,
        role.ToolTipText: colors.text,
        role.Link: colors.accent,
        role.LinkVisited: colors.accent,
        role.Highlight: colors.accent,
        role.HighlightedText: colors.on_accent,
        role.Accent: colors.accent,
        role.Light: colors.card,
        role.Midlight: colors.line,
        role.Mid: colors.edge,
        role.Dark: colors.edge,
        role.Shadow: colors.text,
    }
    palette = QPalette()
    for one_role, color in by_role.items():
        palette.setColor(one_role, QColor(color))
    for one_role in (role.WindowText, role.Text, role.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, one_role, QColor(colors.muted))
    return palette


def sized(font: QFont, factor: float, *, strong: bool = False) -> QFont:
    """Return `font` scaled by `factor`, demi-bold with `strong`."""
    scaled = QFont(font)
    if font.pointSizeF() > 0:
        scaled.setPointSizeF(font.pointSizeF() * factor)
    else:
        scaled.setPixelSize(round(font.pixelSize() * factor))
    if strong:
        scaled.setWeight(QFont.Weight.DemiBold)
    return scaled


def scaled(points: int, font: QFont) -> int:
    """Return `points`, meant for text of the usual size, for text in `font`."""
    return max(points, round(points * QFontMetrics(font).height() / _USUAL_LINE))


class Theme(QObject):
    """Dresses the application and keeps it dressed when the system changes between light and dark.

    Signals: `changed` after the colors were set.
    """

    changed = Signal()

    def __init__(self, app: QApplication, appearance: Appearance = Appearance.SYSTEM) -> None:
        super().__init__(app)
        self._app = app
        self._appearance = appearance
        self._is_refined = False
        app.setStyle("Fusion")
        self._dress()

    @property
    def appearance(self) -> Appearance:
        """What the person chose."""
        return self._appearance

    @property
    def colors(self) -> Colors:
        """The colors in use."""
        if self._appearance is Appearance.SYSTEM:
            return DARK if self._system_is_dark() else LIGHT
        return DARK if self._appearance is Appearance.DARK else LIGHT

    def refine(self, style: QStyle) -> None:
        """Draw everything in `style`, and follow the system from now on.

        To be called after the first paint, since loading a style of our own takes a while.
        """
        self._is_refined = True
        self._app.setStyle(style)
        self._app.styleHints().colorSchemeChanged.connect(self._dress)
        self.choose(self._appearance)

    def choose(self, appearance: Appearance) -> None:
        """Follow the system, or stay light or dark."""
        from PySide6.QtCore import Qt

        self._appearance = appearance
        scheme = {
            Appearance.SYSTEM: Qt.ColorScheme.Unknown,
            Appearance.LIGHT: Qt.ColorScheme.Light,
            Appearance.DARK: Qt.ColorScheme.Dark,
        }[appearance]
        self._app.styleHints().setColorScheme(scheme)
        self._dress()

    def _system_is_dark(self) -> bool:
        if not self._is_refined:
            palette = self._app.style().standardPalette()
            return palette.color(QPalette.ColorRole.Window).lightness() < 128
        from PySide6.QtCore import Qt

        return self._app.styleHints().colorScheme() == Qt.ColorScheme.Dark

    def _dress(self) -> None:
        self._app.setPalette(palette_of(self.colors))
        self.changed.emit()
