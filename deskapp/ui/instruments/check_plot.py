"""Drawn: the field checks of a fan by day, within their tolerance, with the line through them."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from deskapp.i18n import _
from deskapp.session.colors import Colors
from deskapp.ui.theme import colors_of, sized
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from deskapp.session.instruments.check_history import CheckHistory, CheckPoint
    from deskapp.units.display import Formatter

_RADIUS = 5.0
_ROOM = 1.25
_SIDE_ROOM = 24


class CheckPlot(QWidget):
    """A picture only; the words beside it say the same."""

    def __init__(self) -> None:
        super().__init__()
        self._history: CheckHistory | None = None
        self._formatter: Formatter | None = None
        self.setFont(sized(self.font(), 0.9))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_history(self, history: CheckHistory, formatter: Formatter) -> None:
        """Draw these checks."""
        self._history, self._formatter = history, formatter
        self.setAccessibleName(_("Field checks by day"))
        self.setAccessibleDescription(history.words)
        self.update()

    def sizeHint(self) -> QSize:
        """Be as wide as there is room."""
        return QSize(360, self.fontMetrics().height() * 11)

    def minimumSizeHint(self) -> QSize:
        """Stay wide enough to be read."""
        return QSize(200, self.sizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw band, zero, line and points."""
        if self._history is None or self._formatter is None or not self._history.points:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        _Drawing(painter, self, self._history, self._formatter).draw()
        painter.end()
        event.accept()


class _Drawing:
    """One painting of the plot."""

    def __init__(
        self, painter: QPainter, widget: QWidget, history: CheckHistory, formatter: Formatter
    ) -> None:
        self._painter = painter
        self._history = history
        self._formatter = formatter
        self._colors: Colors = colors_of(widget.palette())
        line = widget.fontMetrics().height()
        self._line = line
        label = widget.fontMetrics().horizontalAdvance("+00.00%") + 8
        self._field = QRectF(
            label, line * 0.7, widget.width() - label - 4, widget.height() - 2.4 * line
        )
        points = history.points
        self._first, self._last = points[0].day, points[-1].day
        sizes = [max(abs(point.share_off), point.tolerance) for point in points]
        self._top = max(sizes) * _ROOM or 1.0

    def draw(self) -> None:
        """Draw all of it."""
        painter, colors, field = self._painter, self._colors, self._field
        painter.setPen(QPen(QColor(colors.line), 1))
        painter.setBrush(QColor(colors.field))
        painter.drawRect(field)
        self._band()
        self._marks()
        if self._history.line is not None:
            start, end = self._history.line.start, self._history.line.end
            painter.setPen(QPen(QColor(colors.accent), 1.6, Qt.PenStyle.DashLine))
            painter.drawLine(self._at(*start), self._at(*end))
        for point in self._history.points:
            self._point(point)
        self._days()

    def _x(self, day: date) -> float:
        days = (self._last - self._first).days
        inside = self._field.width() - 2 * _SIDE_ROOM
        along = (day - self._first).days / days if days else 0.5
        return self._field.left() + _SIDE_ROOM + inside * along

    def _at(self, day: date, share: float) -> QPointF:
        half = self._field.height() / 2
        return QPointF(self._x(day), self._field.center().y() - half * share / self._top)

    def _band(self) -> None:
        """Shade what lies within tolerance; a band per check, since tolerances may differ."""
        points = self._history.points
        upper = [self._at(point.day, point.tolerance) for point in points]
        lower = [self._at(point.day, -point.tolerance) for point in points]
        left, right = self._field.left() + 1, self._field.right() - 1
        outline = [
            QPointF(left, upper[0].y()),
            *upper,
            QPointF(right, upper[-1].y()),
            QPointF(right, lower[-1].y()),
            *reversed(lower),
            QPointF(left, lower[0].y()),
        ]
        self._painter.setPen(Qt.PenStyle.NoPen)
        self._painter.setBrush(QColor(self._colors.pass_tint))
        self._painter.drawPolygon(QPolygonF(outline))

    def _marks(self) -> None:
        """Write zero and the latest tolerance beside the field."""
        painter, colors = self._painter, self._colors
        latest = self._history.points[-1]
        half_way = self._field.height() / 2 * latest.tolerance / self._top
        is_roomy = half_way >= self._line
        for share in (latest.tolerance, 0.0, -latest.tolerance):
            at = self._at(latest.day, share)
            painter.setPen(QPen(QColor(colors.edge if share == 0.0 else colors.passed), 1))
            painter.drawLine(
                QPointF(self._field.left(), at.y()), QPointF(self._field.right(), at.y())
            )
            if share != 0.0 and not is_roomy:
                continue
            text = self._formatter.show(Kind.FRACTION, share)
            box = QRectF(0, at.y() - self._line / 2, self._field.left() - 6, self._line)
            painter.setPen(QColor(colors.muted))
            sign = "+" if share > 0.0 else ""
            flags = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
            painter.drawText(box, flags, f"{sign}{text}")

    def _point(self, point: CheckPoint) -> None:
        """A filled dot within tolerance, a filled square outside: shape as well as color."""
        at = self._at(point.day, point.share_off)
        color = self._colors.passed if point.within else self._colors.failed
        self._painter.setPen(QPen(QColor(self._colors.field), 1.5))
        self._painter.setBrush(QColor(color))
        if point.within:
            self._painter.drawEllipse(at, _RADIUS, _RADIUS)
        else:
            corner = QPointF(_RADIUS, _RADIUS)
            self._painter.drawRect(QRectF(at - corner, at + corner))

    def _days(self) -> None:
        self._painter.setPen(QColor(self._colors.muted))
        top = self._field.bottom() + 4
        box = QRectF(self._field.left(), top, self._field.width(), self._line)
        first, last = self._formatter.day(self._first), self._formatter.day(self._last)
        if self._first == self._last:
            self._painter.drawText(box, Qt.AlignmentFlag.AlignHCenter, first)
            return
        self._painter.drawText(box, Qt.AlignmentFlag.AlignLeft, first)
        self._painter.drawText(box, Qt.AlignmentFlag.AlignRight, last)
