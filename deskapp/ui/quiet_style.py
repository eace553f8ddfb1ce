"""Fusion with flatter fields and buttons and a focus ring that can be seen."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPalette, QPen, QPolygonF
from PySide6.QtWidgets import (
    QAbstractScrollArea,
    QProxyStyle,
    QStyle,
    QStyleOption,
    QStyleOptionButton,
    QStyleOptionComplex,
    QWidget,
)

_RADIUS = 4.0
_State = QStyle.StateFlag


class QuietStyle(QProxyStyle):
    """Draws line edits, choices, push buttons and the focus ring; leaves the rest to Fusion."""

    def __init__(self) -> None:
        super().__init__("Fusion")

    def drawPrimitive(
        self,
        element: QStyle.PrimitiveElement,
        option: QStyleOption,
        painter: QPainter,
        /,
        widget: QWidget | None = None,
    ) -> None:
        """Draw the frames of fields and the focus ring."""
        kind = QStyle.PrimitiveElement
        if element == kind.PE_PanelLineEdit:
            _panel(option, painter)
        elif element == kind.PE_Frame and isinstance(widget, QAbstractScrollArea):
            _outline(option, painter, QRectF(option.rect))
        elif element == kind.PE_FrameFocusRect:
            _ring(option, painter)
        elif element != kind.PE_FrameLineEdit:
            super().drawPrimitive(element, option, painter, widget)

    def drawControl(
        self,
        element: QStyle.ControlElement,
        option: QStyleOption,
        painter: QPainter,
        /,
        widget: QWidget | None = None,
    ) -> None:
        """Draw the body of push buttons."""
        kind = QStyle.ControlElement.CE_PushButtonBevel
        if element == kind and isinstance(option, QStyleOptionButton):
            _button(option, painter)
        else:
            super().drawControl(element, option, painter, widget)

    def drawComplexControl(
        self,
        control: QStyle.ComplexControl,
        option: QStyleOptionComplex,
        painter: QPainter,
        /,
        widget: QWidget | None = None,
    ) -> None:
        """Draw the body of a choice."""
        if control == QStyle.ComplexControl.CC_ComboBox:
            _panel(option, painter)
            _chevron(option, painter)
        else:
            super().drawComplexControl(control, option, painter, widget)


def _panel(option: QStyleOption, painter: QPainter) -> None:
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(option.palette.color(QPalette.ColorRole.Base))
    painter.drawRoundedRect(QRectF(option.rect).adjusted(0.5, 0.5, -0.5, -0.5), _RADIUS, _RADIUS)
    painter.restore()
    _outline(option, painter, QRectF(option.rect))


def _outline(option: QStyleOption, painter: QPainter, rect: QRectF) -> None:
    has_focus = bool(option.state & _State.State_HasFocus)
    role = QPalette.ColorRole.Accent if has_focus else QPalette.ColorRole.Mid
    width = 2.0 if has_focus else 1.0
    half = width / 2
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(option.palette.color(role), width))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRoundedRect(rect.adjusted(half, half, -half, -half), _RADIUS, _RADIUS)
    painter.restore()


def _ring(option: QStyleOption, painter: QPainter) -> None:
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(option.palette.color(QPalette.ColorRole.Accent), 2.0))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRoundedRect(QRectF(option.rect).adjusted(1, 1, -1, -1), _RADIUS, _RADIUS)
    painter.restore()


def _button(option: QStyleOptionButton, painter: QPainter) -> None:
    is_flat = bool(option.features & QStyleOptionButton.ButtonFeature.Flat)
    is_down = bool(option.state & (_State.State_Sunken | _State.State_On))
    is_hovered = bool(option.state & _State.State_MouseOver)
    is_enabled = bool(option.state & _State.State_Enabled)
    fill = _button_fill(option.palette, is_down=is_down, is_hovered=is_hovered and is_enabled)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    edge = option.palette.color(QPalette.ColorRole.Mid)
    if not is_enabled:
        edge = option.palette.color(QPalette.ColorRole.Midlight)
    painter.setPen(Qt.PenStyle.NoPen if is_flat else QPen(edge, 1.0))
    painter.setBrush(Qt.BrushStyle.NoBrush if is_flat and not (is_hovered or is_down) else fill)
    painter.drawRoundedRect(QRectF(option.rect).adjusted(0.5, 0.5, -0.5, -0.5), _RADIUS, _RADIUS)
    painter.restore()


def _button_fill(palette: QPalette, *, is_down: bool, is_hovered: bool) -> QColor:
    fill = palette.color(QPalette.ColorRole.Button)
    text = palette.color(QPalette.ColorRole.ButtonText)
    share = 0.16 if is_down else 0.07 if is_hovered else 0.0
    return mixed(fill, text, share)


def mixed(one: QColor, other: QColor, share: float) -> QColor:
    """Return `one` with `share` (0 to 1) of `other` mixed in."""
    keep = 1 - share
    return QColor.fromRgbF(
        one.redF() * keep + other.redF() * share,
        one.greenF() * keep + other.greenF() * share,
        one.blueF() * keep + other.blueF() * share,
    )


def _chevron(option: QStyleOption, painter: QPainter) -> None:
    right_to_left = option.direction == Qt.LayoutDirection.RightToLeft
    x = option.rect.left() + 12 if right_to_left else option.rect.right() - 12
    y = option.rect.center().y() + 0.5
    role = QPalette.ColorRole.Text
    is_enabled = bool(option.state & _State.State_Enabled)
    group = QPalette.ColorGroup.Active if is_enabled else QPalette.ColorGroup.Disabled
    pen = QPen(option.palette.color(group, role), 1.6)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(pen)
    painter.drawPolyline(
        QPolygonF([QPointF(x - 4, y - 2), QPointF(x, y + 2), QPointF(x + 4, y - 2)])
    )
    painter.restore()
