"""What to do with a job that was not saved when the program last ended."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QDialog, QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.ui.facts import fact_grid
from deskapp.ui.glyphs import Glyph
from deskapp.ui.marks import Mark
from deskapp.ui.theme import GRID
from deskapp.ui.words import Command, Size, Words

if TYPE_CHECKING:
    from datetime import datetime

    from deskapp.session.recovery import RecoveryOffer
    from deskapp.units.display import Formatter


class RecoverDialog(QDialog):
    """Says which job, when, and what differs; nothing is restored unless it is asked for.

    The first choice is to recover, or to keep both where the saved file may hold something else.

    Signals: `recover`, `keep_both`, `open_saved`. Closed otherwise, it is `rejected`, and asked
    again at the next start or before.
    """

    recover = Signal()
    keep_both = Signal()
    open_saved = Signal()

    def __init__(self, offer: RecoveryOffer, formatter: Formatter, parent: QWidget | None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(_("Unsaved changes were found"))
        head = QHBoxLayout()
        head.setSpacing(2 * GRID)
        head.addWidget(Mark(Glyph.NOTE, 36), 0, Qt.AlignmentFlag.AlignTop)
        titles = QVBoxLayout()
        titles.addWidget(Words(_("{job} was not saved").format(job=offer.name), Size.HEADING))
        words = _("The program ended before these changes were saved. What shall become of them?")
        titles.addWidget(Words(words))
        head.addLayout(titles, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(3 * GRID, 3 * GRID, 3 * GRID, 2 * GRID)
        column.setSpacing(2 * GRID)
        column.addLayout(head)
        column.addLayout(_facts(offer, formatter))
        column.addStretch(1)
        column.addLayout(self._buttons(offer))
        self.setMinimumWidth(self.fontMetrics().averageCharWidth() * 84)
        self.first.setFocus()

    def _buttons(self, offer: RecoveryOffer) -> QHBoxLayout:
        line = QHBoxLayout()
        line.setSpacing(GRID)
        later = Command(_("Decide later"))
        later.clicked.connect(self.reject)
        line.addWidget(later)
        line.addStretch(1)
        self.choices: list[Command] = []
        ways = [(_("Recover"), self.recover)]
        if offer.is_saved_there:
            ways += [
                (_("Keep both"), self.keep_both),
                (_("Open the saved one"), self.open_saved),
            ]
        else:
            ways.append((_("Do without it"), self.open_saved))
        safest = ways[1] if offer.is_saved_there and offer.may_hide else ways[0]
        for way in reversed(ways):
            words, signal = way
            button = Command(words, main=way is safest)
            button.clicked.connect(self.accept)
            button.clicked.connect(signal)
            button.setDefault(way is safest)
            line.addWidget(button)
            self.choices.insert(0, button)
        self.first = self.choices[ways.index(safest)]
        later.setAutoDefault(False)
        return line


def _facts(offer: RecoveryOffer, formatter: Formatter) -> QGridLayout:
    copy = ", ".join(part for part in (_time(offer.written, formatter), offer.age) if part)
    saved = str(offer.path) if offer.path else _("None yet")
    if offer.saved_on:
        saved = f"{_time(offer.saved_on, formatter)}\n{saved}"
    differs = " ".join(part for part in (offer.differs, offer.remark) if part)
    facts = [
        (_("Recovery copy"), f"{copy}\n{offer.counts}" if offer.counts else copy),
        (_("Saved file"), saved),
        (_("What differs"), differs),
    ]
    if offer.is_saved_there:
        hint = _(
            "Recover opens the changes over the saved job, unsaved, and can be undone. Keep both "
            "writes them into a second file beside it. Open the saved one sets them aside."
        )
    else:
        hint = _("Recover opens them as a job that still wants saving.")
    facts.append(
        (_("How it goes on"), _("{hint} What is set aside is kept for 30 days.").format(hint=hint))
    )
    return fact_grid(facts)


def _time(when: datetime, formatter: Formatter) -> str:
    day = formatter.day(when.date())
    return _("{day}, {time}").format(day=day, time=when.strftime("%H:%M"))
