"""The sheet that is drawn on, by mouse and by keys."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleEvent,
    QColor,
    QImage,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPixmap,
)
from PySide6.QtWidgets import QWidget

from deskapp.domain.drawing import DRAGGED, Item, Shape
from deskapp.domain.drawing_edit import (
    COLUMNS,
    Spot,
    end_of,
    found_at,
    from_to,
    is_drawn,
    moved,
    rows_of,
    snapped,
    start_of,
    within,
)
from deskapp.i18n import N_, _, in_sentence
from deskapp.ui.photos.ink_painter import paint_ink
from deskapp.ui.photos.picture_reader import read_picture
from deskapp.ui.tasks import Dispatcher
from deskapp.ui.theme import colors_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from deskapp.ui.photos.boards import Board, Tool

REACH = 9.0
_HANDLE = 5.0
_PAPER, _GRID_LINE = "#ffffff", "#dfe4e1"
_STEPS = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
}
_NEW_WIDTH, _NEW_HEIGHT = 0.2, 0.2


class Canvas(QWidget):
    """Shows a board and changes what is drawn on it.

    Signals: `picked` when something else was selected, `text_wanted` when words are to be typed
    for it.
    """

    picked = Signal()
    text_wanted = Signal()

    def __init__(self, board: Board) -> None:
        super().__init__()
        self.board = board
        self.tool: Tool = board.tools[0]
        self.marker = ""
        self.snaps = board.has_grid
        self.selected = -1
        self._draft: Item | None = None
        self._start = Spot(0.0, 0.0)
        self._held = ""
        self._pixmap = QPixmap()
        self._below: bytes | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setAccessibleName(_(board.title))
        self._reading = Dispatcher(N_("Reading the picture"), self)
        self._reading.done.connect(self._show_picture)

    @property
    def item(self) -> Item | None:
        """The thing selected."""
        items = self.board.items
        return items[self.selected] if 0 <= self.selected < len(items) else None

    def pick_tool(self, tool: Tool) -> None:
        """Draw with another tool from now on."""
        self.tool = tool
        drawing = tool.shape is not None
        self.setCursor(Qt.CursorShape.CrossCursor if drawing else Qt.CursorShape.ArrowCursor)
        if drawing:
            self.select(-1)

    def select(self, position: int) -> None:
        """Select one thing, or nothing with -1, and say so to a screen reader."""
        if position == self.selected:
            return
        self.selected = position
        self._tell()
        self.update()
        self.picked.emit()

    def refresh(self) -> None:
        """Show what the job holds."""
        if self.selected >= len(self.board.items):
            self.select(-1)
        picture = self.board.picture
        if picture is not self._below:
            self._below = picture
            if picture:
                self._reading.start(partial(read_picture, picture))
            else:
                self._pixmap = QPixmap()
        self.updateGeometry()
        self.update()

    def _show_picture(self, picture: QImage) -> None:
        """Show the picture that was read, unless it was removed meanwhile."""
        if self._below:
            self._pixmap = QPixmap.fromImage(picture)
            self.update()

    def fitted(self, room: QSize, zoom: float) -> QSize:
        """Return the size that fits into `room`, times `zoom`."""
        sides = self.board.sides
        scale = min(room.width() / sides.width, room.height() / sides.height) * zoom
        return QSize(max(1, int(sides.width * scale)), max(1, int(sides.height * scale)))

    # Drawing

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the sheet, what is on it, and the selection."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        place = QRectF(self.rect())
        painter.fillRect(place, QColor(_PAPER))
        if not self._pixmap.isNull():
            painter.drawPixmap(place, self._pixmap, QRectF(self._pixmap.rect()))
        elif self.board.has_grid:
            self._paint_grid(painter)
        elif not self._reading.is_busy:
            painter.setPen(QColor("#54605a"))
            words = _("The picture itself is missing from the job file")
            painter.drawText(place, Qt.AlignmentFlag.AlignCenter, words)
        items = self._shown_items()
        letter = max(10.0, self.width() * self.board.letter_share)
        paint_ink(painter, place, self.board.inked(items), letter, self.font())
        chosen = self._draft or self.item
        if chosen is not None:
            self._paint_selection(painter, chosen, letter)
        if self.hasFocus():
            painter.setPen(QPen(QColor(colors_of(self.palette()).accent), 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(place.adjusted(1, 1, -1, -1))
        painter.end()
        event.accept()

    def _shown_items(self) -> tuple[Item, ...]:
        """Return what is drawn, with what is being dragged in its place."""
        items = self.board.items
        if self._draft is None:
            return items
        if self._held in ("new", ""):
            return (*items, self._draft)
        return (*items[: self.selected], self._draft, *items[self.selected + 1 :])

    def _paint_grid(self, painter: QPainter) -> None:
        painter.setPen(QPen(QColor(_GRID_LINE), 1))
        rows = rows_of(self.board.sides)
        for at in range(1, COLUMNS):
            x = self.width() * at / COLUMNS
            painter.drawLine(QPointF(x, 0), QPointF(x, self.height()))
        for at in range(1, rows):
            y = self.height() * at / rows
            painter.drawLine(QPointF(0, y), QPointF(self.width(), y))

    def _paint_selection(self, painter: QPainter, item: Item, letter: float) -> None:
        """Draw a dashed frame in two tones, and handles at the ends."""
        start, end = self._point(start_of(item)), self._point(end_of(item))
        frame = QRectF(start, end).normalized()
        room = letter if item.shape not in DRAGGED else letter * 0.45
        frame.adjust(-room, -room, room, room)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for color, style in (("#ffffff", Qt.PenStyle.SolidLine), ("#1f5f7a", Qt.PenStyle.DashLine)):
            painter.setPen(QPen(QColor(color), 1.6, style))
            painter.drawRect(frame)
        if item.shape in DRAGGED:
            painter.setPen(QPen(QColor("#1f5f7a"), 1.6))
            painter.setBrush(QColor("#ffffff"))
            for point in (start, end):
                painter.drawRect(QRectF(point.x() - _HANDLE, point.y() - _HANDLE, 10, 10))

    def _point(self, spot: Spot) -> QPointF:
        return QPointF(spot.x * self.width(), spot.y * self.height())

    def _spot(self, point: QPointF) -> Spot:
        return within(Spot(point.x() / max(self.width(), 1), point.y() / max(self.height(), 1)))

    def _on_grid(self, spot: Spot) -> Spot:
        return snapped(spot, self.board.sides) if self.snaps else spot

    # Mouse

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Begin to draw, to move, or to pull at an end."""
        if event.button() is not Qt.MouseButton.LeftButton:
            return
        self._start = self._spot(event.position())
        self._held = ""
        if self.tool.shape is not None:
            self._held = "new"
            spot = self._on_grid(self._start)
            self._draft = self._new(spot, spot)
            return
        self._held = self._end_under(event.position())
        if not self._held:
            self.select(self._under(event.position()))
            self._held = "all" if self.item is not None else ""

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Go on with it."""
        item, spot = self.item, self._spot(event.position())
        if not self._held:
            return
        if self._held == "new" and self._draft is not None:
            start = start_of(self._draft) if self._draft.shape in DRAGGED else self._on_grid(spot)
            self._draft = from_to(self._draft, start, self._on_grid(spot))
        elif item is not None and self._held == "all":
            start = self._on_grid(
                Spot(item.x + spot.x - self._start.x, item.y + spot.y - self._start.y)
            )
            self._draft = moved(item, start.x - item.x, start.y - item.y)
        elif item is not None:
            ends = [start_of(item), end_of(item)]
            ends[self._held == "end"] = self._on_grid(spot)
            self._draft = from_to(item, *ends)
        self.update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Keep it; a click with a tool that has to be dragged selects what lies there."""
        draft, held = self._draft, self._held
        self._draft, self._held = None, ""
        if draft is not None and held == "new":
            if is_drawn(draft, self.board.sides):
                self._add(draft)
            else:
                self.select(self._under(event.position()))
        elif draft is not None and is_drawn(draft, self.board.sides):
            self._replace(draft, N_("move {thing}"))
        self.update()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Let words be typed for what lies there."""
        self.select(self._under(event.position()))
        if self.item is not None:
            self.text_wanted.emit()

    def _under(self, point: QPointF) -> int:
        sides = self.board.sides
        scale = sides.width / max(self.width(), 1)
        letter = max(10.0, self.width() * self.board.letter_share)
        return found_at(self.board.items, self._spot(point), sides, max(REACH, letter) * scale)

    def _end_under(self, point: QPointF) -> str:
        item = self.item
        if item is None or item.shape not in DRAGGED:
            return ""
        for name, spot in (("end", end_of(item)), ("start", start_of(item))):
            away = self._point(spot) - point
            if abs(away.x()) <= REACH and abs(away.y()) <= REACH:
                return name
        return ""

    # Keys

    def event(self, event: QEvent) -> bool:
        """Go from thing to thing with Tab, and on to the next field after the last."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            step = {Qt.Key.Key_Tab: 1, Qt.Key.Key_Backtab: -1}.get(Qt.Key(event.key()), 0)
            if step:
                there = self.selected + step
                if self.selected == -1 and step == -1:
                    there = len(self.board.items) - 1
                if 0 <= there < len(self.board.items):
                    self.select(there)
                    return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Move, pull, delete, draw."""
        key = Qt.Key(event.key())
        if key in _STEPS and self.item is not None:
            self._nudge(*_STEPS[key], event.modifiers())
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace) and self.item is not None:
            self.remove()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Insert):
            self.draw_in_the_middle()
        elif key == Qt.Key.Key_Escape and (self.item is not None or self._draft is not None):
            self._draft, self._held = None, ""
            self.select(-1)
            self.update()
        else:
            super().keyPressEvent(event)

    def draw_in_the_middle(self) -> None:
        """Draw with the tool at hand where it can then be moved by keys; else ask for words."""
        if self.tool.shape is None:
            if self.item is not None:
                self.text_wanted.emit()
            return
        center = Spot(0.5, 0.5)
        start = self._on_grid(Spot(center.x - _NEW_WIDTH / 2, center.y - _NEW_HEIGHT / 2))
        end = self._on_grid(Spot(center.x + _NEW_WIDTH / 2, center.y + _NEW_HEIGHT / 2))
        if self.tool.shape not in DRAGGED:
            start = self._on_grid(center)
        new = self._new(start, end)
        if new is not None:
            self._add(new)

    def remove(self) -> None:
        """Take out the thing selected."""
        items, at, item = self.board.items, self.selected, self.item
        if item is not None:
            self.board.write(
                (*items[:at], *items[at + 1 :]), self._told(N_("remove {thing}"), item)
            )
            self.select(min(at, len(self.board.items) - 1))
            self._tell()

    def retext(self, text: str) -> None:
        """Put other words on the thing selected."""
        item = self.item
        if item is not None and text != item.text:
            new = item.model_copy(update={"text": text})
            self._replace(new, N_("words of {thing}"), f"text.{self.selected}")

    def _nudge(self, across: int, down: int, keys: Qt.KeyboardModifier) -> None:
        item = self.item
        if item is None:
            return
        sides = self.board.sides
        cells = (COLUMNS, rows_of(sides)) if self.snaps else (100, 100)
        fine = 0.2 if keys & Qt.KeyboardModifier.ShiftModifier and not self.snaps else 1.0
        dx, dy = across * fine / cells[0], down * fine / cells[1]
        if keys & Qt.KeyboardModifier.AltModifier and item.shape in DRAGGED:
            end = end_of(item)
            new = from_to(item, start_of(item), Spot(end.x + dx, end.y + dy))
            if not is_drawn(new, sides):
                return
        else:
            new = moved(item, dx, dy)
        self._replace(new, N_("move {thing}"), f"move.{self.selected}")

    # Changing

    def _new(self, start: Spot, end: Spot) -> Item | None:
        """Return a thing drawn with the tool at hand; None for a marker that stands for nothing."""
        shape, refers = self.tool.shape, ""
        if self.tool.is_marker:
            name, _colon, refers = self.marker.partition(":")
            if not refers:
                return None
            shape = Shape(name)
        if shape is None:
            return None
        text = _("Text") if shape is Shape.TEXT else ""
        return from_to(Item(shape=shape, x=0.0, y=0.0, text=text, refers=refers), start, end)

    def _add(self, item: Item) -> None:
        """Draw one thing more; a marker that is there already is moved instead."""
        kept = tuple(
            old
            for old in self.board.items
            if not item.refers or (old.shape, old.refers) != (item.shape, item.refers)
        )
        self.board.write((*kept, item), self._told(N_("draw {thing}"), item))
        self.select(len(self.board.items) - 1)
        self.picked.emit()
        if item.shape is Shape.TEXT:
            self.text_wanted.emit()

    def _replace(self, item: Item, words: str, merge: str = "") -> None:
        items, at = self.board.items, self.selected
        changed = (*items[:at], item, *items[at + 1 :])
        self.board.write(changed, self._told(words, item), merge)

    def _told(self, words: str, item: Item) -> Callable[[], str]:
        """Return what says in words of ours what was done with a thing."""
        says = self.board.says(item)

        def told() -> str:
            thing = says()
            return _(words).format(thing=in_sentence(thing))

        return told

    def _tell(self) -> None:
        item = self.item
        words = _("Nothing selected")
        if item is not None:
            words = _("{thing}, {n} of {count}").format(
                thing=self.board.words_for(item), n=self.selected + 1, count=len(self.board.items)
            )
        self.setAccessibleDescription(words)
        QAccessible.updateAccessibility(
            QAccessibleEvent(self, QAccessible.Event.DescriptionChanged)
        )
