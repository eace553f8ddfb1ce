"""On the page of readings: the ways in for readings that nobody types."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QVBoxLayout

from deskapp.domain.finding import Finding
from deskapp.i18n import N_, _, language, ngettext
from deskapp.session.live.import_log import open_log
from deskapp.session.live.mapping_memory import recall, remember
from deskapp.session.live.placing import place_readings
from deskapp.session.live.plan_of_test import plan_of_test
from deskapp.ui.dialogs.files import ask_log
from deskapp.ui.head_row import LEAST_BESIDE, HeadRow, titled
from deskapp.ui.live.import_dialog import ImportDialog
from deskapp.ui.live.kit import load_kit
from deskapp.ui.live.live_dialog import LiveDialog
from deskapp.ui.tasks import Dispatcher, raise_here
from deskapp.ui.theme import GRID
from deskapp.ui.words import Card, Command, Words

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from deskapp.session.live.columns import ColumnMapping
    from deskapp.session.live.import_log import TextLog
    from deskapp.session.live.watch import Plan
    from deskapp.ui.bridge import Bridge
    from deskapp.ui.form import Chosen
    from deskapp.ui.live.kit import LiveKit


class GaugeCard(Card):
    """Reads live or from a file into the test shown below."""

    def __init__(self, bridge: Bridge, chosen: Chosen, folder: Path) -> None:
        """Keep in `folder` which columns a gauge writes."""
        super().__init__()
        self._bridge = bridge
        self._chosen = chosen
        self._folder = folder
        column = QVBoxLayout(self)
        column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
        column.setSpacing(GRID)
        self.file = Command(_("Import from a file…"))
        self.file.clicked.connect(self.ask_for_log)
        self.live = Command(_("Read live…"))
        self.live.clicked.connect(self.read_live)
        title = titled(
            _("From a gauge"), _("Instead of typing: readings from its log, or while it measures.")
        )
        column.addLayout(HeadRow(title, (self.file, self.live), least=LEAST_BESIDE))
        self._known_kit: tuple[str, LiveKit] | None = None
        self._reader = Dispatcher(N_("Reading a log"), self)
        self._reader.done.connect(self._show_log)
        self._reader.broken.connect(raise_here)
        self._remark = Words(muted=True)
        column.addWidget(self._remark)
        self._say("")

    @property
    def is_reading(self) -> bool:
        """Whether a log is being read."""
        return self._reader.is_busy

    @property
    def remark(self) -> str:
        """What was said about the last import."""
        return self._remark.text()

    def refresh(self) -> None:
        """Allow readings only where there is a test."""
        has_test = self._bridge.row_count("tests") > 0
        for button in (self.file, self.live):
            button.allow(has_test, _("Add a test first."))

    def reveal(self, path: str) -> bool:
        """Say that no field is here."""
        return bool(path) and False

    def read_live(self) -> None:
        """Open the dialog for live readings."""
        kit = self._kit()
        if kit is None:
            return
        position = self._position
        list_path = f"tests.{position}.readings"

        def plan(is_baseline: bool) -> Plan:
            return self._plan(position, for_baseline=is_baseline)

        def use_baseline(text: str) -> None:
            self._bridge.enter(f"tests.{position}.baseline_before", text)

        def use(texts: dict[str, str]) -> None:
            place_readings(self._bridge.editor, list_path, [texts], self._first_empty(list_path))

        mapping = self._recalled()
        formatter = self._bridge.formatter
        dialog = LiveDialog(kit, plan, formatter, self.window(), mapping=mapping)
        dialog.used.connect(use)
        dialog.columns_named.connect(self._remember_for(self._serial))
        dialog.baseline_used.connect(use_baseline)
        dialog.open()

    def ask_for_log(self) -> None:
        """Ask for a log to import."""
        self._bridge.settle()
        ask_log(self.window(), self.import_log)

    def import_log(self, path: Path) -> None:
        """Import the log at `path` into the test shown, as soon as it is read."""
        self._say(_("Reading {file}…").format(file=path.name))
        self._reader.start(lambda: open_log(path))

    def _show_log(self, log: TextLog | Finding) -> None:
        """Ask which columns of a log hold what; say why where it is none."""
        if isinstance(log, Finding):
            self._say(log.text)
            return
        kit = self._kit()
        if kit is None or self._position < 0:
            return
        list_path, serial = f"tests.{self._position}.readings", self._serial
        dialog = ImportDialog(
            log,
            self._bridge.preferences,
            kit.rules,
            self._plan(self._position).averaging_time,
            self.window(),
            mapping=self._recalled(),
        )

        def take(readings: list[dict[str, str]], mapping: ColumnMapping) -> None:
            first = self._first_empty(list_path)
            place_readings(self._bridge.editor, list_path, readings, first)
            said = ngettext(
                "{n} reading was taken from {file}.",
                "{n} readings were taken from {file}.",
                len(readings),
            ).format(n=len(readings), file=log.name)
            finding = remember(self._folder, serial, mapping)
            self._say(said if finding is None else f"{said} {finding.text}")

        dialog.taken.connect(take)
        QTimer.singleShot(0, dialog, dialog.open)

    @property
    def _position(self) -> int:
        return self._chosen.row("tests", self._bridge.row_count("tests"))

    @property
    def _serial(self) -> str:
        """The serial number of the gauge of the test shown; of the only gauge without a choice."""
        gauges = self._bridge.editor.job.gauges
        key = self._bridge.value_at(f"tests.{self._position}.setup.gauge")
        if not key and len(gauges) == 1:
            return gauges[0].serial
        return next((gauge.serial for gauge in gauges if gauge.key == key), "")

    def _plan(self, position: int, *, for_baseline: bool = False) -> Plan:
        self._bridge.settle()
        job, formatter = self._bridge.editor.job, self._bridge.formatter
        return plan_of_test(job, position, formatter, for_baseline=for_baseline)

    def _recalled(self) -> ColumnMapping | None:
        mapping, finding = recall(self._folder, self._serial)
        self._say("" if finding is None else finding.text)
        return mapping

    def _remember_for(self, serial: str) -> Callable[[ColumnMapping], None]:
        def keep(mapping: ColumnMapping) -> None:
            finding = remember(self._folder, serial, mapping)
            self._say("" if finding is None else finding.text)

        return keep

    def _kit(self) -> LiveKit | None:
        """Return what live readings are made with, read once for the language spoken."""
        self._bridge.settle()
        known = self._known_kit
        if known is not None and known[0] == language():
            return known[1]
        kit = load_kit()
        if isinstance(kit, Finding):
            self._say(kit.text)
            return None
        self._known_kit = (language(), kit)
        return kit

    def _first_empty(self, list_path: str) -> int:
        """Return the first reading of the empty ones at the end; one below the last if none is."""
        readings = self._bridge.value_at(list_path) or ()
        empty = type(readings[0])() if readings else None
        filled = [at for at, reading in enumerate(readings, 1) if reading != empty]
        return max(filled, default=0)

    def _say(self, text: str) -> None:
        self._remark.setText(text)
        self._remark.setVisible(bool(text))
