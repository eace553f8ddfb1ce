"""The registers as bars by pan reading, the worst first."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from deskapp.i18n import _, ngettext
from deskapp.ui.advice_cards import WordsCard
from deskapp.ui.theme import colors_of
from deskapp.ui.words import Size, Words

if TYPE_CHECKING:
    from deskapp.session.advice import WalkRow
    from deskapp.ui.bridge import Bridge

_MOST = 12
_GAP = 6


class RegisterWalkCard(WordsCard):
    """The drawing, as long as any register was read."""

    def __init__(self, bridge: Bridge) -> None:
        intro = _("Hatched bars are readings before the work, full ones after it.")
        super().__init__(bridge, _("Registers, the worst first"), intro)

    def words(self) -> tuple[object, ...]:
        """Return the registers read: those drawn, then how many are left out."""
        from deskapp.session.advice import registers_read

        rows = registers_read(self.bridge.editor)
        rest = len(rows) - _MOST
        more = ngettext("And {n} more.", "And {n} more.", rest).format(n=rest) if rest > 0 else ""
        return tuple(one for one in (rows[:_MOST], more) if one)

    def row(self, number: int, words: object) -> QWidget:
        """Return the drawing, or the line below it."""
        del number
        if isinstance(words, str):
            return Words(words, Size.SMALL, muted=True)
        return RegisterWalk(cast("tuple[WalkRow, ...]", words))


class RegisterWalk(QWidget):
    """The bars; name, figures and band stand beside them, so that color says nothing alone."""

    def __init__(self, rows: tuple[WalkRow, ...]) -> None:
        super().__init__()
        self._rows = rows
        self.setAccessibleName("; ".join(_told(row) for row in rows))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        """Be two lines high for each register, and as wide as there is room."""
        return QSize(420, len(self._rows) * self._row_height())

    def minimumSizeHint(self) -> QSize:
        """Stay wide enough to be read."""
        return QSize(300, self.sizeHint().height())

    def _row_height(self) -> int:
        return 2 * self.fontMetrics().height() + 2 * _GAP

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the registers, one below the other."""
        painter = QPainter(self)
        sizes = [size for row in self._rows for size in (row.before, row.after)]
        longest = max((size for size in sizes if size is not None), default=0.0) or 1.0
        for number, row in enumerate(self._rows):
            self._paint_row(painter, row, number * self._row_height(), longest)
        painter.end()
        event.accept()

    def _paint_row(self, painter: QPainter, row: WalkRow, top: int, longest: float) -> None:
        colors, metrics, line = colors_of(self.palette()), self.fontMetrics(), _GAP / 2
        high = metrics.height()
        left = self.width() * 0.44
        figures = max(metrics.horizontalAdvance(text) for text in (row.before_text, row.after_text))
        room = max(20.0, self.width() - left - figures - 3 * _GAP)
        if top:
            painter.setPen(QColor(colors.line))
            painter.drawLine(QPointF(0, top), QPointF(self.width(), top))
        names = ((row.register, colors.text), (row.label, colors.muted))
        for place, (text, ink) in enumerate(names):
            painter.setPen(QColor(ink))
            shown = metrics.elidedText(text, Qt.TextElideMode.ElideRight, int(left) - 2 * _GAP)
            painter.drawText(QPointF(0, top + _GAP + place * high + metrics.ascent()), shown)
        at = top + _GAP
        pairs = ((row.before, row.before_text, True), (row.after, row.after_text, False))
        for size, text, is_before in pairs:
            if size is None:
                continue
            bar = QRectF(left, at + line, max(2.0, room * size / longest), high - 2 * line)
            painter.setPen(QPen(QColor(colors.edge if is_before else colors.accent), 1))
            hatch = QBrush(QColor(colors.muted), Qt.BrushStyle.BDiagPattern)
            painter.setBrush(hatch if is_before else QColor(colors.accent))
            painter.drawRect(bar)
            painter.setPen(QColor(colors.text))
            painter.drawText(QPointF(bar.right() + _GAP, at + metrics.ascent()), text)
            at += high


def _told(row: WalkRow) -> str:
    parts = [row.register, row.label]
    if row.before is not None:
        parts.append(_("before the work {reading}").format(reading=row.before_text))
    if row.after is not None:
        parts.append(_("after the work {reading}").format(reading=row.after_text))
    return ", ".join(parts)
