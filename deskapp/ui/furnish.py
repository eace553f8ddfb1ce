"""What fills the window once everything is loaded: the job files and the workbench."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer

from deskapp.i18n import _, said
from deskapp.session.pages import PAGES
from deskapp.ui.file_menus import FileMenus
from deskapp.ui.job_files import JobFiles
from deskapp.ui.job_saver import job_name
from deskapp.ui.jobs.job_lists import JobLists
from deskapp.ui.language_switch import LanguageSwitch
from deskapp.ui.recaller import Recaller
from deskapp.ui.standing import focus_taken_from, put_focus_back
from deskapp.ui.workbench import Workbench

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from PySide6.QtWidgets import QWidget

    from deskapp.domain.finding import Finding
    from deskapp.domain.job import Job
    from deskapp.i18n import Said
    from deskapp.session.editor import Editor
    from deskapp.session.photo_index import PhotoIndex
    from deskapp.session.settings import Preferences
    from deskapp.ui.desk import Desk
    from deskapp.ui.guide import Guide
    from deskapp.ui.main_window import MainWindow
    from deskapp.ui.notice_bar import Ways


class Furniture(QObject):
    """Joins the window's commands to the open job."""

    def __init__(self, window: MainWindow, desk: Desk) -> None:
        super().__init__(window)
        self.desk = desk
        self.files = JobFiles(window, desk)
        self.jobs = JobLists(window, desk)
        self.jobs.picked.connect(self.open)
        self.jobs.photos_known.connect(self._compare_photos)
        self.bench: Workbench | None = None
        self._window = window
        self._saved_at = ""
        self._guide: Guide | None = None
        self.files.opened.connect(self._open)
        self.files.leaving.connect(self.settle)
        self.files.saved.connect(self._on_saved)
        self.recaller = Recaller(desk, self)
        self.files.not_saved.connect(self._on_not_saved)
        self.files.not_copied.connect(self._on_not_copied)
        self.files.copied.connect(self._on_copied)
        self._switch = LanguageSwitch(desk, self)
        self._switch.turned.connect(self._retell)
        self._fill_frame()
        self.jobs.refresh()

    # The job

    @property
    def has_unsaved(self) -> bool:
        """Whether there is a job with unsaved changes, or one that is being written."""
        return self.files.has_unsaved

    @property
    def opening_words(self) -> str:
        """What there is to say about files that could not be read at the start."""
        return self.desk.opening_words

    def leave(self, then: Callable[[], object]) -> None:
        """Go on with `then`, after asking once if there are unsaved changes."""
        self.settle()
        self.files.leave(then)

    def new(self) -> None:
        """Open a new job."""
        self.leave(self._new_now)

    def _new_now(self) -> None:
        self.files.new_now()
        if self.bench is not None and self.desk.usual_findings:
            self.bench.strip.remark(self.desk.usual_findings[0].what)

    def ask_what_to_open(self) -> None:
        """Ask for a job file and open it."""
        self.settle()
        self.files.ask_what_to_open()

    def open(self, path: Path | str) -> None:
        """Open a job file, unless there is something to ask about it."""
        file = Path(path)
        if not self.offer_recovery(file):
            self.settle()
            self.files.open_now(file)

    def open_sample(self, sample_id: str = "") -> None:
        """Open a copy of a sample, the default one for an empty id."""
        self.settle()
        self.files.open_sample(sample_id)

    def offer_recovery(self, of: Path | None = None) -> bool:
        """Ask about jobs that were not saved, those in the file `of`, and say if there are any."""
        if offers := self.desk.offers_of(of):
            from deskapp.ui.recovering import offer_recovery

            offer_recovery(self._window, self.desk, self.files, self.leave, offers)
        return bool(offers)

    def close_down(self) -> None:
        """Leave nothing behind that a closed program should not leave."""
        self.files.close_down()
        self.jobs.end()
        for offer in self.desk.offers:
            offer.copy.let_go()

    def keep_copy(self) -> bool:
        """Write a recovery copy at once; say whether all changes are in one now."""
        return self.files.copy_now()

    def report_on(self, trace: str, log: Iterable[str]) -> str:
        """Return the problem report about an error."""
        from deskapp.session.problem_report import problem_report

        return problem_report(trace, log, self.files.editor)

    def show_jobs(self) -> None:
        """List all jobs."""
        self.jobs.show()

    def settle(self) -> None:
        """Take typed text over into the job."""
        if self.bench is not None:
            self.bench.bridge.settle()

    def save(self) -> None:
        """Save the job."""
        self.settle()
        self.files.save()

    def save_as(self) -> None:
        """Save the job in another file."""
        self.settle()
        self.files.save_as()

    def show_units(self, value: str) -> None:
        """Show values in inch-pound (``ip``) or metric (``si``) units."""
        from deskapp.units.display import UnitSystem

        preferences = self.desk.preferences
        self.prefer(preferences.with_choice("unit_system", UnitSystem(value)))

    def prefer(self, wanted: Preferences) -> Finding | None:
        """Use other preferences from now on; return why they could not be kept, if so."""
        finding = self.desk.prefer(wanted)
        if self.bench is not None:
            self.bench.bridge.prefer(wanted)
            self.bench.refresh_reports()
            if finding is not None:
                self.bench.strip.remark(finding.text)
        self._show_units()
        self.jobs.refresh()
        self._switch.turn(self.bench)
        if self._guide is not None:
            self._guide.refresh()
        return finding

    def show_preferences(self) -> None:
        """Let the preferences be changed."""
        from deskapp.ui.company.preferring import show_preferences

        self.settle()
        show_preferences(self._window, self.desk, self)

    # Limits, reports and company

    def edit_limits(self) -> None:
        """Let limits of one's own be copied, changed and shared."""
        from deskapp.ui.limits.own_dialog import edit_own_limits

        self.settle()
        edit_own_limits(self.desk, self.files, self._window)

    def sample_units(self) -> None:
        """Let some units of a building be checked instead of all."""
        from deskapp.ui.limits.sampling_dialog import SamplingDialog

        desk = self.desk
        rules, found = desk.sampling_rules()
        SamplingDialog(rules, found, desk.preferences, self._window, desk.branding).open()

    def check_report(self) -> None:
        """Let a report be checked."""
        from deskapp.ui.issuing.check_dialog import ReportCheckDialog

        self.settle()
        desk, editor = self.desk, self.files.editor
        job = None if editor is None else editor.job
        dialog = ReportCheckDialog(desk.shelf, desk.preferences.formatter, job, self._window)

        def open_found(found: Job, name: str) -> None:
            self.leave(lambda: self.files.open_found_now(found, name))

        dialog.job_wanted.connect(open_found)
        dialog.open()

    def edit_signing_key(self) -> None:
        """Let the key to sign reports with be made, taken or removed."""
        from deskapp.ui.issuing.key_dialog import KeyDialog

        KeyDialog(self.desk.folder, self.desk.preferences.formatter, self._window).open()

    def show_preview(self, on: bool) -> None:
        """Show the preview of the reports beside every page, or no longer."""
        if self.bench is not None:
            self.bench.show_preview(on)

    def show_instruments(self) -> None:
        """Let the company's gauges and fans be edited."""
        from datetime import date

        from deskapp.ui.instruments.instruments_dialog import InstrumentsDialog

        self.settle()
        desk = self.desk
        InstrumentsDialog(desk.cabinet, desk.preferences, date.today(), self._window).open()

    def edit_branding(self) -> None:
        """Let name, logo and color of the reports be edited."""
        from deskapp.ui.dialogs.branding_dialog import BrandingDialog

        dialog = BrandingDialog(self.desk, self._window)
        if self.bench is not None:
            dialog.accepted.connect(self.bench.refresh_reports)
        dialog.open()

    def edit_usual(self) -> None:
        """Let what new jobs start with be edited."""
        from deskapp.ui.company.usual_dialog import UsualDialog

        self.settle()
        dialog = UsualDialog(self.desk.usual_entries(), self.desk.keep_usual, self._window)
        dialog.tell(self.desk.usual_findings)
        dialog.open()

    def keep_as_usual(self) -> None:
        """Let new jobs start with the usual entries of the open job, if all can be read."""
        from deskapp.session.usual import unkept

        self.settle()
        if self.files.editor is None or self.bench is None:
            return
        wrong = unkept(self.files.editor)
        if wrong is not None:
            self.bench.go_to(wrong.path)
            self.bench.strip.remark(_("Not kept for new jobs: {why}").format(why=wrong.text))
            return
        finding = self.desk.keep_usual(self.files.editor.job)
        kept = _("New jobs start with the tester, set-up and limits of this one from now on.")
        self.bench.strip.remark(kept if finding is None else finding.text)

    def forget_entries(self) -> str:
        """Forget the entries of earlier jobs; return words that say so."""
        finding = self.recaller.forget()
        return _("Earlier entries are forgotten.") if finding is None else finding.text

    @property
    def guide(self) -> Guide:
        """Help, which is loaded when first asked for."""
        if self._guide is None:
            from deskapp.ui.guide import Guide

            self._guide = Guide(self._window, self.desk)
        return self._guide

    def help(self) -> None:
        """Explain the field that has the cursor, or the page."""
        self.guide.explain(self.bench)

    def list_topics(self) -> None:
        """List all topics of help."""
        self.guide.list_topics()

    def show_around(self) -> None:
        """Open a copy of the sample and lead through it."""

        def lead() -> None:
            if self.bench is not None:
                self.guide.show_around(self.bench)

        self.settle()
        self.files.open_sample(then=lead)

    def about(self) -> None:
        """Say what the program is and what it is not."""
        from deskapp.ui.dialogs.about import AboutDialog

        AboutDialog(self._window).open()

    # Keeping the window in step

    def _open(self, editor: Editor) -> None:
        self._saved_at = ""
        if self._guide is not None:
            self._guide.end_tour()
        if self.bench is None:
            self.bench = self._new_bench(editor)
        else:
            self.bench.open(editor)
        self._window.stack.setCurrentWidget(self.bench)
        self._window.commands.allow_job(True)
        self._refresh_frame()
        self.bench.page.take_focus()
        self.recaller.learn(editor)
        self._compare_photos(self.jobs.photos)
        self.jobs.refresh()
        QTimer.singleShot(0, self.bench.page, self.bench.page.to_top)

    def _new_bench(self, editor: Editor, before: Workbench | None = None) -> Workbench:
        bench = Workbench(self.desk, editor, before)
        bench.refreshed.connect(self._refresh_frame)
        bench.save_wanted.connect(self.save)
        bench.bridge.recall = self.recaller.offered
        bench.put_on_top(self.files.progress_line())
        self._window.stack.addWidget(bench)
        bench.show_preview(self._window.commands.preview.isChecked())
        return bench

    def _retell(self) -> None:
        """Make all that has words anew in the language in use, around the same open job."""
        window, before, start = self._window, self.bench, self._window.start
        focus = focus_taken_from(window)
        window.retell(self.desk.recent(), self.opening_words)
        self._fill_frame()
        pairs: list[tuple[QWidget, QWidget]] = [(start, window.start)]
        if before is not None and self.files.editor is not None:
            self.bench = self._new_bench(self.files.editor, before)
            pairs += before.hand_over(self.bench)
            window.stack.setCurrentWidget(self.bench)
            window.commands.allow_job(True)
            self._refresh_frame()
            window.stack.removeWidget(before)
            before.deleteLater()
        if self._guide is not None:
            pairs += self._guide.retell(self.bench)
        put_focus_back(focus, pairs)
        self.jobs.refresh()

    def _fill_frame(self) -> None:
        actions = self._window.commands
        for number, page in enumerate(PAGES, 1):
            actions.add_page(_(page.title), number, self._turner(page.id))
        self._file_menus = FileMenus(actions, self.desk, self.open, self.open_sample)
        self._window.put_on_top(self.files.reading_line())
        self._show_units()

    def _on_saved(self, time: str) -> None:
        self._saved_at = time
        if self.files.editor is not None:
            self.recaller.learn(self.files.editor)
        self.jobs.refresh()
        if self.bench is not None:
            self.bench.notice.withdraw("saving")
        self._refresh_frame()

    def _compare_photos(self, others: PhotoIndex | None) -> None:
        """Hold the photos of the open job against those of all jobs."""
        if self.files.editor is not None and others is not None:
            self.files.editor.compare_photos(others.findings)

    def _on_not_saved(self, text: Said, ways: Ways) -> None:
        if self.bench is not None:
            self.bench.notice.tell("saving", text, ways)

    def _on_not_copied(self, why: Said) -> None:
        def words() -> str:
            text = _("No recovery copy can be kept, so save often. {why}")
            return text.format(why=said(why))

        if self.bench is not None:
            self.bench.notice.tell("copying", words, lambda: {_("Save"): self.save})

    def _on_copied(self) -> None:
        if self.bench is not None:
            self.bench.notice.withdraw("copying")

    def _refresh_frame(self) -> None:
        editor = self.files.editor
        if editor is None or self.bench is None:
            return
        name = job_name(editor).replace("[*]", "[*][*]")  # alone it is Qt's place for the mark
        self._window.setWindowTitle(f"{name}[*] — Ductfolio")
        self._window.setWindowModified(editor.is_dirty)
        self._window.setWindowFilePath("" if editor.path is None else str(editor.path))
        self._window.commands.show_history(editor.undo_label, editor.redo_label)
        unsaved = _("Not saved yet") if editor.path is None else _("Changed since it was saved")
        saved = _("Saved {time}").format(time=self._saved_at) if self._saved_at else ""
        self.bench.strip.remark(unsaved if editor.is_dirty else saved)

    def _show_units(self) -> None:
        self._window.commands.units[self.desk.preferences.unit_system.value].setChecked(True)

    def _turner(self, page_id: str) -> Callable[[], None]:
        def turn() -> None:
            if self.bench is not None:
                self.bench.show_page(page_id)
                self.bench.page.take_focus()

        return turn
