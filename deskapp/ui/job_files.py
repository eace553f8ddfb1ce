"""New, open, save, close: what happens to the job file, and the questions on the way."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTime, Signal

from deskapp.i18n import _
from deskapp.ui.dialogs.boxes import ask_to_save, tell
from deskapp.ui.dialogs.files import ask_job_to_open, ask_where_to_save

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtWidgets import QWidget

    from deskapp.session.editor import Editor
    from deskapp.ui.desk import Desk


class JobFiles(QObject):
    """Opens jobs and saves them.

    Signals: `opened` with an editor, `saved` with the words "Saved 14:05".
    """

    opened = Signal(object)
    saved = Signal(str)

    def __init__(self, window: QWidget, desk: Desk) -> None:
        super().__init__(window)
        self._window = window
        self._desk = desk
        self.editor: Editor | None = None

    def new_now(self) -> None:
        """Open a new job in place of the one at hand."""
        self.show(self._desk.new_job())

    def ask_what_to_open(self) -> None:
        """Ask for a job file and open it in place of the job at hand."""
        ask_job_to_open(self._window, self.open_now, self._desk.preferences.jobs_folder)

    def open_sample_now(self, sample_id: str = "") -> None:
        """Open a copy of a sample in place of the job at hand."""
        self._try_to_open(lambda: self._desk.open_sample(sample_id))

    def open_now(self, path: Path) -> None:
        """Open a job file in place of the job at hand."""
        self._try_to_open(lambda: self._desk.open_job(path))

    def save(self, then: Callable[[], object] | None = None) -> None:
        """Write the job into its file, or ask for one; go on with `then` once it is written."""
        if self.editor is None:
            return
        if self.editor.path is None:
            self.save_as(then)
        else:
            self._write(None, then)

    def save_as(self, then: Callable[[], object] | None = None) -> None:
        """Ask for a file and write the job into it; go on with `then` once it is written."""
        if self.editor is None:
            return
        folder = Path(self._desk.preferences.jobs_folder)
        proposed = self.editor.path or folder / f"{self._proposed_name(self.editor)}.ductjob"
        title = _("Save the job")

        def write(path: Path) -> None:
            self._write(path, then)

        ask_where_to_save(self._window, title, proposed, _("Jobs"), write)

    def leave(self, then: Callable[[], object]) -> None:
        """Go on with `then`, after asking once if there are unsaved changes."""
        if self.editor is None or not self.editor.is_dirty:
            then()
            return

        def discard() -> None:
            then()

        ask_to_save(self._window, job_name(self.editor), lambda: self.save(then), discard)

    def _try_to_open(self, open_it: Callable[[], Editor]) -> None:
        from deskapp.session.use_cases import JobFileProblem

        try:
            editor = open_it()
        except JobFileProblem as problem:
            tell(self._window, _("The job was not opened"), problem.text)
            return
        self.show(editor)

    def show(self, editor: Editor) -> None:
        """Put a job on screen in place of the one at hand."""
        self.editor = editor
        self.opened.emit(editor)

    def _write(self, path: Path | None, then: Callable[[], object] | None) -> None:
        from deskapp.session.use_cases import JobFileProblem

        if self.editor is None:
            return
        try:
            self._desk.save(self.editor, path)
        except JobFileProblem as problem:
            tell(self._window, _("The job is not saved yet"), problem.text)
            return
        now = QTime.currentTime().toString("HH:mm")
        self.saved.emit(_("Saved {time}").format(time=now))
        if then is not None:
            then()

    @staticmethod
    def _proposed_name(editor: Editor) -> str:
        kept = "".join(c if c.isalnum() or c in " -_" else "-" for c in job_name(editor))
        return kept.strip() or "job"


def job_name(editor: Editor) -> str:
    """Return what a job is called: its number and name, or that it is new."""
    job = editor.job
    parts = (part.strip() for part in (job.number, job.title))
    return " ".join(part for part in parts if part) or _("New job")
