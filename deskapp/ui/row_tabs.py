"""The rows of a list as tabs that wrap, to pick the one shown below."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPoint, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFontMetrics, QKeyEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QLayout, QLayoutItem, QSizePolicy, QWidget

from deskapp.ui.glyphs import Glyph, color_of, paint_glyph
from deskapp.ui.theme import GRID, colors_of, scaled

if TYPE_CHECKING:
    from collections.abc import Sequence


_LONGEST = 60
"""Letters of a name on a tab."""


class WrappingRow(QLayout):
    """Lays widgets side by side, going on below where the width ends.

    Where it goes as garbage, what it knows is gone before its half in Qt, which asks for its items
    once more as its widgets go: then there are none.
    """

    _items: list[QLayoutItem] = []  # noqa: RUF012 - never added to
    _heights: dict[int, int] = {}  # noqa: RUF012 - never added to

    def __init__(self, parent: QWidget | None = None, gap: int = GRID) -> None:
        super().__init__(parent)
        self._items = []
        self._heights = {}
        self._gap = gap
        self.setContentsMargins(0, 0, 0, 0)

    def addItem(self, item: QLayoutItem, /) -> None:
        """Append an item."""
        self._items.append(item)
        self._heights.clear()

    def invalidate(self) -> None:
        """Measure anew: something in the row changed."""
        self._heights.clear()
        super().invalidate()

    def count(self) -> int:
        """Return how many items there are."""
        return len(self._items)

    def itemAt(self, index: int, /) -> QLayoutItem | None:  # pyright: ignore[reportIncompatibleMethodOverride]
        """Return an item, or None past the end, as Qt asks for."""
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int, /) -> QLayoutItem | None:  # pyright: ignore[reportIncompatibleMethodOverride]
        """Take an item out."""
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def hasHeightForWidth(self) -> bool:
        """The height depends on the width."""
        return True

    def heightForWidth(self, width: int, /) -> int:
        """Return the height needed at `width`; a page asks for the same ones many times over."""
        if width not in self._heights:
            self._heights[width] = self._place(QRect(0, 0, width, 0), move=False)
        return self._heights[width]

    def sizeHint(self) -> QSize:
        """Return the smallest size."""
        return self.minimumSize()

    def minimumSize(self) -> QSize:
        """Return the size of the largest item."""
        size = QSize(0, 0)
        for item in self._items:
            size = size.expandedTo(item.minimumSize())
        return size

    def setGeometry(self, rect: QRect, /) -> None:
        """Place the items."""
        super().setGeometry(rect)
        self._place(rect, move=True)

    def _place(self, rect: QRect, *, move: bool) -> int:
        x, y, line = rect.x(), rect.y(), 0
        for item in self._items:
            widget = item.widget()
            if widget is not None and widget.isHidden():
                continue
            hint = item.sizeHint()
            width = min(hint.width(), max(rect.width(), 1))
            if x > rect.x() and x + width > rect.right() + 1:
                x, y, line = rect.x(), y + line + self._gap, 0
            if move:
                item.setGeometry(QRect(QPoint(x, y), QSize(width, hint.height())))
            x += width + self._gap
            line = max(line, hint.height())
        return y + line - rect.y()


class RowTab(QAbstractButton):
    """One tab: the name of a row, and a mark if something in it wants attention.

    A long name is cut short on it and told whole in its tip.
    """

    def __init__(self) -> None:
        super().__init__()
        self.setCheckable(True)
        self.setAutoExclusive(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
        self._glyph: Glyph | None = None

    def show_row(self, text: str, glyph: Glyph | None, word: str) -> None:
        """Show the name of a row, and `glyph` with its `word` beside it."""
        tip = "\n".join(part for part in (text, word) if part)
        if (text, glyph, tip) == (self.text(), self._glyph, self.toolTip()):
            return
        self._glyph = glyph
        self.setText(text)
        self.setAccessibleName(f"{text}, {word}" if word else text)
        self.setToolTip(tip)
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """Fit around the text."""
        metrics = QFontMetrics(self.font())
        mark = scaled(16, self.font()) + 6 if self._glyph is not None else 0
        words = metrics.horizontalAdvance(_shortened(self.text()))
        return QSize(words + mark + 30, metrics.height() + 14)

    def minimumSizeHint(self) -> QSize:
        """May be narrower than the text, which is then cut short."""
        return QSize(60, self.sizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the tab; the chosen one is filled."""
        colors = colors_of(self.palette())
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        chosen = self.isChecked()
        rim = colors.accent if chosen or self.hasFocus() else colors.edge
        if chosen:
            painter.setBrush(QColor(colors.accent))
        elif self.underMouse():
            painter.setBrush(QColor(colors.still_tint))
        painter.setPen(QPen(QColor(rim), 1))
        box = QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5)
        painter.drawRoundedRect(box, box.height() / 2, box.height() / 2)
        if self.hasFocus():
            ring = QColor(colors.on_accent if chosen else colors.accent)
            painter.setPen(QPen(ring, 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            inner = box.adjusted(2, 2, -2, -2)
            painter.drawRoundedRect(inner, inner.height() / 2, inner.height() / 2)
        self._paint_text(painter, QColor(colors.on_accent if chosen else colors.text))
        painter.end()
        event.accept()

    def _paint_text(self, painter: QPainter, ink: QColor) -> None:
        colors = colors_of(self.palette())
        room = self.rect().adjusted(13, 0, -13, 0)
        if self._glyph is not None:
            side = scaled(16, self.font())
            place = QRectF(room.left(), (self.height() - side) / 2, side, side)
            chosen = self.isChecked()
            color = ink if chosen else QColor(color_of(self._glyph, colors))
            ground = QColor(colors.accent if chosen else colors.card)
            paint_glyph(painter, place, self._glyph, color, ground)
            room.setLeft(room.left() + side + 6)
        text = painter.fontMetrics().elidedText(
            _shortened(self.text()), Qt.TextElideMode.ElideRight, room.width()
        )
        painter.setPen(ink)
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, text)


def _shortened(text: str) -> str:
    return text if len(text) <= _LONGEST else f"{text[: _LONGEST - 1].rstrip()}…"


class RowTabs(QWidget):
    """All tabs of a list; arrow keys go from one to the next.

    Signals: `picked` with the position of the row.
    """

    picked = Signal(int)

    def __init__(self) -> None:
        super().__init__()
        self._tabs: list[RowTab] = []
        self._count = 0
        self._shown: tuple[tuple[tuple[str, Glyph | None, str], ...], int] | None = None
        self._line = WrappingRow(self)

    @property
    def tabs(self) -> list[RowTab]:
        """The tabs in use."""
        return self._tabs[: self._count]

    def show_rows(self, rows: Sequence[tuple[str, Glyph | None, str]], chosen: int) -> None:
        """Show one tab for each row (name, mark, word for the mark)."""
        while len(self._tabs) < len(rows):
            tab = RowTab()
            tab.clicked.connect(self._on_click)
            self._line.addWidget(tab)
            self._tabs.append(tab)
        wanted = (tuple(rows), chosen)
        if wanted == self._shown:
            return
        self._shown = wanted
        self._count = len(rows)
        for at, tab in enumerate(self._tabs):
            tab.setVisible(at < len(rows))
            if at < len(rows):
                tab.show_row(*rows[at])
                tab.setChecked(at == chosen)
                is_chosen = at == chosen
                tab.setFocusPolicy(
                    Qt.FocusPolicy.StrongFocus if is_chosen else Qt.FocusPolicy.ClickFocus
                )
        self.updateGeometry()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go to the next or previous row with the arrow keys."""
        step = {Qt.Key.Key_Right: 1, Qt.Key.Key_Left: -1}.get(Qt.Key(event.key()), 0)
        here = next((at for at, tab in enumerate(self.tabs) if tab.isChecked()), 0)
        if step and 0 <= here + step < self._count:
            self.picked.emit(here + step)
            self._tabs[here + step].setFocus(Qt.FocusReason.TabFocusReason)
            return
        super().keyPressEvent(event)

    def _on_click(self) -> None:
        tab = self.sender()
        if isinstance(tab, RowTab):
            self.picked.emit(self._tabs.index(tab))
