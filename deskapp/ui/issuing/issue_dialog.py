"""Handing out a report: what it will say of itself, by whom, why, where, and signed or not."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QFormLayout, QHBoxLayout, QVBoxLayout, QWidget

from deskapp.domain.fields import label_of
from deskapp.i18n import N_, _, ngettext
from deskapp.session import issue_desk, issuing, signing_key
from deskapp.session.report_kinds import KIND_WORDS, ReportKind
from deskapp.ui.dialogs.entry_dialog import EntryDialog, scrolled
from deskapp.ui.dialogs.files import ask_where_to_save
from deskapp.ui.dialogs.room import give_room
from deskapp.ui.glyphs import Glyph
from deskapp.ui.issuing.entry_lines import add_line, entry_card, entry_form, entry_line
from deskapp.ui.levels import tell_stop
from deskapp.ui.marks import Notice
from deskapp.ui.progress import ProgressLine, Undertaking
from deskapp.ui.tasks import Dispatcher
from deskapp.ui.theme import GRID
from deskapp.ui.ticks import Tick
from deskapp.ui.words import Command, Size, Words

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from deskapp.domain.finding import Finding
    from deskapp.domain.issue import Issue
    from deskapp.session.issue_desk import Issued
    from deskapp.session.reports import ReportOrder
    from deskapp.session.settings import Preferences
    from deskapp.session.signing_key import Certified
    from deskapp.ui.words import Card


class IssueDialog(EntryDialog):
    """Asks what is needed, makes the file beside the window, and stays open if that fails.

    Signals: `issued` with the report that was handed out.
    """

    issued = Signal(object)

    def __init__(
        self,
        order: ReportOrder,
        kind: ReportKind,
        preferences: Preferences,
        folder: Path,
        place: Path,
        parent: QWidget | None,
    ) -> None:
        """Ask about the next issue of `order`.

        Args:
            order: what the report is made from.
            kind: which report.
            preferences: units and styles.
            folder: where the signing key is kept.
            place: the folder proposed for the file.
            parent: the window.
        """
        title = _(KIND_WORDS[kind])
        super().__init__(_("Issue a report"), parent)
        job = order.source.job
        self._order, self._kind, self._preferences, self._folder = order, kind, preferences, folder
        self._owner = ""
        self._earlier = job.issues_of(kind.value)
        self._is_further = issue_desk.is_further(job, kind)
        self.target = issue_desk.free_place(place, job, kind)
        self._ahead = Dispatcher(N_("Comparing with the last issue"), self)
        self._ahead.done.connect(self._show_ahead)
        self._ahead.broken.connect(self._on_problem)
        self.undertaking = Undertaking(N_("Issuing the report"), self)
        self.undertaking.done.connect(self._on_issued)
        self.undertaking.broken.connect(self._on_problem)
        self.undertaking.given_up.connect(self._say_given_up)
        self.undertaking.busy_changed.connect(self._on_busy)
        self.column.addWidget(Words(title, Size.HEADING))
        why = _(
            "An issued report gets a number, a day and a mark, and is never changed again. The "
            "job may be: then issue it again, and the new one says what is different."
        )
        self.column.addWidget(Words(why, muted=True))
        self._held = QWidget()
        self._parts = QVBoxLayout(self._held)
        self._parts.setContentsMargins(0, 0, GRID, 0)
        self._parts.setSpacing(2 * GRID)
        self._parts.addWidget(self._identity_card())
        self.signing = self._signing_card()
        self._parts.addWidget(self.signing)
        self._parts.addStretch(1)
        self.column.addWidget(scrolled(self._held), 1)
        self.message = Notice(Size.BODY)
        self.column.addWidget(self.message)
        self.progress = ProgressLine(self.undertaking)
        self.column.addWidget(self.progress)
        self.cancel = Command(_("Cancel"))
        self.cancel.clicked.connect(self.reject)
        self.issue_button = Command(_("Issue it"), main=True)
        self.issue_button.clicked.connect(self.issue)
        self.foot(Words(), (self.cancel, self.issue_button))
        self.press_on_enter(self.issue_button)
        self.show_key()
        give_room(self, 720, 640)

    # What is shown

    def show_gaps(self, gaps: Sequence[Finding]) -> None:
        """List what the report will say was not recorded."""
        if not gaps:
            return
        title = _("Not filled in yet: {n}").format(n=len(gaps))
        names = ", ".join(label_of(gap.path) for gap in gaps)
        told = (
            Words(title, Size.STRONG),
            Words(_("The compliance report will say that these were not recorded."), muted=True),
            Words(names).can_be_copied(),
        )
        for at, words in enumerate(told, 1):
            self._parts.insertWidget(at, words)

    def showEvent(self, event: QShowEvent) -> None:
        """Look up what has changed since the last issue, beside the window."""
        super().showEvent(event)
        lines = (self.reason,) if self._earlier else (self.passphrase, self.by)
        if self._is_further:
            lines = (self.passphrase, self.issue_button)
        next(line for line in lines if line.isEnabled()).setFocus()
        order, kind, preferences = self._order, self._kind, self._preferences
        day = order.source.issued_on
        self._ahead.start(lambda: issuing.next_issue(order.source.job, kind, day, preferences))

    def show_key(self) -> None:
        """Offer to sign with the key that is kept now."""
        try:
            key = signing_key.kept_to_sign(self._folder, datetime.now(UTC))
            words = signing_key.worth(key) if key else _("There is no signing key yet.")
        except signing_key.SealProblem as problem:
            key, words = None, problem.text
        self._show_key(key, words)

    def _show_key(self, key: Certified | None, words: str) -> None:
        self._owner = key.owner if key else ""
        self.sign.setEnabled(key is not None)
        self.sign.setToolTip("" if key else words)
        self.sign.setText(_("Sign it as {owner}").format(owner=key.owner) if key else _("Sign it"))
        self.sign.setChecked(key is not None)
        self.about_key.setText(words)
        self._allow_passphrase(self.sign.isChecked())
        self._tell_signer()

    def _tell_signer(self) -> None:
        """Say so where the key that signs is not of the one who issues."""
        owner = self._owner if self.sign.isChecked() else ""
        words = issue_desk.signer_words(self.by.text(), owner)
        if words:
            self.signer.say(Glyph.CHECK, "", words)
        self.signer.setVisible(bool(words))

    def _identity_card(self) -> Card:
        card, column = entry_card()
        job, formatter = self._order.source.job, self._preferences.formatter
        number = job.number or _("none: give the job one to find the report by it")
        facts = [(_("Number"), number), (_("Issue"), _("1, the first"))]
        if self._earlier:
            last = self._earlier[-1]
            told = _("{n}, takes the place of issue {before} of {day}").format(
                n=last.revision + 1, before=last.revision, day=formatter.day(last.issued_on)
            )
            if self._is_further:
                told = _("{n} of {day}: a further paper, since nothing has changed").format(
                    n=last.revision, day=formatter.day(last.issued_on)
                )
            facts[1] = (_("Issue"), told)
        form = entry_form()
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        for name, text in facts:
            form.addRow(Words(name, muted=True, wraps=False), Words(text).can_be_copied())
        self.by = add_line(form, _("Issued by"), job.tester.signed_by or job.tester.name)
        self.reason = add_line(form, _("Reason"))
        self.changes = Words(_("Comparing with the last issue…"))
        if self._is_further:
            last = self._earlier[-1]
            self.by.setText(last.by)
            self.reason.setText(last.reason)
            for line in (self.by, self.reason):
                line.setEnabled(False)
        elif self._earlier:
            self.reason.setPlaceholderText(_("Why it is issued again"))
        else:
            self.reason.setPlaceholderText(_("May be left empty"))
            self.changes.hide()
        if self._earlier:
            column.addWidget(Words(_("What changed since then"), muted=True))
            column.addWidget(self.changes)
        column.insertLayout(column.count() - (2 if self._earlier else 0), form)
        self._place = entry_line(_("File"), str(self.target))
        self._place.setReadOnly(True)
        choose = Command(_("Choose…"))
        choose.setAccessibleName(_("Choose the file"))
        choose.clicked.connect(self._ask_where)
        row = QHBoxLayout()
        row.setSpacing(GRID)
        row.addWidget(self._place, 1)
        row.addWidget(choose)
        form.addRow(Words(_("File"), wraps=False), row)
        return card

    def _signing_card(self) -> Card:
        card, column = entry_card()
        self.sign = Tick()
        self.sign.toggled.connect(self._allow_passphrase)
        self.sign.toggled.connect(self._tell_signer)
        self.by.textChanged.connect(self._tell_signer)
        self.signer = Notice()
        self.signer.hide()
        self.about_key = Words(muted=True)
        form = entry_form()
        self.passphrase = add_line(form, _("Passphrase"), hidden=True)
        self.key_button = Command(_("Your signing key…"))
        self.key_button.clicked.connect(self._show_key_dialog)
        row = QHBoxLayout()
        row.addWidget(self.sign, 1)
        row.addWidget(self.key_button)
        column.addLayout(row)
        column.addLayout(form)
        column.addWidget(self.signer)
        column.addWidget(self.about_key)
        return card

    def _show_ahead(self, issue: Issue) -> None:
        told = issue.changes or (_("Nothing in the job."),)
        self.changes.setText("\n".join(f"• {change}" for change in told))

    # What is done

    def issue(self) -> None:
        """Make the file, unless something is missing."""
        missing = self._missing()
        if missing is not None:
            field, text = missing
            tell_stop(self.message, text)
            field.setFocus()
            return
        wish = issue_desk.Wish(
            self.by.text(),
            self.reason.text(),
            self.target,
            self.passphrase.text() if self.sign.isChecked() else None,
        )
        order, kind, preferences = self._order, self._kind, self._preferences
        folder, now = self._folder, datetime.now(UTC)
        self.message.say(Glyph.PAPER, "", _("Making {file}…").format(file=self.target.name))
        self.undertaking.start(
            lambda work: issue_desk.hand_out(order, kind, wish, preferences, folder, now, work)
        )

    def reject(self) -> None:
        """Close; while the report is being made, give that up and stay."""
        if not self.undertaking.is_busy:
            super().reject()
        else:
            self.undertaking.end()

    def place_at(self, path: Path) -> None:
        """Put the file somewhere else."""
        self.target = path
        self._place.setText(str(path))

    def _missing(self) -> tuple[QWidget, str] | None:
        if not self._is_further and not self.by.text().strip():
            return self.by, _("Issued by: type the name of the one who issues the report.")
        if self._earlier and not self._is_further and not self.reason.text().strip():
            return self.reason, _("Reason: say in a few words why it is issued again.")
        if self.sign.isChecked() and not self.passphrase.text():
            return self.passphrase, _("Passphrase: type the one of your signing key.")
        return None

    def _ask_where(self) -> None:
        words = _(KIND_WORDS[self._kind])
        ask_where_to_save(self, _("Issue the report as"), self.target, words, self.place_at)

    def _show_key_dialog(self) -> None:
        from deskapp.ui.issuing.key_dialog import KeyDialog

        dialog = KeyDialog(self._folder, self._preferences.formatter, self)
        dialog.key_changed.connect(self.show_key)
        dialog.open()

    def _allow_passphrase(self, allowed: bool) -> None:
        self.passphrase.setEnabled(allowed)

    def _on_busy(self, busy: bool) -> None:
        for part in (self._held, self.issue_button):
            part.setEnabled(not busy)

    def _on_issued(self, made: Issued) -> None:
        self.accept()
        self.issued.emit(made)

    def _say_given_up(self) -> None:
        self.message.say(Glyph.NOTE, "", _("Canceled: nothing was written, nothing was issued."))

    def _on_problem(self, error: Exception) -> None:
        tell_stop(self.message, str(error))
        if getattr(error, "code", "") == "passphrase":
            self.passphrase.setFocus()
            self.passphrase.selectAll()


def issued_words(made: Issued) -> str:
    """Say what came of issuing a report."""
    words = ngettext(
        "{file} is issued as issue {n}, {pages} page. The job holds the record of it.",
        "{file} is issued as issue {n}, {pages} pages. The job holds the record of it.",
        made.pages,
    )
    if made.issue.made_on is not None:
        words = ngettext(
            "{file} is a further paper of issue {n}, {pages} page. The job holds its record.",
            "{file} is a further paper of issue {n}, {pages} pages. The job holds its record.",
            made.pages,
        )
    told = words.format(file=made.path.name, n=made.issue.revision, pages=made.pages)
    return " ".join((told, *(finding.text for finding in made.findings)))
