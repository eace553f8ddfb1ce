"""A heading that folds what stands below it away, and back again."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QRect, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QPalette, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QToolButton, QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.ui.fields.plain_line import show_tip, wants_tip, whole_tip
from deskapp.ui.theme import GRID, scaled


class FoldButton(QToolButton):
    """An arrow and a few words; it says to a screen reader whether it is open.

    Signals: `turned` with whether it is open now.
    """

    turned = Signal(bool)

    def __init__(self, text: str, about: str = "") -> None:
        super().__init__()
        self._about = about
        self._is_open = False
        self.setAutoRaise(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
        self.clicked.connect(self.turn)
        self.say(text)
        self._point()

    @property
    def is_open(self) -> bool:
        """Whether what belongs to it is shown."""
        return self._is_open

    def turn(self) -> None:
        """Unfold what is folded away, and the other way round."""
        self._is_open = not self._is_open
        self._point()
        self.turned.emit(self._is_open)

    def say(self, text: str) -> None:
        """Show other words."""
        if text != self.text():
            self.setText(text)
            self.setAccessibleName(f"{text}, {self._about}" if self._about else text)

    def sizeHint(self) -> QSize:
        """Leave air around the words."""
        metrics = self.fontMetrics()
        words = metrics.horizontalAdvance(self.text())
        beside = words + 2 * GRID if words else 0
        return QSize(self._side() + GRID + beside, metrics.height() + 12)

    def minimumSizeHint(self) -> QSize:
        """May be narrower than the words, which are then cut short and told in the tip."""
        size = self.sizeHint()
        return QSize(min(size.width(), self._side() + 12 * GRID), size.height())

    @property
    def tip_text(self) -> str:
        """What the tip says: the words, where they are cut short."""
        metrics = self.fontMetrics()
        return whole_tip(
            self.text(), metrics.horizontalAdvance(self.text()), self._room().width(), ""
        )

    def event(self, event: QEvent) -> bool:
        """Tell what is cut."""
        return show_tip(self, event, self.tip_text) if wants_tip(event) else super().event(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the arrow where the fields below begin, and the words beside it."""
        role = QPalette.ColorRole
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self.underMouse() and self.isEnabled():
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(self.palette().color(role.AlternateBase))
            painter.drawRoundedRect(self.rect(), 4, 4)
        ink = self.palette().color(role.ButtonText)
        pen = QPen(ink, 1.6)
        pen.setCapStyle(Qt.PenCapStyle.RoundCap)
        painter.setPen(pen)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        side = self._side()
        painter.drawPolyline(_arrow(side * 0.5 + 3, self.height() / 2, side, self._is_open))
        room = self._room()
        words = self.fontMetrics().elidedText(
            self.text(), Qt.TextElideMode.ElideRight, room.width()
        )
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, words)
        if self.hasFocus():
            painter.setPen(QPen(self.palette().color(role.Accent), 2))
            painter.drawRoundedRect(self.rect().adjusted(1, 1, -1, -1), 4, 4)
        painter.end()
        event.accept()

    def _room(self) -> QRect:
        return self.rect().adjusted(self._side() + GRID + 2, 0, 0, 0)

    def _side(self) -> int:
        return scaled(9, self.font())

    def _point(self) -> None:
        self.update()
        self.setAccessibleDescription(_("unfolded") if self._is_open else _("folded away"))


def _arrow(x: float, y: float, side: float, points_down: bool) -> QPolygonF:
    """Return the line of an arrow around a point."""
    long, short = side / 2, side / 4
    if points_down:
        return QPolygonF(
            [QPointF(x - long, y - short), QPointF(x, y + short), QPointF(x + long, y - short)]
        )
    return QPolygonF(
        [QPointF(x - short, y - long), QPointF(x + short, y), QPointF(x - short, y + long)]
    )


class Fold(QWidget):
    """A fold button and the widget below it.

    Signals: `opened` whenever it was unfolded.
    """

    opened = Signal()

    def __init__(self, text: str, body: QWidget, about: str = "") -> None:
        super().__init__()
        self.button = FoldButton(text, about)
        self.body = body
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(self.button)
        column.addWidget(body)
        body.setVisible(False)
        self.button.turned.connect(self._fold)

    @property
    def is_open(self) -> bool:
        """Whether the body is shown."""
        return self.button.is_open

    def unfold(self, is_open: bool = True) -> None:
        """Show the body, or fold it away."""
        if is_open != self.is_open:
            self.button.turn()

    def _fold(self, is_open: bool) -> None:
        self.body.setVisible(is_open)
        if is_open:
            self.opened.emit()
