"""Check boxes and radio marks that are as large as the words beside them."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPalette
from PySide6.QtWidgets import (
    QAbstractButton,
    QCheckBox,
    QRadioButton,
    QStyle,
    QStyleOptionButton,
    QStyleOptionFocusRect,
)

from deskapp.ui.theme import scaled

_SIDE, _GAP, _AROUND = 14, 7, 2
"""Of a mark beside words of the usual size; the gap to the words; what is left around them."""
_WORDS = Qt.TextFlag.TextShowMnemonic


class Tick(QCheckBox):
    """A check box."""

    def sizeHint(self) -> QSize:
        """Leave room for the mark and all words."""
        return _size_of(self)

    def minimumSizeHint(self) -> QSize:
        """Show all words."""
        return _size_of(self)

    def hitButton(self, pos: QPoint, /) -> bool:
        """Take a click on the words as well."""
        return self.rect().contains(pos)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the mark, and the words beside it."""
        option = QStyleOptionButton()
        self.initStyleOption(option)
        _paint(self, option, QStyle.PrimitiveElement.PE_IndicatorCheckBox)
        event.accept()


class Dot(QRadioButton):
    """A radio mark."""

    def sizeHint(self) -> QSize:
        """Leave room for the mark and all words."""
        return _size_of(self)

    def minimumSizeHint(self) -> QSize:
        """Show all words."""
        return _size_of(self)

    def hitButton(self, pos: QPoint, /) -> bool:
        """Take a click on the words as well."""
        return self.rect().contains(pos)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the mark, and the words beside it."""
        option = QStyleOptionButton()
        self.initStyleOption(option)
        _paint(self, option, QStyle.PrimitiveElement.PE_IndicatorRadioButton)
        event.accept()


def _size_of(button: QAbstractButton) -> QSize:
    words = button.fontMetrics().size(_WORDS, button.text())
    side = scaled(_SIDE, button.font())
    beside = _GAP + words.width() + _AROUND if button.text() else 0
    return QSize(side + beside, max(side, words.height()) + 2 * _AROUND)


def _paint(
    button: QAbstractButton, option: QStyleOptionButton, element: QStyle.PrimitiveElement
) -> None:
    style, whole = button.style(), button.rect()
    side = scaled(_SIDE, button.font())
    mark = QRect(0, (whole.height() - side) // 2, side, side)
    words = whole.adjusted(side + _GAP, 0, 0, 0)
    option.rect = style.visualRect(button.layoutDirection(), whole, mark)
    words = style.visualRect(button.layoutDirection(), whole, words)
    painter = QPainter(button)
    style.drawPrimitive(element, option, painter, button)
    if button.text():
        shows_keys = style.styleHint(QStyle.StyleHint.SH_UnderlineShortcut, option, button)
        keys = _WORDS if shows_keys else Qt.TextFlag.TextHideMnemonic
        along = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeading
        role = QPalette.ColorRole.WindowText
        style.drawItemText(
            painter,
            words,
            int(along) | int(keys),
            button.palette(),
            button.isEnabled(),
            button.text(),
            role,
        )
    if button.hasFocus():
        ring = QStyleOptionFocusRect()
        ring.initFrom(button)
        ring.rect = words.adjusted(-3, 0, 0, 0) if button.text() else whole
        style.drawPrimitive(QStyle.PrimitiveElement.PE_FrameFocusRect, ring, painter, button)
    painter.end()
