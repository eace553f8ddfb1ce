"""The company's gauges and fans: list, form, undo; kept after each change."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.ui.dialogs.entry_dialog import EntryDialog, scrolled
from deskapp.ui.dialogs.room import give_room
from deskapp.ui.glyphs import Glyph
from deskapp.ui.instruments.instrument_form import InstrumentForm
from deskapp.ui.instruments.instrument_list import InstrumentList
from deskapp.ui.instruments.sheet_bridge import SheetBridge
from deskapp.ui.levels import level_of
from deskapp.ui.marks import Notice
from deskapp.ui.row_tabs import WrappingRow
from deskapp.ui.theme import GRID
from deskapp.ui.words import Command, Size, Words

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import date

    from deskapp.session.instruments.ring_fit import RingFitting
    from deskapp.session.settings import Preferences
    from deskapp.ui.cabinet import Cabinet

KEEPING_PAUSE = 700


class InstrumentsDialog(EntryDialog):
    """Lists what the company measures with and lets it be edited."""

    def __init__(
        self, cabinet: Cabinet, preferences: Preferences, today: date, parent: QWidget | None
    ) -> None:
        """Show the register of `cabinet`; due days are counted from `today`."""
        super().__init__(_("Your instruments"), parent)
        self._cabinet = cabinet
        self._today = today
        self.editor = cabinet.editor(preferences)
        self.bridge = SheetBridge(self.editor, self)
        self.list = InstrumentList(self.editor, today)
        self._forms: dict[str, InstrumentForm] = {}
        self._areas: dict[str, QWidget] = {}
        self._stack = QStackedWidget()
        self._none = Words(
            _(
                "Nothing here yet. Add the gauges and fans of your company once; each job then "
                "takes a copy, and later changes here never alter an old job."
            ),
            muted=True,
        )
        self._none.setAlignment(Qt.AlignmentFlag.AlignTop)
        self._stack.addWidget(self._none)
        self.damage = Notice(Size.BODY)
        self.remark = Notice()
        self._keeping = QTimer(self)
        self._keeping.setSingleShot(True)
        self._keeping.setInterval(KEEPING_PAUSE)
        self._keeping.timeout.connect(self.keep)
        self._lay_out()
        self._add_keys()
        self.bridge.changed.connect(self.refresh)
        self.list.marked.connect(self._show)
        self._tell_of_damage()
        self.fill_in_turns(self._begin())
        give_room(self, 1120, 720)

    @property
    def form(self) -> InstrumentForm | None:
        """The form on screen; None while there is no instrument."""
        self.complete()
        return self._forms.get(self.list.marked_path.partition(".")[0])

    def _begin(self) -> Iterator[None]:
        """Show the first instrument once the dialog stands there."""
        path = self.list.marked_path
        yield
        self.bridge.findings_at(path)
        yield
        self._make_form(path.partition(".")[0])
        yield
        self._show(self.list.marked_path)
        yield
        self.refresh()

    def refresh(self) -> None:
        """Show what the register holds, and keep it soon."""
        self.list.refresh()
        form = self.form
        if form is None:
            self._stack.setCurrentWidget(self._none)
        elif form.row_path != self.list.marked_path:
            self._show(self.list.marked_path)
        else:
            form.refresh()
        for button, label, none in (
            (self.undo, self.editor.undo_label, _("There is nothing to undo.")),
            (self.redo, self.editor.redo_label, _("There is nothing to redo.")),
        ):
            button.allow(bool(label), none)
            if label:
                button.setToolTip(label)
        if self.editor.is_dirty:
            self._keeping.start()

    def keep(self) -> None:
        """Write changes into the file now."""
        self._keeping.stop()
        finding = self._cabinet.keep()
        if finding is not None:
            self.remark.say(*level_of(finding.level), finding.text)
        else:
            self.remark.hide()

    def done(self, result: int, /) -> None:
        """Take typed text over and keep it before the dialog closes."""
        self.bridge.settle()
        self.keep()
        super().done(result)

    def add(self, list_name: str) -> None:
        """Add a gauge (``gauges``) or fan (``fans``) and put the cursor into its first field."""
        path = self.bridge.add_row(list_name)
        self.list.mark(path)
        if self.form is not None:
            self.form.fields[0].take_focus()

    def fit_ring(self, ring_path: str) -> None:
        """Fit coefficient and exponent of a ring from the pairs on its certificate."""
        from deskapp.session.instruments.names import ring_name
        from deskapp.session.instruments.ring_fit import pairs_of
        from deskapp.ui.instruments.ring_dialog import RingDialog

        ring = self.editor.value_at(ring_path)
        preferences = self.editor.preferences
        name = ring_name(ring, int(ring_path.rpartition(".")[2]), preferences.formatter)

        def fill(fitting: RingFitting) -> None:
            self.editor.fill_ring(ring_path, fitting)

        dialog = RingDialog(name, pairs_of(ring, preferences), preferences, self)
        dialog.filled.connect(fill)
        dialog.open()

    def check_fan(self, fan_path: str) -> None:
        """Fill in a field check of a fan."""
        from deskapp.ui.instruments.check_dialog import FieldCheckDialog

        self.bridge.settle()
        dialog = FieldCheckDialog(self.editor, fan_path, self._today, self)
        dialog.open()

    def _lay_out(self) -> None:
        left = QVBoxLayout()
        left.setSpacing(GRID)
        adds = WrappingRow()
        self.add_gauge = Command(_("Add a gauge"), Glyph.ADD)
        self.add_gauge.clicked.connect(lambda: self.add("gauges"))
        self.add_fan = Command(_("Add a fan"), Glyph.ADD)
        self.add_fan.clicked.connect(lambda: self.add("fans"))
        for button in (self.add_gauge, self.add_fan):
            button.setAutoDefault(False)
            adds.addWidget(button)
        left.addLayout(adds)
        left.addWidget(self.list, 1)
        halves = QHBoxLayout()
        halves.setSpacing(2 * GRID)
        halves.addLayout(left, 2)
        halves.addWidget(self._stack, 5)
        self.column.addWidget(self.damage)
        self.column.addLayout(halves, 1)
        self.undo = Command(_("Undo"))
        self.undo.clicked.connect(self.bridge.undo)
        self.redo = Command(_("Redo"))
        self.redo.clicked.connect(self.bridge.redo)
        close = Command(_("Close"), main=True)
        close.clicked.connect(self.accept)
        self.foot(self.remark, (self.undo, self.redo, close))

    def _add_keys(self) -> None:
        for keys, act in (
            (QKeySequence.StandardKey.Undo, self.bridge.undo),
            (QKeySequence.StandardKey.Redo, self.bridge.redo),
        ):
            QShortcut(QKeySequence(keys), self).activated.connect(act)

    def _make_form(self, name: str) -> None:
        if name and name not in self._forms:
            form = InstrumentForm(self.bridge, self.editor, name)
            form.fit_wanted.connect(self.fit_ring)
            form.check_wanted.connect(self.check_fan)
            self._forms[name] = form
            self._areas[name] = scrolled(form)
            self._stack.addWidget(self._areas[name])

    def _show(self, path: str) -> None:
        self.bridge.settle()
        if not path:
            self._stack.setCurrentWidget(self._none)
            return
        name = path.partition(".")[0]
        self._make_form(name)
        self._forms[name].bind(path)
        self._stack.setCurrentWidget(self._areas[name])

    def _tell_of_damage(self) -> None:
        for finding in self._cabinet.findings[:1]:
            self.damage.say(*level_of(finding.level), finding.text)
