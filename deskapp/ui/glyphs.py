"""Small drawings of our own, painted in any color at any size."""

from __future__ import annotations

import math
from collections.abc import Callable
from enum import StrEnum

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QColor,
    QIcon,
    QPainter,
    QPainterPath,
    QPen,
    QPixmap,
    QPixmapCache,
    QPolygonF,
)
from PySide6.QtWidgets import QWidget

from deskapp.session.colors import Colors
from deskapp.ui.theme import colors_of


class Glyph(StrEnum):
    """The drawings; each verdict and each level has a shape of its own, not only a color."""

    PASS = "pass"
    FAIL = "fail"
    NONE = "none"
    STOP = "stop"
    CHECK = "check"
    NOTE = "note"
    BLANK = "blank"
    PART = "part"
    DONE = "done"
    ADD = "add"
    REMOVE = "remove"
    CALENDAR = "calendar"
    PICTURE = "picture"
    PAPER = "paper"
    FOLDER = "folder"
    HOUSE = "house"
    POINTER = "pointer"
    ARROW = "arrow"
    NUMBER = "number"
    WALL = "wall"
    ROOM = "room"
    TEXT = "text"


def color_of(glyph: Glyph, colors: Colors) -> str:
    """Return the color a glyph has by itself."""
    return {
        Glyph.PASS: colors.passed,
        Glyph.DONE: colors.passed,
        Glyph.FAIL: colors.failed,
        Glyph.STOP: colors.failed,
        Glyph.CHECK: colors.check,
        Glyph.NOTE: colors.accent,
        Glyph.PART: colors.accent,
        Glyph.NONE: colors.muted,
        Glyph.BLANK: colors.edge,
    }.get(glyph, colors.accent)


def paint_glyph(
    painter: QPainter, rect: QRectF, glyph: Glyph, color: QColor, ground: QColor
) -> None:
    """Draw `glyph` in `rect`; `ground` is the color behind it, for marks cut out of a shape."""
    side = min(rect.width(), rect.height())
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(rect.center().x() - side / 2, rect.center().y() - side / 2)
    painter.scale(side / 24, side / 24)
    _DRAWN[glyph](_Sketch(painter, color, ground))
    painter.restore()


def pixmap_of(
    glyph: Glyph,
    side: int,
    colors: Colors,
    *,
    ratio: float = 1.0,
    ink: str | None = None,
    ground: str | None = None,
) -> QPixmap:
    """Return `glyph` as a picture of `side` points for a screen with pixel ratio `ratio`.

    `ink` replaces the color the glyph has by itself, `ground` that of the card it stands on. One
    that was drawn is kept for the next time.
    """
    color, behind = ink or color_of(glyph, colors), ground or colors.card
    pixmap = QPixmap()
    key = f"{glyph} {side} {ratio} {color} {behind}"
    if QPixmapCache.find(key, pixmap):
        return pixmap
    pixmap = QPixmap(QSize(round(side * ratio), round(side * ratio)))
    pixmap.setDevicePixelRatio(ratio)
    pixmap.fill(Qt.GlobalColor.transparent)
    painter = QPainter(pixmap)
    paint_glyph(painter, QRectF(0, 0, side, side), glyph, QColor(color), QColor(behind))
    painter.end()
    QPixmapCache.insert(key, pixmap)
    return pixmap


def icon_of(glyph: Glyph, widget: QWidget, side: int = 16, *, ink: str | None = None) -> QIcon:
    """Return `glyph` as an icon in the colors of `widget`, sharp up to three times the density.

    In a row that is selected it has the color of the words there.
    """
    palette = widget.palette()
    colors = colors_of(palette)
    words, behind = palette.highlightedText().color().name(), palette.highlight().color().name()
    icon = QIcon()
    for ratio in (1.0, 2.0, 3.0):
        icon.addPixmap(pixmap_of(glyph, side, colors, ratio=ratio, ink=ink))
        chosen = pixmap_of(glyph, side, colors, ratio=ratio, ink=words, ground=behind)
        icon.addPixmap(chosen, QIcon.Mode.Selected)
    return icon


