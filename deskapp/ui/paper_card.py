"""The papers: what keeps one back, what they will lack, and saving them."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QUrl, Signal
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout

from deskapp.i18n import N_, _, ngettext
from deskapp.session.report_kinds import KIND_WORDS, ReportKind
from deskapp.ui.dialogs.files import ask_where_to_save
from deskapp.ui.fields.chosen_fields import Choices
from deskapp.ui.glyphs import Glyph
from deskapp.ui.levels import level_of
from deskapp.ui.link_list import LinkList
from deskapp.ui.marks import Notice
from deskapp.ui.paper_row import PaperRow
from deskapp.ui.tasks import Dispatcher
from deskapp.ui.theme import GRID
from deskapp.ui.words import Card, Command, Size, Words

if TYPE_CHECKING:
    from deskapp.domain.finding import Finding
    from deskapp.session.issue_desk import Issued
    from deskapp.session.reports import MadeReport
    from deskapp.ui.bridge import Bridge
    from deskapp.ui.desk import Desk

_PAPERS = {"letter": N_("Letter (8.5 × 11 in.)"), "a4": N_("A4 (210 × 297 mm)")}


class PaperCard(Card):
    """Saves the reports, and issues them.

    Signals: `led_to` with the path of a field, `paper_changed`, and `was_issued` once the job holds
    the record of a report that was handed out.
    """

    led_to = Signal(str)
    paper_changed = Signal()
    was_issued = Signal()

    def __init__(self, bridge: Bridge, desk: Desk) -> None:
        super().__init__()
        self._bridge = bridge
        self._desk = desk
        self._made: Path | None = None
        self.dispatcher = Dispatcher(self)
        self.dispatcher.done.connect(self._say_done)
        self.dispatcher.broken.connect(self._say_why)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
        self._column.setSpacing(12)
        self._column.addWidget(Words(_("Reports"), Size.HEADING))
        self._stops_title, self.stops = self._list(_("Stops that keep the compliance report back"))
        self._gaps_title, self.gaps = self._list(_("Not filled in yet"))
        self.rows = {kind: PaperRow(kind) for kind in ReportKind}
        for kind, row in self.rows.items():
            row.wanted.connect(partial(self.ask_where, kind.value))
            row.issue_wanted.connect(partial(self.ask_to_issue, kind.value))
            row.template_chosen.connect(partial(self._use_template, kind.value))
            row.change_wanted.connect(partial(self.change_template, kind))
            self._column.addWidget(row)
        self._column.addLayout(self._paper_row())
        self.message = Notice(Size.BODY)
        self._open = Command(_("Open it"), Glyph.PAPER)
        self._open.clicked.connect(self._open_made)
        self._open.hide()
        said = QHBoxLayout()
        said.addWidget(self.message, 1)
        said.addWidget(self._open, 0, Qt.AlignmentFlag.AlignTop)
        self._column.addLayout(said)

    def refresh(self) -> None:
        """Show what is missing in the job as it stands."""
        from deskapp.session.issue_desk import standing_words
        from deskapp.session.reports import offered, stops_for

        editor = self._bridge.editor
        stops = stops_for(ReportKind.COMPLIANCE, editor.findings)
        gaps = self._gaps()
        self._stops_title.setVisible(bool(stops))
        self.stops.setVisible(bool(stops))
        self.stops.show_findings(stops)
        self._gaps_title.setVisible(bool(gaps))
        self._gaps_title.setText(_("Not filled in yet: {n}").format(n=len(gaps)))
        self.gaps.setVisible(bool(gaps))
        self.gaps.show_findings(gaps)
        used = self._desk.preferences.own_templates
        there = offered(editor.assessment)
        for kind, row in self.rows.items():
            row.setVisible(kind in there)
            row.show_templates(self._desk.templates(kind), used.get(kind.value, ""))
            row.show_standing(*standing_words(editor.job, kind, self._bridge.formatter))
        at = self.papers.findData(self._bridge.preferences.paper.value)
        self.papers.setCurrentIndex(at)
        at = self.languages.findData(self._bridge.preferences.report_language.value)
        self.languages.setCurrentIndex(at)

    def _gaps(self) -> tuple[Finding, ...]:
        from deskapp.session.reports import ReportProblem, gaps_for

        try:
            return gaps_for(ReportKind.COMPLIANCE, self._desk.order_reports(self._bridge.editor))
        except ReportProblem as problem:
            self.message.say(Glyph.STOP, "", problem.text)
            return ()

    def reveal(self, path: str) -> bool:
        """Nothing of the job stands on this card."""
        return path == "report"

    def ask_where(self, kind: str) -> None:
        """Ask where to save a report, unless stops keep it back."""
        from deskapp.session.reports import file_name

        one = ReportKind(kind)
        if self._is_held_back(one):
            return
        editor = self._bridge.editor
        folder = editor.path.parent if editor.path is not None else Path()
        proposed = folder / file_name(editor.job, one)
        title = _("Save the report")

        def write(path: Path) -> None:
            self.save(kind, path)

        ask_where_to_save(self.window(), title, proposed, _(KIND_WORDS[one]), write)

    def ask_to_issue(self, kind: str) -> None:
        """Ask what is needed to issue a report, unless stops keep it back."""
        from deskapp.ui.issuing.issue_dialog import IssueDialog

        one = ReportKind(kind)
        if self._is_held_back(one):
            return
        desk, editor = self._desk, self._bridge.editor
        place = editor.path.parent if editor.path is not None else desk.place_for_jobs()
        order = desk.order_reports(editor)
        dialog = IssueDialog(order, one, desk.preferences, desk.folder, place, self.window())
        if one is ReportKind.COMPLIANCE:
            dialog.show_gaps(self._gaps())
        dialog.issued.connect(self._take_issue)
        dialog.open()

    def _take_issue(self, made: Issued) -> None:
        from deskapp.ui.issuing.issue_dialog import issued_words

        self._bridge.take_issue(made.issue)
        self._made = made.path
        self.message.say(Glyph.CHECK if made.findings else Glyph.DONE, "", issued_words(made))
        self._open.show()
        self.was_issued.emit()

    def _is_held_back(self, kind: ReportKind) -> bool:
        from deskapp.session.reports import offered, stops_for

        self._bridge.settle()
        self._open.hide()
        editor = self._bridge.editor
        if stops_for(kind, editor.findings):
            text = _("The compliance report cannot be made yet. Mend the stops listed above.")
            self.message.say(Glyph.STOP, level_of("stop")[1], text)
            self.stops.setFocus()
            return True
        if kind not in offered(editor.assessment):
            text = _("No test of this job repeats an earlier one, so there is nothing to compare.")
            self.message.say(Glyph.NOTE, "", text)
            return True
        return False

    def save(self, kind: str, path: Path) -> None:
        """Write a report into a file, in the background."""
        from deskapp.session.reports import make_report

        order = self._desk.order_reports(self._bridge.editor)
        self._open.hide()
        self.message.say(Glyph.PAPER, "", _("Saving {file}…").format(file=path.name))
        self.dispatcher.start(lambda: make_report(order, ReportKind(kind), path))

    def change_template(self, kind: ReportKind) -> None:
        """Open the template of a report to be changed."""
        from deskapp.ui.papers.template_dialog import TemplateDialog

        order = self._desk.order_reports(self._bridge.editor)
        draft = self._desk.template_draft(kind)
        TemplateDialog(self._desk, order, draft, self._take_template, self.window()).open()

    def _take_template(self) -> None:
        self._prefer({})

    def _use_template(self, kind: str, file: str) -> None:
        own = {**self._desk.preferences.own_templates, kind: file}
        self._prefer({"own_templates": {key: name for key, name in own.items() if name}})

    def _list(self, title: str) -> tuple[Words, LinkList]:
        heading = Words(title, Size.STRONG)
        listed = LinkList(title, 6)
        listed.led_to.connect(self.led_to)
        self._column.addWidget(heading)
        self._column.addWidget(listed)
        return heading, listed

    def _paper_row(self) -> QHBoxLayout:
        from deskapp.session.settings import REPORT_LANGUAGE_LABELS

        self.papers = Choices()
        for value, words in _PAPERS.items():
            self.papers.addItem(_(words), value)
        self.papers.activated.connect(self._choose_paper)
        self.papers.setAccessibleName(_("Paper"))
        self.papers.setMinimumContentsLength(26)
        self.papers.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        label = Words(_("Paper"), wraps=False)
        label.setBuddy(self.papers)
        row = QHBoxLayout()
        row.setSpacing(12)
        self.languages = Choices()
        for value, words in REPORT_LANGUAGE_LABELS.items():
            self.languages.addItem(_(words), value)
        self.languages.activated.connect(self._choose_language)
        self.languages.setAccessibleName(_("Language of the reports"))
        spoken = Words(_("Language"), wraps=False)
        spoken.setBuddy(self.languages)
        row.addWidget(label)
        row.addWidget(self.papers)
        row.addSpacing(12)
        row.addWidget(spoken)
        row.addWidget(self.languages)
        row.addStretch(1)
        return row

    def _choose_paper(self, at: int) -> None:
        from deskapp.session.settings import Paper

        self._prefer({"paper": Paper(str(self.papers.itemData(at)))})

    def _choose_language(self, at: int) -> None:
        from deskapp.session.settings import Language

        self._prefer({"report_language": Language(str(self.languages.itemData(at)))})

    def _prefer(self, wanted: dict[str, object]) -> None:
        preferences = self._desk.preferences.model_copy(update=wanted)
        self._desk.prefer(preferences)
        self._bridge.prefer(preferences)
        self.paper_changed.emit()

    def _say_done(self, made: MadeReport) -> None:
        self._made = made.path
        words = ngettext("{file} is saved, {n} page.", "{file} is saved, {n} pages.", made.pages)
        text = words.format(file=made.path.name, n=made.pages)
        if made.findings:
            text = " ".join((text, *(finding.text for finding in made.findings)))
        self.message.say(Glyph.CHECK if made.findings else Glyph.DONE, "", text)
        self._open.show()

    def _say_why(self, error: Exception) -> None:
        self.message.say(Glyph.STOP, level_of("stop")[1], str(error))

    def _open_made(self) -> None:
        if self._made is not None:
            QDesktopServices.openUrl(QUrl.fromLocalFile(str(self._made)))
