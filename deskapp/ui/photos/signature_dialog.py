"""A white sheet to draw a signature on with mouse or pen."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QImage, QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QDialog, QHBoxLayout, QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.ui.glyphs import Glyph
from deskapp.ui.photos.offered import png_of
from deskapp.ui.theme import GRID
from deskapp.ui.words import Command, Size, Words

if TYPE_CHECKING:
    from deskapp.session.photo_intake import OfferedPicture

_SIZE = QSize(560, 200)
_INK = QColor("#101828")
_LINE = QColor("#98a2b3")
_PEN_WIDTH = 2.6
_FINENESS = 3
_MARGIN = 4.0


class SignatureSheet(QWidget):
    """Keeps the strokes drawn on it.

    Signals: `changed` when a stroke was begun, or all of them were wiped away.
    """

    changed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._strokes: list[QPolygonF] = []
        self.setFixedSize(_SIZE)
        self.setCursor(Qt.CursorShape.CrossCursor)
        self.setAccessibleName(_("Sheet to draw the signature on"))

    @property
    def is_blank(self) -> bool:
        """Whether nothing is drawn."""
        return not self._strokes

    def wipe(self) -> None:
        """Begin again with a white sheet."""
        self._strokes.clear()
        self.update()
        self.changed.emit()

    def image(self) -> QImage:
        """Return what is drawn, cut to its strokes, on white. There must be a stroke."""
        bounds = QRectF()
        for stroke in self._strokes:
            # The bounds of a dot or of a level stroke are empty, and would be lost when united.
            bounds = bounds.united(stroke.boundingRect().adjusted(-1.0, -1.0, 1.0, 1.0))
        bounds.adjust(-_MARGIN, -_MARGIN, _MARGIN, _MARGIN)
        image = QImage((bounds.size() * _FINENESS).toSize(), QImage.Format.Format_RGB32)
        image.fill(QColor("#ffffff"))
        painter = QPainter(image)
        painter.scale(_FINENESS, _FINENESS)
        painter.translate(-bounds.topLeft())
        self._paint(painter)
        painter.end()
        return image

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the strokes above a line, as on paper."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor("#ffffff"))
        painter.setPen(QPen(_LINE, 1))
        painter.drawRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5))
        foot = self.height() * 0.75
        painter.drawLine(QPointF(3 * GRID, foot), QPointF(self.width() - 3 * GRID, foot))
        self._paint(painter)
        painter.end()
        event.accept()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Begin a stroke; a pen counts as a mouse."""
        if event.button() is Qt.MouseButton.LeftButton:
            self._strokes.append(QPolygonF([event.position()]))
            self.update()
            self.changed.emit()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Go on with the stroke, as far as the sheet goes."""
        if event.buttons() & Qt.MouseButton.LeftButton and self._strokes:
            x = min(max(event.position().x(), 0.0), float(self.width()))
            y = min(max(event.position().y(), 0.0), float(self.height()))
            self._strokes[-1].append(QPointF(x, y))
            self.update()

    def _paint(self, painter: QPainter) -> None:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        cap, join = Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin
        painter.setPen(QPen(_INK, _PEN_WIDTH, Qt.PenStyle.SolidLine, cap, join))
        for stroke in self._strokes:
            if stroke.size() == 1:
                painter.drawPoint(stroke.first())
            else:
                painter.drawPolyline(stroke)


class SignatureDialog(QDialog):
    """Lets a signature be drawn.

    Signals: `drawn` with the picture to take in, once the person has agreed to it.
    """

    drawn = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(_("Draw the signature"))
        self.sheet = SignatureSheet()
        self.sheet.changed.connect(self._offer)
        self.wipe_button = Command(_("Start over"), Glyph.REMOVE)
        self.wipe_button.clicked.connect(self.sheet.wipe)
        cancel = Command(_("Cancel"))
        cancel.clicked.connect(self.reject)
        self.use_button = Command(_("Use this signature"), main=True)
        self.use_button.clicked.connect(self._use)
        for button in (self.wipe_button, cancel, self.use_button):
            button.setAutoDefault(False)
        foot = QHBoxLayout()
        foot.setSpacing(GRID)
        foot.addWidget(self.wipe_button)
        foot.addStretch(1)
        foot.addWidget(cancel)
        foot.addWidget(self.use_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(2 * GRID, 2 * GRID, 2 * GRID, 2 * GRID)
        column.setSpacing(GRID)
        hint = _("Sign above the line with mouse or pen. What you draw is cut to its strokes.")
        column.addWidget(Words(hint, Size.SMALL, muted=True))
        column.addWidget(self.sheet, 0, Qt.AlignmentFlag.AlignHCenter)
        column.addLayout(foot)
        self._offer()

    def _offer(self) -> None:
        for button in (self.wipe_button, self.use_button):
            button.allow(not self.sheet.is_blank, _("Nothing is drawn yet."))

    def _use(self) -> None:
        from deskapp.session.photo_intake import OfferedPicture

        image = self.sheet.image()
        offer: OfferedPicture = OfferedPicture(_("Drawn signature"), lambda: png_of(image))
        self.drawn.emit(offer)
        self.accept()
