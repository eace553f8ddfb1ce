"""The window to draw in: tools above, the sheet, and what belongs to the thing selected below."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, QRectF, QSize, Qt
from PySide6.QtGui import (
    QColor,
    QKeySequence,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
    QShortcut,
    QShowEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import (
    QButtonGroup,
    QDialog,
    QHBoxLayout,
    QScrollArea,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from deskapp.domain.drawing import Shape
from deskapp.i18n import _
from deskapp.ui.dialogs.room import give_room
from deskapp.ui.fields.chosen_fields import Choices
from deskapp.ui.fields.plain_line import PlainLine
from deskapp.ui.glyphs import Glyph, icon_of
from deskapp.ui.photos.boards import tool_words
from deskapp.ui.photos.canvas import Canvas
from deskapp.ui.photos.plan_bar import PlanBar
from deskapp.ui.row_tabs import WrappingRow
from deskapp.ui.theme import GRID, colors_of, scaled
from deskapp.ui.ticks import Tick
from deskapp.ui.words import Command, Size, Words

if TYPE_CHECKING:
    from deskapp.domain.drawing import Item
    from deskapp.ui.photos.boards import Board, Tool

_TOOL = 34
"""How high the tools are at least."""
_ZOOMS = (1.0, 1.5, 2.0, 3.0, 4.0)
_LABELED = (Shape.ARROW, Shape.CIRCLE, Shape.LABEL, Shape.ROOM, Shape.TEXT)


class _Sheet(QScrollArea):
    """Shows the canvas at a size that fits, or larger."""

    def __init__(self, canvas: Canvas) -> None:
        super().__init__()
        self._canvas = canvas
        self.zoom = 0
        self.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.setWidget(canvas)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setMinimumSize(QSize(320, 220))

    def step(self, by: int) -> None:
        """Show it larger or smaller."""
        self.zoom = min(max(self.zoom + by, 0), len(_ZOOMS) - 1)
        self.fit()

    def fit(self) -> None:
        """Bring the canvas to its size."""
        room = self.maximumViewportSize() - QSize(2, 2)
        self._canvas.resize(self._canvas.fitted(room, _ZOOMS[self.zoom]))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep it fitting."""
        super().resizeEvent(event)
        self.fit()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Zoom with Ctrl and the wheel."""
        if event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self.step(1 if event.angleDelta().y() > 0 else -1)
            event.accept()
        else:
            super().wheelEvent(event)


class _ToolButton(QToolButton):
    """A tool; the one at hand has a strong rim."""

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the button, and the rim where it is chosen."""
        super().paintEvent(event)
        if self.isChecked():
            painter = QPainter(self)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(QColor(colors_of(self.palette()).accent), 2.4))
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(1.5, 1.5, -1.5, -1.5), 3, 3)
            painter.end()


