"""Words at the left and what can be done about them at the right, or below where it is narrow."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint, QRect, QSize
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLayoutItem, QVBoxLayout, QWidget

from deskapp.ui.row_tabs import WrappingRow
from deskapp.ui.theme import GRID
from deskapp.ui.words import Size, Words

if TYPE_CHECKING:
    from collections.abc import Iterable

_LEAST = 24
"""Letters that the words get beside the buttons; with less room the buttons go below."""


class HeadRow(WrappingRow):
    """The first widget is given what the others leave; they keep to the right."""

    def __init__(
        self, words: QWidget, others: Iterable[QWidget], *, least: int = _LEAST, gap: int = GRID
    ) -> None:
        """Lay out `words`, which need `least` letters, and then the others."""
        super().__init__(gap=gap)
        self._least = least
        self.addWidget(words)
        for widget in others:
            self.addWidget(widget)

    def sizeHint(self) -> QSize:
        """Return the size of all in one line."""
        widths = [self._first_width(), *(item.sizeHint().width() for item in self._others())]
        width = sum(widths) + self._gap * (len(widths) - 1)
        return QSize(width, self.heightForWidth(width))

    def _others(self) -> list[QLayoutItem]:
        return [item for item in self._items[1:] if not item.isEmpty()]

    def _first_width(self) -> int:
        """Return how wide the words are at least, beside the others."""
        widget = self._items[0].widget()
        if widget is None or self._items[0].isEmpty():
            return 0
        least = widget.fontMetrics().averageCharWidth() * self._least
        if isinstance(widget, QLabel):
            least = min(least, widget.fontMetrics().horizontalAdvance(widget.text()) + 1)
        return max(least, self._items[0].minimumSize().width())

    def _place(self, rect: QRect, *, move: bool) -> int:
        if not self._items:
            return 0
        others = self._others()
        taken = sum(item.sizeHint().width() + self._gap for item in others)
        if rect.width() - taken >= self._first_width():
            return self._in_one_line(rect, others, taken, move=move)
        first = self._items[0]
        height = 0 if first.isEmpty() else _height(first, rect.width())
        if move:
            first.setGeometry(QRect(rect.topLeft(), QSize(rect.width(), height)))
        return height + self._below(rect, others, height, move=move)

    def _in_one_line(
        self, rect: QRect, others: list[QLayoutItem], taken: int, *, move: bool
    ) -> int:
        first, room = self._items[0], rect.width() - taken
        own = 0 if first.isEmpty() else _height(first, room)
        line = max((item.sizeHint().height() for item in others), default=0)
        if move:
            # A line of words stands in the middle of the buttons, more words begin beside them.
            top = rect.y() + max(0, (line - own) // 2)
            first.setGeometry(QRect(QPoint(rect.x(), top), QSize(room, own)))
            x = rect.x() + room + self._gap
            for item in others:
                size = item.sizeHint()
                item.setGeometry(QRect(QPoint(x, rect.y() + (line - size.height()) // 2), size))
                x += size.width() + self._gap
        return max(own, line)

    def _below(self, rect: QRect, others: list[QLayoutItem], top: int, *, move: bool) -> int:
        """Place the buttons below the words, in as many lines as they need."""
        if not others:
            return 0
        start = rect.y() + top + (self._gap if top else 0)
        x, y, line = rect.x(), start, 0
        for item in others:
            hint = item.sizeHint()
            size = QSize(min(hint.width(), max(rect.width(), 1)), hint.height())
            if x > rect.x() and x + size.width() > rect.right() + 1:
                x, y, line = rect.x(), y + line + self._gap, 0
            if move:
                item.setGeometry(QRect(QPoint(x, y), size))
            x += size.width() + self._gap
            line = max(line, size.height())
        return y + line - rect.y() - top


LEAST_BESIDE = 36
"""Letters that a heading with a lead gets beside its buttons."""


def titled(title: str, lead: str) -> QWidget:
    """Return the heading of a card with a line below it that says what the card is for."""
    both = QWidget()
    column = QVBoxLayout(both)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(2)
    column.addWidget(Words(title, Size.HEADING))
    column.addWidget(Words(lead, Size.SMALL, muted=True))
    return both


def labeled_row(*pairs: tuple[QWidget, QWidget], gap: int = 2 * GRID) -> WrappingRow:
    """Return labels with what they name beside them, side by side as far as there is room."""
    row = WrappingRow(gap=gap)
    for words, named in pairs:
        held = QWidget()
        line = QHBoxLayout(held)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(GRID)
        line.addWidget(words)
        line.addWidget(named)
        row.addWidget(held)
    return row


def _height(item: QLayoutItem, width: int) -> int:
    return item.heightForWidth(width) if item.hasHeightForWidth() else item.sizeHint().height()
