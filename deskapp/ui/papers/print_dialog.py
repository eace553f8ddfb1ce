"""Which paper goes to the printer, and then which printer."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QDialog, QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.session.report_kinds import KIND_PURPOSES, KIND_WORDS, ReportKind
from deskapp.ui.dialogs.entry_dialog import EntryDialog
from deskapp.ui.dialogs.room import give_room
from deskapp.ui.glyphs import Glyph
from deskapp.ui.marks import Notice
from deskapp.ui.theme import GRID
from deskapp.ui.ticks import Dot
from deskapp.ui.words import Command, Size, Words

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from PySide6.QtPrintSupport import QPrinter

    from deskapp.session.settings import Paper

_TITLE_ROOM = 30 * GRID
"""What the frame of a window needs beside its title."""


class PrintDialog(EntryDialog):
    """Lets one of the papers be chosen.

    Signals: `chosen` with its kind.
    """

    chosen = Signal(object)

    def __init__(
        self,
        there: Sequence[ReportKind],
        possible: Sequence[ReportKind],
        shown: ReportKind,
        gaps: Mapping[ReportKind, int],
        parent: QWidget | None,
    ) -> None:
        """Offer the papers there are, `shown` first chosen; those not `possible` say why.

        `gaps` counts the entries that a paper will say were not recorded.
        """
        super().__init__(_("Print"), parent)
        self.papers = {kind: Dot(_(KIND_WORDS[kind])) for kind in there}
        self.go_on = Command(_("Choose the printer…"), main=True)
        lead = Words(_("Which paper is to be printed?"))
        self.column.addWidget(lead)
        for kind, dot in self.papers.items():
            is_possible = kind in possible
            dot.setEnabled(is_possible)
            dot.setChecked(is_possible and kind is shown)
            about = _(KIND_PURPOSES[kind])
            if not is_possible:
                dot.setText(_("{report} (stops keep it back)").format(report=_(KIND_WORDS[kind])))
                about = _("The page of the report lists the stops.")
            dot.setAccessibleDescription(about)
            dot.toggled.connect(self._allow)
            pair = QVBoxLayout()
            pair.setSpacing(2)
            pair.addWidget(dot)
            words = Words(about, Size.SMALL, muted=True)
            words.setContentsMargins(3 * GRID, 0, 0, 0)
            pair.addWidget(words)
            if is_possible and gaps.get(kind):
                missing = Notice()
                missing.setContentsMargins(3 * GRID, 0, 0, 0)
                told = _("Not filled in yet: {n}").format(n=gaps[kind])
                where = _("The page of the report lists them.")
                missing.say(Glyph.CHECK, "", f"{told}. {where}")
                pair.addWidget(missing)
                dot.setAccessibleDescription(f"{about} {told}")
            self.column.addLayout(pair)
        cancel = Command(_("Cancel"))
        cancel.clicked.connect(self.reject)
        self.go_on.clicked.connect(self._choose)
        self.press_on_enter(self.go_on)
        self.column.addStretch(1)
        self.foot(QWidget(), (cancel, self.go_on))
        self._allow()
        give_room(self, 560, 330)

    @property
    def kind(self) -> ReportKind | None:
        """The paper chosen."""
        return next((kind for kind, dot in self.papers.items() if dot.isChecked()), None)

    def showEvent(self, event: QShowEvent) -> None:
        """Begin at the paper chosen."""
        super().showEvent(event)
        dots = [dot for dot in self.papers.values() if dot.isEnabled()]
        marked = [dot for dot in dots if dot.isChecked()] or dots
        if marked:
            marked[0].setFocus()

    def _allow(self) -> None:
        self.go_on.allow(self.kind is not None, _("Choose a paper first."))

    def _choose(self) -> None:
        if self.kind is not None:
            self.accept()
            self.chosen.emit(self.kind)


def ask_printer(
    kind: ReportKind,
    paper: Paper,
    name: str,
    window: QWidget,
    begin: Callable[[QPrinter], object],
    give_up: Callable[[], object],
) -> None:
    """Ask for a printer, and go on with it or `give_up`; the work is called `name`."""
    from PySide6.QtPrintSupport import QAbstractPrintDialog, QPrintDialog

    from deskapp.ui.printing import printer_for

    printer = printer_for(paper, name)
    dialog = QPrintDialog(printer, window)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    dialog.setOption(QAbstractPrintDialog.PrintDialogOption.PrintPageRange)
    title = _(KIND_WORDS[kind])
    dialog.setWindowTitle(title)  # which paper, and no more: long titles are cut
    dialog.setMinimumWidth(dialog.fontMetrics().horizontalAdvance(title) + _TITLE_ROOM)

    def go_on(*_printer: QPrinter) -> None:  # a print dialog names its printer, if it likes
        begin(printer)

    dialog.accepted.connect(go_on)
    dialog.rejected.connect(give_up)
    QDialog.open(dialog)
