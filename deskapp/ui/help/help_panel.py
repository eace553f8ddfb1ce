"""Help at the side of the window: all topics with a search, or one topic."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, QTimer
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QDockWidget,
    QListWidget,
    QListWidgetItem,
    QMainWindow,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from deskapp.i18n import _
from deskapp.ui.fields.plain_line import PlainLine
from deskapp.ui.head_row import HeadRow
from deskapp.ui.help.topic_view import TopicView
from deskapp.ui.list_style import give_air
from deskapp.ui.slices import paint_a_turn_later
from deskapp.ui.theme import GRID, sized
from deskapp.ui.words import Command

if TYPE_CHECKING:
    from PySide6.QtCore import QSettings

    from deskapp.session.help.topics import HelpBook, Topic

_WIDTH, _SIDE = "help/width", "help/side"
_LEAST, _USUAL = 26, 40
"""Letters across: at least, and until somebody drags it to another width."""
_LEFT, _RIGHT = Qt.DockWidgetArea.LeftDockWidgetArea, Qt.DockWidgetArea.RightDockWidgetArea
_ID = Qt.ItemDataRole.UserRole


class HelpPanel(QDockWidget):
    """Stands beside the page, so that one can read and type. Escape closes it.

    It can be dragged wider and to the other side, and comes up again as it was left.
    """

    def __init__(self, window: QMainWindow, memory: QSettings) -> None:
        """Stand in `window`; `memory` keeps the width and the side."""
        super().__init__(_("Help"), window)
        self._book: HelpBook | None = None
        self._came_from: QWidget | None = None
        self._is_settled = False
        self._window = window
        self._memory = memory
        self.setObjectName("help")
        self.setAllowedAreas(_LEFT | _RIGHT)
        self.search = PlainLine(name=_("Search help"))
        self.search.setPlaceholderText(_("Search help"))
        self.search.setClearButtonEnabled(True)
        self.search.textChanged.connect(self._list)
        self.search.returnPressed.connect(self._show_first)
        self.all_topics = Command(_("All topics"))
        self.all_topics.clicked.connect(self.show_list)
        self.list = QListWidget()
        self.list.setAccessibleName(_("Topics of help"))
        self.list.setFrameShape(QListWidget.Shape.NoFrame)
        give_air(self.list)
        self.list.setWordWrap(True)
        self.list.setSpacing(2)
        self.list.itemActivated.connect(self._show_item)
        self.list.itemClicked.connect(self._show_item)
        self.view = TopicView()
        self.view.wanted.connect(self._show_id)
        self.stack = QStackedWidget()
        self.stack.addWidget(self.list)
        self.stack.addWidget(self.view)
        self._lay_out()
        is_left = memory.value(_SIDE) == "left"
        window.addDockWidget(_LEFT if is_left else _RIGHT, self)
        self.hide()
        self.dockLocationChanged.connect(self._keep_side)

    def open_at(self, book: HelpBook, topic: Topic | None) -> None:
        """Show a topic, or all of them; the cursor goes there and comes back on Escape."""
        self._book = book
        if not self.isAncestorOf(self._window.focusWidget()):
            self._came_from = self._window.focusWidget()
        if not self.isVisible():
            paint_a_turn_later(self._window)
            self._take_width()
            self.show()
        self.raise_()
        if topic is None:
            self.show_list()
        else:
            self.show_topic(topic)

    def tell_anew(self, book: HelpBook) -> None:
        """Take what is shown from another book, without a change of the cursor."""
        if self._book is None:
            return
        self._book = book
        shown, topic = self.stack.currentIndex(), self.view.topic
        if topic is not None:
            self.view.show_topic(book.topic(topic.id))
        self._list()
        self.stack.setCurrentIndex(shown)

    def made_anew(self, book: HelpBook) -> HelpPanel:
        """Return a panel in the language in use now that shows the same; this one goes."""
        self._came_from = None
        other = HelpPanel(self._window, self._memory)
        other._book = book
        other.view.topic = self.view.topic
        other.search.setText(self.search.text())
        other.tell_anew(book)
        other.stack.setCurrentIndex(self.stack.currentIndex())
        self._window.addDockWidget(self._window.dockWidgetArea(self), other)
        width = self.width()
        other.setVisible(not self.isHidden())
        self._window.removeDockWidget(self)
        self._window.resizeDocks([other], [width], Qt.Orientation.Horizontal)
        self.deleteLater()
        return other

    def show_topic(self, topic: Topic) -> None:
        """Show one topic."""
        self.view.show_topic(topic)
        self.stack.setCurrentWidget(self.view)
        self.view.setFocus(Qt.FocusReason.OtherFocusReason)

    def show_list(self) -> None:
        """Show all topics, or those searched for."""
        self._list()
        self.search.setFocus(Qt.FocusReason.OtherFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Close on Escape, and give the cursor back."""
        if event.key() == Qt.Key.Key_Escape:
            self.close()
            return
        super().keyPressEvent(event)

    def hideEvent(self, event: object, /) -> None:
        """Give the cursor back to where help was asked for."""
        paint_a_turn_later(self._window)
        super().hideEvent(event)  # pyright: ignore[reportArgumentType]
        came_from, self._came_from = self._came_from, None
        if came_from is not None:
            QTimer.singleShot(0, came_from, came_from.setFocus)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the width for the next time."""
        super().resizeEvent(event)
        if self.isVisible() and not self.isFloating() and self._is_settled:
            self._memory.setValue(_WIDTH, self.width())

    def _take_width(self) -> None:
        """Be as wide as it was left, but leave most of the window to the page."""
        em = self.fontMetrics().averageCharWidth()
        kept = self._memory.value(_WIDTH)
        wanted = int(str(kept)) if str(kept).isdigit() else em * _USUAL
        most = self._window.width() * 3 // 8
        self._is_settled = False
        self._window.resizeDocks([self], [min(wanted, most)], Qt.Orientation.Horizontal)
        QTimer.singleShot(0, self, self._settle)

    def _settle(self) -> None:
        self._is_settled = True

    def _keep_side(self, area: Qt.DockWidgetArea) -> None:
        self._memory.setValue(_SIDE, "left" if area == _LEFT else "right")

    def _lay_out(self) -> None:
        inside = QWidget()
        head = HeadRow(self.search, (self.all_topics,), least=14)
        column = QVBoxLayout(inside)
        column.setContentsMargins(GRID, GRID, GRID, GRID)
        column.addLayout(head)
        column.addWidget(self.stack, 1)
        inside.setMinimumWidth(self.fontMetrics().averageCharWidth() * _LEAST)
        self.setWidget(inside)

    def _list(self) -> None:
        if self._book is None:
            return
        self.list.clear()
        group = ""
        for entry in self._book.search(self.search.text()):
            if entry.group != group:
                group = entry.group
                self._add_heading(group)
            item = QListWidgetItem(entry.title)
            item.setData(_ID, entry.id)
            item.setData(
                Qt.ItemDataRole.AccessibleTextRole, f"{entry.title}, {entry.group}".strip(", ")
            )
            self.list.addItem(item)
        if not self.list.count():
            self.list.addItem(_("Nothing found. Try another word."))
        self.stack.setCurrentWidget(self.list)

    def _add_heading(self, text: str) -> None:
        heading = QListWidgetItem(text)
        heading.setFlags(Qt.ItemFlag.NoItemFlags)
        heading.setFont(sized(self.list.font(), 0.9, strong=True))
        heading.setForeground(self.list.palette().placeholderText())
        heading.setTextAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignBottom)
        heading.setSizeHint(QSize(0, 2 * self.fontMetrics().height()))
        self.list.addItem(heading)

    def _show_first(self) -> None:
        topics = (self.list.item(row) for row in range(self.list.count()))
        chosen = self.list.currentItem() or next((one for one in topics if one.data(_ID)), None)
        self._show_item(chosen)

    def _show_item(self, item: QListWidgetItem | None) -> None:
        topic_id = item.data(_ID) if item is not None else None
        if topic_id:
            self._show_id(str(topic_id))

    def _show_id(self, topic_id: str) -> None:
        if self._book is not None:
            self.show_topic(self._book.topic(topic_id))
