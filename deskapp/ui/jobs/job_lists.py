"""What the window shows of the other jobs: the list of all, and on the start page what is due."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from deskapp.i18n import _
from deskapp.session.job_line import JobLine, due_words, names_of
from deskapp.ui.jobs.job_reader import JobReader
from deskapp.ui.jobs.job_table import state_words

if TYPE_CHECKING:
    from deskapp.session.photo_index import PhotoIndex
    from deskapp.ui.desk import Desk
    from deskapp.ui.jobs.jobs_dialog import JobsDialog
    from deskapp.ui.jobs.reports_dialog import ReportsDialog
    from deskapp.ui.main_window import MainWindow

_MOST_DUE = 4


class JobLists(QObject):
    """Opens the list of jobs, and keeps the start page told.

    Signals: `picked` with the path of a job to open, `photos_known` with the index of the photos of
    all jobs. `photos` is the one known so far.
    """

    picked = Signal(str)
    photos_known = Signal(object)

    def __init__(self, window: MainWindow, desk: Desk) -> None:
        super().__init__(window)
        self._window = window
        self._desk = desk
        self._reader = JobReader(desk, self)
        self._reader.listed.connect(self._tell_start_page)
        self._reader.photos_known.connect(self._keep_photos)
        self.photos: PhotoIndex | None = None

    def refresh(self) -> None:
        """See what jobs there are now; a reading that somebody ended stays so."""
        self._reader.start(again=False)

    def show(self) -> JobsDialog:
        """Open the list of all jobs."""
        from deskapp.ui.jobs.jobs_dialog import JobsDialog

        dialog = JobsDialog(self._reader, self._desk.preferences, date.today(), self._window)
        dialog.picked.connect(self.picked)
        dialog.reports_wanted.connect(self.make_reports)
        start = self._window.start
        dialog.new_wanted.connect(start.new_wanted)
        dialog.open_wanted.connect(start.open_wanted)
        dialog.sample_wanted.connect(start.sample_wanted)
        dialog.open()
        self._reader.start()
        return dialog

    def make_reports(
        self, selected: tuple[JobLine, ...], listed: tuple[JobLine, ...]
    ) -> ReportsDialog:
        """Ask about the reports of several jobs, beside the window."""
        from deskapp.ui.jobs.reports_dialog import ReportsDialog

        dialog = ReportsDialog(self._desk, selected, listed, self._window)
        dialog.picked.connect(self.picked)
        dialog.recorded.connect(self.refresh)
        dialog.show()
        return dialog

    def end(self) -> None:
        """Begin nothing more: the window is closed."""
        from deskapp.ui.jobs.batch_run import BatchRun

        for run in self._window.findChildren(BatchRun):
            run.end()

    def _keep_photos(self, photos: PhotoIndex) -> None:
        self.photos = photos
        self.photos_known.emit(photos)

    def _tell_start_page(self, lines: tuple[JobLine, ...], _is_whole: bool) -> None:
        start = self._window.start
        if self._window.stack.currentWidget() is not start:
            return
        today, names = date.today(), names_of(lines)
        start.describe_recent(
            {
                str(Path(line.path)): f"{line.name} · {state_words(line)}"
                for line in lines
                if line.owner or line.number or line.title
            }
        )
        due = [
            (line.path, due_words(line, today), names[line.path])
            for line in sorted(lines, key=lambda line: (not line.dangers, not line.retests))
        ]
        told = [
            (path, _("{job}: {what}").format(job=name, what=what))
            for path, what, name in due
            if what
        ]
        more = len(told) - _MOST_DUE
        remark = _("and {n} more under All jobs").format(n=more) if more > 0 else ""
        start.show_due(told[:_MOST_DUE], remark)
