"""Checking some units of a building instead of all: from the list of units to the log."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QDialog,
    QFileDialog,
    QHBoxLayout,
    QMessageBox,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from deskapp.i18n import _
from deskapp.session.branding import BrandingFile
from deskapp.session.sampling_desk import EXTENSION, SamplingProblem, open_plan, save_plan
from deskapp.session.sampling_log_file import save_log
from deskapp.ui.building import InTurns
from deskapp.ui.dialogs.files import ask_where_to_save
from deskapp.ui.dialogs.room import give_room
from deskapp.ui.glyphs import Glyph
from deskapp.ui.limits.sampling_start import SamplingStart
from deskapp.ui.limits.sampling_work import SamplingWork
from deskapp.ui.marks import Notice
from deskapp.ui.theme import GRID
from deskapp.ui.words import Command, Size, Words

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from deskapp.domain.finding import Finding
    from deskapp.domain.sampling import SamplingPlan, SamplingRule
    from deskapp.session.settings import Preferences

_Buttons = QMessageBox.StandardButton


class SamplingDialog(QDialog):
    """One plan: begun here or opened from its file, worked on, and saved."""

    def __init__(
        self,
        rules: Sequence[SamplingRule],
        problems: Sequence[Finding],
        preferences: Preferences,
        parent: QWidget | None,
        branding: Callable[[], BrandingFile] | None = None,
    ) -> None:
        """Offer `rules`; `problems` tells of rules that could not be read.

        `branding` gives the company's look for a printed log; without it the log has none.
        """
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(_("Units to sample"))
        self._preferences = preferences
        self._branding = branding or BrandingFile
        self._saved: SamplingPlan | None = None
        self._path: Path | None = None
        self.start = SamplingStart(rules, preferences.formatter)
        self._work: SamplingWork | None = None
        self.stack = QStackedWidget()
        self.stack.addWidget(self.start)
        self.title = Words(size=Size.HEADING)
        self.message = Notice(Size.BODY)
        self.save_button = Command(_("Save the plan…"))
        self.log_button = Command(_("Save the log…"), Glyph.PAPER)
        self.close_button = Command(_("Close"))
        self._lay_out()
        self.start.begun.connect(self.show_plan)
        self.start.open_wanted.connect(self._ask_what_to_open)
        self.save_button.clicked.connect(self._save)
        self.log_button.clicked.connect(self._ask_where_to_put_the_log)
        self.close_button.clicked.connect(self.reject)
        self._refresh()
        if problems:
            self._say(" ".join(problem.text for problem in problems))
        give_room(self, 1060, 720)
        InTurns(self, self._make_ready())

    @property
    def work(self) -> SamplingWork:
        """The sheet a plan is worked on, made once the dialog stands there or is asked for it."""
        if self._work is None:
            self._work = SamplingWork(self._preferences)
            self._work.changed.connect(self._refresh)
            self.stack.addWidget(self._work)
        return self._work

    def _make_ready(self) -> Iterator[None]:
        yield
        self.work.ensurePolished()

    @property
    def _plan(self) -> SamplingPlan | None:
        return self._work.plan if self._work is not None else None

    @property
    def has_unsaved(self) -> bool:
        """Whether draws or checks would be lost."""
        return self._plan is not None and self._plan != self._saved

    def show_plan(self, plan: SamplingPlan) -> None:
        """Work on a plan."""
        self.work.show_plan(plan)
        self.stack.setCurrentWidget(self.work)
        self._refresh()

    def open_file(self, path: Path) -> None:
        """Go on with the plan in a file."""

        def read() -> None:
            plan = open_plan(path)
            self._saved, self._path = plan, path
            self.show_plan(plan)

        self._try(read)

    def save_file(self, path: Path) -> bool:
        """Write the plan into a file; say whether that was done."""

        def write() -> None:
            if self.work.plan is not None:
                self._path = save_plan(self.work.plan, path)
                self._saved = self.work.plan
                self._refresh()
                text = _("Saved as {file}.").format(file=self._path.name)
                self.message.say(Glyph.DONE, "", text)

        return self._try(write)

    def write_log(self, path: Path) -> None:
        """Write the log: a PDF to sign and file, plain text, or a table, by the end of the name."""

        def write() -> None:
            if self.work.plan is not None:
                written = self._written_log(self.work.plan, path)
                text = _("The log was saved as {file}.").format(file=written.name)
                self.message.say(Glyph.DONE, "", text)

        self._try(write)

    def _written_log(self, plan: SamplingPlan, path: Path) -> Path:
        if path.suffix.lower() != ".pdf":
            return save_log(plan, path, self._preferences.formatter)
        from deskapp.session.sampling_log_pdf import save_log_pdf

        return save_log_pdf(plan, path, self._branding(), self._preferences, date.today())

    def done(self, result: int) -> None:
        """Close, after asking once if there are changes that were not saved."""
        if not self.has_unsaved:
            super().done(result)
            return
        box = QMessageBox(self)
        box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        box.setWindowTitle(self.windowTitle())
        box.setText(_("Save the sampling plan?"))
        box.setInformativeText(_("Without saving, its draws and checks are gone."))
        box.setStandardButtons(_Buttons.Save | _Buttons.Discard | _Buttons.Cancel)
        box.setDefaultButton(_Buttons.Save)

        def answered(button: int) -> None:
            if button == _Buttons.Save.value:
                self._save(then=self.accept)
            elif button == _Buttons.Discard.value:
                self._saved = self.work.plan
                super(SamplingDialog, self).done(result)

        box.finished.connect(answered)
        box.open()

    def _refresh(self) -> None:
        plan = self._plan
        is_at_work = plan is not None and self.stack.currentWidget() is self._work
        for button in (self.save_button, self.log_button):
            button.setVisible(is_at_work)
        for button in (self.start.open, self.start.begin):
            button.setVisible(not is_at_work)
        title = _("Check some units of a building instead of all, by a published rule")
        if plan is not None and is_at_work:
            parts = (plan.project, plan.feature, plan.threshold)
            title = " · ".join(part for part in parts if part)
        self.title.setText(title)
        name = self._path.name if self._path else _("Units to sample")
        self.setWindowTitle(f"{name}[*]")
        self.setWindowModified(self.has_unsaved)

    def _try(self, act: Callable[[], None]) -> bool:
        self.message.hide()
        try:
            act()
        except SamplingProblem as problem:
            self._say(problem.text)
            return False
        return True

    def _say(self, text: str) -> None:
        self.message.say(Glyph.CHECK, _("Check"), text)

    def _save(self, _on: bool = False, then: Callable[[], object] | None = None) -> None:
        if self._path is not None:
            if self.save_file(self._path) and then is not None:
                then()
            return

        def write(path: Path) -> None:
            if self.save_file(path) and then is not None:
                then()

        proposed = Path(f"{self._proposed_name()}{EXTENSION}")
        ask_where_to_save(self, _("Save the plan"), proposed, _("Sampling plans"), write)

    def _proposed_name(self) -> str:
        plan = self.work.plan
        name = plan.project if plan is not None else ""
        kept = "".join(c if c.isalnum() or c in " -_" else "-" for c in name)
        return kept.strip() or _("sampling")

    def _ask_what_to_open(self) -> None:
        dialog = QFileDialog(self, _("Open a sampling plan"))
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        plans = _("Sampling plans (*{ending})").format(ending=EXTENSION)
        dialog.setNameFilters([plans, _("All files (*)")])
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.fileSelected.connect(self._open_named)
        dialog.open()

    def _open_named(self, name: str) -> None:
        self.open_file(Path(name))

    def _ask_where_to_put_the_log(self) -> None:
        dialog = QFileDialog(self, _("Save the log"))
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        kinds = (
            _("Report to sign and file (*.pdf)"),
            _("Plain text (*.txt)"),
            _("Table of the checks (*.csv)"),
        )
        dialog.setNameFilters(list(kinds))
        dialog.setDefaultSuffix(".pdf")

        def end_so(words: str) -> None:
            dialog.setDefaultSuffix(next(e for e in (".csv", ".txt", ".pdf") if e in words))

        dialog.filterSelected.connect(end_so)
        dialog.selectFile(f"{self._proposed_name()}.pdf")
        dialog.fileSelected.connect(self._write_named)
        dialog.open()

    def _write_named(self, name: str) -> None:
        self.write_log(Path(name))

    def _lay_out(self) -> None:
        buttons = QHBoxLayout()
        buttons.setSpacing(GRID)
        for button in (self.save_button, self.log_button, self.close_button):
            button.setAutoDefault(False)
        buttons.addWidget(self.start.open)
        buttons.addWidget(self.message, 1, Qt.AlignmentFlag.AlignVCenter)
        buttons.addStretch(0)
        buttons.addWidget(self.log_button)
        buttons.addWidget(self.save_button)
        buttons.addWidget(self.close_button)
        buttons.addWidget(self.start.begin)
        column = QVBoxLayout(self)
        column.setContentsMargins(2 * GRID, 2 * GRID, 2 * GRID, 2 * GRID)
        column.setSpacing(2 * GRID)
        column.addWidget(self.title)
        column.addWidget(self.stack, 1)
        column.addLayout(buttons)
