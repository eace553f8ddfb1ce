"""Choosing which of the company's instruments a job takes a copy of."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QListWidget, QListWidgetItem, QWidget

from deskapp.domain.register import InstrumentKind
from deskapp.i18n import _
from deskapp.session.instruments.due import due
from deskapp.ui.dialogs.entry_dialog import EntryDialog
from deskapp.ui.dialogs.room import give_room
from deskapp.ui.list_style import give_air
from deskapp.ui.words import Command, Words

if TYPE_CHECKING:
    from datetime import date

    from deskapp.domain.register import InstrumentRegister
    from deskapp.session.instruments.due import DueItem
    from deskapp.units.display import Formatter

_KEY = Qt.ItemDataRole.UserRole
_ANY_DAY = 400_000


class TakeDialog(EntryDialog):
    """The instruments in use, to tick.

    Signals: `taken` with a list of kind and key of those ticked.
    """

    taken = Signal(list)

    def __init__(
        self,
        register: InstrumentRegister,
        formatter: Formatter,
        today: date,
        parent: QWidget | None,
    ) -> None:
        """Offer what `register` holds; due days are counted from `today`."""
        super().__init__(_("Take from your instruments"), parent)
        self.list = QListWidget()
        self.list.setAccessibleName(_("Your instruments"))
        give_air(self.list)
        self.list.setSpacing(2)
        found = due(register, today, _ANY_DAY)
        items = sorted((*found.overdue, *found.soon, *found.undated), key=_place)
        height = 2 * self.fontMetrics().height() + 12
        for one in items:
            item = QListWidgetItem(f"{one.name}\n{one.words(formatter)}")
            item.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsUserCheckable)
            item.setFlags(item.flags() | Qt.ItemFlag.ItemIsSelectable)
            item.setCheckState(Qt.CheckState.Unchecked)
            item.setData(_KEY, (one.kind.value, one.key))
            item.setSizeHint(QSize(0, height))
            self.list.addItem(item)
        words = _(
            "The job gets a copy of its own. Later changes of your instruments do not reach it, "
            "unless you ask for an update there."
        )
        if not items:
            words = _(
                "No instrument in use yet. Add gauges and fans under Company, Your instruments."
            )
        self.column.addWidget(Words(words, muted=True))
        self.column.addWidget(self.list, 1)
        self.list.setVisible(bool(items))
        cancel = Command(_("Cancel"))
        cancel.clicked.connect(self.reject)
        self.take = Command(_("Copy into the job"), main=True)
        self.take.clicked.connect(self._take)
        self.foot(Words(), (cancel, self.take))
        self.list.itemChanged.connect(self._allow)
        self._allow()
        give_room(self, 560, 440)

    @property
    def ticked(self) -> list[tuple[InstrumentKind, str]]:
        """Kind and key of the instruments ticked."""
        found: list[tuple[InstrumentKind, str]] = []
        for at in range(self.list.count()):
            item = self.list.item(at)
            if item.checkState() is Qt.CheckState.Checked:
                kind, key = item.data(_KEY)
                found.append((InstrumentKind(kind), str(key)))
        return found

    def _allow(self) -> None:
        self.take.allow(bool(self.ticked), _("Tick an instrument first."))

    def _take(self) -> None:
        if self.ticked:
            self.taken.emit(self.ticked)
            self.accept()


def _place(item: DueItem) -> tuple[bool, int]:
    """Return what puts gauges before fans, each in the order of the register."""
    return item.kind is InstrumentKind.FAN, int(item.path.rpartition(".")[2])
