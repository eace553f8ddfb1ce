"""Picking the code or program a job is judged by."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPalette
from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from deskapp.i18n import _
from deskapp.session.limit_words import row_words
from deskapp.ui.theme import GRID
from deskapp.ui.two_lines import BELOW, TwoLines
from deskapp.ui.words import Command, Size, Words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from deskapp.domain.limit import Edition

_ID = Qt.ItemDataRole.UserRole
_WORDS = Qt.ItemDataRole.UserRole + 1


class LimitDialog(QDialog):
    """A list of editions that gets shorter while one types, and what the one marked says.

    Signals: `picked` with the id of an edition.
    """

    picked = Signal(str)

    def __init__(self, editions: Sequence[Edition], parent: QWidget | None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(_("Choose a limit"))
        self._editions = {edition.id: edition for edition in editions}
        self.search = QLineEdit()
        self.search.setPlaceholderText(_("Type a code, a place or a year"))
        self.search.setAccessibleName(_("Find a limit"))
        self.search.setClearButtonEnabled(True)
        self.search.setTextMargins(4, 0, 4, 0)
        self.search.setMinimumHeight(self.fontMetrics().height() + 12)
        self.search.textChanged.connect(self._narrow)
        self.list = QListWidget()
        self.list.setAccessibleName(_("Codes and programs"))
        self.list.setItemDelegate(TwoLines(self.list))
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setMinimumWidth(self.fontMetrics().averageCharWidth() * 46)
        self.list.currentItemChanged.connect(self._describe)
        self.list.itemActivated.connect(self._accept_item)
        self._about = QVBoxLayout()
        self.take = Command(_("Judge by this"), main=True)
        self.take.setDefault(True)
        self.take.clicked.connect(self._take)
        self._lay_out()
        self._fill(editions)
        self.resize(QSize(940, 600))
        self.search.setFocus()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Let the arrow keys move in the list while one types."""
        if event.key() in (Qt.Key.Key_Down, Qt.Key.Key_Up) and self.search.hasFocus():
            self.list.setFocus(Qt.FocusReason.ShortcutFocusReason)
        super().keyPressEvent(event)

    def _lay_out(self) -> None:
        cancel = Command(_("Cancel"))
        cancel.setAutoDefault(False)
        cancel.clicked.connect(self.reject)
        buttons = QHBoxLayout()
        buttons.addStretch(1)
        buttons.addWidget(cancel)
        buttons.addWidget(self.take)
        inside = QWidget()
        about = QVBoxLayout(inside)
        about.setContentsMargins(GRID, 0, GRID, 0)
        about.addLayout(self._about)
        about.addStretch(1)
        inside.setBackgroundRole(QPalette.ColorRole.Window)
        right = QScrollArea()
        right.setWidgetResizable(True)
        right.setFrameShape(QScrollArea.Shape.NoFrame)
        right.setWidget(inside)
        left = QVBoxLayout()
        left.setSpacing(GRID)
        left.addWidget(self.search)
        left.addWidget(self.list, 1)
        halves = QHBoxLayout()
        halves.setSpacing(2 * GRID)
        halves.addLayout(left, 1)
        halves.addWidget(right, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(2 * GRID, 2 * GRID, 2 * GRID, 2 * GRID)
        column.setSpacing(2 * GRID)
        column.addLayout(halves, 1)
        column.addLayout(buttons)

    def _fill(self, editions: Sequence[Edition]) -> None:
        for edition in editions:
            place = ", ".join(part for part in (edition.country, edition.region) if part)
            below = f"{edition.body} ({place})" if place else edition.body
            item = QListWidgetItem(edition.name)
            item.setData(_ID, edition.id)
            item.setData(BELOW, below)
            item.setData(Qt.ItemDataRole.AccessibleTextRole, f"{edition.name}, {below}")
            item.setToolTip(f"{edition.name}\n{below}")
            titles = " ".join(row.title for row in edition.rows)
            item.setData(_WORDS, f"{edition.name} {below} {edition.id} {titles}".casefold())
            self.list.addItem(item)
        self.list.setCurrentRow(0)

    def _narrow(self, text: str) -> None:
        wanted = text.casefold().split()
        first: QListWidgetItem | None = None
        for at in range(self.list.count()):
            item = self.list.item(at)
            words = str(item.data(_WORDS))
            is_wanted = all(word in words for word in wanted)
            item.setHidden(not is_wanted)
            if is_wanted and first is None:
                first = item
        if first is not None and self._marked() is None:
            self.list.setCurrentItem(first)
        self.take.setEnabled(first is not None)

    def _describe(self) -> None:
        while self._about.count():
            old = self._about.takeAt(0)
            widget = old.widget() if old is not None else None
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        item = self._marked()
        if item is None:
            return
        edition = self._editions[str(item.data(_ID))]
        self._about.addWidget(Words(edition.name, Size.HEADING))
        self._about.addWidget(Words(edition.body, muted=True))
        if edition.note:
            self._about.addWidget(Words(edition.note, Size.SMALL))
        for row in edition.rows:
            self._about.addSpacing(GRID)
            words = row_words(row)
            self._about.addWidget(Words(words.title, Size.STRONG))
            self._about.addWidget(Words(words.rule))
            about = f"{words.clause.rstrip('.')}. {words.status}"
            self._about.addWidget(Words(about, Size.SMALL, muted=True))

    def _marked(self) -> QListWidgetItem | None:
        """Return the edition marked in the list, unless it was filtered out."""
        at = self.list.currentRow()
        item = self.list.item(at) if at >= 0 else None
        return None if item is None or item.isHidden() else item

    def _accept_item(self, _item: QListWidgetItem) -> None:
        self._take()

    def _take(self) -> None:
        item = self._marked()
        if item is not None:
            self.picked.emit(str(item.data(_ID)))
            self.accept()
