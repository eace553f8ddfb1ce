"""A sampling plan at work: what is to be done next, the checks, the units, the log."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QPlainTextEdit,
    QSplitter,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from deskapp.i18n import N_, _
from deskapp.session.sampling_desk import SamplingProblem, StepKind, draw, next_step, progress
from deskapp.session.sampling_log_file import log_text
from deskapp.ui.glyphs import Glyph, icon_of
from deskapp.ui.limits.candidate_sheet import in_scroll
from deskapp.ui.limits.sampling_check import CheckForm
from deskapp.ui.list_style import give_air
from deskapp.ui.marks import Notice
from deskapp.ui.theme import GRID
from deskapp.ui.words import Card, Command, Size, Words

if TYPE_CHECKING:
    from deskapp.domain.sampling import SamplingPlan
    from deskapp.session.settings import Preferences

_STEPS = {
    StepKind.DRAW: (Glyph.NOTE, N_("Draw")),
    StepKind.CHECK: (Glyph.NOTE, N_("Check on site")),
    StepKind.CORRECT: (Glyph.STOP, N_("Correct")),
    StepKind.DONE: (Glyph.DONE, N_("Done")),
}
_KEY = Qt.ItemDataRole.UserRole


class SamplingWork(QWidget):
    """Draws units, takes down checks, and shows the log as it will be saved.

    Signals: `changed` with the plan after a draw or a check.
    """

    changed = Signal(object)

    def __init__(self, preferences: Preferences) -> None:
        super().__init__()
        self._preferences = preferences
        self.plan: SamplingPlan | None = None
        self.step = Notice(Size.STRONG)
        self.due = Words()
        self.draw_button = Command(_("Draw at random"), main=True)
        self.draw_button.setAutoDefault(False)
        self.draw_button.clicked.connect(self._draw)
        self.failing = Notice(Size.BODY)
        self.message = Notice()
        self.form = CheckForm(preferences)
        self.form.recorded.connect(self._take)
        self.table = _table()
        self.table.currentCellChanged.connect(self._mark)
        self.log = QPlainTextEdit()
        self.log.setReadOnly(True)
        self.log.setTabChangesFocus(True)
        self.log.setAccessibleName(_("Log"))
        self._lay_out()

    def show_plan(self, plan: SamplingPlan) -> None:
        """Show a plan as it stands."""
        self.plan = plan
        step = next_step(plan)
        glyph, word = _STEPS[step.kind]
        self.step.say(glyph, _(word), step.text)
        self.draw_button.setVisible(step.kind is StepKind.DRAW)
        # Where all that are left are due, chance has nothing to choose.
        is_all = step.count >= len(step.units)
        self.draw_button.setText(_("Take all the rest") if is_all else _("Draw at random"))
        names = (plan.unit_list.unit(key) for key in step.units)
        is_due = step.kind in (StepKind.CHECK, StepKind.CORRECT)
        self.due.setText(", ".join(unit.name for unit in names if unit) if is_due else "")
        self.due.setVisible(is_due)
        names = (plan.unit_list.unit(key) for key in progress(plan).not_met)
        failing = ", ".join(unit.name for unit in names if unit)
        if failing and step.kind is not StepKind.CORRECT:
            text = _("Not met so far, to be corrected and checked again: {units}")
            self.failing.say(Glyph.CHECK, "", text.format(units=failing))
        else:
            self.failing.hide()
        self.form.show_plan(plan, step.units if is_due else ())
        self._fill_table(plan)
        self.log.setPlainText(log_text(plan, self._preferences.formatter))

    def _draw(self) -> None:
        if self.plan is None:
            return
        self.message.hide()
        try:
            self._take(draw(self.plan, date.today()))
        except SamplingProblem as problem:
            self.message.say(Glyph.CHECK, _("Check"), problem.text)

    def _take(self, plan: SamplingPlan) -> None:
        self.show_plan(plan)
        self.changed.emit(plan)

    def _mark(self, row: int) -> None:
        item = self.table.item(row, 0) if row >= 0 else None
        if item is not None:
            self.form.pick(str(item.data(_KEY)))

    def _fill_table(self, plan: SamplingPlan) -> None:
        latest = {check.unit: check.met for check in plan.checks}
        drawn = {key for one in plan.draws for key in one.drawn}
        self.table.blockSignals(True)
        self.table.setRowCount(len(plan.unit_list.units))
        for row, unit in enumerate(plan.unit_list.units):
            state, glyph = "", None
            if unit.key in latest:
                is_met = latest[unit.key]
                state = _("met") if is_met else _("not met")
                glyph = Glyph.PASS if is_met else Glyph.FAIL
            elif unit.key in drawn:
                state, glyph = _("to be checked"), Glyph.BLANK
            for column, text in enumerate((unit.name, state, unit.kind, unit.address)):
                item = QTableWidgetItem(text)
                item.setData(_KEY, unit.key)
                if column == 1 and glyph is not None:
                    item.setIcon(icon_of(glyph, self))
                self.table.setItem(row, column, item)
        self.table.blockSignals(False)
        self.table.resizeColumnsToContents()

    def _lay_out(self) -> None:
        card = Card()
        inside = QVBoxLayout(card)
        inside.setContentsMargins(2 * GRID, 12, 2 * GRID, 12)
        inside.setSpacing(GRID)
        inside.addWidget(Words(_("What is next"), Size.SMALL, muted=True))
        inside.addWidget(self.step)
        inside.addWidget(self.due)
        inside.addWidget(self.failing)
        inside.addWidget(self.draw_button)
        inside.addWidget(self.message)
        left = QWidget()
        left.setBackgroundRole(QPalette.ColorRole.Window)
        column = QVBoxLayout(left)
        column.setContentsMargins(0, 0, GRID, 0)
        column.setSpacing(12)
        column.addWidget(card)
        column.addWidget(self.form)
        column.addStretch(1)
        right = QWidget()
        beside = QVBoxLayout(right)
        beside.setContentsMargins(GRID, 0, 0, 0)
        beside.setSpacing(6)
        beside.addWidget(Words(_("Units"), Size.HEADING))
        beside.addWidget(self.table, 1)
        beside.addWidget(Words(_("Log"), Size.HEADING))
        beside.addWidget(self.log, 1)
        halves = QSplitter()
        halves.setChildrenCollapsible(False)
        area = in_scroll(left)
        area.setMinimumWidth(left.minimumSizeHint().width() + 2 * GRID)
        halves.addWidget(area)
        halves.addWidget(right)
        halves.setStretchFactor(0, 1)
        halves.setStretchFactor(1, 2)
        halves.setSizes([440, 560])
        outer = QHBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(halves)


def _table() -> QTableWidget:
    table = QTableWidget(0, 4)
    give_air(table)
    table.setHorizontalHeaderLabels([_("Unit"), _("State"), _("Kind"), _("Address")])
    table.verticalHeader().hide()
    table.setAccessibleName(_("Units"))
    table.setTabKeyNavigation(False)
    table.setShowGrid(False)
    table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
    table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
    table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
    header = table.horizontalHeader()
    header.setHighlightSections(False)
    header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
    header.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
    header.setMinimumSectionSize(table.fontMetrics().averageCharWidth() * 14)
    rows = table.verticalHeader()
    rows.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
    rows.setDefaultSectionSize(table.fontMetrics().height() + 8)
    header.setSectionResizeMode(3, QHeaderView.ResizeMode.Stretch)
    return table
