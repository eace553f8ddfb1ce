"""Where live readings come from: training, a text log, a network address, a serial port."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFileDialog, QFormLayout, QHBoxLayout, QLineEdit, QWidget

from deskapp.domain.finding import Finding
from deskapp.i18n import N_, _
from deskapp.session.live.comma_lines import TITLE, CommaReader
from deskapp.session.live.reader import offered_readers, open_reader
from deskapp.session.live.sources import LineSource, from_file, from_serial, from_tcp, read_address
from deskapp.ui.fields.chosen_fields import Choices
from deskapp.ui.fields.plain_line import PlainLine
from deskapp.ui.tasks import Dispatcher, raise_here
from deskapp.ui.theme import GRID
from deskapp.ui.ticks import Tick
from deskapp.ui.words import Command

if TYPE_CHECKING:
    from collections.abc import Sequence

    from deskapp.session.live.columns import ColumnMapping
    from deskapp.session.live.reader import OfferedReader, Reader

_SPEEDS = ("1200", "2400", "4800", "9600", "19200", "38400", "57600", "115200")
_WEATHERS = {"calm": N_("Calm"), "breezy": N_("Breezy"), "gusty": N_("Gusty")}


class Way(StrEnum):
    """The kinds of source."""

    TRAINING = "training"
    TCP = "tcp"
    SERIAL = "serial"
    LOG = "log"


_WAYS = {
    Way.TRAINING: N_("Training (simulated ducts)"),
    Way.TCP: N_("Network (TCP)"),
    Way.SERIAL: N_("Serial port"),
    Way.LOG: N_("A text log that grows"),
}


class SourceForm(QWidget):
    """Asks for the source.

    Signals: `changed` when another answer was given.
    """

    changed = Signal()

    def __init__(self, weathers: Sequence[str]) -> None:
        super().__init__()
        self._port_words = ""
        self._form = QFormLayout(self)
        self._form.setContentsMargins(0, 0, 0, 0)
        self._form.setHorizontalSpacing(2 * GRID)
        self._form.setVerticalSpacing(GRID)
        self._form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapAllRows)
        self._form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.ExpandingFieldsGrow)
        self.way = Choices()
        for way, words in _WAYS.items():
            self.way.addItem(_(words), way)
        self.weather = Choices()
        for weather in weathers:
            self.weather.addItem(_(_WEATHERS.get(weather, weather)), weather)
        self.reader = Choices()
        self.reader.addItem(_(TITLE), None)
        self._listing = Dispatcher(N_("Looking for readers of other packages"), self)
        self._listing.done.connect(self._list_readers)
        self._listing.broken.connect(raise_here)
        self._listing.start(offered_readers)
        self.address = _line(_("host:port, such as 192.168.1.20:9000"))
        self.port = Choices()
        self.port.setEditable(True)
        self.speed = Choices()
        self.speed.addItems(_SPEEDS)
        self.speed.setCurrentText("9600")
        self.path = _line(_("The file a gauge or program writes"))
        self.look = Command(_("Look for it…"))
        self.look.setAutoDefault(False)
        self.look.clicked.connect(self._ask_for_log)
        self.follow = Tick(_("Go on as the file grows"))
        self.follow.setChecked(True)
        self._lay_out()
        self.way.currentIndexChanged.connect(self._show_rows)
        self.reader.currentIndexChanged.connect(self.changed)
        for line in (self.address, self.path):
            line.textChanged.connect(self.changed)
        self.port.editTextChanged.connect(self.changed)
        self._show_rows()

    @property
    def chosen(self) -> Way:
        """The kind of source chosen."""
        return Way(self.way.currentData())

    @property
    def lacks(self) -> str:
        """What is still to be told; empty once a source can be opened."""
        if self.chosen is Way.TCP and read_address(self.address.text()) is None:
            return _("Type host and port, such as 192.168.1.20:9000.")
        if self.chosen is Way.SERIAL and self._port_words:
            return self._port_words
        if self.chosen is Way.SERIAL and not self.port.currentText().strip():
            return _("Choose or type the name of the port.")
        if self.chosen is Way.LOG and not self.path.text().strip():
            return _("Choose the file that is written.")
        return ""

    def source(self) -> LineSource | None:
        """Return the source described, not yet started; None for training or while one lacks."""
        if self.lacks or self.chosen is Way.TRAINING:
            return None
        if self.chosen is Way.TCP:
            found = read_address(self.address.text())
            return None if found is None else from_tcp(*found)
        if self.chosen is Way.SERIAL:
            from deskapp.session.live.serial_wire import SerialSettings

            port = str(self.port.currentData() or self.port.currentText()).strip()
            return from_serial(SerialSettings(port, baud=int(self.speed.currentText())))
        return from_file(Path(self.path.text().strip()), follow=self.follow.isChecked())

    def _lay_out(self) -> None:
        log = QWidget()
        row = QHBoxLayout(log)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GRID)
        row.addWidget(self.path, 1)
        row.addWidget(self.look)
        self._rows: dict[Way, list[QWidget]] = {
            Way.TRAINING: [self.weather],
            Way.TCP: [self.address],
            Way.SERIAL: [self.port, self.speed],
            Way.LOG: [log, self.follow],
        }
        named: tuple[tuple[str, QWidget, QWidget], ...] = (
            (_("Readings come from"), self.way, self.way),
            (_("Weather"), self.weather, self.weather),
            (_("Address"), self.address, self.address),
            (_("Port"), self.port, self.port),
            (_("Speed (baud)"), self.speed, self.speed),
            (_("File"), log, self.path),
            ("", self.follow, self.follow),
            (_("Lines are read as"), self.reader, self.reader),
        )
        for label, widget, focus in named:
            self._form.addRow(label, widget)
            if label:
                focus.setAccessibleName(label)

    def new_reader(self, mapping: ColumnMapping | None) -> Reader | Finding:
        """Return a reader for a new stream; `mapping` names the columns of comma-separated lines.

        The finding says why a reader of another package cannot be used.
        """
        offer: OfferedReader | None = self.reader.currentData()
        if self.chosen is Way.TRAINING or offer is None:
            return CommaReader(None if self.chosen is Way.TRAINING else mapping)
        return open_reader(offer)

    @property
    def names_columns(self) -> bool:
        """Whether the lines are such whose columns somebody can name."""
        return self.chosen is not Way.TRAINING and self.reader.currentData() is None

    @property
    def is_listing(self) -> bool:
        """Whether readers of other packages are still being looked for."""
        return self._listing.is_busy

    def _list_readers(self, found: tuple[OfferedReader, ...] | Finding) -> None:
        """Offer the readers of other packages; tell why they cannot be listed."""
        if isinstance(found, Finding):
            self.reader.setToolTip(found.text)
            return
        for offer in found:
            title = f"{offer.title} ({offer.package})" if offer.package else offer.title
            self.reader.addItem(title, offer)

    def _show_rows(self) -> None:
        is_real = self.chosen is not Way.TRAINING
        self._form.setRowVisible(self.reader, is_real)
        for way, widgets in self._rows.items():
            for widget in widgets:
                self._form.setRowVisible(widget, way is self.chosen)
        if self.chosen is Way.SERIAL and self.port.count() == 0:
            self._list_ports()
        self.changed.emit()

    def _list_ports(self) -> None:
        from deskapp.session.live.serial_wire import serial_ports
        from deskapp.session.live.wires import WireTrouble

        try:
            found = serial_ports()
        except WireTrouble as trouble:
            self.port.setToolTip(trouble.text)
            self._port_words = trouble.text
            return
        for port in found:
            self.port.addItem(port.words, port.port)

    def _ask_for_log(self) -> None:
        from deskapp.ui.dialogs.files import ask_log

        def take(path: Path) -> None:
            self.path.setText(str(path))

        self._asked: QFileDialog = ask_log(self, take)


def _line(placeholder: str) -> QLineEdit:
    line = PlainLine()
    line.setPlaceholderText(placeholder)
    return line
