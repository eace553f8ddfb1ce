"""The reports of several jobs: asked for, made beside the window, and told in the end."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QStackedWidget, QWidget

from deskapp.i18n import _, ngettext
from deskapp.session.job_line import names_of
from deskapp.ui.dialogs.entry_dialog import EntryDialog, scrolled
from deskapp.ui.dialogs.room import give_room
from deskapp.ui.glyphs import Glyph
from deskapp.ui.jobs.batch_run import BatchRun
from deskapp.ui.jobs.outcome_list import OutcomeList
from deskapp.ui.jobs.reports_form import ReportsForm, open_folder
from deskapp.ui.levels import tell_stop
from deskapp.ui.marks import Notice
from deskapp.ui.progress import ProgressLine
from deskapp.ui.words import Command, Size, Words

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from deskapp.session.job_line import JobLine
    from deskapp.ui.desk import Desk


class ReportsDialog(EntryDialog):
    """Stays beside the window, which can be worked in meanwhile.

    Signals: `picked` with the path of a job to open; `recorded` once jobs hold records of issues.
    """

    picked = Signal(str)
    recorded = Signal()

    def __init__(
        self,
        desk: Desk,
        selected: Sequence[JobLine],
        listed: Sequence[JobLine],
        parent: QWidget | None,
    ) -> None:
        """Ask about the reports of `selected` jobs, or of all that are `listed`."""
        super().__init__(_("Reports of several jobs"), parent)
        self.setWindowModality(Qt.WindowModality.NonModal)
        self._desk, self._selected, self._listed = desk, tuple(selected), tuple(listed)
        self._open_folder: Callable[[Path], None] = open_folder
        self.run = BatchRun(self)
        self.run.made.connect(self._on_made)
        self.run.ended.connect(self._on_ended)
        self.run.broken.connect(self._on_broken)
        self.run.busy_changed.connect(self._allow)
        self.form = ReportsForm(len(selected), len(listed), desk.preferences, desk.key_owner())
        self.list = OutcomeList()
        self.list.picked.connect(self.picked)
        self.list.currentRowChanged.connect(self._allow)
        self.message = Notice(Size.BODY)
        words = _("Job {n} of {count}: {name}")
        self.progress = ProgressLine(self.run, words, partial(_count, desk))
        self.progress.cancel.setText(_("Stop"))
        self.progress.cancel.clicked.connect(self._say_stopping)
        self.middle = QStackedWidget()
        self.middle.addWidget(scrolled(self.form))
        self.middle.addWidget(self.list)
        self.column.addWidget(self.middle, 1)
        self.column.addWidget(self.message)
        self.column.addWidget(self.progress)
        self._lay_out_foot()
        give_room(self, 720, 700)
        self._allow()

    def make(self) -> None:
        """Make the reports, unless something is missing."""
        missing = self.form.missing()
        if missing is not None:
            part, text = missing
            tell_stop(self.message, text)
            part.setFocus()
            return
        wish = self.form.wish
        lines = self._selected if self.form.selected.isChecked() else self._listed
        jobs = tuple(Path(line.path) for line in lines)
        self._count, self._folder, self._is_issuing = len(jobs), wish.folder, wish.issued
        self.list.begin(names_of(lines))
        self.middle.setCurrentWidget(self.list)
        self.message.say(Glyph.PAPER, "", _("Making the reports. You can go on working meanwhile."))
        self.run.start(jobs, wish.folder, partial(self._desk.batch, wish))

    def reject(self) -> None:
        """Close; while reports are being made, stop that first, and stay to tell what was done."""
        if self.run.is_busy:
            self.progress.cancel.click()  # as if pressed; once it was, it is off
        else:
            super().reject()

    def _say_stopping(self) -> None:
        words = _("Stopping: the job at hand comes to its end, and no other is begun.")
        self.message.say(Glyph.PAPER, "", words)

    def _lay_out_foot(self) -> None:
        self.again = Command(_("Back"))
        self.again.clicked.connect(self._go_back)
        self.copy = Command(_("Copy the list"))
        self.copy.clicked.connect(lambda: QGuiApplication.clipboard().setText(self.list.as_text()))
        self.open_job = Command(_("Open the job"))
        self.open_job.clicked.connect(lambda: self.picked.emit(self.list.path))
        self.open_folder = Command(_("Open the folder"), Glyph.FOLDER)
        self.open_folder.clicked.connect(lambda: self._open_folder(self._folder))
        self.close_button = Command(_("Close"))
        self.close_button.clicked.connect(self.reject)
        self.make_button = Command(_("Make the reports"), main=True)
        self.make_button.clicked.connect(self.make)
        results = (self.again, self.copy, self.open_job, self.open_folder)
        self.foot(Words(), (*results, self.close_button, self.make_button))

    def _allow(self) -> None:
        asks, busy = self.middle.currentIndex() == 0, self.run.is_busy
        self.make_button.setVisible(asks)
        for part in (self.again, self.copy, self.open_job, self.open_folder):
            part.setVisible(not asks)
        self.again.setEnabled(not busy)
        self.open_job.setEnabled(bool(self.list.path))

    def _go_back(self) -> None:
        self.middle.setCurrentIndex(0)
        self.message.hide()
        self._allow()

    def _on_made(self, outcome: object) -> None:
        from deskapp.session.batch_papers import JobOutcome

        if isinstance(outcome, JobOutcome):
            self.list.add(outcome)

    def _on_ended(self, is_whole: bool) -> None:
        self.list.sort_out()
        made, lacking = self.list.made, self.list.lacking
        words = [ngettext("{n} report was made.", "{n} reports were made.", made).format(n=made)]
        if lacking:
            told = ngettext(
                "{n} job lacks something: it comes first.",
                "{n} jobs lack something: they come first.",
                lacking,
            )
            words.append(told.format(n=lacking))
        rest = self._count - len(self.list.outcomes)
        if not is_whole and rest:
            told = ngettext(
                "Stopped: {n} job was not begun.", "Stopped: {n} jobs were not begun.", rest
            )
            words.append(told.format(n=rest))
        glyph = Glyph.CHECK if lacking or not is_whole else Glyph.DONE
        self.message.say(glyph, "", " ".join(words))
        self._allow()
        if self._is_issuing and made:
            self.recorded.emit()

    def _on_broken(self, error: Exception) -> None:
        from deskapp.session.signing_key import SealProblem

        why = error.strerror if isinstance(error, OSError) else None
        self._go_back()
        tell_stop(self.message, str(why or error))
        if isinstance(error, SealProblem):
            self.form.passphrase.setFocus()
            self.form.passphrase.selectAll()
        elif isinstance(error, OSError):
            words = _("{path} cannot be used as a folder. {why}.")
            tell_stop(self.message, words.format(path=self._folder, why=why or error))
            self.form.folder.setFocus()


def _count(desk: Desk, number: int) -> str:
    return desk.preferences.formatter.number(number, 0)