class _Sketch:
    """Strokes and shapes on a square of 24 by 24 units."""

    def __init__(self, painter: QPainter, color: QColor, ground: QColor) -> None:
        self.painter = painter
        self.color = color
        self._ground = ground
        self.pen(2.0)

    def pen(self, width: float) -> None:
        """Draw with the glyph's color."""
        self._set_pen(self.color, width)
        self.painter.setBrush(Qt.BrushStyle.NoBrush)

    def cut(self, width: float) -> None:
        """Draw with the color of the ground, so that a mark looks cut out."""
        self._set_pen(self._ground, width)

    def solid(self, width: float = 2.0) -> None:
        """Fill shapes with the glyph's color."""
        self.pen(width)
        self.painter.setBrush(self.color)

    def path(self, *points: tuple[float, float]) -> None:
        """Draw a line through `points`."""
        self.painter.drawPolyline(QPolygonF([QPointF(x, y) for x, y in points]))

    def shape(self, *points: tuple[float, float]) -> None:
        """Draw the closed shape with these corners."""
        self.painter.drawPolygon(QPolygonF([QPointF(x, y) for x, y in points]))

    def dot(self, x: float, y: float) -> None:
        """Draw a dot as wide as the pen."""
        self.painter.drawPoint(QPointF(x, y))

    def disc(self, radius: float, x: float = 12, y: float = 12) -> None:
        """Draw a circle."""
        self.painter.drawEllipse(QPointF(x, y), radius, radius)

    def box(self, x: float, y: float, width: float, height: float) -> None:
        """Draw a box with soft corners."""
        self.painter.drawRoundedRect(QRectF(x, y, width, height), 2, 2)

    def _set_pen(self, color: QColor, width: float) -> None:
        pen = QPen(color, width)
        pen.setCapStyle(Qt.PenCapStyle.RoundCap)
        pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        self.painter.setPen(pen)


def _pass(sketch: _Sketch) -> None:
    sketch.solid()
    sketch.disc(10)
    sketch.cut(2.6)
    sketch.path((7, 12.5), (10.6, 16), (17, 8.8))


def _fail(sketch: _Sketch) -> None:
    sketch.solid()
    sketch.shape((12, 1.5), (22.5, 12), (12, 22.5), (1.5, 12))
    sketch.cut(2.6)
    sketch.path((8.6, 8.6), (15.4, 15.4))
    sketch.path((15.4, 8.6), (8.6, 15.4))


def _none(sketch: _Sketch) -> None:
    pen = sketch.painter.pen()
    pen.setDashPattern([2.1, 2.35])
    sketch.painter.setPen(pen)
    sketch.disc(9.8)
    sketch.pen(2.4)
    sketch.path((8, 12), (16, 12))


def _stop(sketch: _Sketch) -> None:
    angles = [math.radians(22.5 + 45 * corner) for corner in range(8)]
    sketch.solid()
    sketch.shape(*((12 + 10.4 * math.cos(a), 12 + 10.4 * math.sin(a)) for a in angles))
    sketch.cut(3.0)
    sketch.path((7.5, 12), (16.5, 12))


def _check(sketch: _Sketch) -> None:
    sketch.solid(2.6)
    sketch.shape((12, 3), (22, 20.6), (2, 20.6))
    sketch.cut(2.4)
    sketch.path((12, 9.4), (12, 13.8))
    sketch.dot(12, 17.6)


def _note(sketch: _Sketch) -> None:
    sketch.disc(9.8)
    sketch.pen(2.4)
    sketch.path((12, 11.4), (12, 17))
    sketch.dot(12, 7.3)


def _blank(sketch: _Sketch) -> None:
    sketch.disc(9)


def _part(sketch: _Sketch) -> None:
    sketch.disc(9)
    half = QPainterPath(QPointF(12, 12))
    half.arcTo(QRectF(3, 3, 18, 18), 90, -180)
    sketch.painter.fillPath(half, sketch.color)


