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
from deskapp.session.mail_draft import MailDraft, draft_for, open_with_files
from deskapp.session.report_kinds import KIND_WORDS, ReportKind
from deskapp.ui.dialogs.files import ask_folder
from deskapp.ui.dialogs.room import give_room
from deskapp.ui.fields.plain_line import PlainLine
from deskapp.ui.glyphs import Glyph
from deskapp.ui.head_row import HeadRow
from deskapp.ui.levels import tell_stop
from deskapp.ui.marks import Notice
from deskapp.ui.papers.may_write import if_none_is_lost
from deskapp.ui.progress import ProgressLine, Undertaking
from deskapp.ui.theme import GRID
from deskapp.ui.ticks import Tick
from deskapp.ui.words import Command, Size, Words

if TYPE_CHECKING:
    from collections.abc import Callable

    from deskapp.session.long_work import LongWork
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
        self.kinds = {kind: Tick(_(KIND_WORDS[kind])) for kind in ReportKind}
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
        self._allow()
        self._use_folder(folder)
        give_room(self, *_SIZE)

    @property
    def chosen(self) -> tuple[ReportKind, ...]:
        """The papers to hand over."""
        return tuple(kind for kind, box in self.kinds.items() if box.isChecked())

    def start(self) -> None:
        """Save the papers, then open the draft."""
        kinds = self.chosen
        if not kinds:
            self.message.say(Glyph.CHECK, "", _("Choose at least one paper to hand over."))
            return
        draft = MailDraft(self.address.text(), self.subject.text(), self.text.toPlainText())
        order, folder, open_it = self._order, self.folder, self.open_draft
        do = partial(_save_and_open, order, kinds, folder, draft, open_it)

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
        papers = QVBoxLayout()
        for box in self.kinds.values():
            papers.addWidget(box)
        form.addRow(_("Papers"), papers)
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

    def _allow(self) -> None:
        """Offer what can be made; the homeowner report is what most mails hand over."""
        from deskapp.session.reports import kinds_possible, offered

        possible = kinds_possible(self._order)
        there = offered(self._order.source.assessment)
        for kind, box in self.kinds.items():
            box.setVisible(kind in there)
            box.setEnabled(kind in possible)
            box.setChecked(kind in possible and kind is not ReportKind.TECHNICAL)
            if kind not in possible:
                box.setToolTip(_("The page of the report lists the stops."))
                box.setText(_("{report} (stops keep it back)").format(report=_(KIND_WORDS[kind])))

    def _ask_folder(self) -> None:
        ask_folder(self, _("Folder for the papers"), self._use_folder)

    def _use_folder(self, folder: Path) -> None:
        self.folder = folder
        # A path may go on in the next line after each of its parts.
        place = str(folder)
        self._place.setText(place.replace(os.sep, f"{os.sep}\N{ZERO WIDTH SPACE}"))
        self._place.setAccessibleName(place)
        self._place.setToolTip(place)

    def _say_done(self, outcome: tuple[MailDraft, bool]) -> None:
        draft, was_opened = outcome
        if was_opened:
            words = _(
                "The draft is open in your mail program. See whether the papers are attached; "
                "if not, take them from {folder}."
            )
            self.message.say(Glyph.DONE, "", words.format(folder=self.folder))
            return
        self.open_link(draft.link)
        self.open_link(QUrl.fromLocalFile(str(self.folder)).toString())
        words = _(
            "No mail program here takes files from other programs. A draft with the text was "
            "opened, and the folder with the papers: attach {files} to it."
        )
        files = ", ".join(path.name for path in draft.files)
        self.message.say(Glyph.CHECK, "", words.format(files=files))

    def _say_why(self, error: Exception) -> None:
        tell_stop(self.message, str(error))

    def _say_given_up(self) -> None:
        self.message.say(Glyph.NOTE, "", _("Canceled. No paper was saved."))


def _save_and_open(
    order: ReportOrder,
    kinds: tuple[ReportKind, ...],
    folder: Path,
    draft: MailDraft,
    open_it: Callable[[MailDraft], bool],
    work: LongWork,
) -> tuple[MailDraft, bool]:
    from deskapp.session.reports import make_reports

    made = make_reports(order, kinds, folder, work)
    files = tuple(one.path for one in made)
    whole = MailDraft(draft.to, draft.subject, draft.text, files)
    return whole, open_it(whole)


def _open_link(link: str) -> bool:
    return QDesktopServices.openUrl(QUrl(link))
