"""Handing the papers over by mail: which ones, to whom, with what words; a draft is opened."""

from __future__ import annotations

import os
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import (
    QDialog,
    QFormLayout,
    QHBoxLayout,
    QPlainTextEdit,
    QVBoxLayout,
    QWidget,
)

from deskapp.i18n import N_, _
from deskapp.session.mail_draft import (
    MailDraft,
    addresses_in,
    draft_for,
    open_with_files,
    wrong_address,
)
from deskapp.ui.dialogs.files import ask_folder
from deskapp.ui.dialogs.room import give_room
from deskapp.ui.fields.plain_line import PlainLine
from deskapp.ui.glyphs import Glyph
from deskapp.ui.head_row import HeadRow
from deskapp.ui.levels import tell_findings, tell_stop
from deskapp.ui.marks import Notice
from deskapp.ui.papers.mail_papers import MailPapers
from deskapp.ui.papers.may_write import if_none_is_lost
from deskapp.ui.progress import ProgressLine, Undertaking
from deskapp.ui.theme import GRID
from deskapp.ui.words import Command, Size, Words

if TYPE_CHECKING:
    from collections.abc import Callable

    from deskapp.session.issued_files import IssuedPaper
    from deskapp.session.long_work import LongWork
    from deskapp.session.report_kinds import ReportKind
    from deskapp.session.reports import ReportOrder

_SIZE = (680, 620)


