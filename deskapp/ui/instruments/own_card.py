"""On the page of the set-up: copies from the company's instruments, and what became different."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from deskapp.domain.register import InstrumentKind
from deskapp.i18n import _
from deskapp.session.instruments.copies import copy_into_job, offers, update_in_job
from deskapp.ui.head_row import LEAST_BESIDE, HeadRow, titled
from deskapp.ui.instruments.take_dialog import TakeDialog
from deskapp.ui.levels import level_of
from deskapp.ui.limits.candidate_sheet import empty
from deskapp.ui.marks import Notice
from deskapp.ui.theme import GRID
from deskapp.ui.words import Card, Command, Size, Words

if TYPE_CHECKING:
    from collections.abc import Callable

    from deskapp.domain.job import Job
    from deskapp.domain.register import InstrumentRegister
    from deskapp.session.instruments.copies import RegisterOffer
    from deskapp.session.settings import Preferences
    from deskapp.ui.bridge import Bridge
    from deskapp.ui.cabinet import Cabinet


class OwnCard(Card):
    """Takes instruments into the job, and offers an update where a copy has become different."""

    def __init__(self, bridge: Bridge, cabinet: Cabinet, refresh_all: Callable[[], None]) -> None:
        super().__init__()
        self._bridge = bridge
        self.cabinet = cabinet
        self._looked_at: tuple[Job, InstrumentRegister, Preferences] | None = None
        self.offered: tuple[RegisterOffer, ...] = ()
        self.updates: list[Command] = []
        column = QVBoxLayout(self)
        column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
        column.setSpacing(GRID)
        self.take = Command(_("Take from your instruments…"))
        self.take.clicked.connect(self.ask_what_to_take)
        self.keep = Command(_("Keep those of this job"))
        self.keep.setToolTip(
            _("Adds the gauges and fans of this job to your instruments; those there stay.")
        )
        self.keep.clicked.connect(self._keep)
        title = titled(
            _("Your instruments"), _("Gauges and fans you own, entered once for all jobs.")
        )
        column.addLayout(HeadRow(title, (self.keep, self.take), least=LEAST_BESIDE))
        self.remark = Words(muted=True)
        self.remark.hide()
        column.addWidget(self.remark)
        self._offers = QVBoxLayout()
        self._offers.setSpacing(GRID)
        column.addLayout(self._offers)
        stop = cabinet.listen(bridge.preferences, refresh_all)
        self.destroyed.connect(stop)

    def refresh(self) -> None:
        """Show what the job holds."""
        preferences = self._bridge.preferences
        register, job = self.cabinet.register(preferences), self._bridge.editor.job
        looked_at = (job, register, preferences)
        if self._looked_at == looked_at:
            return
        self._looked_at = looked_at
        found = offers(job, register, preferences)
        if found != self.offered:
            self.offered = found
            self._show_offers()

    def reveal(self, path: str) -> bool:
        """Say that no field is here."""
        return bool(path) and False

    def ask_what_to_take(self) -> None:
        """Let instruments be chosen to copy into the job."""
        self._bridge.settle()
        preferences = self._bridge.preferences
        register = self.cabinet.register(preferences)
        dialog = TakeDialog(register, preferences.formatter, date.today(), self.window())
        dialog.taken.connect(self._take)
        dialog.open()

    def _take(self, chosen: list[tuple[InstrumentKind, str]]) -> None:
        register = self.cabinet.register(self._bridge.preferences)
        for kind, key in chosen:
            copy_into_job(self._bridge.editor, register, kind, key)
        self._say("")

    def _keep(self) -> None:
        self._bridge.settle()
        job = self._bridge.editor.job
        register = self.cabinet.editor(self._bridge.preferences)
        named = [one for one in (*job.gauges, *job.fans) if one.description or one.serial]
        before = register.register
        for one in named:
            register.take_in(one)
        finding = self.cabinet.keep()
        if finding is not None:
            self._say(finding.text)
        elif not named:
            self._say(_("No gauge or fan of this job has a name or serial number yet."))
        elif register.register == before:
            self._say(_("All of them are among your instruments already; those were left as is."))
        else:
            self._say(_("Kept. The next job can take them from there."))

    def _say(self, text: str) -> None:
        self.remark.setText(text)
        self.remark.setVisible(bool(text))

    def _show_offers(self) -> None:
        empty(self._offers)
        self.updates = []
        for offer in self.offered:
            self._offers.addWidget(self._offer(offer))

    def _offer(self, offer: RegisterOffer) -> QWidget:
        box = QWidget()
        column = QVBoxLayout(box)
        column.setContentsMargins(0, GRID, 0, 0)
        column.setSpacing(4)
        notice = Notice(Size.BODY)
        words = _("{name} has other values among your instruments than in this job.")
        notice.say(*level_of("note"), words.format(name=offer.name))
        column.addWidget(notice)
        grid = QGridLayout()
        grid.setHorizontalSpacing(2 * GRID)
        grid.setVerticalSpacing(2)
        grid.setColumnStretch(1, 1)
        grid.setColumnStretch(2, 1)
        for at, text in enumerate((_("Field"), _("In this job"), _("Among your instruments"))):
            grid.addWidget(Words(text, Size.SMALL, muted=True, wraps=False), 0, at)
        for line, one in enumerate(offer.differences, 1):
            for at, text in enumerate((one.label, one.in_job, one.in_register)):
                grid.addWidget(Words(text, wraps=at > 0), line, at)
        column.addLayout(grid)
        update = Command(_("Update this job's copy"))
        update.setAccessibleDescription(offer.name)

        def bring() -> None:
            register = self.cabinet.register(self._bridge.preferences)
            update_in_job(self._bridge.editor, register, offer.kind, offer.key)

        update.clicked.connect(bring)
        self.updates.append(update)
        row = QHBoxLayout()
        row.addWidget(update)
        row.addStretch(1)
        column.addLayout(row)
        return box
