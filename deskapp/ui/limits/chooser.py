"""Choosing the limits a job is judged by, with what speaks for and against each."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QDialog, QHBoxLayout, QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.ui.building import InTurns, at_once
from deskapp.ui.dialogs.room import give_room
from deskapp.ui.fields.chosen_fields import Choices
from deskapp.ui.fields.plain_line import PlainLine
from deskapp.ui.glyphs import Glyph
from deskapp.ui.head_row import HeadRow
from deskapp.ui.limits.candidate_list import CandidateList
from deskapp.ui.limits.candidate_sheet import CandidateSheet, in_scroll
from deskapp.ui.marks import Notice
from deskapp.ui.theme import GRID
from deskapp.ui.words import Command, Size, Words

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from deskapp.session.limits_desk import Candidate, CandidateSteps
    from deskapp.units.numbers import NumberStyle

    Candidates = Callable[[], CandidateSteps]


class LimitChooser(QDialog):
    """Limits in the order proposed, what the marked one says, and which of its rows to take.

    Signals: `picked` with the ids of edition and row; an empty row lets the facts choose.
    """

    picked = Signal(str, str)

    def __init__(
        self,
        candidates: Candidates,
        parent: QWidget | None,
        *,
        to_copy: bool = False,
        why: Callable[[Sequence[Candidate]], str] = lambda _found: "",
        style: NumberStyle | None = None,
    ) -> None:
        """Offer what the steps of `candidates` come to; with `to_copy` one is picked to be copied.

        `why` tells what their order rests on where it is a guess; numbers are written in `style`.
        """
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(_("Choose what to copy") if to_copy else _("Choose a limit"))
        self._ask = candidates
        self._to_copy = to_copy
        self._why = why
        self.guess = Notice()
        self._is_guess = False
        self._by_id: dict[str, Candidate] = {}
        self._described: Candidate | None = None
        self.search = PlainLine()
        self.search.setPlaceholderText(_("Type a code, a place or a year"))
        self.search.setAccessibleName(_("Find a limit"))
        self.search.setClearButtonEnabled(True)
        self.list = CandidateList()
        self.list.setMinimumWidth(self.fontMetrics().averageCharWidth() * 30)
        self.sheet = CandidateSheet(style)
        self.rows = Choices()
        self.rows.setAccessibleName(_("Row"))
        self._none = Words(_("Nothing in the list holds these words."), muted=True)
        self.take = Command(_("Copy this") if to_copy else _("Judge by this"), main=True)
        self.take.setDefault(True)
        self.add_one = Command(_("Judge by this and choose another"))
        self.add_one.setAutoDefault(False)
        self.add_one.setVisible(not to_copy)
        self.remark = Words(muted=True)
        self._lay_out()
        self.search.textChanged.connect(self._narrow)
        self.list.marked.connect(self._describe)
        self.list.itemActivated.connect(self._take)
        self.take.clicked.connect(self._take)
        self.add_one.clicked.connect(self._take_one)
        self._filling = InTurns(self, self._fill())
        give_room(self, 1040, 680)
        self.search.setFocus()

    def complete(self) -> None:
        """List all limits, and describe the one marked, now, where that is not done yet."""
        self._filling.complete()
        self.sheet.complete()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Let the arrow keys move in the list while one types."""
        if event.key() in (Qt.Key.Key_Down, Qt.Key.Key_Up) and self.search.hasFocus():
            self.list.setFocus(Qt.FocusReason.ShortcutFocusReason)
        super().keyPressEvent(event)

    @property
    def row_id(self) -> str:
        """The row fixed by hand; empty where the facts choose."""
        return str(self.rows.currentData() or "")

    def _lay_out(self) -> None:
        cancel = Command(_("Close"))
        cancel.setAutoDefault(False)
        cancel.clicked.connect(self.reject)
        buttons = HeadRow(self.remark, (cancel, self.add_one, self.take))
        label = Words(
            _("Which of its rows to copy") if self._to_copy else _("Which of its rows applies"),
            Size.STRONG,
        )
        label.setBuddy(self.rows)
        right = QVBoxLayout()
        right.setSpacing(GRID)
        right.addWidget(in_scroll(self.sheet), 1)
        right.addWidget(label)
        right.addWidget(self.rows)
        left = QVBoxLayout()
        left.setSpacing(GRID)
        left.addWidget(self.search)
        left.addWidget(self.guess)
        left.addWidget(self.list, 1)
        left.addWidget(self._none)
        halves = QHBoxLayout()
        halves.setSpacing(2 * GRID)
        halves.addLayout(left, 1)
        halves.addLayout(right, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(2 * GRID, 2 * GRID, 2 * GRID, 2 * GRID)
        column.setSpacing(2 * GRID)
        column.addLayout(halves, 1)
        column.addLayout(buttons)

    def _fill(self) -> Iterator[None]:
        """List the limits, how each fits worked out before."""
        yield
        found = yield from self._ask()
        yield
        self.list.show_candidates(found)
        yield
        self._by_id = {candidate.edition.id: candidate for candidate in found}
        why = self._why(found)
        self._is_guess = bool(why)
        if why:
            self.guess.say(Glyph.NOTE, _("Note"), why)
        yield
        self._narrow(self.search.text())

    def _narrow(self, text: str) -> None:
        if not self._by_id:
            return
        self.list.narrow(text)
        # It tells why the first of all stands first, which is not the first of those found.
        self.guess.setVisible(self._is_guess and not text.strip())
        self._none.setVisible(not self.list.shown_ids)

    def _describe(self, edition_id: str) -> None:
        candidate = self._by_id.get(edition_id)
        if candidate is not None and candidate is self._described:
            return
        self._described = candidate
        self.rows.setEnabled(candidate is not None)
        for button in (self.take, self.add_one):
            button.allow(candidate is not None, _("Choose a limit in the list first."))
        self.sheet.show_candidate(candidate)
        self.rows.clear()
        if candidate is None:
            return
        facts = _("Let the facts of each system and test choose")
        self.rows.addItem(_("All rows") if self._to_copy else facts, "")
        for row in candidate.edition.rows:
            self.rows.addItem(_(row.title), row.id)

    def _take(self) -> None:
        self.complete()
        if self.list.marked_id:
            self.picked.emit(self.list.marked_id, self.row_id)
            self.accept()

    def _take_one(self) -> None:
        taken = self._by_id.get(self.list.marked_id)
        if taken is None:
            return
        self.picked.emit(taken.edition.id, self.row_id)
        self.remark.setText(_("Judged by: {name}").format(name=taken.edition.name))
        self.search.clear()
        at_once(self._fill())
        self.search.setFocus()
