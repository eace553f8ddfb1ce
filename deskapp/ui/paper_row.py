"""One report on the page of the papers: what it is for, its template, and saving it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.session.issue_desk import IssueStanding
from deskapp.session.report_kinds import (
    ISSUE_WORDS,
    KIND_PURPOSES,
    KIND_WORDS,
    SAVE_WORDS,
    ReportKind,
)
from deskapp.ui.fields.chosen_fields import Choices
from deskapp.ui.glyphs import Glyph
from deskapp.ui.head_row import HeadRow
from deskapp.ui.marks import Notice
from deskapp.ui.words import Command, Size, Words

if TYPE_CHECKING:
    from deskapp.session.own_templates import OwnTemplate


_LEAST = 30
_STANDING_GLYPHS = {
    IssueStanding.NONE: Glyph.BLANK,
    IssueStanding.CURRENT: Glyph.DONE,
    IssueStanding.OVERTAKEN: Glyph.CHECK,
}


class PaperRow(QWidget):
    """Title, purpose and last issue of a report at the left, template and commands at the right.

    Signals: `wanted` when it is to be saved, `issue_wanted`, `template_chosen` with a file name
    (empty for the one that came along), `change_wanted` when the template is to be changed.
    """

    wanted = Signal()
    issue_wanted = Signal()
    template_chosen = Signal(str)
    change_wanted = Signal()

    def __init__(self, kind: ReportKind) -> None:
        super().__init__()
        self.kind = kind
        title = _(KIND_WORDS[kind])
        told = QWidget()
        words = QVBoxLayout(told)
        words.setContentsMargins(0, 0, 0, 0)
        words.setSpacing(2)
        words.addWidget(Words(title, Size.STRONG))
        words.addWidget(Words(_(KIND_PURPOSES[kind]), muted=True))
        self.standing = Notice()
        words.addWidget(self.standing)
        self._listed: tuple[tuple[OwnTemplate, ...], str] | None = None
        self.templates = Choices(fits=True)
        self.templates.setAccessibleName(_("{report}: template").format(report=title))
        self.templates.activated.connect(self._choose)
        self.change = Command(_("Change…"))
        self.change.setFlat(True)
        self.change.setAccessibleName(_("{report}: change the template").format(report=title))
        self.change.clicked.connect(self.change_wanted)
        self.save = Command(_("Save…"))
        self.save.setAccessibleName(_(SAVE_WORDS[kind]).replace("&", ""))
        self.save.clicked.connect(self.wanted)
        self.issue = Command(_("Issue…"))
        self.issue.setAccessibleName(_(ISSUE_WORDS[kind]).replace("&", ""))
        self.issue.clicked.connect(self.issue_wanted)
        commands = (self.templates, self.change, self.issue, self.save)
        self.setLayout(HeadRow(told, commands, least=_LEAST))

    def show_templates(self, own: tuple[OwnTemplate, ...], used: str) -> None:
        """List the templates there are; `used` is the file name of the one in use."""
        if (own, used) == self._listed:
            return
        self._listed = (own, used)
        self.templates.clear()
        self.templates.addItem(_("Usual template"), "")
        for one in own:
            self.templates.addItem(one.name, one.path.name)
        at = self.templates.findData(used)
        if at < 0:
            self.templates.addItem(used, used)
            at = self.templates.count() - 1
        self.templates.setCurrentIndex(at)

    def show_standing(self, standing: IssueStanding, words: str) -> None:
        """Say how the last issue stands to the job; nothing as long as there is none."""
        self.standing.say(_STANDING_GLYPHS[standing], "", words)
        self.standing.setVisible(standing is not IssueStanding.NONE)

    def _choose(self, at: int) -> None:
        self.template_chosen.emit(str(self.templates.itemData(at)))
