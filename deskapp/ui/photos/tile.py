"""One picture with its marks, what it shows, and its caption."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, QPointF, QRectF, QSize, QSizeF, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPixmap,
    QPixmapCache,
)
from PySide6.QtWidgets import QAbstractButton, QHBoxLayout, QVBoxLayout, QWidget

from deskapp.domain.fields import label_of
from deskapp.domain.ink import inked
from deskapp.i18n import _, in_sentence
from deskapp.ui.fields.chosen_fields import Choices, fill_choices
from deskapp.ui.fields.line import EntryLine
from deskapp.ui.photos.ink_painter import paint_ink
from deskapp.ui.photos.picture_reader import read_picture
from deskapp.ui.remove_button import RemoveButton
from deskapp.ui.theme import GRID, colors_of
from deskapp.ui.words import Size, Words

if TYPE_CHECKING:
    from deskapp.domain.ink import Inked
    from deskapp.ui.bridge import Bridge

SIDE = QSize(240, 180)
_LETTER = 11.0
_CAPTION = 34
"""Letters of a caption that can be seen at once."""
_OPENING = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
_MOVING = (Qt.KeyboardModifier.AltModifier, Qt.KeyboardModifier.ControlModifier)
_STEPS = {Qt.Key.Key_Left: -1, Qt.Key.Key_Up: -1, Qt.Key.Key_Right: 1, Qt.Key.Key_Down: 1}


class PictureButton(QAbstractButton):
    """A small picture with its marks; a click opens it to be marked."""

    def __init__(self) -> None:
        super().__init__()
        self.setFixedSize(SIDE)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self._pixmap = QPixmap()
        self._marks: tuple[Inked, ...] = ()

    def pixmap(self) -> QPixmap:
        """Return the picture without its marks."""
        return self._pixmap

    def show_picture(self, pixmap: QPixmap) -> None:
        """Show another picture."""
        self._pixmap = pixmap
        self.update()

    def show_marks(self, marks: tuple[Inked, ...]) -> None:
        """Show other marks."""
        if marks != self._marks:
            self._marks = marks
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the picture in the middle, its marks on it, and the focus around it."""
        colors = colors_of(self.palette())
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(colors.still_tint))
        size = QSizeF(self._pixmap.size()) / max(self._pixmap.devicePixelRatio(), 1.0)
        left = (self.width() - size.width()) / 2
        place = QRectF(QPointF(left, (self.height() - size.height()) / 2), size)
        if self._pixmap.isNull():
            painter.setPen(QColor(colors.muted))
            painter.drawText(self.rect(), Qt.AlignmentFlag.AlignCenter, _("The picture is missing"))
        else:
            painter.drawPixmap(place.topLeft(), self._pixmap)
            paint_ink(painter, place, self._marks, _LETTER, self.font())
        if self.hasFocus() or self.underMouse():
            painter.setPen(QPen(QColor(colors.accent), 2 if self.hasFocus() else 1))
            painter.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))
        painter.end()
        event.accept()


