"""Two bars and a line: what leaked before, what leaks now, and the limit, on one scale."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from deskapp.i18n import _
from deskapp.ui.theme import colors_of

if TYPE_CHECKING:
    from deskapp.session.repairs import RetestWords

_ROOM = 1.05
_GAP = 8


class BeforeAfter(QWidget):
    """The picture; every figure of it stands beside its bar, so that color says nothing alone."""

    def __init__(self, words: RetestWords) -> None:
        super().__init__()
        self._words = words
        self._names = (_("Before"), _("Now"), _("Limit"))
        told = [f"{self._names[0]} {words.before_text}", f"{self._names[1]} {words.now_text}"]
        if words.limit is not None:
            told.append(f"{self._names[2]} {words.limit_text}")
        self.setAccessibleName(", ".join(told))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        """Be three lines high, and as wide as there is room."""
        return QSize(320, 3 * (self.fontMetrics().height() + _GAP))

    def minimumSizeHint(self) -> QSize:
        """Stay wide enough to be read."""
        return QSize(200, self.sizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw bars, figures and limit."""
        words, colors = self._words, colors_of(self.palette())
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        metrics = painter.fontMetrics()
        line = metrics.height() + _GAP
        left = max(metrics.horizontalAdvance(name) for name in self._names) + 2 * _GAP
        texts = (words.before_text, words.now_text)
        right = max(metrics.horizontalAdvance(text) for text in texts) + 2 * _GAP
        span = max(40, self.width() - left - right)
        full = max(words.before, words.now, words.limit or 0.0) * _ROOM or 1.0
        is_met = words.limit is not None and words.now <= words.limit
        inks = (colors.muted, colors.passed if is_met else colors.check)
        for row, value in enumerate((words.before, words.now)):
            top = row * line
            wide = span * max(0.0, value) / full
            painter.setPen(QColor(colors.text))
            base = top + _GAP / 2 + metrics.ascent()
            painter.drawText(QPointF(0, base), self._names[row])
            painter.drawText(QPointF(left + span + _GAP, base), texts[row])
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QColor(inks[row]))
            painter.drawRect(QRectF(left, top + _GAP / 2, wide, line - _GAP))
        if words.limit is not None:
            x = left + span * words.limit / full
            painter.setPen(QPen(QColor(colors.text), 2, Qt.PenStyle.DashLine))
            painter.drawLine(QPointF(x, 0), QPointF(x, 2 * line))
            text = f"{self._names[2]} {words.limit_text}"
            at = min(x, self.width() - metrics.horizontalAdvance(text))
            painter.drawText(QPointF(max(0.0, at), 2 * line + metrics.ascent()), text)
        painter.end()
        event.accept()
