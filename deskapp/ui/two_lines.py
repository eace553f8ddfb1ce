"""List items of two lines: a title, and quieter words below it."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, QSize, Qt
from PySide6.QtGui import QColor, QPainter
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem

from deskapp.ui.theme import colors_of, sized

BELOW = Qt.ItemDataRole.UserRole + 10
_MARGIN = 8


class TwoLines(QStyledItemDelegate):
    """Draws the text of an item, and below it what it holds in the role `BELOW`."""

    def sizeHint(
        self,
        option: QStyleOptionViewItem,
        _index: QModelIndex | QPersistentModelIndex,
    ) -> QSize:
        """Leave room for two lines."""
        return QSize(80, round(option.fontMetrics.height() * 1.9) + 2 * _MARGIN)

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        """Draw one item; the marked one is filled."""
        colors = colors_of(option.palette)
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        painter.save()
        if chosen:
            painter.fillRect(option.rect, QColor(colors.accent))
        elif option.state & QStyle.StateFlag.State_MouseOver:
            painter.fillRect(option.rect, QColor(colors.still_tint))
        room = option.rect.adjusted(_MARGIN + 2, _MARGIN, -_MARGIN, -_MARGIN)
        half = room.height() // 2
        ink = colors.on_accent if chosen else colors.text
        quiet = colors.on_accent if chosen else colors.muted
        flag = Qt.AlignmentFlag
        for role, factor, color, top, place in (
            (Qt.ItemDataRole.DisplayRole, 1.0, ink, 0, flag.AlignTop),
            (BELOW, 0.9, quiet, half, flag.AlignBottom),
        ):
            painter.setFont(sized(option.font, factor))
            painter.setPen(QColor(color))
            line = QRect(room.left(), room.top() + top, room.width(), room.height() - half)
            text = painter.fontMetrics().elidedText(
                str(index.data(role)), Qt.TextElideMode.ElideRight, line.width()
            )
            painter.drawText(line, flag.AlignLeft | place, text)
        painter.restore()
