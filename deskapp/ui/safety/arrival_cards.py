"""What was changed on arrival: how the list begins, and how it is closed."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout

from deskapp.domain import leaving
from deskapp.i18n import _
from deskapp.session import safety_desk
from deskapp.ui.fields.plain_line import PlainLine
from deskapp.ui.form import RowExtra
from deskapp.ui.levels import tell_findings
from deskapp.ui.marks import Notice
from deskapp.ui.row_tabs import WrappingRow
from deskapp.ui.theme import GRID
from deskapp.ui.words import Card, Command, Size, Words

if TYPE_CHECKING:
    from deskapp.ui.bridge import Bridge


class ArrivalBar(RowExtra):
    """Fills the list with what testers usually change, and answers the rest with no."""

    def __init__(self, bridge: Bridge) -> None:
        super().__init__()
        self._bridge = bridge
        self.start = Command(_("List what is usually changed"))
        self.start.clicked.connect(self._start)
        self.rest = Command(_("The rest was not changed"))
        self.rest.clicked.connect(self._answer_rest)
        words = _("Note what you change, and how it was. It is put back under “Leave as found”.")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, GRID)
        column.setSpacing(GRID)
        column.addWidget(Words(words, Size.SMALL, muted=True))
        row = WrappingRow()
        row.addWidget(self.start)
        row.addWidget(self.rest)
        column.addLayout(row)

    def refresh(self) -> None:
        """Offer what there is to do."""
        items = self._bridge.editor.job.arrival
        there = {item.item for item in items}
        things = self._bridge.editor.shelf.arrival
        is_new = any(thing.id not in there for thing in things)
        self.start.allow(is_new, _("All of it is listed already."))
        is_open = any(one.changed is None and not one.is_changed for one in items)
        self.rest.allow(is_open, _("No row waits for an answer."))

    def reveal(self, path: str) -> bool:
        """Put the cursor to the button, for the list as a whole."""
        if path == "arrival":
            self.start.setFocus()
        return path == "arrival"

    def _start(self) -> None:
        self._bridge.settle()
        safety_desk.start_list(self._bridge.editor)

    def _answer_rest(self) -> None:
        self._bridge.settle()
        safety_desk.rest_unchanged(self._bridge.editor)


class CloseCard(Card):
    """Closes the list with name, day and time; says row by row what keeps it open."""

    def __init__(self, bridge: Bridge) -> None:
        super().__init__()
        self._bridge = bridge
        self.name = PlainLine(name=_("Name"))
        bridge.opened.connect(self.name.clear)
        self.name.returnPressed.connect(self._close)
        self.close_list = Command(_("Confirm with this name"))
        self.close_list.clicked.connect(self._close)
        self.start = Command(_("List what is usually changed"))
        self.start.clicked.connect(self._start)
        self.reopen = Command(_("Take the confirmation back"))
        self.reopen.clicked.connect(self._reopen)
        self.words = Words()
        self.message = Notice()
        self._label = Words(_("Name"))
        self._label.setBuddy(self.name)
        row = QHBoxLayout()
        row.setSpacing(GRID)
        row.addWidget(self._label)
        row.addWidget(self.name, 1)
        row.addWidget(self.words, 2)
        row.addWidget(self.start)
        row.addWidget(self.close_list)
        row.addWidget(self.reopen)
        column = QVBoxLayout(self)
        column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
        column.setSpacing(GRID)
        column.addWidget(Words(_("Confirm how the house is left"), Size.HEADING))
        column.addLayout(row)
        column.addWidget(self.message)

    def refresh(self) -> None:
        """Show who closed the list, or let it be closed."""
        words = safety_desk.closing_words(self._bridge.editor)
        self.words.setText(words)
        for part in (self.words, self.reopen):
            part.setVisible(bool(words))
        for part in (self._label, self.name, self.close_list):
            part.setVisible(not words)
        self.start.setVisible(not leaving.listed(self._bridge.editor.job))
        self.message.hide()
        if not words and not self.name.text():
            self.name.setText(str(self._bridge.value_at("tester.name") or ""))

    def reveal(self, path: str) -> bool:
        """Put the cursor to the name, for the list as a whole and for who closed it.

        An empty list is to be begun first.
        """
        is_here = path == "arrival" or path.partition(".")[0] == "leaving"
        if is_here and not self.start.isHidden():
            self.start.setFocus()
        elif is_here:
            (self.name if self.reopen.isHidden() else self.reopen).setFocus()
        return is_here

    def _start(self) -> None:
        self._bridge.settle()
        safety_desk.start_list(self._bridge.editor)
        self.name.setFocus()

    def _close(self) -> None:
        self._bridge.settle()
        problems = safety_desk.close_list(self._bridge.editor, self.name.text(), datetime.now())
        if problems:
            tell_findings(self.message, problems)
        else:
            self.reopen.setFocus()

    def _reopen(self) -> None:
        self._bridge.settle()
        safety_desk.reopen_list(self._bridge.editor)
        self.name.setFocus()
