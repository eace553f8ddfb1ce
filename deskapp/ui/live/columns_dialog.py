"""While lines arrive: which column of them holds what."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from deskapp.i18n import _
from deskapp.ui.dialogs.entry_dialog import EntryDialog
from deskapp.ui.dialogs.room import give_room
from deskapp.ui.glyphs import Glyph
from deskapp.ui.live.column_picker import ColumnPicker
from deskapp.ui.marks import Notice
from deskapp.ui.words import Command, Words

if TYPE_CHECKING:
    from deskapp.session.live.columns import ColumnMapping
    from deskapp.session.live.import_log import TextLog
    from deskapp.units.display import Formatter


class ColumnsDialog(EntryDialog):
    """Lets the columns of the first lines that came be named.

    Signals: `named` with the mapping.
    """

    named = Signal(object)

    def __init__(
        self,
        log: TextLog,
        formatter: Formatter,
        parent: QWidget | None,
        *,
        mapping: ColumnMapping | None = None,
    ) -> None:
        """Begin with `mapping` where it fits the lines, else with what their header suggests."""
        super().__init__(_("Columns of the lines"), parent)
        self._mapping: ColumnMapping | None = None
        self.picker = ColumnPicker(log, formatter, mapping)
        self.remark = Notice()
        self.take = Command(_("Read by these columns"), main=True)
        self.column.addWidget(self.picker, 1)
        self.column.addWidget(self.remark)
        cancel = Command(_("Cancel"))
        cancel.clicked.connect(self.reject)
        words = _("The columns are remembered for the gauge of this test, by its serial number.")
        self.foot(Words(words, muted=True), (cancel, self.take))
        self.picker.changed.connect(self.refresh)
        self.picker.refused.connect(self._warn)
        self.take.clicked.connect(self._take)
        self.refresh()
        give_room(self, 820, 560)

    def refresh(self) -> None:
        """Tell what the columns chosen lack."""
        found = self.picker.mapping()
        why = found if isinstance(found, str) else ""
        self._mapping = None if isinstance(found, str) else found
        self._warn(why)
        self.take.allow(not why, why)

    def _warn(self, text: str) -> None:
        if text:
            self.remark.say(Glyph.CHECK, "", text)
        else:
            self.remark.hide()

    def _take(self) -> None:
        if self._mapping is not None:
            self.accept()
            self.named.emit(self._mapping)
