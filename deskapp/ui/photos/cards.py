"""Cards of the page of leaks: the sketch of the house, and the pictures of the job as a whole."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QMouseEvent, QPainter, QPaintEvent, QPen, QPixmap
from PySide6.QtWidgets import QVBoxLayout, QWidget

from deskapp.i18n import N_, _
from deskapp.ui.glyphs import Glyph
from deskapp.ui.marks import Notice
from deskapp.ui.photos.export_bar import ExportBar
from deskapp.ui.photos.ink_painter import paint_ink
from deskapp.ui.photos.strip import PhotoStrip
from deskapp.ui.photos.tile import thumbnail
from deskapp.ui.theme import GRID, colors_of
from deskapp.ui.words import Card, Command, Size, Words

if TYPE_CHECKING:
    from deskapp.domain.ink import Inked
    from deskapp.ui.bridge import Bridge

_ROOM = QSize(440, 330)
_LETTERS_ACROSS = 44
_LISTS = (
    ("homeowner", N_("Photos for the homeowner report")),
    ("compliance", N_("Photos for the compliance report")),
)


class SketchView(QWidget):
    """The sketch, made small.

    Signals: `opened` when it is clicked.
    """

    opened = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._items: tuple[Inked, ...] = ()
        self._plan = QPixmap()
        self.setCursor(Qt.CursorShape.PointingHandCursor)

    def show_sketch(self, items: tuple[Inked, ...], plan: QPixmap, size: QSize) -> None:
        """Show another sketch."""
        self._items, self._plan = items, plan
        self.setFixedSize(size)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw plan and sketch on white, as on paper."""
        painter = QPainter(self)
        place = QRectF(self.rect())
        painter.fillRect(place, QColor("#ffffff"))
        if not self._plan.isNull():
            painter.drawPixmap(place, self._plan, QRectF(self._plan.rect()))
        paint_ink(painter, place, self._items, place.width() / _LETTERS_ACROSS, self.font())
        painter.setPen(QPen(QColor(colors_of(self.palette()).line), 1))
        painter.drawRect(place.adjusted(0.5, 0.5, -0.5, -0.5))
        painter.end()
        event.accept()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Open it."""
        if event.button() is Qt.MouseButton.LeftButton and self.rect().contains(
            event.position().toPoint()
        ):
            self.opened.emit()


class SketchCard(Card):
    """Where it leaks: the sketch, and the way to draw it."""

    def __init__(self, bridge: Bridge) -> None:
        super().__init__()
        self._bridge = bridge
        self._plan: tuple[str, QPixmap] = ("", QPixmap())
        column = QVBoxLayout(self)
        column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
        column.setSpacing(GRID)
        column.addWidget(Words(_("Where it leaks: sketch of the house"), Size.HEADING))
        self.words = Words(size=Size.SMALL, muted=True)
        column.addWidget(self.words)
        self.view = SketchView()
        self.view.opened.connect(self.open)
        column.addWidget(self.view, 0, Qt.AlignmentFlag.AlignLeft)
        self.draw_button = Command(_("Draw the sketch…"), Glyph.ROOM)
        self.draw_button.clicked.connect(self.open)
        column.addWidget(self.draw_button, 0, Qt.AlignmentFlag.AlignLeft)

    def refresh(self) -> None:
        """Show the sketch of the job as it stands."""
        from deskapp.session.drawing import inked_sketch, sketch_words

        job = self._bridge.editor.job
        is_blank = job.sketch.is_blank
        self.view.setVisible(not is_blank)
        self.words.setText(sketch_words(job))
        self.view.setAccessibleName(self.words.text())
        self.draw_button.setText(_("Draw the sketch…") if is_blank else _("Change the sketch…"))
        if not is_blank:
            width, height = job.sketch.sides
            size = QSize(width, height).scaled(_ROOM, Qt.AspectRatioMode.KeepAspectRatio)
            self.view.show_sketch(inked_sketch(job), self._plan_of(size), size)

    def reveal(self, path: str) -> bool:
        """Put the cursor to the button."""
        if not path.startswith("sketch"):
            return False
        self.draw_button.setFocus()
        return True

    def open(self) -> None:
        """Let the sketch be drawn."""
        from deskapp.ui.photos.boards import SketchBoard
        from deskapp.ui.photos.drawing_dialog import DrawingDialog

        self._bridge.settle()
        DrawingDialog(SketchBoard(self._bridge), self.window()).open()

    def _plan_of(self, size: QSize) -> QPixmap:
        plan = self._bridge.editor.job.sketch.plan
        digest = plan.digest if plan is not None else ""
        if digest != self._plan[0]:
            data = self._bridge.editor.photos.get(digest, b"")
            picture = thumbnail(data, self.devicePixelRatioF(), size) if data else QPixmap()
            self._plan = (digest, picture)
        return self._plan[1]


class JobPhotosCard(Card):
    """Pictures of the job as a whole, and what the checklists of photos still lack."""

    def __init__(self, bridge: Bridge) -> None:
        super().__init__()
        self._bridge = bridge
        column = QVBoxLayout(self)
        column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
        column.setSpacing(GRID)
        self.strip = PhotoStrip(bridge, _("Photos of the job: house, set-up, readings"))
        self.strip.bind("")
        column.addWidget(self.strip)
        self.lists = {report: Notice() for report, _title in _LISTS}
        for notice in self.lists.values():
            column.addWidget(notice)
        self.exports = ExportBar(bridge)
        column.addWidget(self.exports)

    def refresh(self) -> None:
        """Show the pictures of the job as it stands, and what is still missing."""
        from deskapp.session.photo_checklist import checklist

        self.strip.refresh()
        self.exports.refresh()
        editor = self._bridge.editor
        for report, title in _LISTS:
            rows = checklist(editor.job, editor.shelf.photo_subjects, report)
            missing = [row for row in rows if not row.is_there]
            notice = self.lists[report]
            if missing:
                text = _("still missing: {photos}.").format(
                    photos="; ".join(row.label for row in missing)
                )
                notice.say(Glyph.NOTE, _(title), text)
            else:
                notice.say(Glyph.DONE, _(title), _("all there."))
            notice.setToolTip("\n".join(f"{row.label}: {row.why}" for row in missing))

    def reveal(self, path: str) -> bool:
        """Put the cursor to a picture, or to the button."""
        return self.strip.reveal(path)
