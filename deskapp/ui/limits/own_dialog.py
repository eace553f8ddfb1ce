"""Limits of one's own: a list, a form, and files to share them."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QDialog,
    QFileDialog,
    QHBoxLayout,
    QListWidget,
    QListWidgetItem,
    QMessageBox,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from deskapp.i18n import _
from deskapp.session.limits_desk import OwnLimitProblem, in_one_go
from deskapp.ui.dialogs.files import ask_where_to_save
from deskapp.ui.dialogs.room import give_room
from deskapp.ui.glyphs import Glyph
from deskapp.ui.limits.chooser import LimitChooser
from deskapp.ui.limits.own_form import OwnForm
from deskapp.ui.list_style import give_air
from deskapp.ui.marks import Notice
from deskapp.ui.theme import GRID
from deskapp.ui.words import Command, Size, Words

if TYPE_CHECKING:
    from collections.abc import Callable

    from deskapp.domain.limit import Edition
    from deskapp.session.limits_desk import CandidateSteps, LimitsDesk
    from deskapp.session.settings import Preferences
    from deskapp.ui.desk import Desk
    from deskapp.ui.job_files import JobFiles

_ID = Qt.ItemDataRole.UserRole


class OwnLimitsDialog(QDialog):
    """Each entry taken is kept in the file of its limit at once.

    Signals: `kept` whenever the limits of one's own have changed.
    """

    kept = Signal()

    def __init__(
        self,
        limits: LimitsDesk,
        preferences: Preferences,
        candidates: Callable[[], CandidateSteps],
        parent: QWidget | None,
    ) -> None:
        """Edit what `limits` keeps; `candidates` returns what may be copied."""
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(_("Limits of your own"))
        self._limits = limits
        self._candidates = candidates
        self._editions: dict[str, Edition] = {}
        self.list = QListWidget()
        self.list.setAccessibleName(_("Limits of your own"))
        give_air(self.list)
        self.list.setWordWrap(True)
        self.form = OwnForm(preferences)
        self.message = Notice(Size.BODY)
        self._none = Words(
            _("None yet. Copy a published limit, then change its numbers and cite the clause."),
            muted=True,
        )
        self.copy_button = Command(_("Copy a limit…"), Glyph.ADD)
        self.remove_button = Command(_("Remove…"), Glyph.REMOVE)
        self.export_button = Command(_("Save to a file…"))
        self.import_button = Command(_("Take from a file…"), Glyph.FOLDER)
        self._lay_out()
        self.list.currentItemChanged.connect(self._show)
        self.form.changed.connect(self._keep)
        self.copy_button.clicked.connect(self._ask_what_to_copy)
        self.remove_button.clicked.connect(self._ask_to_remove)
        self.export_button.clicked.connect(self._ask_where)
        self.import_button.clicked.connect(self._ask_file)
        self._fill("")
        give_room(self, 1000, 660)

    @property
    def marked_id(self) -> str:
        """The id of the limit marked in the list."""
        item = self.list.currentItem() if self.list.count() else None
        return "" if item is None else str(item.data(_ID))

    def done(self, result: int) -> None:
        """Take typed text over before closing."""
        self.form.commit()
        super().done(result)

    def copy(self, edition_id: str, row_id: str = "") -> None:
        """Make a limit of one's own out of another, or of one row of it."""
        found = (
            one.edition for one in in_one_go(self._candidates()) if one.edition.id == edition_id
        )
        edition = next(found, None)
        if edition is None:
            return
        title = _("{title} (our own)").format(title=edition.title or edition.body)
        self._try(lambda: self._start(edition, title, row_id))

    def take_file(self, path: Path) -> None:
        """Take over the limit in somebody else's file; another id is given where it is taken."""

        def take() -> None:
            edition = self._limits.take_over(path, rename=True)
            self._fill(edition.id)
            self.kept.emit()

        self._try(take)

    def save_file(self, path: Path) -> None:
        """Write the limit marked into a file for others."""
        self.form.commit()
        edition = self._editions[self.marked_id]

        def write() -> None:
            written = self._limits.export(edition, path)
            self.message.say(Glyph.DONE, "", _("Saved as {file}.").format(file=written.name))

        self._try(write)

    def remove(self) -> None:
        """Remove the limit marked."""
        self.form.commit()

        def drop() -> None:
            self._limits.drop(self.marked_id)
            self._fill("")
            self.kept.emit()

        self._try(drop)

    def _start(self, edition: Edition, title: str, row_id: str) -> None:
        copy = self._limits.start(edition, title, (row_id,) if row_id else ())
        self._limits.keep(copy)
        self._fill(copy.id)
        self.kept.emit()
        text = _("Copied. Change the numbers, cite the clause, and say who compared it and when.")
        self.message.say(Glyph.NOTE, _("Note"), text)

    def _keep(self, edition: Edition) -> None:
        self._editions[edition.id] = edition
        for at in range(self.list.count()):
            if self.list.item(at).data(_ID) == edition.id:
                self.list.item(at).setText(edition.name)

        def keep() -> None:
            self._limits.keep(edition)
            self.kept.emit()

        self._try(keep)

    def _try(self, act: Callable[[], None]) -> None:
        self.message.hide()
        try:
            act()
        except OwnLimitProblem as problem:
            self.message.say(Glyph.CHECK, _("Check"), problem.text)

    def _fill(self, wanted: str) -> None:
        self.form.commit()
        files, problems = self._limits.own_limits()
        self._editions = {file.edition.id: file.edition for file in files}
        self.list.blockSignals(True)
        self.list.clear()
        for edition in self._editions.values():
            item = QListWidgetItem(edition.name)
            item.setData(_ID, edition.id)
            self.list.addItem(item)
        at = list(self._editions).index(wanted) if wanted in self._editions else 0
        self.list.setCurrentRow(at)
        self.list.blockSignals(False)
        self._show()
        if problems:
            text = " ".join(problem.text for problem in problems)
            self.message.say(Glyph.CHECK, _("Check"), text)

    def _show(self) -> None:
        self.form.commit()
        edition = self._editions.get(self.marked_id)
        self.form.show_edition(edition)
        self.form.setVisible(edition is not None)
        self._none.setVisible(edition is None)
        for button in (self.remove_button, self.export_button):
            button.allow(edition is not None, _("Choose a limit in the list first."))

    def _ask_what_to_copy(self) -> None:
        self.form.commit()
        chooser = LimitChooser(self._candidates, self, to_copy=True)
        chooser.picked.connect(self.copy)
        chooser.open()

    def _ask_file(self) -> None:
        self.form.commit()
        dialog = QFileDialog(self, _("Take a limit from a file"))
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.setNameFilters([_("Limits (*.toml)"), _("All files (*)")])
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.fileSelected.connect(self._take_named)
        dialog.open()

    def _take_named(self, name: str) -> None:
        self.take_file(Path(name))

    def _ask_where(self) -> None:
        proposed = Path(f"{self.marked_id}.toml")
        ask_where_to_save(self, _("Save the limit"), proposed, _("Limits"), self.save_file)

    def _ask_to_remove(self) -> None:
        box = QMessageBox(self)
        box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        box.setWindowTitle(_("Remove a limit"))
        name = self._editions[self.marked_id].name
        box.setText(_("Remove {name} from your own limits?").format(name=name))
        box.setInformativeText(_("Jobs judged by it keep their copy."))
        yes = box.addButton(_("Remove"), QMessageBox.ButtonRole.DestructiveRole)
        no = box.addButton(_("Cancel"), QMessageBox.ButtonRole.RejectRole)
        box.setDefaultButton(no)
        yes.clicked.connect(self.remove)
        box.open()

    def _lay_out(self) -> None:
        left = QVBoxLayout()
        left.setSpacing(GRID)
        left.addWidget(self.list, 1)
        buttons = (self.copy_button, self.import_button, self.export_button, self.remove_button)
        for button in buttons:
            button.setAutoDefault(False)
            button.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
            left.addWidget(button)
        widest = max(button.sizeHint().width() for button in buttons)
        for part in (self.list, *buttons):
            part.setMaximumWidth(max(self.fontMetrics().averageCharWidth() * 40, widest))
        right = QVBoxLayout()
        right.addWidget(self._none)
        right.addWidget(self.form, 1)
        right.addStretch(0)
        halves = QHBoxLayout()
        halves.setSpacing(2 * GRID)
        halves.addLayout(left, 2)
        halves.addLayout(right, 4)
        close = Command(_("Close"), main=True)
        close.setAutoDefault(False)
        close.clicked.connect(self.accept)
        last = QHBoxLayout()
        last.addWidget(self.message, 1, Qt.AlignmentFlag.AlignVCenter)
        last.addStretch(0)
        last.addWidget(close, 0, Qt.AlignmentFlag.AlignRight)
        column = QVBoxLayout(self)
        column.setContentsMargins(2 * GRID, 2 * GRID, 2 * GRID, 2 * GRID)
        column.setSpacing(2 * GRID)
        about = _("Local amendments and company rules. Each change is kept at once.")
        column.addWidget(Words(about, muted=True))
        column.addLayout(halves, 1)
        column.addLayout(last)


def edit_own_limits(desk: Desk, files: JobFiles, window: QWidget) -> None:
    """Let limits of one's own be edited; the open job knows them as they are kept."""
    from deskapp.session.limits_desk import likely_limits_in_steps
    from deskapp.ui.limits.home import home_country

    editor, home = files.editor or desk.new_job(), home_country()
    dialog = OwnLimitsDialog(
        desk.limits, desk.preferences, lambda: likely_limits_in_steps(editor, home), window
    )

    def read_anew() -> None:
        desk.read_limits_anew()
        editor.shelf = desk.shelf
        if files.editor is not None:
            files.editor.shelf = desk.shelf

    dialog.kept.connect(read_anew)
    dialog.open()
