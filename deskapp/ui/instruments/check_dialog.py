"""A field check of a fan against a hole of known size: entries, live outcome, record."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.session.instruments.check_history import check_outcome_words
from deskapp.session.instruments.check_sheet import CheckSheet
from deskapp.ui.building import FIELDS_IN_A_PIECE
from deskapp.ui.columns import Columns
from deskapp.ui.dialogs.entry_dialog import EntryDialog, scrolled
from deskapp.ui.dialogs.room import give_room
from deskapp.ui.fields.make import field_for
from deskapp.ui.glyphs import Glyph
from deskapp.ui.instruments.sheet_bridge import SheetBridge
from deskapp.ui.limits.candidate_sheet import empty
from deskapp.ui.marks import Notice
from deskapp.ui.theme import GRID
from deskapp.ui.words import Card, Command, Size, Words

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import date

    from deskapp.domain.step import Step
    from deskapp.session.instruments.register_editor import RegisterEditor
    from deskapp.ui.fields.field import Field
    from deskapp.units.display import Formatter


class FieldCheckDialog(EntryDialog):
    """The sheet of one field check."""

    def __init__(
        self, editor: RegisterEditor, fan_path: str, today: date, parent: QWidget | None
    ) -> None:
        """Begin a check of the fan at `fan_path` of the register."""
        title = _("Field check: {fan}").format(fan=editor.name_of(fan_path))
        super().__init__(title, parent)
        self._editor = editor
        self._fan_path = fan_path
        fan = editor.value_at(fan_path)
        self.sheet = CheckSheet(fan, editor.register.gauges, editor.preferences, today)
        self.bridge = SheetBridge(self.sheet, self)
        self._fields: list[Field] = []
        self._area = scrolled()
        self.verdict = Notice(Size.BODY)
        self.wanted = Words(muted=True)
        self._steps: list[str] = []
        self._lines = QVBoxLayout()
        self._lines.setSpacing(GRID)
        self._lay_out()
        self.bridge.changed.connect(self.refresh)
        self.fill_in_turns(self._begin())
        give_room(self, 1080, 700)

    @property
    def fields(self) -> list[Field]:
        """The fields of the sheet."""
        self.complete()
        return self._fields

    @property
    def outcome_text(self) -> str:
        """What the check says; empty while something is missing."""
        return "" if self.verdict.isHidden() else self.verdict.text

    @property
    def steps_shown(self) -> list[str]:
        """The lines of arithmetic shown."""
        return list(self._steps)

    def _begin(self) -> Iterator[None]:
        """Make the fields once the dialog stands there, a few in each piece."""
        yield
        for number, spec in enumerate(self.sheet.fields, 1):
            field = field_for(self.bridge, spec)
            field.bind(spec.path)
            self._fields.append(field)
            if number % FIELDS_IN_A_PIECE == 0:
                yield
        form = Card()
        column = QVBoxLayout(form)
        column.setContentsMargins(2 * GRID, 2 * GRID, 2 * GRID, 2 * GRID)
        column.addWidget(Columns(self._fields))
        column.addStretch(1)
        yield
        self.put_in(self._area, form)
        self.refresh()
        self._fields[0].take_focus()

    def refresh(self) -> None:
        """Show what was entered and what comes of it."""
        for field in self._fields:
            field.refresh()
        outcome = self.sheet.outcome
        formatter = self.sheet.preferences.formatter
        empty(self._lines)
        self._steps = []
        if outcome is None:
            self.verdict.hide()
        else:
            glyph = Glyph.PASS if outcome.within else Glyph.FAIL
            words = check_outcome_words(outcome.share_off, outcome.tolerance, formatter)
            self.verdict.say(glyph, "", words)
            for step in outcome.steps:
                self._steps.append(_line(step, formatter))
                self._lines.addWidget(Words(self._steps[-1]).can_be_copied())
                if step.source:
                    self._lines.addWidget(Words(step.source, Size.SMALL, muted=True))
        self.wanted.setText("\n\n".join(finding.text for finding in self.sheet.wanted))
        self.wanted.setVisible(bool(self.wanted.text()))
        self.record.allow(self.sheet.can_record, _("Fill in first what is named at the right."))

    def done(self, result: int, /) -> None:
        """Let nothing wait when the dialog closes."""
        self.bridge.settle()
        super().done(result)

    def _lay_out(self) -> None:
        outcome = Card()
        right = QVBoxLayout(outcome)
        right.setContentsMargins(2 * GRID, 2 * GRID, 2 * GRID, 2 * GRID)
        right.setSpacing(2 * GRID)
        right.addWidget(Words(_("What it comes to"), Size.HEADING))
        right.addWidget(self.verdict)
        right.addWidget(self.wanted)
        right.addLayout(self._lines)
        right.addStretch(1)
        halves = QHBoxLayout()
        halves.setSpacing(2 * GRID)
        halves.addWidget(self._area, 3)
        halves.addWidget(scrolled(outcome), 2)
        self.column.addLayout(halves, 1)
        cancel = Command(_("Cancel"))
        cancel.clicked.connect(self.reject)
        self.record = Command(_("Record this check"), main=True)
        self.record.clicked.connect(self._record)
        self.foot(
            Words(_("A check on site finds large errors; it does not calibrate."), muted=True),
            (cancel, self.record),
        )

    def _record(self) -> None:
        self.bridge.settle()
        if self.sheet.can_record:
            self._editor.add_check(self._fan_path, self.sheet.record())
            self.accept()


def _line(step: Step, formatter: Formatter) -> str:
    value = step.value_in(formatter)
    head = f"{step.label}: {value}"
    inputs = step.numbers_in(formatter)
    if not step.formula:
        return head
    return f"{head}\n{step.formula}   ({inputs})" if inputs else f"{head}\n{step.formula}"