class MailDialog(QDialog):
    """Saves the papers chosen into a folder and opens a draft with them. It sends nothing."""

    def __init__(self, order: ReportOrder, folder: Path, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(_("Papers by mail"))
        self._order, self.folder = order, folder
        self.open_draft: Callable[[MailDraft], bool] = open_with_files
        self.open_link: Callable[[str], bool] = _open_link
        draft = draft_for(order)
        self.address, self.subject = PlainLine(draft.to), PlainLine(draft.subject)
        self.text = QPlainTextEdit(draft.text)
        self.papers = MailPapers(order)
        self.message = Notice(Size.BODY)
        self.undertaking = Undertaking(N_("Making the papers"), self)
        self.undertaking.done.connect(self._say_done)
        self.undertaking.broken.connect(self._say_why)
        self.undertaking.given_up.connect(self._say_given_up)
        self.go = Command(_("Open the draft"), main=True)
        self.go.clicked.connect(self.start)
        self.undertaking.busy_changed.connect(self.go.setDisabled)
        self._place = Words()
        self._lay_out()
        self._use_folder(folder)
        give_room(self, *_SIZE)

    def start(self) -> None:
        """Save the papers, then open the draft."""
        kinds, issued = self.papers.drafts, self.papers.issues
        if not kinds and not issued:
            self.message.say(Glyph.CHECK, "", _("Choose at least one paper to hand over."))
            return
        wrong = wrong_address(self.address.text())
        if wrong is not None:
            tell_findings(self.message, [wrong])
            self.address.setFocus()
            return
        to = ", ".join(addresses_in(self.address.text()))
        draft = MailDraft(to, self.subject.text(), self.text.toPlainText())
        order, folder, open_it = self._order, self.folder, self.open_draft
        do = partial(_save_and_open, order, kinds, issued, folder, draft, open_it)

        def begin() -> None:
            self.message.say(Glyph.PAPER, "", _("Saving the papers…"))
            self.undertaking.start(do)

        if_none_is_lost(self, order, kinds, folder, begin)

    def _lay_out(self) -> None:
        form = QFormLayout()
        form.setSpacing(GRID)
        form.addRow(_("&To"), self.address)
        # Letters beside an underlined one stand further apart than is reckoned with.
        label = form.labelForField(self.address)
        label.setMinimumWidth(label.sizeHint().width() + GRID)
        form.addRow(_("&Subject"), self.subject)
        self.text.setTabChangesFocus(True)
        form.addRow(_("Te&xt"), self.text)
        form.addRow(_("Papers"), self.papers)
        change = Command(_("Another folder…"))
        change.clicked.connect(self._ask_folder)
        form.addRow(_("Saved in"), HeadRow(self._place, (change,)))
        column = QVBoxLayout(self)
        column.setContentsMargins(2 * GRID, 2 * GRID, 2 * GRID, 2 * GRID)
        column.setSpacing(12)
        words = _(
            "A draft opens in your mail program with the papers attached. "
            "Ductfolio sends nothing: you look it over and send it."
        )
        column.addWidget(Words(words, muted=True))
        column.addLayout(form, 1)
        column.addWidget(self.message)
        column.addWidget(ProgressLine(self.undertaking))
        close = Command(_("Close"))
        close.clicked.connect(self.reject)
        buttons = QHBoxLayout()
        buttons.addStretch(1)
        buttons.addWidget(close)
        buttons.addWidget(self.go)
        column.addLayout(buttons)

    def _ask_folder(self) -> None:
        ask_folder(self, _("Folder for the papers"), self._use_folder)

    def _use_folder(self, folder: Path) -> None:
        self.folder = folder
        # A path may go on in the next line after each of its parts.
        place = str(folder)
        self._place.setText(place.replace(os.sep, f"{os.sep}\N{ZERO WIDTH SPACE}"))
        self._place.setAccessibleName(place)
        self._place.setToolTip(place)
        self.papers.look_in(folder)

    def _say_done(self, outcome: tuple[MailDraft, bool]) -> None:
        draft, was_opened = outcome
        if was_opened:
            words = _(
                "The draft is open in your mail program. See whether the papers are attached; "
                "if not, take them from {folder}."
            )
            self.message.say(Glyph.DONE, "", words.format(folder=self.folder))
            return
        is_written = self.open_link(draft.link)
        is_shown = self.open_link(QUrl.fromLocalFile(str(self.folder)).toString())
        files = ", ".join(
            path.name if path.parent == self.folder else str(path) for path in draft.files
        )
        words = _what_opened(is_written=is_written, is_shown=is_shown)
        self.message.say(Glyph.CHECK, "", words.format(files=files, folder=self.folder))

    def _say_why(self, error: Exception) -> None:
        tell_stop(self.message, str(error))

    def _say_given_up(self) -> None:
        self.message.say(Glyph.NOTE, "", _("Canceled. No paper was saved."))


def _what_opened(*, is_written: bool, is_shown: bool) -> str:
    """Say what came up where no mail program takes files, and what is left to do."""
    if is_written and is_shown:
        return _(
            "No mail program here takes files from other programs. A draft with the text was "
            "opened, and the folder with the papers: attach {files} to it."
        )
    if is_written:
        return _(
            "No mail program here takes files from other programs. A draft with the text was "
            "opened, but the folder could not be shown: attach {files} from {folder}."
        )
    if is_shown:
        return _(
            "No mail program could be opened. The folder with the papers was opened: write a mail "
            "yourself and attach {files}."
        )
    return _(
        "Neither a mail program nor the folder could be opened. The papers are saved: write a mail "
        "yourself and attach {files} from {folder}."
    )


def _save_and_open(
    order: ReportOrder,
    kinds: tuple[ReportKind, ...],
    issued: tuple[IssuedPaper, ...],
    folder: Path,
    draft: MailDraft,
    open_it: Callable[[MailDraft], bool],
    work: LongWork,
) -> tuple[MailDraft, bool]:
    from deskapp.session.issued_files import changed_words
    from deskapp.session.reports import ReportProblem, make_reports

    attached: list[Path] = []
    for paper in issued:
        if paper.path is None or not paper.is_unchanged:
            raise ReportProblem("changed", changed_words(paper.path or folder))
        attached.append(paper.path)
    made = make_reports(order, kinds, folder, work)
    files = (*attached, *(one.path for one in made))
    whole = MailDraft(draft.to, draft.subject, draft.text, files)
    return whole, open_it(whole)


def _open_link(link: str) -> bool:
    return QDesktopServices.openUrl(QUrl(link))
