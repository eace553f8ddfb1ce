"""The picture of a signature below the fields of the tester: chosen, drawn, removed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize
from PySide6.QtGui import QPixmap
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.ui.dialogs.files import ask_pictures
from deskapp.ui.form import RowExtra
from deskapp.ui.glyphs import Glyph
from deskapp.ui.levels import level_of
from deskapp.ui.marks import Notice
from deskapp.ui.photos.intake import PhotoIntake, intake_line
from deskapp.ui.row_tabs import WrappingRow
from deskapp.ui.theme import GRID
from deskapp.ui.words import Command, Size, Words

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from deskapp.session.photo_intake import OfferedPicture, Taken
    from deskapp.ui.bridge import Bridge

_ROOM = QSize(240, 64)


class SignatureStrip(RowExtra):
    """Shows the picture of the signature, and the ways to another one or to none."""

    def __init__(self, bridge: Bridge) -> None:
        super().__init__()
        self._bridge = bridge
        self._shown = ""
        self.intake = PhotoIntake(self)
        self.picture = QLabel()
        self.picture.setAccessibleName(_("Picture of the signature"))
        self.choose_button = Command(_("Choose a picture…"), Glyph.PICTURE)
        self.choose_button.clicked.connect(self.ask)
        self.draw_button = Command(_("Draw…"))
        self.draw_button.setToolTip(_("Draw the signature with mouse or pen"))
        self.draw_button.clicked.connect(self.draw)
        self.remove_button = Command(_("Remove the picture"), Glyph.REMOVE)
        self.remove_button.clicked.connect(self.remove)
        self.message = Notice()
        bridge.opened.connect(self.message.hide)
        self._lay_out()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 2 * GRID, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(Words(_("Picture of the signature"), Size.STRONG))
        hint = _(
            "Printed above the signature line. A picture proves nothing by itself; sign digitally "
            "to protect the file."
        )
        column.addWidget(Words(hint, Size.SMALL, muted=True))
        column.addWidget(self.picture)
        box = QWidget()
        row = WrappingRow(box, GRID)
        for button in (self.choose_button, self.draw_button, self.remove_button):
            row.addWidget(button)
        column.addWidget(box)
        column.addWidget(intake_line(self.intake))
        column.addWidget(self.message)

    def refresh(self) -> None:
        """Show the picture of the job as it stands."""
        signature = self._bridge.editor.job.tester.signature
        digest = signature.digest if signature is not None else ""
        if digest != self._shown:
            self._shown = digest
            self.message.hide()
            self.picture.setPixmap(self._pixmap(digest))
        if digest and self.picture.pixmap().isNull():
            self.picture.setText(_("The picture is missing"))
        self.picture.setVisible(bool(digest))
        self.remove_button.setVisible(bool(digest))

    def reveal(self, path: str) -> bool:
        """Put the cursor to the button."""
        from deskapp.session.signature import PATH

        if path != PATH:
            return False
        self.choose_button.setFocus()
        return True

    def ask(self) -> None:
        """Ask for the picture of a signature."""
        ask_pictures(self.window(), _("Picture of the signature"), self.choose, several=False)

    def choose(self, files: Sequence[Path]) -> None:
        """Take a picture file."""
        from deskapp.session.photo_intake import offered_file

        self.take(tuple(offered_file(file) for file in files[:1]))

    def draw(self) -> None:
        """Let the signature be drawn."""
        from deskapp.ui.photos.signature_dialog import SignatureDialog

        self._bridge.settle()
        dialog = SignatureDialog(self.window())
        dialog.drawn.connect(self._take_drawn)
        dialog.open()

    def _take_drawn(self, offer: OfferedPicture) -> None:
        self.take((offer,))

    def take(self, offers: Sequence[OfferedPicture]) -> None:
        """Take a picture in, for the job that is open now."""
        editor = self._bridge.editor

        def deliver(taken: Taken) -> None:
            from deskapp.session.signature import put

            if editor is not self._bridge.editor:
                return
            if taken.refused:
                glyph, word = level_of("check")
                self.message.say(glyph, word, " ".join(taken.refused))
                return
            self.message.hide()
            self._bridge.settle()
            put(editor, taken)

        self.intake.order(offers, self._bridge.preferences, deliver)

    def remove(self) -> None:
        """Leave the signature line empty again."""
        from deskapp.session.signature import remove

        self._bridge.settle()
        remove(self._bridge.editor)
        self.choose_button.setFocus()

    def _pixmap(self, digest: str) -> QPixmap:
        from deskapp.ui.photos.tile import thumbnail

        data = self._bridge.editor.photos.get(digest, b"")
        return thumbnail(data, self.devicePixelRatioF(), _ROOM) if data else QPixmap()
