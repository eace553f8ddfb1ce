"""The table of jobs: one a line, with its state in a glyph and in words."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QPersistentModelIndex,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
)

from deskapp.i18n import N_, _
from deskapp.session.job_line import JobLine, due_words, names_of
from deskapp.session.job_status import STATUS_WORDS, JobStatus
from deskapp.ui.glyphs import Glyph, icon_of
from deskapp.ui.list_style import give_air
from deskapp.ui.theme import scaled

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from PySide6.QtGui import QIcon

Index = QModelIndex | QPersistentModelIndex

HEADINGS = (N_("Job"), N_("Address"), N_("Owner"), N_("Permit"), N_("Status"), N_("To see to"))
_STATUS, _DUE = 4, 5
_SHARES = (28, 22, 15, 13, 20, 22)
_GLYPH = int(Qt.ItemDataRole.DecorationRole)
_TIP = int(Qt.ItemDataRole.ToolTipRole)
_TOLD = frozenset(
    (int(Qt.ItemDataRole.DisplayRole), int(Qt.ItemDataRole.AccessibleTextRole), _GLYPH, _TIP)
)
_GLYPHS = {
    JobStatus.STOPPED: Glyph.STOP,
    JobStatus.DRAFT: Glyph.PART,
    JobStatus.RETEST: Glyph.FAIL,
    JobStatus.READY: Glyph.DONE,
    JobStatus.ISSUED: Glyph.PAPER,
}


def state_words(line: JobLine) -> str:
    """Return how far a job has come, or that its file cannot be read."""
    if line.is_away:
        return _("not reachable now")
    if line.problem:
        return _("cannot be read") if line.changed else _("no longer there")
    words = _(STATUS_WORDS[line.status])
    if is_uncleared(line):
        return _("{status}, danger not cleared").format(status=words)
    return words


def is_uncleared(line: JobLine) -> bool:
    """Say whether somebody went past a danger of the job that is not cleared."""
    return bool(line.dangers) and line.status is not JobStatus.STOPPED


class JobModel(QAbstractTableModel):
    """Jobs as rows."""

    def __init__(self, today: date, table: QTableView) -> None:
        super().__init__(table)
        self._today = today
        self._table = table
        self.lines: Sequence[JobLine] = ()
        self._names: dict[str, str] = {}
        self._dress: tuple[object, int] = (None, 0)
        self._icons: dict[Glyph, QIcon] = {}

    def show_lines(self, lines: Sequence[JobLine]) -> None:
        """Show these jobs; where they are the same ones, known better now, nothing moves."""
        self._names = names_of(lines)
        if [line.path for line in lines] == [line.path for line in self.lines]:
            self.lines = lines
            if lines:
                last = self.index(len(lines) - 1, len(HEADINGS) - 1)
                self.dataChanged.emit(self.index(0, 0), last)
            return
        self.beginResetModel()
        self.lines = lines
        self.endResetModel()

    def rowCount(self, parent: Index | None = None) -> int:  # noqa: ARG002 - given by Qt
        """Return how many jobs there are."""
        return len(self.lines)

    def columnCount(self, parent: Index | None = None) -> int:  # noqa: ARG002 - given by Qt
        """Return how many columns there are."""
        return len(HEADINGS)

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = 0) -> Any:
        """Return the heading of a column."""
        if orientation is Qt.Orientation.Horizontal and role == Qt.ItemDataRole.DisplayRole:
            return _(HEADINGS[section])
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
        return None

    def data(self, index: Index, role: int = 0) -> Any:
        """Return text, glyph or hint of a cell; the table asks each one for much that none has."""
        if role not in _TOLD:
            return None
        line, column = self.lines[index.row()], index.column()
        if role == _GLYPH:
            return self._icon(line) if column == _STATUS else None
        text = self._text(line, column)
        if role == _TIP:
            return "\n".join(part for part in (text, line.path) if part)
        return text

    def _icon(self, line: JobLine) -> QIcon:
        glyph = Glyph.CHECK if is_uncleared(line) else _GLYPHS[line.status]
        glyph = Glyph.STOP if line.problem else glyph
        glyph = Glyph.NONE if line.is_away else glyph
        dress = self._table.palette().cacheKey(), scaled(16, self._table.font())
        if dress != self._dress:
            self._dress = dress
            self._icons.clear()
        if glyph not in self._icons:
            self._icons[glyph] = icon_of(glyph, self._table, dress[1])
        return self._icons[glyph]

    def _text(self, line: JobLine, column: int) -> str:
        if column == _STATUS:
            return state_words(line)
        if column == 0:
            return self._names.get(line.path, "")
        if line.problem:
            return ""
        if column == _DUE:
            return due_words(line, self._today)
        return (line.address, line.owner, line.permit)[column - 1]


class _Named(QStyledItemDelegate):
    """Cuts what is too long in its middle: alike jobs mostly differ at the end."""

    def initStyleOption(self, option: QStyleOptionViewItem, index: Index) -> None:
        """Leave beginning and end of a name."""
        super().initStyleOption(option, index)
        option.textElideMode = Qt.TextElideMode.ElideMiddle  # type: ignore[attr-defined]


class JobTable(QTableView):
    """The jobs found; Enter or a double click opens one.

    Signals: `picked` with the path of a job, `marked` with the line the cursor stands on, or None,
    `typed` with letters that are meant for the search.
    """

    picked = Signal(str)
    typed = Signal(str)
    marked = Signal(object)

    def __init__(self, today: date) -> None:
        super().__init__()
        self.jobs = JobModel(today, self)
        self.setModel(self.jobs)
        give_air(self)
        named = _Named(self)
        for column in range(_STATUS):
            self.setItemDelegateForColumn(column, named)
        self.setAccessibleName(_("Jobs"))
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setShowGrid(False)
        self.setWordWrap(False)
        side = scaled(16, self.font())
        self.setIconSize(QSize(side, side))
        self.setTabKeyNavigation(False)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(self.fontMetrics().height() + 14)
        head = self.horizontalHeader()
        head.setHighlightSections(False)
        head.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        head.setStretchLastSection(True)
        head.setFixedHeight(self.fontMetrics().height() + 10)
        self.doubleClicked.connect(self.pick)

    @property
    def line(self) -> JobLine | None:
        """The job the cursor stands on."""
        row = self.currentIndex().row()
        return self.jobs.lines[row] if 0 <= row < len(self.jobs.lines) else None

    @property
    def selected(self) -> tuple[JobLine, ...]:
        """The jobs selected, in the order of the list."""
        rows = sorted(index.row() for index in self.selectionModel().selectedRows())
        return tuple(self.jobs.lines[row] for row in rows)

    def show_lines(self, lines: Sequence[JobLine]) -> None:
        """Show these jobs; the cursor stays on its job, or goes to the first."""
        before = self.line
        self.jobs.show_lines(lines)
        paths = [line.path for line in lines]
        row = paths.index(before.path) if before is not None and before.path in paths else 0
        if lines and row != self.currentIndex().row():
            self.selectRow(row)
        self.marked.emit(self.line)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Share the width among the columns; each has room for its heading."""
        super().resizeEvent(event)
        head, whole = self.horizontalHeader(), self.viewport().width()
        for column, share in enumerate(_SHARES[:-1]):
            width = max(whole * share // sum(_SHARES), head.sectionSizeHint(column))
            self.setColumnWidth(column, width)

    def currentChanged(self, current: Index, previous: Index) -> None:
        """Say where the cursor stands."""
        super().currentChanged(current, previous)
        self.marked.emit(self.line)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Open the job on Enter."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.pick()
            return
        super().keyPressEvent(event)

    def keyboardSearch(self, search: str) -> None:
        """Leave searching to the line above."""
        self.typed.emit(search)

    def pick(self) -> None:
        """Open the job the cursor stands on, if it can be."""
        line = self.line
        if line is not None and not line.problem:
            self.picked.emit(line.path)
