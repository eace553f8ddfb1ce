"""Painting what is drawn on photos and on the sketch."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen, QPolygonF

from deskapp.domain.ink import Inked, Letters, Oval, Piece, Stroke, pieces
from deskapp.ui.theme import sized

if TYPE_CHECKING:
    from collections.abc import Iterable


def paint_ink(
    painter: QPainter, place: QRectF, items: Iterable[Inked], letter: float, font: QFont
) -> None:
    """Draw `items` on the sheet that fills `place`, with letters `letter` points high."""
    strong = sized(font, 1.0, strong=True)

    def measure(text: str, size: float) -> float:
        strong.setPixelSize(max(1, round(size)))
        return QFontMetricsF(strong).horizontalAdvance(text)

    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(place.topLeft())
    for piece in pieces(items, place.width(), place.height(), letter, measure):
        _paint(painter, piece, strong)
    painter.restore()


def _paint(painter: QPainter, piece: Piece, font: QFont) -> None:
    match piece:
        case Stroke():
            _paint_stroke(painter, piece)
        case Oval():
            painter.setPen(_pen(piece.color, piece.width))
            painter.setBrush(QColor(piece.fill) if piece.fill else Qt.BrushStyle.NoBrush)
            painter.drawEllipse(QPointF(*piece.center), piece.across, piece.down)
        case Letters():
            font.setPixelSize(max(1, round(piece.size)))
            painter.setFont(font)
            painter.setPen(QColor(piece.color))
            half = 40.0 * piece.size
            box = QRectF(piece.center.x - half, piece.center.y - half, 2 * half, 2 * half)
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, piece.text)


def _paint_stroke(painter: QPainter, stroke: Stroke) -> None:
    painter.setPen(_pen(stroke.color, stroke.width))
    painter.setBrush(QColor(stroke.color) if stroke.filled else Qt.BrushStyle.NoBrush)
    points = QPolygonF([QPointF(*point) for point in stroke.points])
    if stroke.closed:
        painter.drawPolygon(points)
    else:
        painter.drawPolyline(points)


def _pen(color: str, width: float) -> QPen:
    if width <= 0.0:
        return QPen(Qt.PenStyle.NoPen)
    pen = QPen(QColor(color), width)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    return pen
