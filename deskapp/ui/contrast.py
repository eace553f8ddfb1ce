"""How well two colors can be told apart.

Source: W3C, Web Content Accessibility Guidelines 2.1, definitions "relative luminance" and
"contrast ratio" (from memory, not checked against the text).
"""

from __future__ import annotations

from PySide6.QtGui import QColor

READABLE = 4.5


def _linear(channel: float) -> float:
    return channel / 12.92 if channel <= 0.03928 else ((channel + 0.055) / 1.055) ** 2.4


def luminance(color: QColor) -> float:
    """Return the relative luminance, 0 (black) to 1 (white)."""
    red, green, blue = (_linear(part) for part in (color.redF(), color.greenF(), color.blueF()))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: QColor, other: QColor) -> float:
    """Return the contrast ratio of two colors, 1 (the same) to 21 (black and white)."""
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)
