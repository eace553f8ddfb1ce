"""A small drawn scale: how the measured value stands to the limit."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from deskapp.session.colors import Colors
from deskapp.ui.theme import colors_of, sized

_ROOM = 1.3


class ScaleBar(QWidget):
    """A track from zero, filled up to the measured value, with a notch at the limit.

    With `labels` the values are written along the track.
    """

    def __init__(self, *, labels: bool = False) -> None:
        super().__init__()
        self._labels = labels
        self._measured = 0.0
        self._limit = 1.0
        self._verdict = "none"
        self._texts = ("", "")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_values(
        self, measured: float, limit: float, verdict: str, texts: tuple[str, str]
    ) -> None:
        """Draw these values; `texts` are the measured value and the limit in words."""
        self._measured, self._limit, self._verdict = measured, limit, verdict
        self._texts = texts
        self.setAccessibleName(f"{texts[0]}, {texts[1]}")
        self.update()

    def sizeHint(self) -> QSize:
        """Be low, and as wide as there is room."""
        line = self.fontMetrics().height()
        return QSize(160, 2 * line + 22 if self._labels else 18)

    def minimumSizeHint(self) -> QSize:
        """Stay wide enough to be read."""
        return QSize(80, self.sizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the scale."""
        colors = colors_of(self.palette())
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        top = self.fontMetrics().height() + 6 if self._labels else 5
        track = QRectF(1, top, self.width() - 2, 8)
        painter.setPen(QPen(QColor(colors.edge), 1))
        painter.setBrush(QColor(colors.still_tint))
        painter.drawRoundedRect(track, 4, 4)
        full = max(self._measured, self._limit) * _ROOM or 1.0
        self._fill(painter, track, max(0.0, self._measured) / full, colors)
        at_limit = track.left() + track.width() * self._limit / full
        self._notch(painter, track, at_limit, colors)
        if self._labels:
            self._write(painter, track, track.width() * self._measured / full, at_limit, colors)
        painter.end()
        event.accept()

    def _fill(self, painter: QPainter, track: QRectF, share: float, colors: Colors) -> None:
        ink = {"pass": colors.passed, "fail": colors.failed}.get(self._verdict, colors.muted)
        filled = QRectF(track)
        filled.setWidth(max(track.height(), track.width() * share))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(ink))
        painter.drawRoundedRect(filled, 4, 4)

    @staticmethod
    def _notch(painter: QPainter, track: QRectF, x: float, colors: Colors) -> None:
        ink = QColor(colors.text)
        painter.setPen(QPen(QColor(colors.card), 4))
        painter.drawLine(QPointF(x, track.top() - 2), QPointF(x, track.bottom() + 2))
        painter.setPen(QPen(ink, 2))
        painter.drawLine(QPointF(x, track.top() - 2), QPointF(x, track.bottom() + 3))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(ink)
        low = track.bottom() + 2
        painter.drawPolygon(
            QPolygonF([QPointF(x, low), QPointF(x - 4, low + 6), QPointF(x + 4, low + 6)])
        )

    def _write(
        self, painter: QPainter, track: QRectF, measured_x: float, limit_x: float, colors: Colors
    ) -> None:
        ink = {"pass": colors.passed, "fail": colors.failed}.get(self._verdict, colors.muted)
        painter.setFont(sized(self.font(), 1.0, strong=True))
        painter.setPen(QColor(ink))
        self._text_at(painter, self._texts[0], measured_x, 0)
        painter.setFont(self.font())
        painter.setPen(QColor(colors.text))
        self._text_at(painter, self._texts[1], limit_x, round(track.bottom()) + 9)

    def _text_at(self, painter: QPainter, text: str, x: float, y: int) -> None:
        metrics = painter.fontMetrics()
        width = metrics.horizontalAdvance(text)
        left = min(max(0.0, x - width / 2), max(0.0, self.width() - width))
        painter.drawText(QPointF(left, y + metrics.ascent()), text)
