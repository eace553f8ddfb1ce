"""Where the uncertainty of a result comes from, with the share of each part."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QGridLayout, QSizePolicy, QVBoxLayout, QWidget

from deskapp.domain.result_parts import BudgetOf
from deskapp.i18n import N_, _
from deskapp.ui.fold import Fold
from deskapp.ui.slices import Slices
from deskapp.ui.theme import GRID, colors_of
from deskapp.ui.words import Size, Words
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from collections.abc import Sequence

    from deskapp.domain.result import TestResult
    from deskapp.domain.result_parts import BudgetResult, BudgetRow
    from deskapp.units.display import Formatter

_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop
_TITLES = {
    BudgetOf.FLOW: N_("Leakage"),
    BudgetOf.PER_AREA: N_("Leakage per floor area"),
    BudgetOf.FAN_SHARE: N_("Share of air handler flow"),
    BudgetOf.PER_SURFACE: N_("Leakage per duct surface"),
}
_FINE = {Kind.FLOW: 2, Kind.FLOW_PER_AREA: 3, Kind.FRACTION: 2, Kind.NUMBER: 3}


class ShareBar(QWidget):
    """A bar as long as its share of the whole; the number beside it says the same."""

    def __init__(self, share: float) -> None:
        super().__init__()
        self._share = min(1.0, max(0.0, share))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        """Be as high as a line."""
        return QSize(110, self.fontMetrics().height())

    def minimumSizeHint(self) -> QSize:
        """Stay long enough to compare."""
        return QSize(36, self.sizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the bar."""
        colors = colors_of(self.palette())
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        track = QRectF(0, self.height() / 2 - 4, self.width(), 8)
        painter.setBrush(QColor(colors.still_tint))
        painter.drawRoundedRect(track, 3, 3)
        track.setWidth(track.width() * self._share)
        painter.setBrush(QColor(colors.accent))
        painter.drawRoundedRect(track, 3, 3)
        painter.end()
        event.accept()


class BudgetTable(QWidget):
    """The rows of one budget, the greatest share first, and the sum below."""

    def __init__(self, budget: BudgetResult, formatter: Formatter) -> None:
        super().__init__()
        self._formatter = formatter
        self._kind = budget.kind
        self._grid = grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(2 * GRID)
        grid.setVerticalSpacing(4)
        grid.setColumnStretch(0, 3)
        grid.setColumnStretch(4, 2)
        heads = (_("Part"), _("May be off by"), _("Changes the result by"), _("Share"))
        for column, text in enumerate(heads):
            label = Words(text, Size.SMALL, muted=True, wraps=column > 0)
            if column:
                label.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignBottom)
            grid.addWidget(label, 0, column)
        for row in sorted(budget.rows, key=lambda row: -row.share):
            self._add(row)
        line = grid.rowCount()
        title = _("Together, one standard uncertainty")
        self._sum(line, title, self._fine(budget.combined))
        factor = formatter.number(budget.coverage_factor, 0)
        text = _("Expanded (k = {factor})").format(factor=factor)
        self._sum(line + 1, text, self._fine(budget.expanded))

    def _add(self, row: BudgetRow) -> None:
        line, formatter = self._grid.rowCount(), self._formatter
        text = row.label if not row.is_assumed else _("{part}, assumed").format(part=row.label)
        self._grid.addWidget(Words(text), line, 0)
        digits = _FINE.get(row.kind, 2)
        off_by = formatter.give_or_take(row.kind, row.standard_uncertainty, digits)
        share = formatter.show(Kind.FRACTION, row.share, digits=1)
        fine = _FINE.get(self._kind, 2)
        adds = formatter.give_or_take_little(self._kind, row.contribution, fine)
        for column, value in enumerate((off_by, adds, share), 1):
            label = Words(value, wraps=False).can_be_copied()
            self._grid.addWidget(label, line, column, _RIGHT)
        bar = ShareBar(row.share)
        bar.setAccessibleName(f"{row.label}: {share}")
        self._grid.addWidget(bar, line, 4, Qt.AlignmentFlag.AlignTop)
        if row.basis:
            self._grid.addWidget(Words(row.basis, Size.SMALL, muted=True), line + 1, 0, 1, 5)

    def _sum(self, line: int, title: str, value: str) -> None:
        self._grid.addWidget(Words(title, Size.STRONG), line, 0)
        label = Words(value, Size.STRONG, wraps=False).can_be_copied()
        self._grid.addWidget(label, line, 2, _RIGHT)

    def _fine(self, si: float) -> str:
        return self._formatter.give_or_take_little(self._kind, si, _FINE.get(self._kind, 2))


def budget_fold(result: TestResult, formatter: Formatter) -> Fold | None:
    """Return the budgets of a test, folded away; None where nothing can be said."""
    found = (result.budget, result.area_budget, result.fan_budget, result.surface_budget)
    budgets = [budget for budget in found if budget is not None]
    if not budgets:
        return None
    body = _Budgets(budgets, formatter)
    fold = Fold(_("Where the uncertainty comes from"), body)
    fold.opened.connect(body.write)
    return fold


class _Budgets(QWidget):
    """The budgets below each other, written when they are first unfolded."""

    def __init__(self, budgets: Sequence[BudgetResult], formatter: Formatter) -> None:
        super().__init__()
        self._budgets = budgets
        self._formatter = formatter
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, GRID)
        self._column.setSpacing(GRID)
        self._rest = Slices(self)

    def write(self) -> None:
        """Write them, each in a turn of its own."""
        if not self._column.count() and not self._rest.is_due:
            self._rest.begin(partial(self._add, budget) for budget in self._budgets)

    def _add(self, budget: BudgetResult) -> None:
        value = self._formatter.show(budget.kind, budget.value)
        title = f"{_(_TITLES[budget.of])}: {value}"
        self._column.addWidget(Words(title, Size.STRONG))
        self._column.addWidget(BudgetTable(budget, self._formatter))
