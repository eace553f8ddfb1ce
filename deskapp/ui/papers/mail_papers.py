"""The papers of a mail: drafts made anew, and issued files attached as they were handed out."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QVBoxLayout, QWidget

from deskapp.i18n import N_, _
from deskapp.session.report_kinds import KIND_WORDS, ReportKind
from deskapp.ui.tasks import Dispatcher
from deskapp.ui.theme import GRID
from deskapp.ui.ticks import Tick
from deskapp.ui.words import Size, Words
from deskapp.units.display import day_in_words

if TYPE_CHECKING:
    from pathlib import Path

    from deskapp.session.issued_files import IssuedPaper
    from deskapp.session.reports import ReportOrder


class MailPapers(QWidget):
    """Lets papers be chosen; where the file of an issue is found, it goes before a draft."""

    def __init__(self, order: ReportOrder) -> None:
        from deskapp.session.issued_files import last_issued

        super().__init__()
        self._order = order
        self._found: dict[ReportKind, IssuedPaper] = {}
        self.kinds = {kind: Tick(_(KIND_WORDS[kind])) for kind in ReportKind}
        self.issued = {kind: Tick("") for kind in ReportKind}
        self.about = {kind: Words(size=Size.SMALL, muted=True) for kind in ReportKind}
        self._looking = Dispatcher(N_("Looking for issued papers"), self)
        self._looking.done.connect(self._show_found)
        self._last = last_issued(order.source.job, ReportKind)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID // 2)
        words = _("Made here are drafts. An issued paper goes as the very file that was issued.")
        self._lead = Words(words, Size.SMALL, muted=True)
        self._lead.setVisible(bool(self._last))
        column.addWidget(self._lead)
        for kind, box in self.kinds.items():
            for part in (self.issued[kind], box, self.about[kind]):
                column.addWidget(part)
            self.issued[kind].hide()
            self.about[kind].hide()
        self._allow()

    @property
    def drafts(self) -> tuple[ReportKind, ...]:
        """The papers to be made anew."""
        return tuple(kind for kind, box in self.kinds.items() if box.isChecked())

    @property
    def issues(self) -> tuple[IssuedPaper, ...]:
        """The issued papers to attach as they are."""
        return tuple(one for kind, one in self._found.items() if self.issued[kind].isChecked())

    def look_in(self, folder: Path) -> None:
        """Look for issued papers in a folder, beside the window."""
        from deskapp.session.issued_files import with_files

        if self._last:
            for paper in self._last:
                if paper.is_current and paper.kind not in self._found:
                    self.about[paper.kind].setText(f"{self._looking.name}…")
            self._looking.start(partial(with_files, self._order.source.job, self._last, folder))

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
        for paper in self._last:
            if paper.kind in possible:
                words = _("{report}, a draft made anew").format(report=_(KIND_WORDS[paper.kind]))
                self.kinds[paper.kind].setText(words)
            self._tell_of(paper)

    def _show_found(self, papers: tuple[IssuedPaper, ...]) -> None:
        for paper in papers:
            self._found.pop(paper.kind, None)
            if paper.path is not None:
                self._offer(paper, paper.path)
                continue
            self.issued[paper.kind].hide()
            self.issued[paper.kind].setChecked(False)
            self._tell_of(paper)

    def _offer(self, paper: IssuedPaper, path: Path) -> None:
        tick, draft = self.issued[paper.kind], self.kinds[paper.kind]
        words = _("{report}, issue {n} of {day}: {file}").format(
            report=_(KIND_WORDS[paper.kind]),
            n=paper.issue.revision,
            day=day_in_words(paper.issue.issued_on),
            file=path.name,
        )
        tick.setText(words)
        tick.setToolTip(str(path))
        tick.setChecked(draft.isChecked() or tick.isChecked())
        draft.setChecked(False)
        self.about[paper.kind].hide()
        self._found[paper.kind] = paper
        tick.show()

    def _tell_of(self, paper: IssuedPaper) -> None:
        """Say beside a draft that there is an issue, which goes with the mail only by hand."""
        words = _("Changed since issue {n} of {day}: issue it again to hand out what holds.")
        if paper.is_current:
            words = _(
                "Issue {n} of {day} was handed out, but its file is not in the folder below, or "
                "was changed. Attach it yourself, or choose the folder it is in."
            )
        day = day_in_words(paper.issue.issued_on)
        self.about[paper.kind].setText(words.format(n=paper.issue.revision, day=day))
        self.about[paper.kind].show()
