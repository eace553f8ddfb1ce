"""Is a report what it says? Any PDF can be dropped here, and the code of a paper typed."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QHBoxLayout, QPlainTextEdit, QVBoxLayout, QWidget

from deskapp.i18n import N_, _
from deskapp.session import checking
from deskapp.ui.dialogs.entry_dialog import EntryDialog, scrolled
from deskapp.ui.dialogs.files import ask_report
from deskapp.ui.dialogs.room import give_room
from deskapp.ui.glyphs import Glyph
from deskapp.ui.issuing.answer_list import AnswerList
from deskapp.ui.issuing.entry_lines import entry_card
from deskapp.ui.levels import tell_stop
from deskapp.ui.marks import Notice
from deskapp.ui.progress import ProgressLine, Undertaking
from deskapp.ui.theme import GRID
from deskapp.ui.words import Command, Size, Words

if TYPE_CHECKING:
    from deskapp.domain.job import Job
    from deskapp.session.checking import Checked
    from deskapp.session.resources import Shelf
    from deskapp.ui.words import Card
    from deskapp.units.display import Formatter

_SCAN_ENDS = 300
"""Milliseconds without a new sign after which a hand scanner is taken to be done."""
_CODE_ROWS = 4


class ReportCheckDialog(EntryDialog):
    """Checks a file beside the window, and a code against the open job.

    Signals: `job_wanted` with the job found in a report and the name of its file, when that job
    shall be opened.
    """

    job_wanted = Signal(object, str)

    def __init__(
        self, shelf: Shelf, formatter: Formatter, job: Job | None, parent: QWidget | None
    ) -> None:
        """Check with what `shelf` holds; `job` is the open one, if any."""
        super().__init__(_("Check a report"), parent)
        self._shelf, self._formatter, self._job = shelf, formatter, job
        self._found: Job | None = None
        self._name = ""
        self.undertaking = Undertaking(N_("Checking the report"), self)
        self.undertaking.done.connect(self._show)
        self.undertaking.broken.connect(self._on_problem)
        self.undertaking.given_up.connect(self._say_given_up)
        self._scan = QTimer(self)
        self._scan.setSingleShot(True)
        self._scan.setInterval(_SCAN_ENDS)
        self._scan.timeout.connect(self.look_up)
        self.setAcceptDrops(True)
        inside = QWidget()
        parts = QVBoxLayout(inside)
        parts.setContentsMargins(0, 0, GRID, 0)
        parts.setSpacing(2 * GRID)
        parts.addWidget(self._file_card())
        parts.addWidget(self._code_card())
        parts.addStretch(1)
        self.column.addWidget(scrolled(inside), 1)
        close = Command(_("Close"))
        close.clicked.connect(self.reject)
        self.foot(Words(), (close,))
        give_room(self, 720, 680)
        self.choose_button.setFocus()

    def _file_card(self) -> Card:
        card, column = entry_card(_("A report as a file"))
        words = _(
            "Choose a report or drop it here. Its signature, the job inside and the printed "
            "results are checked; nothing leaves this computer."
        )
        column.addWidget(Words(words, muted=True))
        self.choose_button = Command(_("Choose a report…"), Glyph.PAPER, main=True)
        self.choose_button.clicked.connect(lambda: ask_report(self, self.check))
        self.open_button = Command(_("Open the job inside"))
        self.open_button.clicked.connect(self._want_job)
        self.open_button.hide()
        row = QHBoxLayout()
        row.setSpacing(GRID)
        row.addWidget(self.choose_button)
        row.addWidget(self.open_button)
        row.addStretch(1)
        column.addLayout(row)
        self.message = Notice(Size.BODY)
        column.addWidget(self.message)
        column.addWidget(ProgressLine(self.undertaking))
        self.answers = AnswerList()
        column.addWidget(self.answers)
        return card

    def _code_card(self) -> Card:
        card, column = entry_card(_("A report on paper"))
        words = _(
            "Scan the square code of the paper into this field, or type the 16 signs of its mark. "
            "It is compared with the issues of the open job."
        )
        if self._job is None:
            words = _("Open the job first to check a paper by its code or mark.")
        column.addWidget(Words(words, muted=True))
        self.code = QPlainTextEdit()
        self.code.setAccessibleName(_("Code or mark of the paper"))
        self.code.setTabChangesFocus(True)
        self.code.setFixedHeight((_CODE_ROWS + 1) * self.fontMetrics().lineSpacing())
        self.code.textChanged.connect(self._wait_for_scan)
        self.look_up_button = Command(_("Look it up"))
        self.look_up_button.clicked.connect(self.look_up)
        self.paper_answers = AnswerList()
        for part in (self.code, self.look_up_button, self.paper_answers):
            column.addWidget(part)
            part.setEnabled(self._job is not None)
        if self._job is None:
            self.look_up_button.allow(False, _("Open the job of the report first."))
        return card

    # What is done

    def check(self, path: Path) -> None:
        """Check a file."""
        shelf, formatter = self._shelf, self._formatter
        self.undertaking.end()
        self._name, self._found = path.name, None
        self.answers.clear()
        self.open_button.hide()
        self.message.say(Glyph.PAPER, "", _("Checking {file}…").format(file=path.name))
        self.undertaking.start(
            lambda work: checking.check_report(checking.read_report(path), shelf, formatter, work)
        )

    def look_up(self) -> None:
        """Compare the code with the issues of the open job."""
        if self._job is not None:
            text = self.code.toPlainText()
            found = checking.check_code(text, self._job, self._formatter)
            self.paper_answers.show_answers(found)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Welcome one file."""
        if _dropped(event) is not None:
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Check the file dropped."""
        path = _dropped(event)
        if path is not None:
            self.check(path)

    def _wait_for_scan(self) -> None:
        if self.code.toPlainText().startswith(checking.CODE_HEAD):
            self._scan.start()

    def _show(self, checked: Checked) -> None:
        self.message.say(Glyph.PAPER, "", self._name)
        self.answers.show_answers(checked)
        self._found = checked.job
        self.open_button.setVisible(checked.job is not None)

    def _want_job(self) -> None:
        if self._found is not None:
            self.job_wanted.emit(self._found, self._name)
            self.accept()

    def _say_given_up(self) -> None:
        self.message.say(Glyph.NOTE, "", _("Canceled: the report was not checked."))

    def _on_problem(self, error: Exception) -> None:
        why = error.strerror if isinstance(error, OSError) else None
        text = _("{file} cannot be read ({why}).").format(file=self._name, why=why or error)
        tell_stop(self.message, text)


def _dropped(event: QDropEvent) -> Path | None:
    urls = event.mimeData().urls()
    return Path(urls[0].toLocalFile()) if urls and urls[0].isLocalFile() else None
