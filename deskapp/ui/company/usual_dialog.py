"""What new jobs start with, in the same fields as a job."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.session.usual import USUAL_SECTIONS, unkept
from deskapp.ui.bridge import Bridge
from deskapp.ui.dialogs.entry_dialog import EntryDialog, scrolled
from deskapp.ui.dialogs.room import give_room
from deskapp.ui.field_sheet import FieldSheet
from deskapp.ui.levels import tell_findings
from deskapp.ui.limit_card import LimitCard
from deskapp.ui.marks import Notice
from deskapp.ui.theme import GRID
from deskapp.ui.words import Card, Command, Size, Words

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from deskapp.domain.finding import Finding
    from deskapp.domain.job import Job
    from deskapp.session.editor import Editor


class UsualDialog(EntryDialog):
    """The usual entries of a company; `keep` is given the job that holds them."""

    def __init__(
        self, editor: Editor, keep: Callable[[Job], Finding | None], parent: QWidget | None
    ) -> None:
        super().__init__(_("What new jobs start with"), parent)
        self.bridge = Bridge(editor, self)
        self._keep = keep
        self._parts: list[FieldSheet | LimitCard] = []
        why = _("New jobs begin with these entries. Jobs already made stay as they are.")
        self.column.addWidget(Words(why, muted=True))
        self._area = scrolled()
        self.column.addWidget(self._area, 1)
        self.message = Notice(Size.BODY)
        self.column.addWidget(self.message)
        self.save = Command(_("Save"), main=True)
        self.save.clicked.connect(self._save)
        cancel = Command(_("Cancel"))
        cancel.clicked.connect(self.reject)
        self.foot(Words(), (cancel, self.save))
        self.bridge.changed.connect(self._refresh)
        give_room(self, 900, 660)
        self.fill_in_turns(self._fill())

    @property
    def sheets(self) -> list[FieldSheet]:
        """The sections of fields."""
        self.complete()
        return [part for part in self._parts if isinstance(part, FieldSheet)]

    @property
    def limits(self) -> LimitCard:
        """The limits new jobs are judged by."""
        self.complete()
        return self._limits

    def _fill(self) -> Iterator[None]:
        """Make the sections, a few fields in each piece, and the limits below them."""
        inside = QWidget()
        cards = QVBoxLayout(inside)
        cards.setContentsMargins(0, 0, GRID, 0)
        cards.setSpacing(2 * GRID)
        for section in USUAL_SECTIONS:
            card = Card()
            cards.addWidget(card)
            sheet = FieldSheet(self.bridge, section, _(section.title), in_pieces=True)
            sheet.setParent(card)
            yield from sheet.build()
            column = QVBoxLayout(card)
            column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
            column.addWidget(sheet)
            sheet.bind(f"{section.list_path}.0" if section.list_path else "")
            self._parts.append(sheet)
            yield
        self._limits = LimitCard(self.bridge)
        self._parts.append(self._limits)
        cards.addWidget(self._limits)
        cards.addStretch(1)
        yield
        self.put_in(self._area, inside)

    def tell(self, findings: Sequence[Finding]) -> None:
        """Say what there is to say about the entries kept."""
        if findings:
            tell_findings(self.message, findings)

    def _refresh(self) -> None:
        for part in self._parts:
            part.refresh()

    def _save(self) -> None:
        self.bridge.settle()
        wrong = unkept(self.bridge.editor)
        if wrong is not None:
            self.tell([wrong])
            self._lead_to(wrong.path)
            return
        finding = self._keep(self.bridge.editor.job)
        if finding is None:
            self.accept()
        else:
            self.tell([finding])

    def _lead_to(self, path: str) -> None:
        self.complete()
        for part in self._parts:
            if part.reveal(path):
                self._area.ensureWidgetVisible(self.focusWidget())
                return
