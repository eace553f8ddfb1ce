"""Drawn: the pressure of the latest past against its target."""

from __future__ import annotations

from collections import deque

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from deskapp.i18n import _
from deskapp.ui.theme import colors_of, sized

SPAN_S = 60.0
_MOST = 6000
_LEAST_HALF = 2.0
_ROOM = 1.15


class Trace(QWidget):
    """The last minute of one pressure; the number above it says the same."""

    def __init__(self) -> None:
        super().__init__()
        self._points: deque[tuple[float, float]] = deque(maxlen=_MOST)
        self._target: float | None = None
        self._target_words = ""
        self.setFont(sized(self.font(), 0.9))
        self.setAccessibleName(_("Pressure over the last minute"))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    @property
    def count(self) -> int:
        """How many points are drawn."""
        return len(self._points)

    def aim_at(self, target: float | None, words: str) -> None:
        """Draw a line at the duct pressure wanted [Pa]; none without one."""
        self._target, self._target_words = target, words
        self.update()

    def clear(self) -> None:
        """Begin anew."""
        self._points.clear()
        self.update()

    def add(self, seconds: float, pressure: float) -> None:
        """Add a point [s, Pa]; a clock that goes back begins anew."""
        if self._points and seconds < self._points[-1][0]:
            self._points.clear()
        self._points.append((seconds, pressure))
        while self._points[0][0] < seconds - SPAN_S:
            self._points.popleft()

    def sizeHint(self) -> QSize:
        """Be as wide as there is room."""
        return QSize(480, self.fontMetrics().height() * 9)

    def minimumSizeHint(self) -> QSize:
        """Stay large enough to be read."""
        return QSize(240, self.fontMetrics().height() * 7)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw field, target and trace."""
        colors = colors_of(self.palette())
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        field = QRectF(1, 1, self.width() - 2, self.height() - 2)
        painter.setPen(QPen(QColor(colors.line), 1))
        painter.setBrush(QColor(colors.field))
        painter.drawRoundedRect(field, 4, 4)
        low, high = self._range()
        scale = field.height() / (high - low)

        def height(pressure: float) -> float:
            return field.bottom() - (pressure - low) * scale

        if self._target is not None:
            self._draw_target(painter, field, height(self._target))
        if len(self._points) > 1:
            end = self._points[-1][0]
            along = field.width() / SPAN_S
            line = QPolygonF(
                [
                    QPointF(field.right() - (end - seconds) * along, height(pressure))
                    for seconds, pressure in self._points
                ]
            )
            painter.setPen(QPen(QColor(colors.accent), 2))
            painter.drawPolyline(line)
        painter.end()
        event.accept()

    def _draw_target(self, painter: QPainter, field: QRectF, at: float) -> None:
        colors = colors_of(self.palette())
        painter.setPen(QPen(QColor(colors.passed), 1.4, Qt.PenStyle.DashLine))
        painter.drawLine(QPointF(field.left(), at), QPointF(field.right(), at))
        line = self.fontMetrics().height()
        above = at - line - 3
        box = QRectF(
            field.left() + 8, above if above > field.top() else at + 3, field.width() - 16, line
        )
        painter.setPen(QColor(colors.passed))
        painter.drawText(box, Qt.AlignmentFlag.AlignLeft, self._target_words)

    def _range(self) -> tuple[float, float]:
        """Return the pressures at the lower and the upper edge."""
        values = [pressure for _seconds, pressure in self._points]
        if self._target is not None:
            values.append(self._target)
        values.append(0.0)
        low, high = min(values), max(values)
        middle = (low + high) / 2
        half = max((high - low) / 2, _LEAST_HALF) * _ROOM
        return middle - half, middle + half
