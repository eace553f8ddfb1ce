"""New, open, save, close: what happens to the job file, and the questions on the way."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from deskapp.i18n import _
from deskapp.ui.autosaver import Autosaver
from deskapp.ui.dialogs.boxes import ask_about, ask_to_save, tell
from deskapp.ui.dialogs.files import ask_job_to_open
from deskapp.ui.job_opener import JobOpener
from deskapp.ui.job_saver import JobSaver, job_name

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtWidgets import QMessageBox, QWidget

    from deskapp.domain.job import Job
    from deskapp.session.editor import Editor
    from deskapp.session.holding import InUse
    from deskapp.session.long_work import LongWork
    from deskapp.session.opening import Opened
    from deskapp.session.recovery import RecoveryCopy, RecoveryOffer
    from deskapp.ui.desk import Desk


class JobFiles(QObject):
    """Opens jobs and saves them; a job file is read and written in another thread.

    Signals: `leaving` when typed text is to be taken now, since the job may be closed; `opened`
    with an editor, `saved` with the time of day, `not_saved` with what says why not, and what
    can be done, `not_copied` with why there is no recovery copy, `copied`.
    """

    leaving = Signal()
    opened = Signal(object)
    saved = Signal(str)
    not_saved = Signal(object, object)
    not_copied = Signal(object)
    copied = Signal()

    def __init__(self, window: QWidget, desk: Desk) -> None:
        super().__init__(window)
        self._window = window
        self._desk = desk
        self.editor: Editor | None = None
        self._autosaver = Autosaver(desk.recovery_folder, self)
        self._autosaver.failed.connect(self.not_copied)
        self._autosaver.worked.connect(self.copied)
        saver = JobSaver(window, desk, self.leave)
        saver.saved.connect(self.saved)
        saver.not_saved.connect(self.not_saved)
        self._saver = saver
        self.save, self.save_as = saver.save, saver.save_as
        self.saving = saver.saving
        self.progress_line = saver.line
        self._question: QMessageBox | None = None
        self._at_door: Opened | None = None
        self._opener = JobOpener(self)
        self.reading = self._opener.reading
        self.reading_line = self._opener.line

    @property
    def has_unsaved(self) -> bool:
        """Whether the job at hand has unsaved changes, or is being written."""
        return self.saving.is_busy or (self.editor is not None and self.editor.is_dirty)

    def copy_now(self) -> bool:
        """Write a recovery copy at once; say whether all changes are in one now."""
        return self._autosaver.write_now()

    def new_now(self) -> None:
        """Open a new job in place of the one at hand."""
        self._opener.end()
        self.show(self._desk.new_job())

    def ask_what_to_open(self) -> None:
        """Ask for a job file and open it in place of the job at hand."""
        ask_job_to_open(self._window, self.open_now, str(self._desk.preferences.jobs_path))

    def open_sample(self, sample_id: str = "", then: Callable[[], object] | None = None) -> None:
        """Open a copy of a sample in place of the job at hand, and go on with `then`.

        As with any job it is read first, then unsaved changes are asked about.
        """
        from deskapp.session.opening import JobFileProblem

        self._opener.end()
        try:
            editor = self._desk.open_sample(sample_id)
        except JobFileProblem as problem:
            tell(self._window, _("The job was not opened"), problem.text)
            return

        def take() -> None:
            self.show(editor)
            if then is not None:
                then()

        self.leave(take)

    def open_now(self, path: Path, *, asked: bool = False) -> None:
        """Open a job file in place of the job at hand.

        It is read first, as one that cannot be read takes no place; then unsaved changes are asked
        about, unless that was `asked` before. The file of the job at hand is read after that, as it
        may be saved on the way.
        """
        own = self.editor.path if self.editor is not None else None
        if not asked and own is not None and own.resolve() == path.resolve():
            self.leave(partial(self.open_now, path, asked=True))
            return
        self._open_file(path, take_over=False, asked=asked)

    def keep_both_now(self, offer: RecoveryOffer, then: Callable[[], object]) -> None:
        """Open what was not saved, in a file beside the saved one; go on with `then`."""

        def read(work: LongWork) -> Opened:
            work.step(1, 1, _("Reading the recovery copy of {job}").format(job=offer.name))
            work.settle()
            return self._desk.keep_both(offer)

        self._read(read, then=then)

    def recover_now(self, offer: RecoveryOffer, then: Callable[[], object]) -> None:
        """Open what was not saved, over what is saved; go on with `then` if that worked."""
        from deskapp.session.holding import in_use_words

        def tell_taken(taken: InUse) -> None:
            words = in_use_words(offer.path or Path(offer.name), taken)
            more = _("Close it there. You are asked again at the next start.")
            tell(self._window, _("The job was not opened"), f"{words} {more}")

        order = self._desk.order_recovery(offer, self.editor)
        self._read(order.run, tell_taken, offer.copy, then)

    def leave(
        self, then: Callable[[], object], otherwise: Callable[[], object] | None = None
    ) -> None:
        """Go on with `then`, after asking once if there are unsaved changes.

        A job that is being written is waited for; `otherwise` is done where the job stays.
        """
        self.leaving.emit()
        if self.saving.is_busy:
            self._saver.afterwards(partial(self.leave, then, otherwise))
            return
        if self.editor is None or not self.editor.is_dirty:
            then()
            return

        if self._question is not None:
            self._question.activateWindow()
            if otherwise is not None:
                otherwise()
            return
        name = job_name(self.editor)
        self._question = ask_to_save(self._window, name, partial(self.save, then), then, otherwise)
        self._question.finished.connect(self._on_answered)

    def _on_answered(self) -> None:
        self._question = None

    def _open_file(self, path: Path, *, take_over: bool, asked: bool) -> None:
        order = self._desk.order_open(path, self.editor, take_over=take_over)
        self._read(order.run, partial(self._tell_in_use, path, asked), asked=asked)

    def _tell_in_use(self, path: Path, asked: bool, taken: InUse) -> None:
        from deskapp.session.holding import in_use_words

        ways: dict[str, Callable[[], object]] = {
            _("Open a copy to read"): lambda: self._open_to_read(path, asked=asked)
        }
        text = in_use_words(path, taken)
        if taken.is_certain:
            more = _("Close it there to go on with it here. A copy has no file of its own.")
        else:
            ways[_("Open it all the same")] = lambda: self._open_file(
                path, take_over=True, asked=asked
            )
            more = _(
                "That computer may have left this mark behind. Open the job all the same only "
                "if you know that nobody works on it there."
            )
        ask_about(self._window, _("This job is open elsewhere"), f"{text} {more}", ways)

    def _open_to_read(self, path: Path, *, asked: bool) -> None:
        from deskapp.session.opening import Opened, check_opened

        def read(work: LongWork) -> Opened:
            work.step(1, 1, _("Reading the job {file}").format(file=path.name))
            editor = self._desk.open_to_read(path)
            check_opened(editor, work)
            return Opened(editor)

        def words() -> str:
            told = _("This is a copy of {file} to read. What you change is saved elsewhere.")
            return told.format(file=path.name)

        def say() -> None:
            self.not_saved.emit(words, self._way_to_save_as)

        self._read(read, then=say, asked=asked)

    def open_found_now(self, job: Job, name: str) -> None:
        """Open a copy of the job found in the report `name`; pictures are not in a report."""
        self._opener.end()
        self.show(self._desk.open_found(job))

        def words() -> str:
            told = _("This is a copy of the job inside {file}. What you change is saved elsewhere.")
            return told.format(file=name)

        self.not_saved.emit(words, self._way_to_save_as)

    def _way_to_save_as(self) -> dict[str, Callable[[], object]]:
        return {_("Save as…"): lambda: self.save_as()}

    def _read(
        self,
        read: Callable[[LongWork], Opened],
        tell_taken: Callable[[InUse], object] | None = None,
        replaced: RecoveryCopy | None = None,
        then: Callable[[], object] | None = None,
        *,
        asked: bool = True,
    ) -> None:
        """Have a job read beside the window, and show it in place of the one at hand.

        Unsaved changes of that one are asked about in between; if they were `asked` about before,
        only those made meanwhile. A job that cannot be read changes nothing.
        """
        from deskapp.session.holding import InUse
        from deskapp.session.opening import JobFileProblem

        self._send_away()
        before = self.editor
        job = None if before is None else before.job

        def take(opened: Opened) -> None:
            self._at_door = None
            try:
                editor = self._desk.take_opened(opened, self.editor)
            except InUse as taken:
                otherwise(taken)
                return
            self.show(editor, replaced)
            if then is not None:
                then()

        def is_read(opened: Opened) -> None:
            self.leaving.emit()
            is_other = before is not None and before.job is not job
            if not asked or self.saving.is_busy or is_other:
                self._at_door = opened
                self.leave(partial(take, opened), self._send_away)
            else:
                take(opened)

        def otherwise(error: Exception) -> None:
            if isinstance(error, InUse) and tell_taken is not None:
                tell_taken(error)
            elif isinstance(error, JobFileProblem):
                tell(self._window, _("The job was not opened"), error.text)
            else:
                raise error

        self._opener.start(read, is_read, otherwise)

    def show(self, editor: Editor, replaced: RecoveryCopy | None = None) -> None:
        """Put a job on screen in place of the one at hand.

        `replaced` is the recovery copy it was brought back from.
        """
        self._send_away()
        self._let_go()
        self.editor = editor
        self._saver.follow(editor)
        self._autosaver.follow(editor, replaced)
        self.opened.emit(editor)

    def close_down(self) -> None:
        """Leave nothing behind: the job at hand was saved or given up."""
        self._opener.end()
        self._send_away()
        self._autosaver.end()
        self._let_go()

    def _send_away(self) -> None:
        """Let go of a job that was read and waits for an answer about the one at hand."""
        opened, self._at_door = self._at_door, None
        if opened is not None:
            opened.discard()

    def _let_go(self) -> None:
        if self.editor is not None:
            from deskapp.session.holding import let_go

            let_go(self.editor)
