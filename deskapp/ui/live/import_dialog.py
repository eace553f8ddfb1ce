"""Which column of a log holds what: choices, a look at the first rows, and the readings made."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from deskapp.i18n import N_, _
from deskapp.session.live.log_readings import LogReadings, LogWish, readings_of_log
from deskapp.ui.building import InTurns
from deskapp.ui.dialogs.entry_dialog import EntryDialog
from deskapp.ui.dialogs.room import give_room
from deskapp.ui.glyphs import Glyph
from deskapp.ui.live.column_picker import ColumnPicker
from deskapp.ui.marks import Notice
from deskapp.ui.tasks import Dispatcher, raise_here
from deskapp.ui.ticks import Tick
from deskapp.ui.words import Command, Size, Words

if TYPE_CHECKING:
    from collections.abc import Iterator

    from deskapp.session.live.columns import ColumnMapping
    from deskapp.session.live.import_log import TextLog
    from deskapp.session.live.rules import LiveRules
    from deskapp.session.settings import Preferences


class ImportDialog(EntryDialog):
    """Lets the columns be named and shows what comes of it.

    Signals: `taken` with the readings, each a dict of texts by field name, and the mapping used.
    """

    taken = Signal(list, object)

    def __init__(
        self,
        log: TextLog,
        preferences: Preferences,
        rules: LiveRules,
        averaging_time: float,
        parent: QWidget | None,
        *,
        mapping: ColumnMapping | None = None,
    ) -> None:
        """Begin with `mapping` where it fits the log, else with what the header words suggest."""
        super().__init__(_("Import {file}").format(file=log.name), parent)
        self._preferences, self._rules, self._averaging = preferences, rules, averaging_time
        self._reader = Dispatcher(N_("Making readings of a log"), self)
        self._reader.done.connect(self._show_read)
        self._reader.broken.connect(raise_here)
        self._wish: LogWish | None = None
        self.mapping: ColumnMapping | None = None
        self.readings: list[dict[str, str]] = []
        self.picker = ColumnPicker(log, preferences.formatter, mapping)
        self.columns, self.units = self.picker.columns, self.picker.units
        self.average = Tick(_("This is a recording: average its steady stretches"))
        self.average.setChecked(log.is_recording)
        self.remark = Notice()
        self.outcome = Words(size=Size.STRONG)
        self.take = Command(_("Import"), main=True)
        self._lay_out()
        self.picker.changed.connect(self.refresh)
        self.picker.refused.connect(self._warn)
        self.average.toggled.connect(self.refresh)
        self.take.clicked.connect(self._take)
        self._begun = InTurns(self, self._begin())
        give_room(self, 940, 640)

    def _begin(self) -> Iterator[None]:
        """Read the log once the dialog stands there."""
        yield
        self.refresh()

    @property
    def is_reading(self) -> bool:
        """Whether the log is being read with the columns as chosen."""
        return self._reader.is_busy or not self._begun.is_over

    def refresh(self) -> None:
        """Read the log with the columns as chosen."""
        self.mapping, self.readings = None, []
        self.remark.hide()
        self.outcome.setText("")
        found = self.picker.mapping()
        if isinstance(found, str):
            self._warn(found)
        else:
            self.mapping = found
            self._read(found)
        self._allow()

    def _read(self, mapping: ColumnMapping) -> None:
        averaging = self._averaging if self.average.isChecked() else None
        wish = LogWish(self.picker.log, mapping, self._preferences, self._rules, averaging)
        self._wish = wish
        self.outcome.setText(_("Reading the rows…"))
        self._reader.start(lambda: (wish, readings_of_log(wish)))

    def _show_read(self, read: tuple[LogWish, LogReadings]) -> None:
        """Show what came of the log, unless the columns were chosen anew meanwhile."""
        wish, made = read
        if self.mapping is None or wish is not self._wish:
            return
        self.readings = made.readings
        self.outcome.setText(made.outcome if made.readings else "")
        self._warn(made.remark)
        self._allow()

    def _allow(self) -> None:
        self.take.allow(bool(self.readings), _("No reading comes of these columns yet."))

    def _warn(self, text: str) -> None:
        if text:
            self.remark.say(Glyph.CHECK, "", text)
        else:
            self.remark.hide()

    def _take(self) -> None:
        if self.readings and self.mapping is not None:
            self.taken.emit(self.readings, self.mapping)
            self.accept()

    def _lay_out(self) -> None:
        self.column.addWidget(self.picker, 1)
        self.column.addWidget(self.average)
        self.column.addWidget(self.outcome)
        self.column.addWidget(self.remark)
        cancel = Command(_("Cancel"))
        cancel.clicked.connect(self.reject)
        words = _("The columns are remembered for the gauge of this test, by its serial number.")
        self.foot(Words(words, muted=True), (cancel, self.take))
