"""Check boxes and radio marks that are as large as the words beside them."""

from __future__ import annotations

from typing import TYPE_CHECKING

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


if TYPE_CHECKING:

    class _Button(QAbstractButton):
        """What check box and radio mark have in common, for the type checker."""

        def initStyleOption(self, option: QStyleOptionButton, /) -> None: ...

else:
    _Button = object


class _Mark(_Button):
    """Measures and paints a button; stands before its class of Qt among the bases."""

    element: QStyle.PrimitiveElement

    def sizeHint(self) -> QSize:
        """Leave room for the mark and all words."""
        words = self.fontMetrics().size(_WORDS, self.text())
        side = scaled(_SIDE, self.font())
        beside = _GAP + words.width() + _AROUND if self.text() else 0
        return QSize(side + beside, max(side, words.height()) + 2 * _AROUND)

    def minimumSizeHint(self) -> QSize:
        """Show all words."""
        return self.sizeHint()

    def hitButton(self, pos: QPoint, /) -> bool:
        """Take a click on the words as well."""
        return self.rect().contains(pos)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the mark, and the words beside it."""
        option = QStyleOptionButton()
        self.initStyleOption(option)
        _paint(self, option, self.element)
        event.accept()


class Tick(_Mark, QCheckBox):
    """A check box."""

    element = QStyle.PrimitiveElement.PE_IndicatorCheckBox


class Dot(_Mark, QRadioButton):
    """A radio mark."""

    element = QStyle.PrimitiveElement.PE_IndicatorRadioButton


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
