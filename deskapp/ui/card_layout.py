"""Cards below each other, or side by side in as many lines as they need."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint, QRect, QSize
from PySide6.QtWidgets import QLayoutItem, QWidget

from deskapp.ui.row_tabs import WrappingRow

if TYPE_CHECKING:
    from collections.abc import Sequence


class CardLayout(WrappingRow):
    """Lays out what is to be seen, from the top: a column, or with `is_flat` lines of cards."""

    def __init__(self) -> None:
        super().__init__()
        self.is_flat = False

    def be_flat(self, flat: bool, margins: tuple[int, int], gap: int) -> None:
        """Put the cards side by side or below each other, `margins` at the sides and above."""
        self.is_flat = flat
        self._gap = gap
        self.setContentsMargins(margins[0], margins[1], margins[0], margins[1])
        self.invalidate()

    def insert(self, at: int, item: QLayoutItem) -> None:
        """Move an item that was added last to another place."""
        self._items.remove(item)
        self._items.insert(at, item)
        self.invalidate()

    def width_of_line(self, widths: Sequence[int]) -> int:
        """Return how wide it must be for cards of these widths to stand in one line."""
        sides = self.contentsMargins()
        return sum(widths) + self._gap * max(0, len(widths) - 1) + sides.left() + sides.right()

    def stands_beside(self, widget: QWidget, width: int) -> bool:
        """Say whether something else stands in the line of `widget`, at this width of all."""
        sides = self.contentsMargins()
        lines = self._lines(width - sides.left() - sides.right())
        return any(len(line) > 1 for line in lines if widget in [item.widget() for item in line])

    def minimumSize(self) -> QSize:
        """Return the size of the largest card, with the margins."""
        sides = self.contentsMargins()
        return super().minimumSize() + QSize(
            sides.left() + sides.right(), sides.top() + sides.bottom()
        )

    def _seen(self) -> list[QLayoutItem]:
        return [item for item in self._items if not item.isEmpty()]

    def _place(self, rect: QRect, *, move: bool) -> int:
        sides = self.contentsMargins()
        inside = rect.marginsRemoved(sides)
        y = inside.top()
        for line in self._lines(inside.width()):
            sizes = [self._size(item, inside.width()) for item in line]
            height = max(size.height() for size in sizes)
            x = inside.left()
            for item, size in zip(line, sizes, strict=True):
                if move:
                    item.setGeometry(QRect(QPoint(x, y + (height - size.height()) // 2), size))
                x += size.width() + self._gap
            y += height + self._gap
        return max(y - self._gap, inside.top()) + sides.bottom() - rect.top()

    def _lines(self, room: int) -> list[list[QLayoutItem]]:
        if not self.is_flat:
            return [[item] for item in self._seen()]
        lines: list[list[QLayoutItem]] = []
        left = 0
        for item in self._seen():
            width = item.sizeHint().width() + self._gap
            if not lines or width > left + self._gap:
                lines.append([])
                left = room
            lines[-1].append(item)
            left -= width
        return lines

    def _size(self, item: QLayoutItem, room: int) -> QSize:
        """Return how large a card is: as it likes in a line, as wide as the column otherwise."""
        if self.is_flat:
            return QSize(min(item.sizeHint().width(), room), item.sizeHint().height())
        tall = item.hasHeightForWidth()
        height = item.heightForWidth(room) if tall else item.sizeHint().height()
        return QSize(room, height)
