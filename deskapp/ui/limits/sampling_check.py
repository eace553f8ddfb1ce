"""Taking down one check of one unit."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QButtonGroup, QGridLayout, QVBoxLayout

from deskapp.i18n import _
from deskapp.session.sampling_desk import SamplingProblem, enter_check
from deskapp.ui.fields.chosen_fields import Choices
from deskapp.ui.fields.plain_line import PlainLine
from deskapp.ui.glyphs import Glyph
from deskapp.ui.marks import Notice
from deskapp.ui.theme import GRID
from deskapp.ui.ticks import Dot
from deskapp.ui.words import Card, Command, Size, Words

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from deskapp.domain.sampling import SamplingPlan
    from deskapp.session.settings import Preferences


class CheckForm(Card):
    """Unit, outcome, day, measured value, who checked, note.

    Signals: `recorded` with the plan that holds the new check.
    """

    recorded = Signal(object)

    def __init__(self, preferences: Preferences) -> None:
        super().__init__()
        self._preferences = preferences
        self._plan: SamplingPlan | None = None
        self.unit = Choices()
        self.met = Dot(_("Meets the threshold"))
        self.not_met = Dot(_("Does not meet the threshold"))
        self._outcome = QButtonGroup(self)
        self._outcome.addButton(self.met)
        self._outcome.addButton(self.not_met)
        self.day = PlainLine(date.today().isoformat())
        self.day.setMinimumWidth(self.fontMetrics().averageCharWidth() * 16)
        self.measured = PlainLine()
        self.checked_by = PlainLine()
        self.note = PlainLine()
        self.message = Notice()
        self.record = Command(_("Record this check"))
        self.record.setAutoDefault(False)
        self.record.clicked.connect(self._record)
        self._lay_out()

    def show_plan(self, plan: SamplingPlan, due: tuple[str, ...]) -> None:
        """Offer the units that are due first, then the others."""
        self._plan = plan
        self.unit.clear()
        self.unit.addItem(_("choose a unit"), "")
        rest = [unit.key for unit in plan.unit_list.units if unit.key not in set(due)]
        for key in (*due, *rest):
            unit = plan.unit_list.unit(key)
            if unit is not None:
                due_words = _("{unit} (due)").format(unit=unit.name)
                self.unit.addItem(due_words if key in due else unit.name, key)
        self.unit.setCurrentIndex(1 if due else 0)

    def pick(self, key: str) -> None:
        """Have this unit be the one that is checked."""
        self.unit.setCurrentIndex(max(0, self.unit.findData(key)))

    def _record(self) -> None:
        self.message.hide()
        key = str(self.unit.currentData() or "")
        if self._plan is None:
            return
        if not key:
            self._refuse(_("Choose the unit that was checked."), self.unit)
        elif self._outcome.checkedButton() is None:
            self._refuse(_("Say whether the unit meets the threshold."), self.met)
        else:
            self._enter(key)

    def _enter(self, key: str) -> None:
        assert self._plan is not None
        try:
            plan = enter_check(
                self._plan,
                key,
                met=self.met.isChecked(),
                day=self.day.text(),
                preferences=self._preferences,
                measured=self.measured.text().strip(),
                checked_by=self.checked_by.text().strip(),
                note=self.note.text().strip(),
            )
        except SamplingProblem as problem:
            self._refuse(problem.text, self.day)
            return
        self._outcome.setExclusive(False)
        for answer in (self.met, self.not_met):
            answer.setChecked(False)
        self._outcome.setExclusive(True)
        self.measured.clear()
        self.note.clear()
        self.recorded.emit(plan)

    def _refuse(self, text: str, part: QWidget) -> None:
        self.message.say(Glyph.CHECK, _("Check"), text)
        part.setFocus()

    def _lay_out(self) -> None:
        grid = QGridLayout()
        grid.setHorizontalSpacing(2 * GRID)
        grid.setVerticalSpacing(4)
        places = (
            (_("Unit"), self.unit),
            (_("Day of the check"), self.day),
            (_("Measured"), self.measured),
            (_("Checked by"), self.checked_by),
        )
        for at, (label, part) in enumerate(places):
            line, column = divmod(at, 2)
            words = Words(label)
            words.setBuddy(part)
            words.setAlignment(Qt.AlignmentFlag.AlignBottom)
            part.setAccessibleName(label)
            grid.addWidget(words, 2 * line, column)
            grid.addWidget(part, 2 * line + 1, column)
        grid.setColumnStretch(0, 1)
        grid.setColumnStretch(1, 1)
        answers = QVBoxLayout()
        answers.setSpacing(6)
        answers.addWidget(self.met)
        answers.addWidget(self.not_met)
        self.note.setAccessibleName(_("Note"))
        column = QVBoxLayout(self)
        column.setContentsMargins(2 * GRID, 12, 2 * GRID, 12)
        column.setSpacing(GRID)
        column.addWidget(Words(_("Record a check"), Size.HEADING))
        column.addLayout(grid)
        column.addLayout(answers)
        column.addWidget(Words(_("Note")))
        column.addWidget(self.note)
        column.addWidget(self.message)
        column.addWidget(self.record)
