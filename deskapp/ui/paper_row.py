"""One report on the page of the papers: what it is for, who reads it, and saving it."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.session.report_kinds import KIND_PURPOSES, KIND_WORDS, SAVE_WORDS, ReportKind
from deskapp.ui.theme import GRID
from deskapp.ui.words import Command, Size, Words


class PaperRow(QWidget):
    """Title and purpose of a report at the left, the command at the right.

    Signals: `wanted` when it is to be saved.
    """

    wanted = Signal()

    def __init__(self, kind: ReportKind) -> None:
        super().__init__()
        self.kind = kind
        words = QVBoxLayout()
        words.setSpacing(2)
        words.addWidget(Words(_(KIND_WORDS[kind]), Size.STRONG))
        words.addWidget(Words(_(KIND_PURPOSES[kind]), muted=True))
        self.save = Command(_("Save…"), main=True)
        self.save.setAccessibleName(_(SAVE_WORDS[kind]).replace("&", ""))
        self.save.clicked.connect(self.wanted)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(2 * GRID)
        row.addLayout(words, 1)
        row.addWidget(self.save, 0, Qt.AlignmentFlag.AlignTop)