class PhotoTile(QWidget):
    """One picture of a leak or of the job.

    Signals: `opened` with the path of the picture, to be marked; `moved` with path and places.
    """

    opened = Signal(str)
    moved = Signal(str, int)

    def __init__(self, bridge: Bridge) -> None:
        super().__init__()
        from deskapp.session.typed import spec_at

        self._bridge = bridge
        self._digest: str = ""
        self._data = b""
        self.lacks_picture = False
        self._offered: tuple[tuple[str, str], ...] | None = None
        self.path = ""
        self.picture = PictureButton()
        self.picture.clicked.connect(lambda: self.opened.emit(self.path))
        self.taken = Words(size=Size.SMALL, muted=True, wraps=False)
        self.shows = Choices()
        self.shows.activated.connect(self._choose)
        self.caption = EntryLine(bridge, spec_at("leaks.0.photos.0.caption"))
        self.caption.setPlaceholderText(_("Caption"))
        self.remove = RemoveButton()
        self.remove.clicked.connect(self._take_out)
        for part in (self.picture, self.caption):
            part.installEventFilter(self)
        self._lay_out()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(self.picture)
        column.addWidget(self.taken)
        row = QHBoxLayout()
        row.setSpacing(2)
        row.addWidget(self.shows, 1)
        row.addWidget(self.remove)
        column.addLayout(row)
        column.addWidget(self.caption)
        column.addStretch(1)
        letters = self.fontMetrics().averageCharWidth() * _CAPTION
        self.setFixedWidth(max(SIDE.width() + GRID // 4, letters))

    def bind(self, photo_path: str) -> None:
        """Show another picture."""
        self.path = photo_path
        from deskapp.session.drawing import leak_number_at

        photo = self._bridge.value_at(photo_path)
        words = label_of(photo_path)
        self._name(words, photo.name)
        self.caption.bind(f"{photo_path}.caption")
        self._offered = fill_choices(self.shows, self._bridge, f"{photo_path}.shows", self._offered)
        self.shows.setItemText(0, _("Shows …"))
        self.taken.setText(self._bridge.formatter.moment(photo.taken))
        self.taken.setVisible(bool(photo.taken))
        number = leak_number_at(self._bridge.editor.job, photo_path)
        self.picture.show_marks(inked(photo.marks, {}, number))
        if photo.digest != self._digest:
            self._digest = photo.digest
            self._data = self._bridge.editor.photos.get(photo.digest, b"")
            known = QPixmap()
            QPixmapCache.find(self._key, known)
            self.picture.show_picture(known)
            self.lacks_picture = known.isNull() and bool(self._data)

    def load_picture(self) -> None:
        """Show the picture that was not made small before; it is kept for the next time."""
        self.lacks_picture = False
        made = thumbnail(self._data, self.devicePixelRatioF())
        if not made.isNull():
            QPixmapCache.insert(self._key, made)
        self.picture.show_picture(made)

    @property
    def _key(self) -> str:
        return f"photo {self._digest} {self.devicePixelRatioF()}"

    def unbind(self) -> None:
        """Show no picture any more."""
        self.path = self.caption.path = ""

    def _name(self, words: str, name: str) -> None:
        removal = _("Remove {photo}").format(photo=in_sentence(words))
        self.remove.setToolTip(removal)
        self.remove.setAccessibleName(removal)
        self.caption.setAccessibleName(_("Caption, {photo}").format(photo=words))
        self.shows.setAccessibleName(_("What it shows, {photo}").format(photo=words))
        self.picture.setAccessibleName(f"{words}: {name}")
        self.picture.setAccessibleDescription(_("Enter draws marks; Alt and arrow keys move it."))
        self.picture.setToolTip(name)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Move the picture with Alt or Ctrl and the arrow keys; Enter opens it, Delete removes."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            key = Qt.Key(event.key())
            keys = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
            if key in _STEPS and keys in _MOVING:
                self.moved.emit(self.path, _STEPS[key])
                return True
            if watched is self.picture and key in _OPENING:
                self.picture.click()
                return True
            if watched is self.picture and key == Qt.Key.Key_Delete:
                self._take_out()
                return True
        return super().eventFilter(watched, event)

    def _choose(self, at: int) -> None:
        self._bridge.choose(f"{self.path}.shows", self.shows.itemData(at))

    def _take_out(self) -> None:
        self._bridge.remove_photo(self.path)


def thumbnail(data: bytes, ratio: float, side: QSize = SIDE) -> QPixmap:
    """Return a picture scaled to fit into `side`; an empty one if it cannot be read."""
    room = QSize(round(side.width() * ratio), round(side.height() * ratio))
    pixmap = QPixmap.fromImage(read_picture(data, room))
    pixmap.setDevicePixelRatio(ratio)
    return pixmap
