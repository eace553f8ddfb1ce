"""Shows one topic; links lead to others."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QUrl, Signal
from PySide6.QtWidgets import QDialog, QFrame, QHBoxLayout, QTextBrowser, QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.ui.help.topic_text import MORE, topic_text
from deskapp.ui.theme import GRID, colors_of
from deskapp.ui.words import Command

if TYPE_CHECKING:
    from deskapp.session.help.topics import HelpBook, Topic


class TopicView(QTextBrowser):
    """The text of a topic. Tab goes through its links, Enter follows one.

    Signals: `wanted` with the id of another topic.
    """

    wanted = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.topic: Topic | None = None
        self._unfolded: frozenset[str] = frozenset()
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setOpenLinks(False)
        self.setAccessibleName(_("Help"))
        self.document().setDocumentMargin(GRID)
        self.anchorClicked.connect(self._follow)

    def show_topic(self, topic: Topic) -> None:
        """Show a topic from its beginning."""
        self.topic = topic
        self._unfolded = frozenset()
        self._draw()
        self.setAccessibleName(_("Help: {topic}").format(topic=topic.title))
        self.verticalScrollBar().setValue(0)

    def changeEvent(self, event: QEvent) -> None:
        """Follow the theme."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange and self.topic is not None:
            self._draw()

    def _draw(self) -> None:
        if self.topic is not None:
            self.setHtml(topic_text(self.topic, colors_of(self.palette()), self._unfolded))

    def _follow(self, url: QUrl) -> None:
        target = url.toString()
        if target.startswith(MORE):
            self._unfold(target.removeprefix(MORE))
        else:
            self.wanted.emit(target)

    def _unfold(self, group: str) -> None:
        """Show all topics of a group, and stay where one reads."""
        place = self.verticalScrollBar().value()
        self._unfolded |= {group}
        self._draw()
        self.verticalScrollBar().setValue(place)


class TopicDialog(QDialog):
    """A topic in front of another dialog, where the panel of the window cannot be reached."""

    def __init__(self, book: HelpBook, topic: Topic, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle(_("Help"))
        self._book = book
        self.view = TopicView()
        self.view.show_topic(topic)
        self.view.wanted.connect(self._show)
        close = Command(_("Close"), main=True)
        close.clicked.connect(self.accept)
        foot = QHBoxLayout()
        foot.addStretch(1)
        foot.addWidget(close)
        column = QVBoxLayout(self)
        column.setContentsMargins(2 * GRID, 2 * GRID, 2 * GRID, 2 * GRID)
        column.addWidget(self.view, 1)
        column.addLayout(foot)
        em = self.fontMetrics().averageCharWidth()
        self.resize(em * 80, em * 80)

    def _show(self, topic_id: str) -> None:
        self.view.show_topic(self._book.topic(topic_id))
