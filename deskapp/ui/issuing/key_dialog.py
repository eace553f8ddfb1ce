"""The key to sign reports with: made here, or taken from a certificate file."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from deskapp.i18n import N_, _
from deskapp.session import signing_key
from deskapp.session.signing_key import SealProblem
from deskapp.ui.dialogs.boxes import ask_about
from deskapp.ui.dialogs.entry_dialog import EntryDialog, scrolled
from deskapp.ui.dialogs.files import ask_certificate
from deskapp.ui.dialogs.room import give_room
from deskapp.ui.facts import fact_grid
from deskapp.ui.glyphs import Glyph
from deskapp.ui.issuing.entry_lines import add_line, entry_card, entry_form
from deskapp.ui.levels import tell_stop
from deskapp.ui.marks import Notice
from deskapp.ui.progress import ProgressLine, Undertaking
from deskapp.ui.theme import GRID
from deskapp.ui.words import Command, Size, Words

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from deskapp.session.long_work import LongWork
    from deskapp.session.signing_key import Certified
    from deskapp.ui.words import Card
    from deskapp.units.display import Formatter


class KeyDialog(EntryDialog):
    """Shows the kept key, or the two ways to get one. The passphrase is never kept.

    Signals: `key_changed` once another key, or none, is kept.
    """

    key_changed = Signal()

    def __init__(self, folder: Path, formatter: Formatter, parent: QWidget | None) -> None:
        """Look for the key in `folder`."""
        super().__init__(_("Your signing key"), parent)
        self._folder = folder
        self._formatter = formatter
        self._file: Path | None = None
        self._first: QWidget | None = None
        self.undertaking = Undertaking(N_("Making the signing key"), self)
        self.undertaking.done.connect(self._on_kept)
        self.undertaking.broken.connect(self._on_problem)
        self.undertaking.busy_changed.connect(self._on_busy)
        self._area = scrolled(QWidget())
        self.column.addWidget(self._area, 1)
        self.message = Notice(Size.BODY)
        self.column.addWidget(self.message)
        self.progress = ProgressLine(self.undertaking)
        self.column.addWidget(self.progress)
        close = Command(_("Close"))
        close.clicked.connect(self.reject)
        self.foot(Words(), (close,))
        self._show()
        self._focus_first()
        give_room(self, 640, 620)

    # What is shown

    def _show(self) -> None:
        """Show what is kept now."""
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(0, 0, GRID, 0)
        column.setSpacing(2 * GRID)
        try:
            key = signing_key.kept(self._folder)
        except SealProblem as problem:
            tell_stop(self.message, problem.text)
            column.addLayout(self._removal())
        else:
            column.addWidget(Words(signing_key.worth(key), muted=True))
            if key is None:
                column.addWidget(self._making())
                column.addWidget(self._taking())
            else:
                self._show_key(column, key)
        column.addStretch(1)
        self._area.setWidget(inside)

    def _focus_first(self) -> None:
        """Begin in the first entry, if there is one."""
        if self._first is not None:
            self._first.setFocus()

    def _show_key(self, column: QVBoxLayout, key: Certified) -> None:
        card, inside = entry_card()
        inside.addLayout(fact_grid(signing_key.facts(key, self._formatter, datetime.now(UTC))))
        column.addWidget(card)
        copy = Command(_("Copy the mark"))
        copy.clicked.connect(lambda: QGuiApplication.clipboard().setText(key.key_mark))
        row = self._removal()
        row.insertWidget(0, copy)
        column.addLayout(row)

    def _removal(self) -> QHBoxLayout:
        self.remove_button = Command(_("Remove the key…"), Glyph.REMOVE)
        self.remove_button.clicked.connect(self._ask_to_remove)
        row = QHBoxLayout()
        row.setSpacing(GRID)
        row.addWidget(self.remove_button)
        row.addStretch(1)
        return row

    def _making(self) -> Card:
        card, column = entry_card(_("Make a key"))
        form = entry_form()
        self.owner = add_line(form, _("Name of the signer"))
        self._first = self.owner
        self.passphrase = add_line(form, _("Passphrase"), hidden=True)
        self.again = add_line(form, _("Passphrase again"), hidden=True)
        column.addLayout(form)
        words = _(
            "The passphrase is asked for at each signing and kept nowhere. Without it the key is "
            "of no use to anybody; then make a new one."
        )
        column.addWidget(Words(words, Size.SMALL, muted=True))
        self.make_button = Command(_("Make the key"), main=True)
        self.make_button.clicked.connect(self.make)
        for line in (self.owner, self.passphrase, self.again):
            line.returnPressed.connect(self.make)
            line.textEdited.connect(self.message.hide)
        column.addWidget(self.make_button)
        return card

    def _taking(self) -> Card:
        card, column = entry_card(_("Or use a certificate you have"))
        form = entry_form()
        row = QHBoxLayout()
        row.setSpacing(GRID)
        self.choose_button = Command(_("Choose the file…"))
        self.choose_button.clicked.connect(lambda: ask_certificate(self, self.choose))
        self._file_name = Words(_("A file ending in .p12 or .pfx"), muted=True)
        row.addWidget(self.choose_button)
        row.addWidget(self._file_name, 1)
        form.addRow(Words(_("Certificate"), wraps=False), row)
        self.file_passphrase = add_line(form, _("Its passphrase"), hidden=True)
        column.addLayout(form)
        self.take_button = Command(_("Use this certificate"))
        self.take_button.clicked.connect(self.take)
        self.file_passphrase.returnPressed.connect(self.take)
        self.file_passphrase.textEdited.connect(self.message.hide)
        column.addWidget(self.take_button)
        return card

    # What is done

    def make(self) -> None:
        """Make a key of what is typed, unless something is missing."""
        missing = self._missing()
        if missing is not None:
            line, text = missing
            tell_stop(self.message, text)
            line.setFocus()
            return
        folder, now = self._folder, datetime.now(UTC)
        typed = (self.owner.text(), self.passphrase.text(), self.again.text())
        self._start(lambda work: signing_key.make(folder, *typed, now, work))

    def _missing(self) -> tuple[QWidget, str] | None:
        if not self.owner.text().strip():
            return self.owner, _("Name of the signer: type who signs with this key.")
        if not self.passphrase.text():
            return self.passphrase, _("Passphrase: type the one that will open the key.")
        if not self.again.text():
            return self.again, _("Passphrase again: type the same passphrase once more.")
        return None

    def choose(self, file: Path) -> None:
        """Take note of a certificate file."""
        self._file = file
        self._file_name.setText(file.name)
        self.file_passphrase.setFocus()

    def take(self) -> None:
        """Take the key of the chosen file."""
        folder, file, now = self._folder, self._file, datetime.now(UTC)
        if file is None:
            tell_stop(
                self.message, _("Choose the certificate file first; it ends in .p12 or .pfx.")
            )
            self.choose_button.setFocus()
            return
        typed = self.file_passphrase.text()
        self._start(lambda work: signing_key.take(folder, file, typed, now, work))

    def remove(self) -> None:
        """Put the key out of use."""
        try:
            aside = signing_key.remove(self._folder, datetime.now(UTC))
        except SealProblem as problem:
            tell_stop(self.message, problem.text)
            return
        self._show()
        text = _("The key is no longer used. Its file is kept as “{file}” in {folder}.")
        self.message.say(Glyph.DONE, "", text.format(file=aside.name, folder=aside.parent))
        self.key_changed.emit()

    def reject(self) -> None:
        """Close; a key that is being made is given up, unless it is being kept already."""
        if not self.undertaking.is_busy or self.undertaking.end():
            super().reject()

    def _start(self, do: Callable[[LongWork], object]) -> None:
        self.message.hide()
        self.undertaking.start(do)

    def _ask_to_remove(self) -> None:
        text = _(
            "Nothing can be signed until there is another key. Reports already signed stay valid, "
            "and the file of the key is kept under another name."
        )
        ask_about(self, _("Remove the signing key?"), text, {_("Remove it"): self.remove})

    def _on_kept(self, _key: object) -> None:
        self._show()
        self.message.say(
            Glyph.DONE, "", _("The key is kept. You can sign reports as you issue them.")
        )
        self.key_changed.emit()

    def _on_problem(self, error: Exception) -> None:
        tell_stop(self.message, str(error))
        if not isinstance(error, SealProblem):
            return
        lines = {
            "name": self.owner,
            "again": self.again,
            "passphrase-short": self.passphrase,
            "passphrase": self.file_passphrase,
        }
        if error.code in lines:
            lines[error.code].setFocus()
            lines[error.code].selectAll()

    def _on_busy(self, busy: bool) -> None:
        self._area.setEnabled(not busy)