class DrawingDialog(QDialog):
    """Lets marks be drawn on a photo, or the sketch of the house."""

    def __init__(self, board: Board, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(_(board.title))
        self.board = board
        self._begun_with = board.bridge.editor.job
        self._taken_back = 0
        self.canvas = Canvas(board)
        self.sheet = _Sheet(self.canvas)
        self.tools: list[QToolButton] = []
        self._group = QButtonGroup(self)
        self._snap = Tick(_("Snap to grid"))
        self.markers = Choices(fits=True)
        self.text = PlainLine()
        self.about = Words(size=Size.SMALL, muted=True, wraps=False)
        self.remove = Command(_("Remove"), Glyph.REMOVE)
        self.plan = PlanBar(board.bridge) if board.takes_plan else None
        self._lay_out()
        self._connect()
        give_room(self, 1000, 720)
        self.refresh()
        self.pick_tool(board.tools[1])

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(2 * GRID, 2 * GRID, 2 * GRID, 2 * GRID)
        column.setSpacing(GRID)
        column.addLayout(self._tool_row())
        column.addWidget(self.sheet, 1)
        column.addLayout(self._selection_row())
        foot = QHBoxLayout()
        foot.setSpacing(2 * GRID)
        if self.plan is not None:
            foot.addWidget(self.plan)
        foot.addWidget(Words(_(self.board.hint), Size.SMALL, muted=True), 1)
        close = Command(_("Close"), main=True)
        close.setAutoDefault(False)
        close.clicked.connect(self.accept)
        foot.addWidget(close, 0, Qt.AlignmentFlag.AlignBottom)
        column.addLayout(foot)

    def _tool_row(self) -> WrappingRow:
        row = WrappingRow(gap=6)
        for tool in self.board.tools:
            button = self._button(tool.glyph, _(tool.label), tool_words(tool))
            button.setCheckable(True)
            button.clicked.connect(partial(self.pick_tool, tool))
            self._group.addButton(button)
            self.tools.append(button)
            row.addWidget(button)
        self.markers.setAccessibleName(_("What the marker stands for"))
        self.markers.setMinimumContentsLength(18)
        row.addWidget(self.markers)
        self._snap.setChecked(self.canvas.snaps)
        self._snap.setVisible(self.board.has_grid)
        self._snap.setMinimumHeight(_TOOL)
        row.addWidget(self._snap)
        for text, name, step in (("−", _("Zoom out"), -1), ("+", _("Zoom in"), 1)):
            button = QToolButton()
            button.setText(text)
            button.setToolTip(name)
            button.setAccessibleName(name)
            button.setMinimumSize(QSize(_TOOL, _TOOL))
            button.clicked.connect(partial(self.sheet.step, step))
            row.addWidget(button)
        return row

    def _button(self, glyph: Glyph, text: str, tip: str) -> QToolButton:
        button = _ToolButton()
        side = scaled(18, self.font())
        button.setIcon(icon_of(glyph, self, side))
        button.setIconSize(QSize(side, side))
        button.setText(text)
        button.setToolTip(tip)
        button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        button.setMinimumHeight(_TOOL)
        return button

    def _selection_row(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(GRID)
        self.text.setMaxLength(40)
        self.text.setFixedWidth(28 * GRID)
        self.text.setAccessibleName(_("Words on the thing selected"))
        row.addWidget(self.about)
        row.addWidget(self.text)
        row.addWidget(self.remove)
        row.addStretch(1)
        return row

    def _connect(self) -> None:
        self.canvas.picked.connect(self.show_selection)
        self.canvas.text_wanted.connect(self._want_text)
        self.text.textEdited.connect(self.canvas.retext)
        self.text.returnPressed.connect(self.canvas.setFocus)
        self.remove.clicked.connect(self.canvas.remove)
        self._snap.toggled.connect(self._set_snap)
        self.markers.activated.connect(self._choose_marker)
        bridge = self.board.bridge
        bridge.changed.connect(self.refresh)
        self.finished.connect(lambda: bridge.changed.disconnect(self.refresh))
        for keys, then in (
            (QKeySequence.StandardKey.Undo, self.undo),
            (QKeySequence("Ctrl+Shift+Z"), self.redo),
            (QKeySequence("Ctrl+Y"), self.redo),
            (QKeySequence.StandardKey.ZoomIn, partial(self.sheet.step, 1)),
            (QKeySequence("Ctrl+="), partial(self.sheet.step, 1)),
            (QKeySequence.StandardKey.ZoomOut, partial(self.sheet.step, -1)),
            (QKeySequence("Ctrl+0"), partial(self.sheet.step, -len(_ZOOMS))),
        ):
            QShortcut(QKeySequence(keys), self).activated.connect(then)
        for tool in self.board.tools:
            shortcut = QShortcut(QKeySequence(tool.keys), self.canvas)
            shortcut.setContext(Qt.ShortcutContext.WidgetShortcut)
            shortcut.activated.connect(partial(self.pick_tool, tool))
        self.text.installEventFilter(self)

    def undo(self) -> None:
        """Take back the last step made here; none made before, whose page is out of sight."""
        self.board.bridge.settle()
        if self.board.bridge.editor.job is not self._begun_with:
            self._taken_back += 1
            self.board.bridge.undo()

    def redo(self) -> None:
        """Bring back the step that was taken back here last."""
        if self._taken_back:
            self._taken_back -= 1
            self.board.bridge.redo()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Leave undo and redo to the job while words are typed."""
        from deskapp.ui.fields.line import is_job_undo

        if watched is self.text and is_job_undo(event):
            event.ignore()
            return True
        return super().eventFilter(watched, event)

    def showEvent(self, event: QShowEvent) -> None:
        """Start on the sheet."""
        super().showEvent(event)
        self.canvas.setFocus()

    # What is shown

    def refresh(self) -> None:
        """Show what the job holds; close where the sheet is gone."""
        if not self.board.is_there:
            self.reject()
            return
        self._offer_markers()
        if self.plan is not None:
            self.plan.refresh()
        self.canvas.refresh()
        self.sheet.fit()
        self.show_selection()

    def pick_tool(self, tool: Tool, _checked: bool = False) -> None:
        """Draw with another tool."""
        self.tools[self.board.tools.index(tool)].setChecked(True)
        self.canvas.pick_tool(tool)
        self.markers.setVisible(tool.is_marker)
        self.show_selection()

    def show_selection(self) -> None:
        """Show the words of the thing selected."""
        item = self.canvas.item
        takes_text = item is not None and item.shape in _LABELED
        self.text.setVisible(takes_text)
        self.remove.setVisible(item is not None)
        if item is None:
            self.about.setText(self._idle_words())
            return
        self.about.setText(self.board.words_for(item))
        self.text.setPlaceholderText(_placeholder(item))
        if self.text.text() != item.text:
            self.text.setText(item.text)

    def _idle_words(self) -> str:
        if self.canvas.tool.is_marker and not self.board.markers:
            return _("Note a leak or a register first; a marker stands for one of them.")
        return _("Nothing selected")

    def _want_text(self) -> None:
        if self.text.isVisible():
            self.text.setFocus()
            self.text.selectAll()

    def _set_snap(self, is_on: bool) -> None:
        self.canvas.snaps = is_on

    def _offer_markers(self) -> None:
        """Offer leaks and registers; the first that has no marker yet stands first in line."""
        options = self.board.markers
        there = {f"{item.shape}:{item.refers}" for item in self.board.items}
        self.markers.clear()
        for value, label in options:
            words = _("{label} (drawn)").format(label=label) if value in there else label
            self.markers.addItem(words, value)
        values = [value for value, _label in options]
        free = next((value for value in values if value not in there), "")
        wanted = self.canvas.marker if self.canvas.marker in values else free
        if wanted in there and free:
            wanted = free
        self.canvas.marker = wanted or next(iter(values), "")
        self.markers.setCurrentIndex(max(self.markers.findData(self.canvas.marker), 0))
        self.markers.setEnabled(bool(values))

    def _choose_marker(self, at: int) -> None:
        self.canvas.marker = str(self.markers.itemData(at))
        self.canvas.setFocus()


def _placeholder(item: Item) -> str:
    if item.shape in (Shape.ARROW, Shape.CIRCLE, Shape.LABEL):
        return _("Number of the leak")
    return _("Name of the room") if item.shape is Shape.ROOM else ""
