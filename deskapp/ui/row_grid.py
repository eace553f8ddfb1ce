"""Many rows of few fields: a compact grid of cells, with headings and row numbers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from deskapp.domain.field_spec import Form
from deskapp.domain.fields import field_at, label_of
from deskapp.i18n import N_, _, in_sentence
from deskapp.ui.building import FIELDS_IN_A_PIECE, laid_out_after
from deskapp.ui.fields.cells import Cell, ChoiceCell, LineCell
from deskapp.ui.glyphs import Glyph
from deskapp.ui.grid_row import GridRow
from deskapp.ui.levels import tell_findings
from deskapp.ui.marks import Notice
from deskapp.ui.side_scroll import SideScroll
from deskapp.ui.theme import GRID
from deskapp.ui.words import Command, Size, Words
from deskapp.units.display import prose, writing

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from deskapp.domain.field_spec import FieldSpec
    from deskapp.domain.finding import Finding
    from deskapp.ui.bridge import Bridge

_ADD = {
    "readings": N_("Add a reading"),
    "rings": N_("Add a ring"),
    "registers": N_("Add a register"),
    "appliances": N_("Add an appliance"),
    "arrival": N_("Add something else"),
    "rereadings": N_("Add a quick reading"),
}


_ARROW, _LARGEST_SHARE = 5, 24
"""Shares of the width are counted in letters; the arrow of a choice takes some."""


def _share_of(spec: FieldSpec) -> int:
    return 20 if spec.form is Form.TEXT else 10


class RowGrid(QWidget):
    """The rows of one list of the job; `remark` gives a word of result beside a row.

    One that only adds to rows made elsewhere takes none, and may name them and leave some out.
    Where all cells are typed in, a row that is added stands here alone until something is typed
    into it: the job never gets an empty one. What is wrong with a row is marked at its end and told
    below all rows, so that no row moves away under the pointer.
    """

    takes_rows = True
    none_words = N_("None yet.")

    def __init__(
        self, bridge: Bridge, fields: tuple[str, ...], remark: Callable[[str], str] | None = None
    ) -> None:
        super().__init__()
        self.list_path = ""
        self._bridge = bridge
        self._specs = [field_at(path) for path in fields]
        self._remark = remark
        self._rows: list[GridRow] = []
        self._spare: int | None = None
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        table = QWidget()
        self._grid = QGridLayout(table)
        self._grid.setContentsMargins(0, 0, 0, 2)
        self._grid.setHorizontalSpacing(GRID)
        self._grid.setVerticalSpacing(6)
        self._table = SideScroll(table)
        column.addWidget(self._table)
        self._headings = self._head()
        self._append()
        self._empty = Words("", muted=True)
        column.addWidget(self._empty)
        self._add = Command("", Glyph.ADD)
        self._add.clicked.connect(self.add_row)
        foot = QHBoxLayout()
        foot.addWidget(self._add)
        foot.addSpacing(GRID)
        keys = _(
            "Enter goes down, Ctrl+D copies from above. A block from a spreadsheet can be pasted."
        )
        self._keys = Words(keys, Size.SMALL, muted=True)
        foot.addWidget(self._keys, 1)
        is_typed = any(spec.form not in (Form.CHOICE, Form.REFERENCE) for spec in self._specs)
        if not (self.takes_rows and is_typed):
            self._keys.hide()
        if not self.takes_rows:
            self._add.hide()
        foot.addStretch()
        column.addLayout(foot)
        self.message = Notice()
        column.addWidget(self.message)
        self.said = Words("", Size.SMALL)
        self.said.hide()
        column.addWidget(self.said)

    @property
    def _last_column(self) -> int:
        """The column of the buttons that remove a row, behind the cells and the results."""
        return len(self._specs) + (1 if self._remark is None else 2)

    @property
    def cells(self) -> list[Cell]:
        """All cells, row by row."""
        return [cell for row in self._rows for cell in row.cells]

    def title(self, path: str) -> str:
        """Return what stands before the row at `path`: its number."""
        return str(int(path.rpartition(".")[2]) + 1)

    def is_shown(self, path: str) -> bool:
        """Say whether the row at `path` is to be seen."""
        return bool(path)

    def words_for_none(self) -> str:
        """Return what is said where no row is to be seen."""
        return _(self.none_words)

    def remark_at(self, row: int) -> str:
        """Return the result shown beside a row."""
        return self._rows[row].remark.text()

    def message_at(self, row: int) -> str:
        """Return what is told of a row; empty if there is nothing."""
        return "\n".join(one.text for one in self._rows[row].told)

    def bind(self, list_path: str) -> None:
        """Show and edit the rows of another list."""
        self.list_path = list_path
        self._spare = None
        self.said.hide()
        name = list_path.rpartition(".")[2]
        self._add.setText(_(_ADD.get(name, N_("Add a row"))))
        self.refresh()

    def grow(self, list_path: str) -> Iterator[None]:
        """Make the rows that a list needs, a few in each piece, and bind to it at the end."""
        made = 0
        while len(self._rows) < self._bridge.row_count(list_path):
            self._append()
            made += 1
            if made % FIELDS_IN_A_PIECE == 0:
                yield
        yield
        self.bind(list_path)

    def refresh(self) -> None:
        """Show what the job holds; what comes and goes is placed once, at the end."""
        with laid_out_after(self._grid):
            self._show()

    def _show(self) -> None:
        if self._spare != self._bridge.row_count(self.list_path):
            self._spare = None
        count = self._count()
        while len(self._rows) < count:
            self._append()
        seen = 0
        for at, row in enumerate(self._rows):
            is_used = at < count
            is_seen = is_used and self.is_shown(f"{self.list_path}.{at}")
            seen += is_seen
            row.come_up(is_seen, can_go=self.takes_rows)
            if is_used:
                self._fill(at, row)
            else:
                row.tell(())
                for cell in row.cells:
                    cell.path = ""
        for heading, spec in zip(self._headings, self._specs, strict=False):
            unit = self._bridge.unit_label(spec)
            label = _(spec.label)
            heading.setText(f"{label} ({unit})" if unit else label)
            with writing(self._bridge.preferences.number_style):
                told = prose(_(spec.help))
            if told != heading.toolTip():
                heading.setToolTip(told)
        for heading in self._headings:
            heading.setVisible(seen > 0)
        self._share_out(count)
        self._tell_all()
        if seen == 0:
            self._empty.setText(self.words_for_none())
        self._empty.setVisible(seen == 0)
        self._table.setVisible(seen > 0)

    def _count(self) -> int:
        """Return how many rows there are to type in, with the one that is not in the job yet."""
        return self._bridge.row_count(self.list_path) + (self._spare is not None)

    def _share_out(self, count: int) -> None:
        """Give columns with long answers more of the width than those with short ones."""
        for at, spec in enumerate(self._specs):
            if spec.form not in (Form.CHOICE, Form.REFERENCE):
                continue
            held = (self._rows[row].cells[at] for row in range(count))
            letters = (len(one.currentText()) for one in held if isinstance(one, ChoiceCell))
            share = min(max(letters, default=0) + _ARROW, _LARGEST_SHARE)
            share = max(share, _share_of(spec))
            if share != self._grid.columnStretch(at + 1):
                self._grid.setColumnStretch(at + 1, share)

    def reveal(self, path: str) -> bool:
        """Put the cursor into the cell at `path`; say whether there is one."""
        for row in self._rows:
            for cell in row.cells:
                if path and (cell.path == path or cell.path.startswith(f"{path}.")):
                    cell.setFocus(Qt.FocusReason.ShortcutFocusReason)
                    return True
        return False

    def add_row(self) -> None:
        """Add a row and put the cursor into its first cell."""
        self.reveal(self._new_row())

    def _new_row(self) -> str:
        """Offer one more row, in the job only where it cannot wait; return its path."""
        self._bridge.settle()
        if not (self._bridge.keeps_spare and all(isinstance(c, LineCell) for c in self.cells)):
            return self._bridge.add_row(self.list_path)
        self._spare = self._bridge.row_count(self.list_path)
        self.refresh()
        return f"{self.list_path}.{self._spare}"

    def _head(self) -> list[Words]:
        headings: list[Words] = []
        self._grid.setColumnStretch(0, 0 if self.takes_rows else 20)
        for at, spec in enumerate(self._specs):
            heading = Words("", Size.SMALL)
            heading.setAlignment(Qt.AlignmentFlag.AlignBottom)
            self._grid.addWidget(heading, 0, at + 1)
            self._grid.setColumnStretch(at + 1, _share_of(spec))
            headings.append(heading)
        if self._remark is not None:
            heading = Words(_("Flow at target"), Size.SMALL)
            heading.setAlignment(Qt.AlignmentFlag.AlignBottom | Qt.AlignmentFlag.AlignRight)
            self._grid.addWidget(heading, 0, len(self._specs) + 1)
            headings.append(heading)
        return headings

    def _append(self) -> None:
        row = GridRow(self._bridge, self._specs, is_remarked=self._remark is not None)
        at = len(self._rows)
        line = 1 + at
        if not self.takes_rows:
            row.number.setWordWrap(True)
            row.number.resize_words(Size.BODY)
            row.number.setForegroundRole(QPalette.ColorRole.WindowText)
            row.number.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        self._grid.addWidget(row.number, line, 0)
        previous = self._rows[-1].cells[-1] if self._rows else None
        for column, cell in enumerate(row.cells):
            self._grid.addWidget(cell, line, column + 1)
            if isinstance(cell, LineCell):
                cell.left.connect(self.refresh)
                cell.entered.connect(self._go_down)
                cell.pasted.connect(self._paste_down)
                cell.stepped.connect(self._step)
            cell.removed.connect(self._remove)
            cell.copied.connect(self._copy_down)
            if previous is not None:
                self.setTabOrder(previous, cell)
            previous = cell
        if self._remark is not None:
            self._grid.addWidget(row.remark, line, len(row.cells) + 1)
        self._grid.addWidget(row.remove, line, self._last_column)
        self._grid.addWidget(row.mark, line, self._last_column + 1)
        row.remark.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        row.remove.clicked.connect(self._remove)
        self._rows.append(row)
        if at:
            self.setTabOrder(row.cells[-1], self._add)

    def _fill(self, at: int, row: GridRow) -> None:
        path = f"{self.list_path}.{at}"
        row.number.setText(self.title(path))
        removed = label_of(path)
        words = _("Remove {row}").format(row=in_sentence(removed))
        row.remove.setToolTip(f"{words} (Ctrl+Del)")
        row.remove.setAccessibleName(words)
        for cell, spec in zip(row.cells, self._specs, strict=True):
            place = f"{path}.{spec.path.rpartition('.')[2]}"
            if cell.path != place:
                cell.bind(place)
            else:
                cell.refresh()
        remark = self._remark if self._bridge.has(path) else None
        row.remark.setText("" if remark is None else remark(path))
        self._tell(row)

    def _tell(self, row: GridRow) -> None:
        if not any(self._bridge.may_tell(cell.path) for cell in row.cells):
            return
        found: list[Finding] = []
        for cell in row.cells:
            if row.told or not cell.is_being_typed:
                found.extend(self._bridge.findings_at(cell.path))
        row.tell(found)

    def _tell_all(self) -> None:
        """Say below the rows what is wrong with them, row by row."""
        found = [one for row in self._rows for one in row.told]
        if found:
            tell_findings(self.message, found)
        else:
            self.message.hide()

    def _position_of(self, widget: QObject) -> tuple[int, int]:
        for at, row in enumerate(self._rows):
            for column, cell in enumerate(row.cells):
                if cell is widget:
                    return at, column
        raise LookupError("the cell is not part of this grid")

    def _go_down(self) -> None:
        cell = self.sender()
        if not isinstance(cell, LineCell):
            return
        at, column = self._position_of(cell)
        if at + 1 >= self._count():
            if not cell.text() or not self.takes_rows:
                return
            self._new_row()
        self._rows[at + 1].cells[column].setFocus(Qt.FocusReason.TabFocusReason)

    def _step(self, rows: int, columns: int) -> None:
        at, column = self._position_of(self.sender())
        at, column = at + rows, column + columns
        if 0 <= at < self._count() and 0 <= column < len(self._specs):
            self._rows[at].cells[column].setFocus(Qt.FocusReason.TabFocusReason)

    def _copy_down(self) -> None:
        cell = self.sender()
        at, column = self._position_of(cell)
        if at == 0:
            return
        above = self._rows[at - 1].cells[column].path
        if isinstance(cell, LineCell):
            cell.retype(self._bridge.entry_text(above))
        elif isinstance(cell, ChoiceCell):
            self._bridge.choose(cell.path, self._bridge.value_at(above) or None)

    def _paste_down(self, text: str) -> None:
        cell = self.sender()
        if isinstance(cell, LineCell) and self.takes_rows:
            self.said.setText(" ".join(self._paste_at(cell, text)))
            self.said.setVisible(bool(self.said.text()))
            cell.clearFocus()
            cell.setFocus(Qt.FocusReason.TabFocusReason)

    def _paste_at(self, cell: LineCell, text: str) -> tuple[str, ...]:
        """Put a table in at a cell: columns of readings by their headings, others as they come.

        Return what there is to say about it.
        """
        from deskapp.session.live.paste import parse_pasted, reading_fields, table_of

        head, _dot, field = cell.path.rpartition(".")
        list_path, _dot, first = head.rpartition(".")
        style = self._bridge.preferences.number_style
        if list_path.endswith(".readings") and field in reading_fields():
            pasted = parse_pasted(text, field, style)
            self._bridge.enter_block(list_path, int(first), pasted.rows)
            return pasted.remarks
        _at, column = self._position_of(cell)
        names = {
            place: spec.path.rpartition(".")[2]
            for place, spec in enumerate(self._specs[column:])
            if spec.form not in (Form.CHOICE, Form.REFERENCE)
        }
        table = table_of(text, style)
        width = max((len(row) for row in table), default=0)
        block = [
            {name: row[at] if at < len(row) else "" for at, name in names.items() if at < width}
            for row in table
        ]
        self._bridge.enter_block(list_path, int(first), block)
        return ()

    def _remove(self) -> None:
        if not self.takes_rows:
            return
        sender = self.sender()
        for at, row in enumerate(self._rows):
            if sender is row.remove or sender in row.cells:
                if at == self._spare:
                    self._drop_spare()
                    return
                self._bridge.remove_row(f"{self.list_path}.{at}")
                return

    def _drop_spare(self) -> None:
        """Take away the row that is not in the job yet; the cursor goes to the one above."""
        above = self._rows[max(self._count() - 2, 0)].cells[0]
        self._spare = None
        if above.path:
            above.setFocus(Qt.FocusReason.OtherFocusReason)
        self.refresh()
