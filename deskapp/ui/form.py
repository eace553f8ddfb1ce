"""Builds the form of a page from the table of pages and the table of fields."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from deskapp.domain.fields import pattern_of
from deskapp.i18n import _
from deskapp.ui.building import at_once, come_up
from deskapp.ui.field_sheet import FieldSheet
from deskapp.ui.glyphs import Glyph
from deskapp.ui.head_row import HeadRow
from deskapp.ui.levels import level_of
from deskapp.ui.row_grid import RowGrid
from deskapp.ui.row_tabs import RowTabs
from deskapp.ui.row_titles import (
    ADD_ROW,
    ADD_WORDS,
    GROUP_TITLES,
    NO_ROW,
    NONE_WORDS,
    REMOVE_ROW,
    REMOVE_WORDS,
    row_title,
)
from deskapp.ui.theme import GRID
from deskapp.ui.words import Card, Command, Size, Words

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from deskapp.session.pages import Section
    from deskapp.ui.bridge import Bridge
    from deskapp.ui.fields.field import Field

_MOST_IN_A_GRID = 6


class Chosen:
    """Which row of each list is shown, shared by all pages."""

    def __init__(self) -> None:
        self._at: dict[str, int] = {}

    def row(self, list_path: str, count: int) -> int:
        """Return the position of the row shown, within `count` rows; -1 if there is none."""
        return min(self._at.get(list_path, 0), count - 1)

    def forget(self) -> None:
        """Show the first rows again, as for another job."""
        self._at.clear()

    def pick(self, list_path: str, position: int) -> None:
        """Show another row from now on."""
        self._at[list_path] = position


class PlainGroup(Card):
    """A card with the fields of one section that stands by itself."""

    def __init__(self, bridge: Bridge, section: Section) -> None:
        super().__init__()
        self._title = _(section.title)
        self._sheet = FieldSheet(bridge, section, self._title, in_pieces=True)
        self._sheet.setParent(self)
        self._extra: RowExtra | None = None

    def build(self) -> Iterator[None]:
        """Make the fields, a few in each piece."""
        yield from self._sheet.build()
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
        self._column.addWidget(self._sheet)
        if len(self.fields) == 1:
            self.fields[0].label.setVisible(self.fields[0].label.text() != self._title)
        self._sheet.bind("")
        if not self._sheet.is_called_for:
            self.hide()

    def add_extra(self, extra: RowExtra) -> None:
        """Put something below the fields that belongs to them."""
        self._extra = extra
        self._column.addWidget(extra)
        extra.refresh()

    @property
    def fields(self) -> list[Field]:
        """The fields on this card."""
        return self._sheet.fields

    def refresh(self) -> None:
        """Show what the job holds."""
        self._sheet.refresh()
        if self._extra is not None:
            self._extra.refresh()
        self.setVisible(self._sheet.is_called_for)

    def reveal(self, path: str) -> bool:
        """Put the cursor into the field at `path`; say whether it is here."""
        is_here = any(field.path == path for field in self.fields)
        if is_here:
            self.show()
        return self._sheet.reveal(path) or (self._extra is not None and self._extra.reveal(path))


class RowGroup(Card):
    """A card with tabs for the rows of a list, and the sections of the row picked."""

    def __init__(
        self,
        bridge: Bridge,
        sections: Sequence[Section],
        chosen: Chosen,
        remark: Callable[[str], str] | None = None,
        extra: Callable[[], RowExtra] | None = None,
    ) -> None:
        super().__init__()
        self.list_path = sections[0].list_path.partition(".")[0]
        self._title = _(GROUP_TITLES.get(self.list_path, sections[0].title))
        self._bridge = bridge
        self._chosen = chosen
        self._bound: tuple[object, str] = (None, "")
        self._sheets: list[FieldSheet] = []
        self._grids: list[tuple[str, RowGrid]] = []
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
        self._column.setSpacing(2 * GRID)
        self._tabs = RowTabs()
        self._tabs.picked.connect(self._pick)
        self._none = Words(_(NONE_WORDS.get(self.list_path, NO_ROW)), muted=True)
        self._body = QWidget()
        self._sections = sections
        self._remark = remark
        self._make_extra = extra
        self.extra: RowExtra | None = None
        self._lay_out_head()

    def build(self) -> Iterator[None]:
        """Make fields and grids, a few in each piece, and show the row picked."""
        yield from self._lay_out_body()
        if self._make_extra is not None:
            yield
            self.extra = self._make_extra()
            self._inner.addWidget(self.extra)
        count = self._bridge.row_count(self.list_path)
        if count:
            bound = self._wanted_row(count)
            yield from self._bind(bound[1])
            self._bound = bound
            yield
        self.refresh()

    @property
    def fields(self) -> list[Field]:
        """The fields of the row shown."""
        return [field for sheet in self._sheets for field in sheet.fields]

    @property
    def grids(self) -> list[RowGrid]:
        """The grids of the row shown."""
        return [grid for _tail, grid in self._grids]

    @property
    def none_text(self) -> str:
        """What is said while there are no rows; empty once there are."""
        return "" if self._none.isHidden() else self._none.text()

    @property
    def tabs(self) -> RowTabs:
        """The tabs of the rows."""
        return self._tabs

    def refresh(self) -> None:
        """Show what the job holds."""
        count = self._bridge.row_count(self.list_path)
        here = self._chosen.row(self.list_path, count)
        rows = [self._tab_of(f"{self.list_path}.{at}") for at in range(count)]
        self._tabs.show_rows(rows, here)
        self._tabs.setVisible(count > 0)
        self._none.setVisible(count == 0)
        self._body.setVisible(count > 0)
        self._remove.setVisible(count > 0)
        if count == 0:
            return
        bound = self._wanted_row(count)
        if self._bound != bound:
            self._bound = bound
            at_once(self._bind(bound[1]))
        else:
            for part in (*self._sheets, *self.grids):
                part.refresh()
            if self.extra is not None:
                self.extra.refresh()
        for sheet in self._sheets:
            sheet.setVisible(sheet.is_called_for)

    def reveal(self, path: str) -> bool:
        """Show the row of `path` and put the cursor into the field; say whether it is here."""
        parts = path.split(".")
        if parts[0] != self.list_path or not self._has(path):
            return False
        if len(parts) > 1 and parts[1].isdigit():
            self._pick(int(parts[1]))
        for sheet in self._sheets:
            if any(field.path == path for field in sheet.fields):
                sheet.show()
        if any(part.reveal(path) for part in (*self._sheets, *self.grids)):
            return True
        if self.extra is not None and self.extra.reveal(path):
            return True
        chosen = next((tab for tab in self._tabs.tabs if tab.isChecked()), None)
        (chosen or self._add).setFocus()
        return True

    def add_row(self) -> None:
        """Add a row, show it and put the cursor into its first field."""
        self._bridge.settle()
        self._chosen.pick(self.list_path, self._bridge.row_count(self.list_path))
        self._bridge.add_row(self.list_path)
        if self.fields:
            self.fields[0].take_focus()

    def hold(self, held: bool) -> None:
        """Let nothing be entered while `held`; all rows can still be looked at."""
        for part in (*self._sheets, *self.grids, self._add, self._remove):
            part.setEnabled(not held)

    def _has(self, path: str) -> bool:
        """Say whether the field of `path` belongs to this card, not to a like one elsewhere."""
        pattern = pattern_of(path)
        if pattern in (self.list_path, f"{self.list_path}.*"):
            return True
        lists = [grid_tail for grid_tail, _grid in self._grids]
        names = [field.spec.path for field in self.fields]
        tail = pattern.partition(".*.")[2]
        in_lists = any(tail == name or tail.startswith(f"{name}.") for name in lists)
        is_extra = self.extra is not None and tail.startswith(self.extra.tail)
        return pattern in names or in_lists or is_extra

    def _lay_out_head(self) -> None:
        self._add = Command(_(ADD_WORDS.get(self.list_path, ADD_ROW)), Glyph.ADD)
        self._add.clicked.connect(self.add_row)
        self._column.addLayout(HeadRow(Words(self._title, Size.HEADING), (self._add,)))
        self._column.addWidget(self._none)
        self._column.addWidget(self._tabs)
        self._column.addWidget(self._body)

    def _wanted_row(self, count: int) -> tuple[object, str]:
        """Return what is to be shown: which row of which job."""
        here = self._chosen.row(self.list_path, count)
        return self._bridge.editor, f"{self.list_path}.{here}"

    def _lay_out_body(self) -> Iterator[None]:
        sections = self._sections
        self._inner = QVBoxLayout(self._body)
        self._inner.setContentsMargins(0, 0, 0, 0)
        self._inner.setSpacing(3 * GRID)
        has_titles = len(sections) > 1 and sections[0].list_path == sections[1].list_path
        for section in sections:
            tail = section.list_path.partition(".*.")[2]
            if tail:
                remark = self._remark if tail == "readings" else None
                grid = RowGrid(self._bridge, section.fields, remark)
                self._grids.append((tail, grid))
                titled = QVBoxLayout()
                titled.setSpacing(GRID)
                titled.addWidget(Words(_(section.title), Size.STRONG))
                titled.addWidget(grid)
                self._inner.addLayout(titled)
            else:
                title = _(section.title) if has_titles or self._sheets else ""
                if title == self._title:
                    title = ""
                sheet = FieldSheet(self._bridge, section, title, is_part=True, in_pieces=True)
                sheet.setParent(self._body)
                self._sheets.append(sheet)
                yield from sheet.build()
                self._inner.addWidget(sheet)
            yield
        words = REMOVE_WORDS.get(self.list_path, REMOVE_ROW)
        self._remove = Command(_(words), Glyph.REMOVE)
        self._remove.clicked.connect(self.take_out)
        foot = QHBoxLayout()
        foot.addStretch(1)
        foot.addWidget(self._remove)
        self._column.addLayout(foot)

    def _bind(self, row_path: str) -> Iterator[None]:
        for sheet in self._sheets:
            sheet.bind(row_path)
            yield
        for tail, grid in self._grids:
            yield from grid.grow(f"{row_path}.{tail}")
        if self.extra is not None:
            self.extra.bind(row_path)

    def _tab_of(self, row_path: str) -> tuple[str, Glyph | None, str]:
        inside = f"{row_path}."
        found = (f for f in self._bridge.findings if f.path.startswith(inside))
        levels = [finding.level for finding in found if self._has(finding.path)]
        worst = next((level for level in levels if level in ("stop", "check")), None)
        glyph, word = level_of(worst) if worst else (None, "")
        return row_title(self._bridge, row_path), glyph, word

    def _pick(self, position: int) -> None:
        self._bridge.settle()
        self._chosen.pick(self.list_path, position)
        self.refresh()

    def take_out(self) -> None:
        """Remove the row shown."""
        count = self._bridge.row_count(self.list_path)
        self._bridge.remove_row(f"{self.list_path}.{self._chosen.row(self.list_path, count)}")
        self._add.setFocus()


class GridGroup(Card):
    """A card with all rows of a list that has only few fields, in one grid."""

    def __init__(self, bridge: Bridge, section: Section, kind: type[RowGrid] = RowGrid) -> None:
        super().__init__()
        column = QVBoxLayout(self)
        column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
        column.setSpacing(GRID)
        column.addWidget(Words(_(section.title), Size.HEADING))
        self._column = column
        self._above: list[RowExtra] = []
        self._grid = kind(bridge, section.fields)
        column.addWidget(self._grid)
        self._list_path = section.list_path

    def build(self) -> Iterator[None]:
        """Make the rows, a few in each piece."""
        return self._grid.grow(self._list_path)

    @property
    def fields(self) -> list[Field]:
        """No fields beside those of the grid."""
        return []

    @property
    def grids(self) -> list[RowGrid]:
        """The grid."""
        return [self._grid]

    def put_above(self, extra: RowExtra) -> None:
        """Put something between the heading and the grid that belongs to the list."""
        self._above.append(extra)
        self._column.insertWidget(len(self._above), extra)
        come_up(extra)
        extra.refresh()

    def refresh(self) -> None:
        """Show what the job holds."""
        for part in (*self._above, self._grid):
            part.refresh()

    def reveal(self, path: str) -> bool:
        """Put the cursor into the cell at `path`; say whether it is here."""
        return any(part.reveal(path) for part in (self._grid, *self._above))


class RowExtra(QWidget):
    """Something a row or section has beside its fields, such as pictures; `tail` is its list.

    One that depends neither on the row nor on the job leaves the methods as they are.
    """

    tail = ""

    def bind(self, row_path: str) -> None:
        """Show another row."""
        del row_path
        self.refresh()

    def refresh(self) -> None:
        """Show what the job holds."""

    def reveal(self, path: str) -> bool:
        """Put the cursor to `path`; say whether it is here."""
        del path
        return False


def fits_a_grid(sections: Sequence[Section]) -> bool:
    """Say whether the rows of a list are short enough to stand in a grid, without tabs."""
    return len(sections) == 1 and len(sections[0].fields) <= _MOST_IN_A_GRID


def groups_of(sections: Sequence[Section]) -> list[list[Section]]:
    """Return the sections of a page by card: those of one list together, plain ones alone."""
    groups: list[list[Section]] = []
    for outer, some in groupby(sections, key=lambda section: section.list_path.partition(".")[0]):
        if outer:
            groups.append(list(some))
        else:
            groups.extend([section] for section in some)
    return groups
