"""Photos handed to others as files: the command, how far it is, and what came of it."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from deskapp.i18n import N_, _, ngettext
from deskapp.ui.dialogs.boxes import ask_about
from deskapp.ui.dialogs.files import ask_folder
from deskapp.ui.glyphs import Glyph
from deskapp.ui.levels import tell_stop
from deskapp.ui.marks import Notice
from deskapp.ui.progress import ProgressLine, Undertaking
from deskapp.ui.theme import GRID
from deskapp.ui.words import Command

if TYPE_CHECKING:
    from pathlib import Path

    from deskapp.session.long_work import LongWork
    from deskapp.session.photo_export import ExportedPhotos, PhotoOrder
    from deskapp.ui.bridge import Bridge


class ExportBar(QWidget):
    """Writes all photos of the job into a folder, in the background."""

    def __init__(self, bridge: Bridge) -> None:
        super().__init__()
        self._bridge = bridge
        self._folder: Path | None = None
        self._is_of_former_job = False
        self.undertaking = Undertaking(N_("Exporting the photos"), self)
        self.undertaking.done.connect(self._say_done)
        self.undertaking.broken.connect(self._say_why)
        self.undertaking.given_up.connect(self._say_given_up)
        self.button = Command(_("Export the photos…"))
        self.button.setToolTip(
            _(
                "All photos of the job and its leaks as JPEG files with what is drawn on them, "
                "and a list with captions, times and digests"
            )
        )
        self.button.clicked.connect(self.ask)
        self.undertaking.busy_changed.connect(self.button.setDisabled)
        self.message = Notice()
        self._open = Command(_("Open the folder"))
        self._open.clicked.connect(self._open_folder)
        self._open.hide()
        bridge.opened.connect(self._forget)
        said = QHBoxLayout()
        said.addWidget(self.message, 1)
        said.addWidget(self._open, 0, Qt.AlignmentFlag.AlignTop)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(self.button, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(ProgressLine(self.undertaking))
        column.addLayout(said)

    def refresh(self) -> None:
        """Offer the command only where the job has photos."""
        job = self._bridge.editor.job
        has_photos = bool(job.photos) or any(leak.photos for leak in job.leaks)
        self.button.setVisible(has_photos)

    def ask(self) -> None:
        """Ask for a folder and export into it."""
        dialog = ask_folder(self.window(), _("Folder for the photos"), self.export)
        path = self._bridge.editor.path
        if path is not None:
            dialog.setDirectory(str(path.parent))

    def export(self, folder: Path) -> None:
        """Write the photos into `folder`, after asking if files there would be written over."""
        from deskapp.session.photo_export import clashes, order_photos, some_of

        self._bridge.settle()
        order = order_photos(self._bridge.editor, date.today())
        there = clashes(order, folder)

        def begin() -> None:
            self._begin(order, folder, over=bool(there))

        if not there:
            begin()
            return
        text = _("{files} in {folder} would be written over by the photos as they are now.")
        ask_about(
            self.window(),
            _("Replace the photos that are there?"),
            text.format(files=some_of(there), folder=folder),
            {_("Replace"): begin},
        )

    def _begin(self, order: PhotoOrder, folder: Path, *, over: bool) -> None:
        from deskapp.session.photo_export import export_photos

        def do(work: LongWork) -> ExportedPhotos:
            return export_photos(order, folder, work, over=over)

        if self.undertaking.start(do):
            self._is_of_former_job = False
            self._open.hide()
            self.message.hide()

    def _forget(self) -> None:
        """Say no more of the job shown before; an export of its photos goes on."""
        self._is_of_former_job = self.undertaking.is_busy
        self._folder = None
        self._open.hide()
        self.message.hide()

    def _say_done(self, made: ExportedPhotos) -> None:
        if self._is_of_former_job:
            return
        count = len(made.files) - 1
        words = ngettext(
            "{n} photo and its list are in {folder}.",
            "{n} photos and their list are in {folder}.",
            count,
        ).format(n=count, folder=made.folder)
        if made.left_out:
            text = _("These cannot be read and were left out: {names}.")
            words += " " + text.format(names=", ".join(made.left_out))
        self.message.say(Glyph.CHECK if made.left_out else Glyph.DONE, "", words)
        self._folder = made.folder
        self._open.show()

    def _say_why(self, error: Exception) -> None:
        words = _("The job shown before: {why}") if self._is_of_former_job else "{why}"
        tell_stop(self.message, words.format(why=error))

    def _say_given_up(self) -> None:
        self.message.say(Glyph.NOTE, "", _("Canceled. No photo was exported."))

    def _open_folder(self) -> None:
        if self._folder is not None:
            QDesktopServices.openUrl(QUrl.fromLocalFile(str(self._folder)))
