"""Coefficient and exponent of a ring from the pairs on its certificate, fitted while one types."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QModelIndex, Qt, Signal
from PySide6.QtGui import QColor, QGuiApplication, QKeyEvent, QKeySequence
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from deskapp.i18n import _
from deskapp.session.instruments.ring_fit import (
    FLOW,
    SIGNAL,
    PairText,
    fit_ring,
    pairs_from_text,
)
from deskapp.session.typed import default_unit
from deskapp.ui.dialogs.entry_dialog import EntryDialog
from deskapp.ui.dialogs.room import give_room
from deskapp.ui.levels import level_of
from deskapp.ui.limits.candidate_sheet import empty
from deskapp.ui.marks import Notice
from deskapp.ui.tables import calm_headings
from deskapp.ui.theme import colors_of
from deskapp.ui.words import Command, Size, Words
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from collections.abc import Sequence

    from deskapp.domain.finding import Finding
    from deskapp.session.instruments.ring_fit import FittedRing, RingFitting
    from deskapp.session.settings import Preferences

_FEWEST_ROWS = 6
_SIGNAL, _FLOW, _OFF = range(3)


class PairTable(QTableWidget):
    """Pairs of fan signal and flow as typed; a pasted block fills rows from the marked one on.

    Signals: `pairs_changed` after any change.
    """

    pairs_changed = Signal()

    def __init__(self, pairs: Sequence[PairText], preferences: Preferences) -> None:
        super().__init__(0, 3)
        system, label = preferences.unit_system, preferences.formatter.label
        pressure, flow = (default_unit(spec, system) for spec in (SIGNAL, FLOW))
        heads = (
            _("Fan signal ({unit})").format(unit=label(pressure)),
            _("Flow ({unit})").format(unit=label(flow)),
            _("Flow off the line"),
        )
        for column, words in enumerate(heads):
            head = QTableWidgetItem(words)
            head.setToolTip(words)
            self.setHorizontalHeaderItem(column, head)
        self.setAccessibleName(_("Pairs of the certificate"))
        self.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        calm_headings(self)
        self.setEditTriggers(QAbstractItemView.EditTrigger.AllEditTriggers)
        self.put(0, pairs)
        self.itemChanged.connect(self._on_change)

    @property
    def pairs(self) -> tuple[PairText, ...]:
        """What is typed, row by row."""
        return tuple(
            PairText(self._text(row, _SIGNAL), self._text(row, _FLOW))
            for row in range(self.rowCount())
        )

    def put(self, first: int, pairs: Sequence[PairText]) -> None:
        """Write pairs into the rows from `first` on."""
        self.blockSignals(True)
        self._make_rows(max(first + len(pairs) + 1, _FEWEST_ROWS))
        for row, pair in enumerate(pairs, first):
            for column, text in ((_SIGNAL, pair.signal), (_FLOW, pair.flow)):
                self._cell(row, column).setText(text)
        self.blockSignals(False)
        self.pairs_changed.emit()

    def show_residuals(self, texts: dict[int, str], doubted: set[int]) -> None:
        """Write how far each row lies off the line; rows in `doubted` are set apart."""
        colors = colors_of(self.palette())
        self.blockSignals(True)
        for row in range(self.rowCount()):
            cell = self._cell(row, _OFF)
            text = texts.get(row, "")
            cell.setText(_("{off}  look here").format(off=text) if row in doubted else text)
            cell.setForeground(QColor(colors.check if row in doubted else colors.muted))
        self.blockSignals(False)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take a pasted block apart; clear what is marked."""
        if event.matches(QKeySequence.StandardKey.Paste):
            block = pairs_from_text(QGuiApplication.clipboard().text())
            if block:
                self.put(max(self.currentRow(), 0), block)
            return
        if event.key() in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            for item in self.selectedItems():
                item.setText("")
            return
        super().keyPressEvent(event)

    def moveCursor(
        self,
        action: QAbstractItemView.CursorAction,
        modifiers: Qt.KeyboardModifier,
        /,
    ) -> QModelIndex:
        """Pass over the column that is worked out, so that Tab leads to the next number to type."""
        step = {
            QAbstractItemView.CursorAction.MoveNext: (1, _SIGNAL),
            QAbstractItemView.CursorAction.MovePrevious: (0, _FLOW),
        }.get(action)
        reached = super().moveCursor(action, modifiers)
        if step is None or reached.column() != _OFF:
            return reached
        down, column = step
        return self.model().index(reached.row() + down, column)

    def _make_rows(self, count: int) -> None:
        while self.rowCount() < count:
            row = self.rowCount()
            self.insertRow(row)
            for column in range(3):
                item = QTableWidgetItem("")
                if column == _OFF:
                    item.setFlags(Qt.ItemFlag.ItemIsEnabled)
                self.setItem(row, column, item)

    def _cell(self, row: int, column: int) -> QTableWidgetItem:
        item: QTableWidgetItem | None = self.item(row, column)
        if item is None:
            item = QTableWidgetItem("")
            self.setItem(row, column, item)
        return item

    def _text(self, row: int, column: int) -> str:
        return self._cell(row, column).text()

    def _on_change(self) -> None:
        last = self.rowCount() - 1
        if self._text(last, _SIGNAL).strip() or self._text(last, _FLOW).strip():
            self.blockSignals(True)
            self._make_rows(last + 2)
            self.blockSignals(False)
        self.pairs_changed.emit()


