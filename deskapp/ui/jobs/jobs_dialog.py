"""All jobs: found by what one types, opened by Enter."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QDialog, QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.session.job_line import JobLine, matching
from deskapp.session.job_status import STATUS_WORDS, JobStatus
from deskapp.ui.dialogs.room import give_room
from deskapp.ui.fields.chosen_fields import Choices
from deskapp.ui.fields.plain_line import PlainLine
from deskapp.ui.glyphs import Glyph
from deskapp.ui.jobs.job_table import JobTable
from deskapp.ui.marks import Notice
from deskapp.ui.progress import ProgressLine
from deskapp.ui.theme import GRID
from deskapp.ui.words import Command, Size, Words

if TYPE_CHECKING:
    from datetime import date

    from deskapp.session.settings import Preferences
    from deskapp.ui.jobs.job_reader import JobReader
    from deskapp.units.display import Formatter

_TO_LIST = (Qt.Key.Key_Down, Qt.Key.Key_Up, Qt.Key.Key_PageDown, Qt.Key.Key_PageUp)


class JobsDialog(QDialog):
    """The jobs of the folder for jobs and those used last, with what is to be seen to.

    Several are selected with Shift, Ctrl or Ctrl+A.

    Signals: `picked` with the path of a job; `reports_wanted` with the lines selected and all
    listed; `new_wanted`, `open_wanted`, `sample_wanted`.
    """

    picked = Signal(str)
    reports_wanted = Signal(object, object)
    new_wanted = Signal()
    open_wanted = Signal()
    sample_wanted = Signal()

    def __init__(
        self,
        reader: JobReader,
        preferences: Preferences,
        today: date,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(_("Jobs"))
        self._lines: tuple[JobLine, ...] = ()
        self._is_whole = False
        self.search = PlainLine(name=_("Find a job"))
        self.search.setPlaceholderText(_("Type a number, name, address, owner or permit"))
        self.search.setClearButtonEnabled(True)
        self.status = Choices(fits=True)
        self.status.setAccessibleName(_("Status"))
        self.status.addItem(_("Every status"), None)
        for status, words in STATUS_WORDS.items():
            self.status.addItem(_(words).capitalize(), status.value)
        self.table = JobTable(today)
        self.counts = Words(size=Size.SMALL, muted=True)
        self.remark = Words()
        self.away = Notice(Size.BODY)
        self.open_one = Command(_("Open"), main=True)
        self.open_one.setDefault(True)
        self._reader = reader
        self._count = partial(_count, preferences.formatter)
        self._lay_out(str(preferences.jobs_path))
        self.search.textChanged.connect(self._narrow)
        self.status.currentIndexChanged.connect(self._narrow)
        self.table.marked.connect(self._describe)
        self.table.picked.connect(self._pick)
        self.table.typed.connect(self._type)
        self.open_one.clicked.connect(self.table.pick)
        reader.listed.connect(self._on_listed)
        reader.stopped.connect(self._tell_count)
        reader.busy_changed.connect(self._tell_count)
        give_room(self, 1040, 640)
        self.search.setFocus()
        self._narrow()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Let the arrow keys move in the list while one types."""
        if event.key() in _TO_LIST and self.search.hasFocus():
            self.table.keyPressEvent(event)
            return
        super().keyPressEvent(event)

    def _lay_out(self, folder: str) -> None:
        top = QHBoxLayout()
        top.setSpacing(GRID)
        top.addWidget(self.search, 1)
        top.addWidget(self.status)
        close = Command(_("Close"))
        close.setAutoDefault(False)
        close.clicked.connect(self.reject)
        words = _("Reading jobs, {n} of {count}")
        self.progress = ProgressLine(self._reader, words, self._count)
        self.progress.cancel.setText(_("Stop"))
        self.progress.cancel.setAutoDefault(False)
        self.read_on = Command(_("Read on"))
        self.read_on.setAutoDefault(False)
        self.read_on.clicked.connect(lambda: self._reader.start())
        foot = QHBoxLayout()
        foot.setSpacing(GRID)
        foot.addWidget(self.counts)
        foot.addWidget(self.progress, 1)
        foot.addWidget(self.read_on)
        foot.addStretch(1)
        self.reports = Command(_("Make reports…"), Glyph.PAPER)
        self.reports.setAutoDefault(False)
        self.reports.setToolTip(
            _("Of the jobs selected (with Shift, Ctrl or Ctrl+A) or all listed")
        )
        self.reports.clicked.connect(self._want_reports)
        foot.addWidget(self.reports)
        foot.addWidget(close)
        foot.addWidget(self.open_one)
        self.middle = QStackedWidget()
        self.middle.addWidget(self.table)
        self.middle.addWidget(self._empty(folder))
        column = QVBoxLayout(self)
        column.setContentsMargins(2 * GRID, 2 * GRID, 2 * GRID, 2 * GRID)
        column.setSpacing(12)
        column.addLayout(top)
        column.addWidget(self.middle, 1)
        column.addWidget(self.away)
        column.addWidget(self.remark)
        column.addLayout(foot)

    def _empty(self, folder: str) -> QWidget:
        page = QWidget()
        column = QVBoxLayout(page)
        column.setSpacing(GRID)
        column.addStretch(2)
        words = _("Jobs you save in {folder} are listed here, and those used last.")
        for told in (
            Words(_("No jobs yet"), Size.HEADING),
            Words(words.format(folder=folder), muted=True),
        ):
            told.setAlignment(Qt.AlignmentFlag.AlignHCenter)
            column.addWidget(told)
        line = QHBoxLayout()
        line.setSpacing(GRID)
        line.addStretch(1)
        self.ways: list[Command] = []
        for text, signal in (
            (_("New job"), self.new_wanted),
            (_("Open a job…"), self.open_wanted),
            (_("Open the sample"), self.sample_wanted),
        ):
            button = Command(text, main=not self.ways)
            button.clicked.connect(self.accept)
            button.clicked.connect(signal)
            self.ways.append(button)
            line.addWidget(button)
        line.addStretch(1)
        column.addLayout(line)
        column.addStretch(3)
        return page

    def _on_listed(self, lines: tuple[JobLine, ...], is_whole: bool) -> None:
        self._lines, self._is_whole = lines, is_whole
        self._tell_away()
        self._narrow()

    def _tell_away(self) -> None:
        away = self._reader.away
        self.away.setVisible(bool(away))
        if away:
            words = _("Not reachable now: {folders}. What is known of the jobs there is listed.")
            self.away.say(Glyph.CHECK, "", words.format(folders=", ".join(away)))

    def _narrow(self) -> None:
        value = self.status.currentData()
        status = JobStatus(value) if value else None
        self.table.show_lines(matching(self._lines, self.search.text(), status))
        self.middle.setCurrentIndex(1 if self._is_whole and not self._lines else 0)
        self._tell_count()

    def _tell_count(self) -> None:
        self.counts.setText(self._count_words(len(self.table.jobs.lines)))
        self.read_on.setVisible(self._reader.is_stopped)

    def _count_words(self, found: int) -> str:
        if self._reader.is_stopped:
            words = _("{found} of {all} jobs; of those not read yet only the name of the file")
            return words.format(found=self._count(found), all=self._count(len(self._lines)))
        if not self._is_whole:
            return _("{found} jobs so far").format(found=self._count(found))
        if self._lines and not found:
            return _("No job holds these words.")
        if not self._lines:
            return ""
        words = _("{found} of {all} jobs")
        return words.format(found=self._count(found), all=self._count(len(self._lines)))

    def _describe(self, line: JobLine | None) -> None:
        self.reports.setEnabled(bool(self.table.jobs.lines))
        why = _("Choose a job in the list first.") if line is None else line.problem
        self.open_one.allow(line is not None and not line.problem, why)
        self.remark.setText("" if line is None else line.problem)
        self.remark.setVisible(line is not None and bool(line.problem))

    def _type(self, text: str) -> None:
        self.search.setFocus()
        self.search.insert(text)

    def _want_reports(self) -> None:
        self.accept()
        self.reports_wanted.emit(self.table.selected, tuple(self.table.jobs.lines))

    def _pick(self, path: str) -> None:
        self.accept()
        self.picked.emit(path)


def _count(formatter: Formatter, number: int) -> str:
    return formatter.number(number, 0)