def _done(sketch: _Sketch) -> None:
    sketch.disc(9)
    sketch.path((7.6, 12.4), (10.8, 15.4), (16.4, 9))


def _add(sketch: _Sketch) -> None:
    sketch.path((12, 5), (12, 19))
    sketch.path((5, 12), (19, 12))


def _remove(sketch: _Sketch) -> None:
    sketch.path((6.5, 6.5), (17.5, 17.5))
    sketch.path((17.5, 6.5), (6.5, 17.5))


def _calendar(sketch: _Sketch) -> None:
    sketch.box(4, 5.5, 16, 15)
    sketch.path((4.5, 10.5), (19.5, 10.5))
    sketch.path((8.5, 3), (8.5, 7))
    sketch.path((15.5, 3), (15.5, 7))


def _picture(sketch: _Sketch) -> None:
    sketch.box(3, 4.5, 18, 15)
    sketch.path((3.5, 17.5), (9, 11.5), (13, 15.5), (16, 13), (20.5, 17))
    sketch.disc(1.2, 15.8, 8.8)


def _paper(sketch: _Sketch) -> None:
    sketch.path((14, 3), (6, 3), (6, 21), (18, 21), (18, 7), (14, 3), (14, 7), (18, 7))
    sketch.path((9, 12), (15, 12))
    sketch.path((9, 16), (15, 16))


def _folder(sketch: _Sketch) -> None:
    sketch.path((3, 19.5), (3, 5), (9, 5), (11.5, 8), (21, 8), (21, 19.5), (3, 19.5))


def _house(sketch: _Sketch) -> None:
    sketch.path((3, 11.5), (12, 4), (21, 11.5))
    sketch.path((5.5, 10), (5.5, 20), (18.5, 20), (18.5, 10))
    sketch.path((8.5, 16), (11, 13.5), (13, 16), (15.5, 13.5))


def _pointer(sketch: _Sketch) -> None:
    sketch.shape(
        (6, 3.5), (18.5, 12.5), (12.5, 13.5), (15.5, 20), (12.8, 21), (10, 14.6), (6, 18.5)
    )


def _arrow(sketch: _Sketch) -> None:
    sketch.path((4.5, 19.5), (18.5, 5.5))
    sketch.path((10.5, 5), (19, 5), (19, 13.5))


def _number(sketch: _Sketch) -> None:
    sketch.solid()
    sketch.disc(9.5)
    sketch.cut(2.4)
    sketch.path((9.6, 9.4), (12.6, 7.2), (12.6, 17))


def _wall(sketch: _Sketch) -> None:
    sketch.path((4, 19), (20, 5))
    sketch.solid()
    sketch.disc(1.6, 4, 19)
    sketch.disc(1.6, 20, 5)


def _room(sketch: _Sketch) -> None:
    sketch.path((3.5, 5), (20.5, 5), (20.5, 19), (3.5, 19), (3.5, 5))


def _text(sketch: _Sketch) -> None:
    sketch.path((5, 8), (5, 5), (19, 5), (19, 8))
    sketch.path((12, 5), (12, 19.5))
    sketch.path((9, 19.5), (15, 19.5))


_DRAWN: dict[Glyph, Callable[[_Sketch], None]] = {
    Glyph.PASS: _pass,
    Glyph.FAIL: _fail,
    Glyph.NONE: _none,
    Glyph.STOP: _stop,
    Glyph.CHECK: _check,
    Glyph.NOTE: _note,
    Glyph.BLANK: _blank,
    Glyph.PART: _part,
    Glyph.DONE: _done,
    Glyph.ADD: _add,
    Glyph.REMOVE: _remove,
    Glyph.CALENDAR: _calendar,
    Glyph.PICTURE: _picture,
    Glyph.PAPER: _paper,
    Glyph.FOLDER: _folder,
    Glyph.HOUSE: _house,
    Glyph.POINTER: _pointer,
    Glyph.ARROW: _arrow,
    Glyph.NUMBER: _number,
    Glyph.WALL: _wall,
    Glyph.ROOM: _room,
    Glyph.TEXT: _text,
}