class RingDialog(EntryDialog):
    """Table of pairs, the line through them, and what there is to say about it.

    Signals: `filled` with the fitting that goes into the ring.
    """

    filled = Signal(object)

    def __init__(
        self,
        ring: str,
        pairs: Sequence[PairText],
        preferences: Preferences,
        parent: QWidget | None,
    ) -> None:
        """Begin with the pairs the ring holds; `ring` is its name."""
        super().__init__(_("Fit a ring: {ring}").format(ring=ring), parent)
        self._preferences = preferences
        self.fitting: RingFitting | None = None
        self._notices: list[Notice] = []
        self.column.addWidget(
            Words(
                _(
                    "Type the pairs as the calibration certificate lists them, or paste two "
                    "columns. The line is flow = coefficient × signal ^ exponent."
                ),
                muted=True,
            )
        )
        self.table = PairTable(pairs, preferences)
        self.column.addWidget(self.table, 3)
        self.law = Words(size=Size.STRONG).can_be_copied()
        self.column.addWidget(self.law)
        self._findings = QVBoxLayout()
        self._findings.setSpacing(2)
        self.column.addLayout(self._findings)
        cancel = Command(_("Cancel"))
        cancel.clicked.connect(self.reject)
        self.fill = Command(_("Fill the ring"), main=True)
        self.fill.clicked.connect(self._fill)
        self.foot(Words(), (cancel, self.fill))
        self.table.pairs_changed.connect(self.refresh)
        self.refresh()
        give_room(self, 720, 600)

    @property
    def finding_texts(self) -> list[str]:
        """What there is to say about the pairs."""
        return [notice.text for notice in self._notices]

    def refresh(self) -> None:
        """Fit the pairs as they stand."""
        self.fitting = fitting = fit_ring(self.table.pairs, self._preferences)
        self.fill.allow(fitting.can_fill, _("Two good pairs are needed at least."))
        self.law.setText("" if fitting.fit is None else self._law_words(fitting.fit))
        self._show_residuals(fitting)
        empty(self._findings)
        self._notices = []
        # Nothing is wrong yet with a table nobody has typed into.
        is_begun = any(pair.signal.strip() or pair.flow.strip() for pair in self.table.pairs)
        for finding in fitting.findings if is_begun else ():
            notice = Notice()
            notice.say(*level_of(finding.level), finding.text)
            self._findings.addWidget(notice)
            self._notices.append(notice)

    def _law_words(self, fit: FittedRing) -> str:
        formatter = self._preferences.formatter
        words = _("Flow = {coefficient} at 1 Pa, exponent {exponent}.").format(
            coefficient=formatter.show(Kind.COEFFICIENT, fit.coefficient, digits=3),
            exponent=formatter.number(fit.exponent, 4),
        )
        if fit.r_squared is not None:
            words = f"{words} R² = {formatter.number(fit.r_squared, 5)}."
        return words

    def _show_residuals(self, fitting: RingFitting) -> None:
        texts: dict[int, str] = {}
        if fitting.fit is not None:
            formatter = self._preferences.formatter
            for pair in fitting.fit.pairs:
                share = formatter.show(Kind.FRACTION, pair.residual_percent / 100, digits=2)
                sign = "+" if pair.residual_percent > 0.0 else ""
                texts[pair.number - 1] = sign + share
        self.table.show_residuals(texts, _rows_named(fitting.findings))

    def _fill(self) -> None:
        if self.fitting is not None and self.fitting.can_fill:
            self.filled.emit(self.fitting)
            self.accept()


def _rows_named(findings: Sequence[Finding]) -> set[int]:
    """Return the rows that findings are about, from 0."""
    parts = (finding.path.split(".") for finding in findings)
    return {int(part[1]) for part in parts if len(part) > 1 and part[1].isdigit()}
