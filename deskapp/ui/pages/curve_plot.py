"""Drawn: leakage over pressure on two logarithmic axes, where the curve is a straight line."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from deskapp.i18n import _
from deskapp.session.colors import Colors
from deskapp.ui.theme import colors_of, sized
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from deskapp.domain.result_parts import CurvePoint, CurveResult
    from deskapp.units.display import Formatter

_RADIUS = 4.5
_STEPS = (1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 7.0)
_LEAST_GAP, _LEAST_SHARE = 1.2, 0.07
_MARGIN = 0.12


class _Axis(NamedTuple):
    """A logarithmic axis from `low` to `high`, in one unit of display."""

    low: float
    high: float

    def share(self, value: float) -> float:
        """Return how far along the axis `value` stands, 0 to 1."""
        return math.log(value / self.low) / math.log(self.high / self.low)

    def ticks(self) -> list[float]:
        """Return round values within the axis, not too close to each other."""
        found: list[float] = []
        gap = max(_LEAST_GAP, (self.high / self.low) ** _LEAST_SHARE)
        for power in range(math.floor(math.log10(self.low)), math.ceil(math.log10(self.high)) + 1):
            for step in _STEPS:
                value = step * 10.0**power
                far = not found or value >= found[-1] * gap
                if self.low <= value <= self.high and far:
                    found.append(value)
        return found


class CurvePlot(QWidget):
    """Points, curve with its interval, and the target; the words beside it say the same."""

    def __init__(self, curve: CurveResult, formatter: Formatter) -> None:
        super().__init__()
        self._curve = curve
        self._formatter = formatter
        self.setFont(sized(self.font(), 0.9))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(_("Leakage over pressure"))
        points = (
            _("reading {n}: {pressure}, {flow}").format(
                n=point.reading + 1,
                pressure=formatter.show(Kind.PRESSURE, point.pressure),
                flow=formatter.show(Kind.FLOW, point.flow),
            )
            for point in curve.points
        )
        self.setAccessibleDescription("; ".join(points))

    def sizeHint(self) -> QSize:
        """Be as wide as there is room."""
        return QSize(420, self.fontMetrics().height() * 20)

    def minimumSizeHint(self) -> QSize:
        """Stay wide enough to be read."""
        return QSize(220, self.sizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the plot."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        _Drawing(painter, self, self._curve, self._formatter).draw()
        painter.end()
        event.accept()


class _Drawing:
    """One painting of the plot."""

    def __init__(
        self, painter: QPainter, widget: QWidget, curve: CurveResult, formatter: Formatter
    ) -> None:
        self._painter = painter
        self._curve = curve
        self._formatter = formatter
        self._colors: Colors = colors_of(widget.palette())
        self._metrics = widget.fontMetrics()
        self._unit = formatter.unit_for(Kind.FLOW)
        line = self._metrics.height()
        left = self._metrics.horizontalAdvance("0,000 ") + 6
        self._field = QRectF(
            left, line * 1.6, widget.width() - left - 10, widget.height() - 4.4 * line
        )
        self._across = _axis([p for p, _low, _high in self._reach()])
        self._up = _axis([self._flow(q) for _p, low, high in self._reach() for q in (low, high)])

    def draw(self) -> None:
        """Draw from the ground up."""
        self._grid()
        self._band()
        for point in self._curve.points:
            self._point(point)
        self._target()

    def _reach(self) -> list[tuple[float, float, float]]:
        """Return pressures, and the lowest and highest flow drawn at each."""
        curve = self._curve
        reach = [(point.pressure, point.flow, point.flow) for point in curve.points]
        reach += [(at.pressure, at.low or at.flow, at.high or at.flow) for at in curve.band]
        if curve.target_pressure is not None and curve.flow_at_target is not None:
            reach.append((curve.target_pressure, curve.flow_at_target, curve.flow_at_target))
        return [spot for spot in reach if min(spot) > 0.0] or [(1.0, 1.0, 10.0)]

    def _flow(self, si: float) -> float:
        from deskapp.units.convert import to_unit

        return to_unit(si, self._unit)

    def _at(self, pressure: float, flow: float) -> QPointF:
        field = self._field
        x = field.left() + field.width() * self._across.share(pressure)
        return QPointF(x, field.bottom() - field.height() * self._up.share(self._flow(flow)))

    def _pen(self, color: str, width: float = 1.0) -> QPen:
        return QPen(QColor(color), width)

    def _grid(self) -> None:
        painter, field, colors = self._painter, self._field, self._colors
        line = self._metrics.height()
        for value in self._across.ticks():
            x = field.left() + field.width() * self._across.share(value)
            painter.setPen(self._pen(colors.line))
            painter.drawLine(QPointF(x, field.top()), QPointF(x, field.bottom()))
            self._write(_short(value, self._formatter), x, field.bottom() + line * 1.1)
        for value in self._up.ticks():
            y = field.bottom() - field.height() * self._up.share(value)
            painter.setPen(self._pen(colors.line))
            painter.drawLine(QPointF(field.left(), y), QPointF(field.right(), y))
            text = _short(value, self._formatter)
            painter.setPen(self._pen(colors.muted))
            width = self._metrics.horizontalAdvance(text)
            painter.drawText(QPointF(field.left() - width - 6, y + line * 0.3), text)
        painter.setPen(self._pen(colors.edge))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(field)
        below = field.bottom() + line * 2.3
        pressure = _("Pressure held by the fan (Pa)")
        self._write(pressure, field.center().x(), below)
        painter.setPen(self._pen(colors.muted))
        label = _("Leakage ({unit})").format(unit=self._formatter.label(self._unit))
        painter.drawText(QPointF(0, line * 0.9), label)

    def _band(self) -> None:
        painter, colors = self._painter, self._colors
        spots = [at for at in self._curve.band if at.flow > 0.0 and at.pressure > 0.0]
        edges = [(at.pressure, at.low, at.high) for at in spots]
        known = [(p, low, high) for p, low, high in edges if low and high and low > 0.0]
        if known:
            outline = [self._at(p, high) for p, _low, high in known]
            outline += [self._at(p, low) for p, low, _high in reversed(known)]
            tint = QColor(colors.accent)
            tint.setAlphaF(0.22)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(tint)
            painter.drawPolygon(QPolygonF(outline))
        painter.setPen(self._pen(colors.accent, 2.0))
        painter.drawPolyline(QPolygonF([self._at(at.pressure, at.flow) for at in spots]))

    def _target(self) -> None:
        pressure, flow = self._curve.target_pressure, self._curve.flow_at_target
        if pressure is None or flow is None or min(pressure, flow) <= 0.0:
            return
        painter, field, colors = self._painter, self._field, self._colors
        spot = self._at(pressure, flow)
        pen = self._pen(colors.text, 1.4)
        pen.setStyle(Qt.PenStyle.DashLine)
        painter.setPen(pen)
        painter.drawLine(QPointF(spot.x(), field.bottom()), spot)
        painter.drawLine(QPointF(field.left(), spot.y()), spot)
        painter.setBrush(QColor(colors.text))
        painter.setPen(Qt.PenStyle.NoPen)
        x, y, side = spot.x(), spot.y(), _RADIUS + 1.5
        corners = ((x, y - side), (x + side, y), (x, y + side), (x - side, y))
        painter.drawPolygon(QPolygonF([QPointF(*corner) for corner in corners]))
        painter.setPen(self._pen(colors.text))
        text = _("target: {flow}").format(flow=self._formatter.show(Kind.FLOW, flow))
        width = self._metrics.horizontalAdvance(text)
        left = spot.x() - width - 12
        left = left if left > field.left() + 4 else spot.x() + 12
        painter.drawText(QPointF(left, spot.y() - self._metrics.height() * 0.5), text)

    def _point(self, point: CurvePoint) -> None:
        if min(point.pressure, point.flow) <= 0.0:
            return
        painter, colors = self._painter, self._colors
        spot = self._at(point.pressure, point.flow)
        painter.setPen(self._pen(colors.check if point.is_off else colors.accent, 2.0))
        painter.setBrush(QColor(colors.card))
        if not point.is_off:
            painter.drawEllipse(spot, _RADIUS, _RADIUS)
            return
        side = _RADIUS + 1
        box = QRectF(spot.x() - side, spot.y() - side, 2 * side, 2 * side)
        painter.drawRect(box)
        text = _("reading {n}").format(n=point.reading + 1)
        width = self._metrics.horizontalAdvance(text)
        right = spot.x() + side + 4
        is_near_edge = right + width > self._field.right()
        left = spot.x() - side - 4 - width if is_near_edge else right
        painter.drawText(QPointF(left, spot.y() + self._metrics.height() * 0.9), text)

    def _write(self, text: str, middle: float, base: float) -> None:
        self._painter.setPen(self._pen(self._colors.muted))
        width = self._metrics.horizontalAdvance(text)
        self._painter.drawText(QPointF(middle - width / 2, base), text)


def _axis(values: list[float]) -> _Axis:
    low, high = min(values), max(values)
    room = max((high / low) ** _MARGIN, 1.06)
    return _Axis(low / room, high * room)


def _short(value: float, formatter: Formatter) -> str:
    """Return a round value with no more decimals than it has."""
    decimals = max(0, -math.floor(math.log10(value)) + (0 if value == round(value) else 1))
    text = formatter.number(value, 0 if value == round(value) else decimals)
    return text.rstrip("0").rstrip(".,") if "." in text and value != round(value) else text
