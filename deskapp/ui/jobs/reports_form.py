"""Which reports of several jobs are to be made, and how."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from deskapp.i18n import _, ngettext
from deskapp.session.report_kinds import KIND_WORDS, NAMING_WORDS, Naming, ReportKind
from deskapp.session.report_wish import ReportsWish
from deskapp.session.settings import REPORT_LANGUAGE_LABELS
from deskapp.ui.dialogs.files import ask_folder
from deskapp.ui.fields.chosen_fields import Choices
from deskapp.ui.glyphs import Glyph
from deskapp.ui.issuing.entry_lines import add_line, entry_card, entry_form, entry_line
from deskapp.ui.theme import GRID
from deskapp.ui.ticks import Dot, Tick
from deskapp.ui.words import Command, Size, Words

if TYPE_CHECKING:
    from deskapp.session.settings import Preferences
    from deskapp.ui.words import Card

_USUAL = (ReportKind.HOMEOWNER, ReportKind.COMPLIANCE)


class ReportsForm(QWidget):
    """Asks for the jobs, the reports, their place, and whether they are handed out."""

    def __init__(self, selected: int, listed: int, preferences: Preferences, key: str) -> None:
        """Ask about jobs, `selected` of `listed`; `key` names the owner of the signing key."""
        super().__init__()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, GRID, 0)
        column.setSpacing(2 * GRID)
        column.addWidget(self._what(selected, listed, preferences))
        column.addWidget(self._where(preferences))
        column.addWidget(self._how(key))
        column.addStretch(1)
        self._allow()

    @property
    def wish(self) -> ReportsWish:
        """What is wished now."""
        is_signed = self.issue.isChecked() and self.sign.isChecked()
        return ReportsWish(
            kinds=tuple(kind for kind, box in self.kinds.items() if box.isChecked()),
            language=str(self.languages.currentData()),
            folder=Path(self.folder.text().strip()).expanduser(),
            naming=Naming(str(self.names.currentData())),
            over=self.over.isChecked(),
            issued=self.issue.isChecked(),
            by=self.by.text(),
            reason=self.reason.text(),
            passphrase=self.passphrase.text() if is_signed else None,
        )

    def missing(self) -> tuple[QWidget, str] | None:
        """Return what must be entered first, and the words that say so."""
        if not self.wish.kinds:
            first = next(iter(self.kinds.values()))
            return first, _("Reports: choose at least one kind.")
        if not self.folder.text().strip():
            return self.folder, _("Folder: choose where the reports go.")
        if self.wish.passphrase == "":
            return self.passphrase, _("Passphrase: type the one of your signing key.")
        return None

    def _what(self, selected: int, listed: int, preferences: Preferences) -> Card:
        card, column = entry_card(_("Reports"))
        words = ngettext("The selected job", "The {n} selected jobs", selected)
        self.selected = Dot(words.format(n=selected))
        self.selected.setEnabled(selected > 0)
        words = ngettext("The job listed", "All {n} jobs listed", listed)
        self.listed = Dot(words.format(n=listed))
        (self.selected if selected > 1 else self.listed).setChecked(True)
        scope = QWidget()
        row = QHBoxLayout(scope)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(2 * GRID)
        for button in (self.selected, self.listed):
            row.addWidget(button)
        row.addStretch(1)
        column.addWidget(scope)
        self.kinds = {kind: Tick(_(KIND_WORDS[kind])) for kind in ReportKind}
        for kind, box in self.kinds.items():
            box.setChecked(kind in _USUAL)
            column.addWidget(box)
        self.languages = Choices(fits=True)
        for value, label in REPORT_LANGUAGE_LABELS.items():
            self.languages.addItem(_(label), value)
        self.languages.setCurrentIndex(self.languages.findData(preferences.report_language.value))
        form = entry_form()
        form.addRow(_labeled(_("Language"), self.languages), self.languages)
        column.addLayout(form)
        return card

    def _where(self, preferences: Preferences) -> Card:
        card, column = entry_card(_("Files"))
        self.folder = entry_line(_("Folder"), str(preferences.jobs_path / _("Reports")))
        choose = Command(_("Choose…"), Glyph.FOLDER)
        choose.setAutoDefault(False)
        choose.setAccessibleName(_("Choose the folder of the reports"))
        choose.clicked.connect(self._ask_folder)
        row = QHBoxLayout()
        row.setSpacing(GRID)
        row.addWidget(self.folder, 1)
        row.addWidget(choose)
        self.names = Choices(fits=True)
        for value, label in NAMING_WORDS.items():
            self.names.addItem(_(label), value.value)
        form = entry_form()
        form.addRow(_labeled(_("Folder"), self.folder), row)
        form.addRow(_labeled(_("Named by"), self.names), self.names)
        column.addLayout(form)
        self.over = Tick(_("Replace files of the same name"))
        self.over.setToolTip(_("Otherwise the new file gets a number behind its name."))
        column.addWidget(self.over)
        return card

    def _how(self, key: str) -> Card:
        card, column = entry_card(_("Handing out"))
        self.plain = Dot(_("Only make the files"))
        self.issue = Dot(_("Issue them: numbered, marked and recorded in each job"))
        self.plain.setChecked(True)
        self.issue.toggled.connect(self._allow)
        column.addWidget(self.plain)
        column.addWidget(self.issue)
        form = entry_form()
        self.by = add_line(form, _("Issued by"))
        self.by.setPlaceholderText(_("The tester of each job"))
        self.reason = add_line(form, _("Reason"))
        self.reason.setPlaceholderText(_("Needed where a report was issued before"))
        column.addLayout(form)
        words = _("Sign them as {owner}").format(owner=key) if key else _("Sign them")
        self.sign = Tick(words)
        self.sign.toggled.connect(self._allow)
        self._has_key = bool(key)
        column.addWidget(self.sign)
        form = entry_form()
        self.passphrase = add_line(form, _("Passphrase"), hidden=True)
        column.addLayout(form)
        if not key:
            column.addWidget(Words(_("There is no signing key yet."), Size.SMALL, muted=True))
        return card

    def _allow(self) -> None:
        issued = self.issue.isChecked()
        for part in (self.by, self.reason):
            part.setEnabled(issued)
        self.sign.setEnabled(issued and self._has_key)
        self.passphrase.setEnabled(self.sign.isEnabled() and self.sign.isChecked())
        self.over.setEnabled(not issued)

    def _ask_folder(self) -> None:
        ask_folder(self, _("Choose the folder of the reports"), self._take_folder)

    def _take_folder(self, folder: Path) -> None:
        self.folder.setText(str(folder))


def _labeled(text: str, buddy: QWidget) -> Words:
    words = Words(text, wraps=False)
    words.setBuddy(buddy)
    return words


def open_folder(folder: Path) -> None:
    """Show a folder as the system does."""
    QDesktopServices.openUrl(QUrl.fromLocalFile(str(folder)))
