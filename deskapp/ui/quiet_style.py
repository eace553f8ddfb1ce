"""Fusion with flatter fields and buttons and a focus ring that can be seen."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPalette, QPen, QPolygonF
from PySide6.QtWidgets import (
    QAbstractScrollArea,
    QFrame,
    QProxyStyle,
    QStyle,
    QStyleOption,
    QStyleOptionButton,
    QStyleOptionComplex,
    QStyleOptionFrame,
    QStyleOptionHeader,
    QStyleOptionSlider,
    QStyleOptionToolButton,
    QWidget,
)

from deskapp.ui.glyphs import Glyph, paint_glyph
from deskapp.ui.words import FLAT_INDENT, ICON_GAP, Card

_RADIUS = 4.0
_DOCK_GLYPHS = {
    "qt_dockwidget_closebutton": Glyph.REMOVE,
    "qt_dockwidget_floatbutton": Glyph.ROOM,
}
_OF_QT = "qt_"
"""How names begin of what Qt puts into its own widgets, such as the head of a calendar."""
_SQUARER = 2.0
"""Round corners of sheets whose square contents reach to the frame."""
_SHORTEST = 28
_WIDEST_CHEVRON = 6.0
_State = QStyle.StateFlag
_Role = QPalette.ColorRole
_NO_FRAME = QFrame.Shape.NoFrame
# As numbers: to combine members of an enumeration takes longer than to draw a line.
_ENABLED, _ON = _State.State_Enabled.value, _State.State_On.value
_FOCUS, _SELECTED = _State.State_HasFocus.value, _State.State_Selected.value
_OVER = _State.State_MouseOver.value
_HELD = _State.State_Sunken.value | _OVER
_DOWN = _State.State_Sunken.value | _ON


class QuietStyle(QProxyStyle):
    """Draws line edits, choices, push buttons and the focus ring; leaves the rest to Fusion."""

    def __init__(self) -> None:
        super().__init__("Fusion")
        self.setObjectName("quiet")

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
        if element == kind.PE_Frame and isinstance(widget, QAbstractScrollArea):
            _panel(option, painter, _SQUARER)
        elif element == kind.PE_PanelLineEdit:
            _panel(option, painter)
        elif element == kind.PE_Frame and isinstance(widget, Card):
            _card(option, painter)
        elif element == kind.PE_FrameFocusRect:
            _ring(option, painter)
        elif element == kind.PE_IndicatorRadioButton:
            _radio(option, painter)
        elif element == kind.PE_IndicatorCheckBox:
            _tick(option, painter)
        elif element == kind.PE_PanelScrollAreaCorner:
            painter.fillRect(option.rect, option.palette.color(QPalette.ColorRole.Window))
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
        """Draw the body of push buttons and their words."""
        kind = QStyle.ControlElement
        if element == kind.CE_ShapedFrame and isinstance(option, QStyleOptionFrame):
            if option.frameShape != _NO_FRAME:
                super().drawControl(element, option, painter, widget)
            return
        is_button = isinstance(option, QStyleOptionButton)
        if element == kind.CE_PushButtonBevel and is_button:
            _button(option, painter)
        elif element == kind.CE_HeaderSection and isinstance(option, QStyleOptionHeader):
            _header(option, painter)
        elif (
            element == kind.CE_ToolButtonLabel
            and isinstance(option, QStyleOptionToolButton)
            and _is_quiet_word(option, widget)
        ):
            inked = QStyleOptionToolButton(option)
            palette = inked.palette
            palette.setColor(QPalette.ColorRole.ButtonText, palette.color(QPalette.ColorRole.Link))
            inked.palette = palette
            super().drawControl(element, inked, painter, widget)
        elif element == kind.CE_PushButtonLabel and is_button:
            shows_keys = self.styleHint(QStyle.StyleHint.SH_UnderlineShortcut, option, widget)
            _label(option, painter, shows_keys=bool(shows_keys))
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
        """Draw the body of a choice, and slim scroll bars."""
        if control == QStyle.ComplexControl.CC_ComboBox:
            _panel(option, painter)
            _chevron(option, painter)
        elif control == QStyle.ComplexControl.CC_ScrollBar:
            part = QStyle.SubControl.SC_ScrollBarSlider
            if isinstance(option, QStyleOptionSlider):
                ground = _Role.Button if _is_on_a_card(widget) else _Role.Window
                _scroll_bar(option, painter, _scroll_part(option, part), ground)
        elif widget is not None and widget.objectName() in _DOCK_GLYPHS:
            _dock_button(option, painter, _DOCK_GLYPHS[widget.objectName()])
        else:
            super().drawComplexControl(control, option, painter, widget)

    def subControlRect(
        self,
        control: QStyle.ComplexControl,
        option: QStyleOptionComplex,
        part: QStyle.SubControl,
        /,
        widget: QWidget,
    ) -> QRect:
        """Scroll bars have no arrows, and choices begin their words where lines do."""
        if control == QStyle.ComplexControl.CC_ComboBox:
            place = super().subControlRect(control, option, part, widget)
            is_words = part == QStyle.SubControl.SC_ComboBoxEditField
            return place.adjusted(2, 0, -3, 0) if is_words else place
        if control == QStyle.ComplexControl.CC_ScrollBar and isinstance(option, QStyleOptionSlider):
            return _scroll_part(option, part)
        return super().subControlRect(control, option, part, widget)


def _is_quiet_word(option: QStyleOptionToolButton, widget: QWidget | None) -> bool:
    """Say whether a button is a word alone, which only its color tells from plain text."""
    is_of_qt = widget is not None and widget.objectName().startswith(_OF_QT)
    if is_of_qt or not option.icon.isNull():
        return False
    state = option.state
    return bool(option.text and state & _State.State_AutoRaise and state & _State.State_Enabled)


def _scroll_part(option: QStyleOptionSlider, part: QStyle.SubControl) -> QRect:
    parts = QStyle.SubControl
    rect = option.rect
    is_upright = option.orientation == Qt.Orientation.Vertical
    length = rect.height() if is_upright else rect.width()
    span = option.maximum - option.minimum
    slider = length
    if span > 0:
        slider = max(_SHORTEST, length * option.pageStep // (span + option.pageStep))
    at = QStyle.sliderPositionFromValue(
        option.minimum, option.maximum, option.sliderPosition, length - slider, option.upsideDown
    )
    ends = {
        parts.SC_ScrollBarSlider: (at, slider),
        parts.SC_ScrollBarGroove: (0, length),
        parts.SC_ScrollBarSubPage: (0, at),
        parts.SC_ScrollBarAddPage: (at + slider, length - at - slider),
    }.get(part)
    if ends is None:
        return QRect()
    start, size = ends
    if is_upright:
        return QRect(rect.left(), rect.top() + start, rect.width(), size)
    return QRect(rect.left() + start, rect.top(), size, rect.height())


def _is_on_a_card(bar: QWidget | None) -> bool:
    """Say whether what a bar scrolls lets the card shine through that it stands on."""
    holder = None if bar is None else bar.parentWidget()
    area = None if holder is None else holder.parentWidget()
    if not isinstance(area, QAbstractScrollArea) or area.viewport().autoFillBackground():
        return False
    above = area.parentWidget()
    while above is not None and not isinstance(above, Card):
        above = above.parentWidget()
    return above is not None


def _scroll_bar(
    option: QStyleOptionSlider, painter: QPainter, slider: QRect, ground: QPalette.ColorRole
) -> None:
    role = QPalette.ColorRole
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.fillRect(option.rect, option.palette.color(ground))
    if option.maximum <= option.minimum:
        painter.restore()
        return
    is_held = bool(option.state.value & _HELD)
    ink = _mixed(
        option.palette.color(role.Mid), option.palette.color(ground), 0.0 if is_held else 0.35
    )
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(ink)
    bar = QRectF(slider).adjusted(3, 3, -3, -3)
    radius = min(bar.width(), bar.height()) / 2
    painter.drawRoundedRect(bar, radius, radius)
    painter.restore()


def _dock_button(option: QStyleOption, painter: QPainter, glyph: Glyph) -> None:
    """Draw a button in the head of the help, which Fusion draws too faint on a dark ground."""
    role = QPalette.ColorRole
    is_held = bool(option.state.value & _HELD)
    if is_held:
        painter.fillRect(option.rect, option.palette.color(role.Midlight))
    side = min(option.rect.width(), option.rect.height()) - 2.0
    place = QRectF(0, 0, side, side)
    place.moveCenter(QRectF(option.rect).center())
    ground = option.palette.color(role.Window)
    paint_glyph(painter, place, glyph, option.palette.color(role.WindowText), ground)


def _panel(option: QStyleOption, painter: QPainter, radius: float = _RADIUS) -> None:
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(Qt.PenStyle.NoPen)
    is_enabled = bool(option.state.value & _ENABLED)
    painter.setBrush(option.palette.color(_Role.Base if is_enabled else _Role.Window))
    painter.drawRoundedRect(QRectF(option.rect).adjusted(0.5, 0.5, -0.5, -0.5), radius, radius)
    painter.restore()
    _outline(option, painter, QRectF(option.rect), radius)


def _outline(
    option: QStyleOption, painter: QPainter, rect: QRectF, radius: float = _RADIUS
) -> None:
    state = option.state.value
    has_focus, is_enabled = bool(state & _FOCUS), bool(state & _ENABLED)
    role = _Role.Accent if has_focus else _Role.Mid if is_enabled else _Role.Midlight
    width = 2.0 if has_focus else 1.0
    half = width / 2
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(option.palette.color(role), width))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRoundedRect(rect.adjusted(half, half, -half, -half), radius, radius)
    painter.restore()


def _radio(option: QStyleOption, painter: QPainter) -> None:
    role = QPalette.ColorRole
    is_on = bool(option.state.value & _ON)
    accent = option.palette.color(role.Accent)
    side = min(option.rect.width(), option.rect.height()) - 2
    disc = QRectF(0, 0, side, side)
    disc.moveCenter(QRectF(option.rect).center())
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(accent if is_on else option.palette.color(role.Mid), 1.6 if is_on else 1.2))
    painter.setBrush(option.palette.color(role.Base))
    painter.drawEllipse(disc)
    if is_on:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(accent)
        inset = side * 0.27
        painter.drawEllipse(disc.adjusted(inset, inset, -inset, -inset))
    painter.restore()


def _tick(option: QStyleOption, painter: QPainter) -> None:
    role = QPalette.ColorRole
    is_on = bool(option.state.value & _ON)
    accent = option.palette.color(role.Accent)
    side = min(option.rect.width(), option.rect.height()) - 2
    box = QRectF(0, 0, side, side)
    box.moveCenter(QRectF(option.rect).center())
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    edge = accent if is_on else option.palette.color(role.Mid)
    if option.state.value & _SELECTED:
        edge = option.palette.color(role.HighlightedText)
    painter.setPen(QPen(edge, 1.2))
    painter.setBrush(accent if is_on else option.palette.color(role.Base))
    painter.drawRoundedRect(box, 3, 3)
    if is_on:
        pen = QPen(option.palette.color(role.HighlightedText), side * 0.15)
        pen.setCapStyle(Qt.PenCapStyle.RoundCap)
        painter.setPen(pen)
        points = ((0.24, 0.52), (0.43, 0.71), (0.77, 0.31))
        painter.drawPolyline(
            QPolygonF([QPointF(box.left() + side * x, box.top() + side * y) for x, y in points])
        )
    painter.restore()


def _button(option: QStyleOptionButton, painter: QPainter) -> None:
    role = QPalette.ColorRole
    palette = option.palette
    is_flat = bool(option.features & QStyleOptionButton.ButtonFeature.Flat)
    state = option.state.value
    is_down, is_enabled = bool(state & _DOWN), bool(state & _ENABLED)
    is_hovered = bool(state & _OVER) and is_enabled
    share = 0.16 if is_down else 0.07 if is_hovered else 0.0
    fill = palette.color(role.Button)
    if share:
        fill = _mixed(fill, palette.color(role.ButtonText), share)
    edge = palette.color(role.Mid if is_enabled else role.Midlight)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(Qt.PenStyle.NoPen if is_flat else QPen(edge, 1.0))
    painter.setBrush(Qt.BrushStyle.NoBrush if is_flat and not share else fill)
    painter.drawRoundedRect(QRectF(option.rect).adjusted(0.5, 0.5, -0.5, -0.5), _RADIUS, _RADIUS)
    painter.restore()
    if state & _FOCUS:
        _button_ring(option, painter)


def _button_ring(option: QStyleOptionButton, painter: QPainter) -> None:
    """Show the focus: around a button, and also within one that has the color of the ring."""
    palette = option.palette
    _ring(option, painter)
    if palette.color(_Role.Button) == palette.color(_Role.Accent):
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(palette.color(_Role.ButtonText), 1.5))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        inside = QRectF(option.rect).adjusted(3.25, 3.25, -3.25, -3.25)
        painter.drawRoundedRect(inside, _RADIUS - 2, _RADIUS - 2)
        painter.restore()


def _header(option: QStyleOptionHeader, painter: QPainter) -> None:
    """Draw the ground of a heading of a table, with a line towards its rows."""
    role = QPalette.ColorRole
    rect = option.rect
    painter.fillRect(rect, option.palette.color(role.AlternateBase))
    line = option.palette.color(role.Mid)
    if option.orientation == Qt.Orientation.Horizontal:
        painter.fillRect(rect.left(), rect.bottom(), rect.width(), 1, line)
    else:
        painter.fillRect(rect.right(), rect.top(), 1, rect.height(), line)


def _label(option: QStyleOptionButton, painter: QPainter, *, shows_keys: bool) -> None:
    """Draw icon and words side by side: in the middle, of flat buttons at the left."""
    is_flat = bool(option.features & QStyleOptionButton.ButtonFeature.Flat)
    is_enabled = bool(option.state.value & _ENABLED)
    keys = Qt.TextFlag.TextShowMnemonic if shows_keys else Qt.TextFlag.TextHideMnemonic
    words = option.fontMetrics.size(keys, option.text).width()
    icon = option.iconSize.width() if not option.icon.isNull() else 0
    gap = ICON_GAP if icon and option.text else 0
    room = QRect(option.rect)
    whole = icon + gap + words
    indent = FLAT_INDENT if is_flat and option.text else (room.width() - whole) // 2
    room.setLeft(room.left() + max(0, indent))
    painter.save()
    if icon:
        mode = QIcon.Mode.Normal if is_enabled else QIcon.Mode.Disabled
        high = option.iconSize.height()
        top = room.top() + (room.height() - high) // 2
        place = QRect(room.left(), top, icon, high)
        option.icon.paint(painter, place, Qt.AlignmentFlag.AlignCenter, mode)
        room.setLeft(room.left() + icon + gap)
    group = QPalette.ColorGroup.Active if is_enabled else QPalette.ColorGroup.Disabled
    role = QPalette.ColorRole.ButtonText
    if is_flat and is_enabled and not icon:
        role = QPalette.ColorRole.Link  # a word alone, which only its color tells from plain text
    painter.setPen(option.palette.color(group, role))
    painter.drawText(room, int(Qt.AlignmentFlag.AlignVCenter) | int(keys), option.text)
    painter.restore()


def _card(option: QStyleOption, painter: QPainter) -> None:
    role = QPalette.ColorRole
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(option.palette.color(role.Midlight), 1.0))
    painter.setBrush(option.palette.color(role.Button))
    box = QRectF(option.rect).adjusted(0.5, 0.5, -0.5, -0.5)
    painter.drawRoundedRect(box, 2 * _RADIUS, 2 * _RADIUS)
    painter.restore()


def _ring(option: QStyleOption, painter: QPainter) -> None:
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(option.palette.color(QPalette.ColorRole.Accent), 2.0))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRoundedRect(QRectF(option.rect).adjusted(1, 1, -1, -1), _RADIUS, _RADIUS)
    painter.restore()


def _mixed(one: QColor, other: QColor, share: float) -> QColor:
    keep = 1 - share
    return QColor.fromRgbF(
        one.redF() * keep + other.redF() * share,
        one.greenF() * keep + other.greenF() * share,
        one.blueF() * keep + other.blueF() * share,
    )


def _chevron(option: QStyleOption, painter: QPainter) -> None:
    right_to_left = option.direction == Qt.LayoutDirection.RightToLeft
    wide = min(option.fontMetrics.height() * 4 / 15, _WIDEST_CHEVRON)
    low = wide / 2
    x = option.rect.left() + 12 if right_to_left else option.rect.right() - 12
    y = option.rect.center().y() + 0.5
    role = QPalette.ColorRole.Text
    is_enabled = bool(option.state.value & _ENABLED)
    group = QPalette.ColorGroup.Active if is_enabled else QPalette.ColorGroup.Disabled
    pen = QPen(option.palette.color(group, role), 1.6)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(pen)
    painter.drawPolyline(
        QPolygonF([QPointF(x - wide, y - low), QPointF(x, y + low), QPointF(x + wide, y - low)])
    )
    painter.restore()
