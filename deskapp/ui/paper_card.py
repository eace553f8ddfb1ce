"""The papers: what keeps one back, what they will lack, and saving them."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from PySide6.QtCore import Qt, QUrl, Signal
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QHBoxLayout, QLayout, QVBoxLayout

from deskapp.i18n import N_, _, ngettext
from deskapp.session.report_kinds import KIND_WORDS, ReportKind
from deskapp.ui.dialogs.files import ask_folder, ask_where_to_save
from deskapp.ui.fields.chosen_fields import Choices
from deskapp.ui.glyphs import Glyph
from deskapp.ui.head_row import HeadRow, labeled_row
from deskapp.ui.levels import tell_stop
from deskapp.ui.link_list import LinkList
from deskapp.ui.marks import Notice
from deskapp.ui.paper_row import PaperRow
from deskapp.ui.papers.may_write import if_none_is_lost
from deskapp.ui.progress import ProgressLine, Undertaking
from deskapp.ui.theme import GRID
from deskapp.ui.words import Card, Command, Size, Words

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtPrintSupport import QPrinter

    from deskapp.domain.finding import Finding
    from deskapp.session.issue_desk import Issued
    from deskapp.session.long_work import LongWork
    from deskapp.session.reports import MadeReport, ReportOrder
    from deskapp.ui.bridge import Bridge
    from deskapp.ui.desk import Desk

_PAPERS = {"letter": N_("Letter (8.5 × 11 in.)"), "a4": N_("A4 (210 × 297 mm)")}


class PrintOutcome(NamedTuple):
    """How many pages were printed, and into which file if it was one."""

    pages: int
    file: Path | None


class PaperCard(Card):
    """Saves, prints and issues the reports, and hands them over.

    Signals: `led_to` with the path of a field, `print_wanted` for the report shown in the preview,
    `paper_changed`, and `was_issued` once the job holds the record of a report that was handed out.
    """

    led_to = Signal(str)
    print_wanted = Signal()
    paper_changed = Signal()
    was_issued = Signal()

    def __init__(self, bridge: Bridge, desk: Desk) -> None:
        super().__init__()
        self._bridge = bridge
        self._desk = desk
        self._made: Path | None = None
        self._is_of_former_job = False
        bridge.opened.connect(self._forget)
        self._gaps_of: tuple[ReportOrder, tuple[Finding, ...]] | None = None
        self.undertaking = Undertaking(N_("Making the papers"), self)
        self.undertaking.done.connect(self._say_done)
        self.undertaking.broken.connect(self._say_why)
        self.undertaking.given_up.connect(self._say_given_up)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
        self._column.setSpacing(12)
        self._column.addLayout(self._head_row())
        self._stops_title, self.stops = self._list(_("What keeps the compliance report back"))
        self._gaps_title, self.gaps = self._list(_("Not filled in yet"), in_short=True)
        self._gaps_lead = Words(
            _("The compliance report will say that these were not recorded."),
            Size.SMALL,
            muted=True,
        )
        self._column.insertWidget(self._column.count() - 1, self._gaps_lead)
        self.rows = {kind: PaperRow(kind) for kind in ReportKind}
        for kind, row in self.rows.items():
            row.wanted.connect(partial(self.ask_where, kind.value))
            row.issue_wanted.connect(partial(self.ask_to_issue, kind.value))
            row.template_chosen.connect(partial(self._use_template, kind.value))
            row.change_wanted.connect(partial(self.change_template, kind))
            self._column.addWidget(row)
        self.about_templates = Notice()
        self._column.addWidget(self.about_templates)
        self._column.addLayout(self._paper_row())
        self.progress = ProgressLine(self.undertaking)
        self._column.addWidget(self.progress)
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
        from deskapp.session.reports import offered, stops_against

        editor = self._bridge.editor
        stops = stops_against(ReportKind.COMPLIANCE, editor.findings)
        gaps = self._gaps()
        self._stops_title.setVisible(bool(stops))
        self.stops.setVisible(bool(stops))
        self.stops.show_findings(stops)
        self._gaps_title.setVisible(bool(gaps))
        self._gaps_title.setText(_("Not filled in yet: {n}").format(n=len(gaps)))
        self._gaps_lead.setVisible(bool(gaps))
        self.gaps.setVisible(bool(gaps))
        self.gaps.show_findings(gaps)
        used = self._desk.preferences.own_templates
        there = offered(editor.assessment)
        for kind, row in self.rows.items():
            row.setVisible(kind in there)
            row.show_templates(self._desk.templates(kind), used.get(kind.value, ""))
            row.show_standing(*standing_words(editor.job, kind, self._bridge.formatter))
        about = self._desk.about_templates()
        if about:
            self.about_templates.say(Glyph.NOTE, "", about)
        else:
            self.about_templates.hide()
        at = self.papers.findData(self._bridge.preferences.paper.value)
        self.papers.setCurrentIndex(at)
        at = self.languages.findData(self._bridge.preferences.report_language.value)
        self.languages.setCurrentIndex(at)

    def _gaps(self) -> tuple[Finding, ...]:
        """Return what is not filled in; by our own template it is looked up once for a job."""
        order = self._desk.order_reports(self._bridge.editor)
        if order.own:
            return self._gaps_by(order)
        if self._gaps_of is None or self._gaps_of[0] != order:
            self._gaps_of = (order, self._gaps_by(order))
        return self._gaps_of[1]

    def _gaps_by(self, order: ReportOrder) -> tuple[Finding, ...]:
        from deskapp.session.reports import ReportProblem, gaps_for

        try:
            return gaps_for(ReportKind.COMPLIANCE, order)
        except ReportProblem as problem:
            self.message.say(Glyph.STOP, "", problem.text)
            return ()

    def reveal(self, path: str) -> bool:
        """Nothing of the job stands on this card."""
        return path == "report"

    def ask_where(self, kind: str) -> None:
        """Ask where to save a report, unless stops keep it back."""
        from deskapp.session.report_names import report_file_name

        one = ReportKind(kind)
        if self._is_held_back(one):
            return
        proposed = self._folder / report_file_name(self._bridge.editor.job, one)
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
        order = desk.order_reports(editor)
        dialog = IssueDialog(order, one, desk.preferences, desk.folder, self._folder, self.window())
        if one is ReportKind.COMPLIANCE:
            dialog.show_gaps(self._gaps())
        dialog.issued.connect(self._take_issue)
        dialog.open()

    def _take_issue(self, made: Issued) -> None:
        from deskapp.ui.issuing.issue_dialog import issued_words

        self._bridge.take_issue(made.issue)
        self._made = made.path
        self._open.setText(_("Open it"))
        self.message.say(Glyph.CHECK if made.findings else Glyph.DONE, "", issued_words(made))
        self._open.show()
        self.was_issued.emit()

    def _is_held_back(self, kind: ReportKind) -> bool:
        from deskapp.session.reports import offered, stops_against

        self._bridge.settle()
        self._open.hide()
        editor = self._bridge.editor
        if stops_against(kind, editor.findings):
            text = _("The compliance report cannot be made yet. Mend the stops listed above.")
            tell_stop(self.message, text)
            self.stops.setFocus()
            return True
        if kind not in offered(editor.assessment):
            text = _("No test of this job repeats an earlier one, so there is nothing to compare.")
            self.message.say(Glyph.NOTE, "", text)
            return True
        return False

    def save(self, kind: str, path: Path) -> None:
        """Write a report into a file, in the background."""
        order = self._desk.order_reports(self._bridge.editor)
        words = _("Saving {file}…").format(file=path.name)
        self._begin(partial(_save_one, order, ReportKind(kind), path), words)

    def ask_folder_for_all(self) -> None:
        """Ask for a folder and save all papers into it that no stop keeps back."""
        self._bridge.settle()
        title = _("Save all papers into a folder")
        dialog = ask_folder(self.window(), title, self.save_all)
        if self._folder.is_dir():
            dialog.setDirectory(str(self._folder))

    def save_all(self, folder: Path) -> None:
        """Write all papers into `folder`, in the background."""
        from deskapp.session.reports import kinds_possible, make_reports

        order = self._desk.order_reports(self._bridge.editor)
        kinds = kinds_possible(order)

        def do(work: LongWork) -> tuple[MadeReport, ...]:
            return make_reports(order, kinds, folder, work)

        def begin() -> None:
            self._begin(do, _("Saving the papers…"))

        if_none_is_lost(self.window(), order, kinds, folder, begin)

    def ask_how_to_print(self, shown: ReportKind, give_up: Callable[[], object]) -> None:
        """Ask which paper to print, the one `shown` in the preview or another; or `give_up`."""
        from deskapp.session.reports import kinds_possible, offered
        from deskapp.ui.papers.print_dialog import PrintDialog

        self._bridge.settle()
        self._open.hide()
        order = self._desk.order_reports(self._bridge.editor)
        there = offered(order.source.assessment)
        gaps = {ReportKind.COMPLIANCE: len(self._gaps())}
        dialog = PrintDialog(there, kinds_possible(order), shown, gaps, self.window())
        dialog.chosen.connect(partial(self._ask_printer, give_up))
        dialog.rejected.connect(give_up)
        dialog.open()

    def _ask_printer(self, give_up: Callable[[], object], kind: ReportKind) -> None:
        """Ask for a printer and print a report, unless stops keep it back by now."""
        from deskapp.session.report_names import report_file_name
        from deskapp.ui.papers.print_dialog import ask_printer

        if self._is_held_back(kind):
            return
        name = Path(report_file_name(self._bridge.editor.job, kind)).stem

        def begin(printer: QPrinter) -> None:
            self.print_on(printer, kind)

        ask_printer(kind, self._bridge.preferences.paper, name, self.window(), begin, give_up)

    def print_on(self, printer: QPrinter, kind: ReportKind) -> None:
        """Print a report, in the background."""
        order = self._desk.order_reports(self._bridge.editor)
        self._begin(partial(_print_one, order, kind, printer), _("Printing…"))

    def mail(self) -> None:
        """Let papers be handed over by mail."""
        from deskapp.ui.papers.mail_dialog import MailDialog

        self._bridge.settle()
        order = self._desk.order_reports(self._bridge.editor)
        MailDialog(order, self._folder, self.window()).open()

    @property
    def _folder(self) -> Path:
        """Where papers usually go: beside the job, else where jobs are kept."""
        path = self._bridge.editor.path
        return self._desk.place_for_jobs() if path is None else path.parent

    def _forget(self) -> None:
        """Say no more of the job shown before; what is being made of it goes on."""
        self._is_of_former_job = self.undertaking.is_busy
        self._made = None
        self._open.hide()
        self.message.hide()

    def _begin(self, do: Callable[[LongWork], object], words: str) -> None:
        if self.undertaking.start(do):
            self._is_of_former_job = False
        else:
            words = _("The last papers are not done yet. Wait a moment, or cancel that.")
        self._open.hide()
        self.message.say(Glyph.PAPER, "", words)

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

    def _list(self, title: str, *, in_short: bool = False) -> tuple[Words, LinkList]:
        heading = Words(title, Size.STRONG)
        listed = LinkList(title, 6, in_short=in_short)
        listed.led_to.connect(self.led_to)
        self._column.addWidget(heading)
        self._column.addWidget(listed)
        return heading, listed

    def _paper_row(self) -> QLayout:
        from deskapp.session.settings import REPORT_LANGUAGE_LABELS

        self.papers = Choices(fits=True)
        for value, words in _PAPERS.items():
            self.papers.addItem(_(words), value)
        self.papers.activated.connect(self._choose_paper)
        self.papers.setAccessibleName(_("Paper"))
        label = Words(_("Paper"), wraps=False)
        label.setBuddy(self.papers)
        self.languages = Choices(fits=True)
        for value, words in REPORT_LANGUAGE_LABELS.items():
            self.languages.addItem(_(words), value)
        self.languages.activated.connect(self._choose_language)
        self.languages.setAccessibleName(_("Language of the reports"))
        spoken = Words(_("Language"), wraps=False)
        spoken.setBuddy(self.languages)
        return labeled_row((label, self.papers), (spoken, self.languages))

    def _choose_paper(self, at: int) -> None:
        from deskapp.session.settings import Paper

        self._prefer({"paper": Paper(str(self.papers.itemData(at)))})

    def _choose_language(self, at: int) -> None:
        from deskapp.session.settings import Language

        self._prefer({"report_language": Language(str(self.languages.itemData(at)))})

    def _prefer(self, wanted: dict[str, object]) -> None:
        preferences = self._desk.preferences
        for name, value in wanted.items():
            preferences = preferences.with_choice(name, value)
        self._desk.prefer(preferences)
        self._bridge.prefer(preferences)
        self.paper_changed.emit()

    def _head_row(self) -> QLayout:
        """Return the heading with the commands for all papers, and for the one previewed."""
        self.all = Command(_("Save all…"), main=True)
        self.all.setAccessibleName(_("Save all papers into a folder"))
        self.all.clicked.connect(self.ask_folder_for_all)
        self.print = Command(_("Print…"))
        self.print.setAccessibleName(_("Print a paper"))
        self.print.clicked.connect(self.print_wanted)
        self.by_mail = Command(_("By mail…"))
        self.by_mail.setAccessibleName(_("Hand the papers over by mail"))
        self.by_mail.clicked.connect(self.mail)
        commands = (self.print, self.by_mail, self.all)
        return HeadRow(Words(_("Reports"), Size.HEADING), commands)

    def _say_done(self, outcome: MadeReport | tuple[MadeReport, ...] | PrintOutcome) -> None:
        if self._is_of_former_job:
            return
        if isinstance(outcome, PrintOutcome):
            self._say_printed(outcome)
            return
        made = outcome if isinstance(outcome, tuple) else (outcome,)
        self._made = made[0].path.parent if isinstance(outcome, tuple) else outcome.path
        pages = sum(one.pages for one in made)
        words = ngettext("{file} is saved, {n} page.", "{file} is saved, {n} pages.", pages)
        if len(made) > 1:
            words = _("Saved: {file}; {n} pages in all.")
        text = words.format(file=", ".join(one.path.name for one in made), n=pages)
        findings = dict.fromkeys(finding.text for one in made for finding in one.findings)
        self.message.say(Glyph.CHECK if findings else Glyph.DONE, "", " ".join((text, *findings)))
        of_folder, of_file = _("Open the folder"), _("Open it")
        self._open.setText(of_folder if isinstance(outcome, tuple) else of_file)
        self._open.show()

    def _say_printed(self, printed: PrintOutcome) -> None:
        if printed.file is None:
            words = ngettext(
                "One page went to the printer.", "{n} pages went to the printer.", printed.pages
            )
            self.message.say(Glyph.DONE, "", words.format(n=printed.pages))
            return
        words = ngettext(
            "One page is printed into the file {file}.",
            "{n} pages are printed into the file {file}.",
            printed.pages,
        )
        self.message.say(Glyph.DONE, "", words.format(n=printed.pages, file=printed.file))
        self._made = printed.file
        self._open.setText(_("Open it"))
        self._open.show()

    def _say_given_up(self) -> None:
        self.message.say(Glyph.NOTE, "", _("Canceled. Nothing was saved or printed."))

    def _say_why(self, error: Exception) -> None:
        words = _("The job shown before: {why}") if self._is_of_former_job else "{why}"
        tell_stop(self.message, words.format(why=error))

    def _open_made(self) -> None:
        if self._made is not None:
            QDesktopServices.openUrl(QUrl.fromLocalFile(str(self._made)))


def _save_one(order: ReportOrder, kind: ReportKind, path: Path, work: LongWork) -> MadeReport:
    from deskapp.session.reports import drawn_report, write_report

    work.step(1, 2, _("drawing the pages"))
    drawn = drawn_report(order, kind)
    work.step(2, 2, _("writing {file}").format(file=path.name))
    work.settle()
    return write_report(drawn, path)


def _print_one(
    order: ReportOrder, kind: ReportKind, printer: QPrinter, work: LongWork
) -> PrintOutcome:
    from deskapp.session.reports import drawn_report
    from deskapp.ui.printing import print_pages

    target = printer.outputFileName()  # printing sets the printer to another file meanwhile
    pages = print_pages(drawn_report(order, kind).data, printer, work)
    return PrintOutcome(pages, Path(target) if target else None)
