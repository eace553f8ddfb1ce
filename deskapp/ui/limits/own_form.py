"""The form of a limit of one's own: one part of it at a time."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from deskapp.domain.finding import Finding
from deskapp.i18n import _
from deskapp.session.own_limit_form import choose_own, enter_own, own_form
from deskapp.session.own_rows import edition_without_row, with_copy
from deskapp.ui.fields.chosen_fields import Choices
from deskapp.ui.glyphs import Glyph
from deskapp.ui.levels import level_of
from deskapp.ui.limits.candidate_sheet import empty, in_scroll
from deskapp.ui.limits.own_entry import OwnEntry
from deskapp.ui.marks import Notice
from deskapp.ui.theme import GRID
from deskapp.ui.words import Command, Size, Words

if TYPE_CHECKING:
    from deskapp.domain.limit import Edition
    from deskapp.session.own_limit_form import OwnField, OwnSection
    from deskapp.session.settings import Preferences

_TOP = Qt.AlignmentFlag.AlignTop


class OwnForm(QWidget):
    """All entries of one part (the edition as a whole, or a row), in two columns.

    Signals: `changed` with the edition after an entry was taken.
    """

    changed = Signal(object)

    def __init__(self, preferences: Preferences) -> None:
        super().__init__()
        self._preferences = preferences
        self._edition: Edition | None = None
        self.entries: dict[str, OwnEntry] = {}
        self.parts = Choices()
        self.parts.setAccessibleName(_("Part of the limit"))
        self.parts.activated.connect(self._turn)
        self.copy_row = Command(_("Copy this row"), Glyph.ADD)
        self.remove_row = Command(_("Remove this row"), Glyph.REMOVE)
        self.message = Notice()
        self._inside = QWidget()
        column = QVBoxLayout(self._inside)
        column.setContentsMargins(0, 0, 2 * GRID, 0)
        self._body = QVBoxLayout()
        column.addLayout(self._body)
        column.addStretch(1)
        label = Words(_("Part"), Size.STRONG)
        label.setBuddy(self.parts)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(GRID)
        outer.addWidget(label)
        outer.addWidget(self.parts)
        outer.addLayout(self._row_buttons())
        outer.addWidget(self.message)
        outer.addWidget(in_scroll(self._inside), 1)

    def show_edition(self, edition: Edition | None) -> None:
        """Show another limit, from its first part on."""
        self._edition = edition
        self.setEnabled(edition is not None)
        self.parts.clear()
        for section in self._sections():
            title = section.title if not section.row_id else _("Row: {title}")
            self.parts.addItem(title.format(title=section.title), section.row_id)
        self._build()

    def commit(self) -> None:
        """Take over texts that were typed and not left yet."""
        for entry in self.entries.values():
            entry.commit()

    def turn_to(self, row_id: str) -> None:
        """Show the part of a row; of the edition as a whole for an empty id."""
        self.parts.setCurrentIndex(max(0, self.parts.findData(row_id)))
        self._turn()

    @property
    def row_id(self) -> str:
        """The row shown; empty for the edition as a whole."""
        return str(self.parts.currentData() or "")

    def _row_buttons(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(GRID)
        for button, act in ((self.copy_row, self._copy_row), (self.remove_row, self._remove_row)):
            button.setAutoDefault(False)
            button.clicked.connect(act)
            row.addWidget(button)
        row.addStretch(1)
        return row

    def _copy_row(self) -> None:
        self.commit()
        if self._edition is not None and self.row_id:
            self._show_rows(*with_copy(self._edition, self.row_id))

    def _remove_row(self) -> None:
        self.commit()
        if self._edition is None or not self.row_id:
            return
        shorter = edition_without_row(self._edition, self.row_id)
        if isinstance(shorter, Finding):
            glyph, word = level_of(shorter.level)
            self.message.say(glyph, word, shorter.text)
        else:
            self._show_rows(shorter, "")

    def _show_rows(self, edition: Edition, row_id: str) -> None:
        self.show_edition(edition)
        self.turn_to(row_id)
        self.changed.emit(edition)

    def _sections(self) -> tuple[OwnSection, ...]:
        return () if self._edition is None else own_form(self._edition, self._preferences)

    def _turn(self) -> None:
        self.commit()
        self._build()

    def _build(self) -> None:
        empty(self._body)
        self.entries = {}
        self.message.hide()
        for button in (self.copy_row, self.remove_row):
            button.setVisible(bool(self.row_id))
        sections = self._sections()
        if not sections:
            return
        sheet = QWidget()
        grid = QGridLayout(sheet)
        grid.setContentsMargins(0, GRID, 0, 0)
        grid.setHorizontalSpacing(2 * GRID)
        grid.setVerticalSpacing(12)
        line = column = 0
        for field in _numbers_first(sections[max(0, self.parts.currentIndex())]):
            entry = OwnEntry(field)
            entry.typed.connect(self._enter)
            entry.answered.connect(self._choose)
            self.entries[field.path] = entry
            if entry.is_wide and column:
                line, column = line + 1, 0
            grid.addWidget(entry, line, column, 1, 2 if entry.is_wide else 1, _TOP)
            line, column = (line + 1, 0) if entry.is_wide or column else (line, 1)
        grid.setColumnStretch(0, 1)
        grid.setColumnStretch(1, 1)
        self._body.addWidget(sheet)

    def _enter(self, path: str, text: str) -> None:
        if self._edition is not None:
            self._take(path, enter_own(self._edition, path, text, self._preferences))

    def _choose(self, path: str, answers: tuple[str, ...]) -> None:
        if self._edition is not None:
            self._take(path, choose_own(self._edition, path, answers, self._preferences))

    def _take(self, path: str, outcome: Edition | Finding) -> None:
        if isinstance(outcome, Finding):
            self.entries[path].tell(outcome)
            return
        is_new = outcome != self._edition
        self._edition = outcome
        section = self._sections()[max(0, self.parts.currentIndex())]
        for field in section.fields:
            if field.path == path:
                self.entries[path].show_field(field)
        if section.row_id:
            text = _("Row: {title}").format(title=section.title)
            self.parts.setItemText(self.parts.currentIndex(), text)
        if is_new:
            self.changed.emit(outcome)


def _numbers_first(section: OwnSection) -> list[OwnField]:
    """Return the entries with the numbers of the rule before the conditions."""
    ahead = [field for field in section.fields if ".rule." in field.path]
    others = [field for field in section.fields if ".rule." not in field.path]
    at = next((n for n, field in enumerate(others, 1) if field.path.endswith("pressure_pa")), 0)
    return [*others[:at], *ahead, *others[at:]]
