"""On the page of the set-up: the set-up of an earlier test, copied into the test shown."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtWidgets import QListWidget, QListWidgetItem, QVBoxLayout, QWidget

from deskapp.i18n import N_, _
from deskapp.session.earlier_setup import copy_setup, setups_in, setups_of_files
from deskapp.ui.dialogs.entry_dialog import EntryDialog
from deskapp.ui.dialogs.files import ask_job_to_open
from deskapp.ui.dialogs.room import give_room
from deskapp.ui.head_row import LEAST_BESIDE, HeadRow, titled
from deskapp.ui.list_style import give_air
from deskapp.ui.row_titles import row_title
from deskapp.ui.tasks import Dispatcher
from deskapp.ui.theme import GRID
from deskapp.ui.words import Card, Command, Size, Words

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from deskapp.session.earlier_setup import EarlierSetUp
    from deskapp.session.settings import Preferences
    from deskapp.ui.bridge import Bridge
    from deskapp.ui.desk import Desk
    from deskapp.ui.form import Chosen


class EarlierDialog(EntryDialog):
    """The set-ups of earlier tests, to choose one.

    Signals: `taken` with the set-up chosen.
    """

    taken = Signal(object)

    def __init__(
        self,
        here: Sequence[EarlierSetUp],
        files: Sequence[Path],
        preferences: Preferences,
        parent: QWidget | None,
    ) -> None:
        """Offer the set-ups `here`, then those of job `files`, read in another thread."""
        super().__init__(_("Copy a set-up"), parent)
        self._preferences = preferences
        self._found: list[EarlierSetUp] = []
        why = _(
            "Readings and baselines are never copied. From another job come instruments, ring, "
            "target, direction and how it was measured; stage, places and what was sealed or open "
            "stay behind."
        )
        self.column.addWidget(Words(why, muted=True))
        self.list = QListWidget()
        self.list.setAccessibleName(_("Earlier set-ups"))
        give_air(self.list)
        self.list.setWordWrap(True)
        self.list.setSpacing(2)
        self.list.itemActivated.connect(self._take)
        self.list.currentRowChanged.connect(self._allow)
        self.column.addWidget(self.list, 1)
        self.remark = Words("", Size.SMALL, muted=True)
        more = Command(_("From another job…"))
        more.clicked.connect(self._ask_file)
        cancel = Command(_("Cancel"))
        cancel.clicked.connect(self.reject)
        self.copy_button = Command(_("Copy"), main=True)
        self.copy_button.clicked.connect(self._take)
        self.foot(self.remark, (more, cancel, self.copy_button))
        give_room(self, 620, 440)
        self._reader = Dispatcher(N_("Looking for set-ups in other jobs"), self)
        self._reader.done.connect(self._add_read)
        self.add(here)
        self.read(files)

    def add(self, found: Sequence[EarlierSetUp]) -> None:
        """List more set-ups below the others."""
        height = 2 * self.fontMetrics().height() + 12
        for one in found:
            item = QListWidgetItem(f"{one.title}\n{one.detail}")
            item.setSizeHint(QSize(0, height))
            self.list.addItem(item)
            self._found.append(one)
        if self.list.currentRow() < 0:
            self.list.setCurrentRow(0)
        self._allow()

    def read(self, files: Sequence[Path]) -> None:
        """List the set-ups of job files as soon as they are read."""
        if files:
            self.remark.setText(_("Looking through the jobs used last…"))
            self._reader.start(lambda: setups_of_files(files, self._preferences))
        elif not self._found:
            self.remark.setText(_("No earlier job is known yet."))

    def _add_read(self, outcome: tuple[tuple[EarlierSetUp, ...], str]) -> None:
        found, why = outcome
        self.add(found)
        nothing = "" if self._found else _("No set-up was found there.")
        self.remark.setText(why or nothing)

    def _ask_file(self) -> None:
        ask_job_to_open(self, lambda path: self.read((path,)), self._preferences.jobs_folder)

    def _allow(self) -> None:
        self.copy_button.allow(self.list.currentRow() >= 0, _("Choose a set-up first."))

    def _take(self) -> None:
        at = self.list.currentRow()
        if at >= 0:
            self.taken.emit(self._found[at])
            self.accept()


class EarlierCard(Card):
    """The way to the set-ups of earlier tests, and what was copied from there."""

    def __init__(self, bridge: Bridge, chosen: Chosen, desk: Desk) -> None:
        super().__init__()
        self._bridge = bridge
        self._chosen = chosen
        self._desk = desk
        self._copied: object = None
        column = QVBoxLayout(self)
        column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
        column.setSpacing(GRID)
        self.copy_button = Command(_("Copy a set-up…"))
        self.copy_button.clicked.connect(self.ask_which)
        title = titled(
            _("Set-up as before"),
            _("Takes instruments, ring, target and direction from an earlier test."),
        )
        column.addLayout(HeadRow(title, (self.copy_button,), least=LEAST_BESIDE))
        self.said = Words("", Size.SMALL, muted=True)
        self.said.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.said.hide()
        column.addWidget(self.said)

    def refresh(self) -> None:
        """Say what was copied only as long as it stands; there must be a test to copy into."""
        self.copy_button.allow(self._position >= 0, _("Add a test first."))
        if self._copied not in [test.setup for test in self._bridge.editor.job.tests]:
            self.said.hide()

    def reveal(self, path: str) -> bool:
        """Say that no field is here."""
        return bool(path) and False

    def ask_which(self) -> EarlierDialog:
        """Let an earlier set-up be chosen for the test shown."""
        self._bridge.settle()
        editor, position = self._bridge.editor, self._position
        others = setups_in(editor.job, _("This job"), editor.preferences)
        here = [one for one in others if one.position != position]
        files = [r.path for r in self._desk.recent() if not r.is_missing and r.path != editor.path]
        dialog = EarlierDialog(here, files, editor.preferences, self.window())
        dialog.taken.connect(self._copy_soon)
        dialog.open()
        return dialog

    def _copy_soon(self, earlier: EarlierSetUp) -> None:
        """Copy in a turn of its own, after the one in which the dialog closes."""
        QTimer.singleShot(0, self, partial(self._copy, earlier))

    def _copy(self, earlier: EarlierSetUp) -> None:
        position = self._position
        lines = copy_setup(self._bridge.editor, position, earlier)
        words = _("Copied into {test}: {fields}. Undo takes it back.")
        test = row_title(self._bridge, f"tests.{position}")
        self._copied = self._bridge.value_at(f"tests.{position}.setup")
        self.said.setText(words.format(test=test, fields="; ".join(lines)))
        self.said.show()

    @property
    def _position(self) -> int:
        return self._chosen.row("tests", self._bridge.row_count("tests"))
