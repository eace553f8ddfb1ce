"""The form of one gauge or fan of the company."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.session.instruments.check_history import history_of
from deskapp.session.instruments.names import ring_name
from deskapp.session.instruments.register_editor import NOTES
from deskapp.session.pages import PAGES
from deskapp.ui.fields.chosen_fields import Choices
from deskapp.ui.fields.make import field_for
from deskapp.ui.form import FieldSheet
from deskapp.ui.glyphs import Glyph
from deskapp.ui.head_row import HeadRow
from deskapp.ui.instruments.check_plot import CheckPlot
from deskapp.ui.row_grid import RowGrid
from deskapp.ui.theme import GRID
from deskapp.ui.words import Card, Command, Size, Words

if TYPE_CHECKING:
    from deskapp.session.instruments.register_editor import RegisterEditor
    from deskapp.session.pages import Section
    from deskapp.ui.fields.field import Field
    from deskapp.ui.instruments.sheet_bridge import SheetBridge


def _section(list_path: str) -> Section:
    page = next(page for page in PAGES if page.id == "setup")
    return next(section for section in page.sections if section.list_path == list_path)


class InstrumentForm(Card):
    """The fields of one gauge or fan, its notes, and whether it is still in use.

    Signals: `fit_wanted` with the path of a ring, `check_wanted` with the path of a fan.
    """

    fit_wanted = Signal(str)
    check_wanted = Signal(str)

    def __init__(self, bridge: SheetBridge, editor: RegisterEditor, list_name: str) -> None:
        super().__init__()
        self.row_path = ""
        self._bridge = bridge
        self._editor = editor
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
        self._column.setSpacing(2 * GRID)
        self.title = Words("", Size.HEADING)
        self.retired_words = Words(
            _("Retired: kept with its history, not offered to jobs, not listed as due."),
            muted=True,
        )
        self._column.addWidget(self.title)
        self._column.addWidget(self.retired_words)
        self._sheet = FieldSheet(bridge, _section(list_name), "")
        self._column.addWidget(self._sheet)
        self._rings = RingPart(bridge, editor) if list_name == "fans" else None
        self._checks = CheckPart(editor) if list_name == "fans" else None
        if self._rings is not None and self._checks is not None:
            self._column.addWidget(self._rings)
            self._column.addWidget(self._checks)
            self._rings.fit_wanted.connect(self.fit_wanted)
            self._checks.check.clicked.connect(lambda: self.check_wanted.emit(self.row_path))
        self.notes = field_for(bridge, NOTES[f"{list_name}.*.notes"])
        self._column.addWidget(self.notes)
        self._column.addLayout(self._foot())
        self._column.addStretch(1)

    @property
    def fields(self) -> list[Field]:
        """The fields of the instrument itself."""
        return [*self._sheet.fields, self.notes]

    @property
    def rings(self) -> RingPart | None:
        """The part about rings, of a fan."""
        return self._rings

    @property
    def checks(self) -> CheckPart | None:
        """The part about field checks, of a fan."""
        return self._checks

    def bind(self, row_path: str) -> None:
        """Show another instrument."""
        self.row_path = row_path
        self._sheet.bind(row_path)
        self.notes.bind(f"{row_path}.notes")
        if self._rings is not None:
            self._rings.bind(row_path)
        self.refresh()

    def refresh(self) -> None:
        """Show what the register holds."""
        if not self._bridge.has(self.row_path):
            return
        retired = bool(self._bridge.value_at(f"{self.row_path}.retired"))
        self.title.setText(self._editor.name_of(self.row_path))
        self.retired_words.setVisible(retired)
        self.retire.setText(_("Put back into use") if retired else _("Retire"))
        self._sheet.refresh()
        self.notes.refresh()
        if self._rings is not None:
            self._rings.refresh()
        if self._checks is not None:
            self._checks.show_fan(self.row_path)

    def _foot(self) -> QHBoxLayout:
        self.retire = Command("")
        self.retire.clicked.connect(self._retire)
        self.remove = Command(_("Remove"), Glyph.REMOVE)
        self.remove.setToolTip(_("Takes the instrument out with its history; undo brings it back."))
        self.remove.clicked.connect(self._take_out)
        foot = QHBoxLayout()
        foot.setSpacing(GRID)
        foot.addStretch(1)
        for button in (self.retire, self.remove):
            button.setAutoDefault(False)
            foot.addWidget(button)
        return foot

    def _retire(self) -> None:
        self._bridge.settle()
        retired = bool(self._bridge.value_at(f"{self.row_path}.retired"))
        self._editor.retire(self.row_path, retired=not retired)

    def _take_out(self) -> None:
        self._bridge.remove_row(self.row_path)


class RingPart(QWidget):
    """The rings of a fan in a grid, and the way to fit one from its certificate.

    Signals: `fit_wanted` with the path of a ring.
    """

    fit_wanted = Signal(str)

    def __init__(self, bridge: SheetBridge, editor: RegisterEditor) -> None:
        super().__init__()
        self._bridge = bridge
        self._editor = editor
        self._path = ""
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(Words(_("Rings"), Size.HEADING))
        self.grid = RowGrid(bridge, _section("fans.*.rings").fields)
        column.addWidget(self.grid)
        self.choice = Choices(fits=True)
        self.choice.setAccessibleName(_("Ring to fit"))
        self.fit = Command(_("Fit from certificate pairs…"))
        self.fit.setAutoDefault(False)
        self.fit.clicked.connect(self._want_fit)
        words = Words(_("Coefficient and exponent of"))
        words.setBuddy(self.choice)
        column.addLayout(HeadRow(words, (self.choice, self.fit)))

    def bind(self, fan_path: str) -> None:
        """Show the rings of another fan."""
        self._path = f"{fan_path}.rings"
        self.choice.clear()
        self.grid.bind(self._path)

    def refresh(self) -> None:
        """Show what the register holds."""
        self.grid.refresh()
        rings = self._bridge.value_at(self._path) or ()
        formatter = self._editor.preferences.formatter
        held = max(self.choice.currentIndex(), 0)
        names = [ring_name(ring, at, formatter) for at, ring in enumerate(rings)]
        if names != [self.choice.itemText(at) for at in range(self.choice.count())]:
            self.choice.clear()
            self.choice.addItems(names)
            self.choice.setCurrentIndex(held if held < len(names) else len(names) - 1)
        self.fit.allow(bool(names), _("Add a ring first."))

    def _want_fit(self) -> None:
        self._bridge.settle()
        if self.choice.currentIndex() >= 0:
            self.fit_wanted.emit(f"{self._path}.{self.choice.currentIndex()}")


class CheckPart(QWidget):
    """The field checks of a fan over the years, and the way to a new one."""

    def __init__(self, editor: RegisterEditor) -> None:
        super().__init__()
        self._editor = editor
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        self.check = Command(_("New field check…"), Glyph.ADD)
        self.check.setAutoDefault(False)
        column.addLayout(HeadRow(Words(_("Field checks"), Size.HEADING), (self.check,)))
        self.plot = CheckPlot()
        column.addWidget(self.plot)
        self.words = Words().can_be_copied()
        column.addWidget(self.words)

    def show_fan(self, fan_path: str) -> None:
        """Show the checks of a fan."""
        formatter = self._editor.preferences.formatter
        history = history_of(self._editor.value_at(fan_path), formatter)
        self.plot.setVisible(bool(history.points))
        self.plot.show_history(history, formatter)
        self.words.setText(history.words)
