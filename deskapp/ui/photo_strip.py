"""Pictures of a leak or of the job: drop them, attach them, caption them."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QSize, Qt
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QImageReader, QPixmap
from PySide6.QtWidgets import QHBoxLayout, QLabel, QToolButton, QVBoxLayout, QWidget

from deskapp.domain.fields import label_of
from deskapp.i18n import _
from deskapp.ui.dialogs.files import ask_pictures
from deskapp.ui.fields.line import EntryLine
from deskapp.ui.form import RowExtra
from deskapp.ui.glyphs import Glyph, icon_of
from deskapp.ui.levels import level_of
from deskapp.ui.marks import Notice
from deskapp.ui.row_tabs import WrappingRow
from deskapp.ui.theme import GRID
from deskapp.ui.words import Command, Size, Words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from deskapp.ui.bridge import Bridge

_SIDE = QSize(176, 132)


class PhotoTile(QWidget):
    """One picture with its caption."""

    def __init__(self, bridge: Bridge) -> None:
        super().__init__()
        from deskapp.session.typed import spec_at

        self._bridge = bridge
        self._path = ""
        self._digest = ""
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        self.picture = QLabel()
        self.picture.setFixedSize(_SIDE)
        self.picture.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.caption = EntryLine(bridge, spec_at("leaks.0.photos.0.caption"))
        self.caption.setPlaceholderText(_("Caption"))
        self.remove = QToolButton()
        self.remove.setAutoRaise(True)
        self.remove.setIcon(icon_of(Glyph.REMOVE, self, 14))
        self.remove.clicked.connect(self._take_out)
        row = QHBoxLayout()
        row.setSpacing(2)
        row.addWidget(self.caption, 1)
        row.addWidget(self.remove)
        column.addWidget(self.picture)
        column.addLayout(row)
        self.setFixedWidth(_SIDE.width())

    def bind(self, photo_path: str) -> None:
        """Show another picture."""
        self._path = photo_path
        photo = self._bridge.value_at(photo_path)
        self.caption.bind(f"{photo_path}.caption")
        words = label_of(photo_path)
        self.caption.setAccessibleName(_("Caption, {photo}").format(photo=words))
        removal = _("Remove {photo}").format(photo=words[:1].lower() + words[1:])
        self.remove.setToolTip(removal)
        self.remove.setAccessibleName(removal)
        self.picture.setAccessibleName(f"{words}: {photo.name}")
        self.picture.setToolTip(photo.name)
        if photo.digest != self._digest:
            self._digest = photo.digest
            data = self._bridge.editor.photos.get(photo.digest, b"")
            self.picture.setPixmap(thumbnail(data, self.devicePixelRatioF()))

    def _take_out(self) -> None:
        self._bridge.remove_photo(self._path)


class PhotoStrip(RowExtra):
    """The pictures of one leak, or of the job as a whole (bound to an empty path)."""

    tail = "photos"

    def __init__(self, bridge: Bridge, title: str = "") -> None:
        super().__init__()
        self._bridge = bridge
        self._leak_path = ""
        self.tiles: list[PhotoTile] = []
        self.setAcceptDrops(True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(Words(title or _("Photos"), Size.HEADING))
        self._box = QWidget()
        self._line = WrappingRow(self._box, 2 * GRID)
        column.addWidget(self._box)
        self.attach_button = Command(_("Attach photos…"), Glyph.PICTURE)
        self.attach_button.clicked.connect(self.ask)
        foot = QHBoxLayout()
        foot.addWidget(self.attach_button)
        hint = _("or drop pictures here. The files themselves stay as they are.")
        foot.addWidget(Words(hint, Size.SMALL, muted=True), 1)
        column.addLayout(foot)
        self.message = Notice()
        column.addWidget(self.message)

    @property
    def _photos_path(self) -> str:
        return f"{self._leak_path}.{self.tail}" if self._leak_path else self.tail

    def bind(self, row_path: str) -> None:
        """Show the pictures of another leak; of the job where `row_path` is empty."""
        self._leak_path = row_path
        self.message.hide()
        self.refresh()

    def refresh(self) -> None:
        """Show the pictures."""
        photos_path = self._photos_path
        count = self._bridge.row_count(photos_path)
        while len(self.tiles) < count:
            tile = PhotoTile(self._bridge)
            self._line.addWidget(tile)
            self.tiles.append(tile)
        for at, tile in enumerate(self.tiles):
            tile.setVisible(at < count)
            if at < count:
                tile.bind(f"{photos_path}.{at}")
            else:
                tile.caption.path = ""
        self._box.setVisible(count > 0)

    def reveal(self, path: str) -> bool:
        """Put the cursor to a picture, or to the button."""
        if not path.startswith(self._photos_path):
            return False
        tile = next((tile for tile in self.tiles if path.startswith(tile.caption.path)), None)
        (tile.caption if tile is not None and tile.caption.path else self.attach_button).setFocus()
        return True

    def ask(self) -> None:
        """Ask for pictures."""
        ask_pictures(self.window(), _("Attach photos"), self.attach)

    def attach(self, files: Sequence[Path]) -> None:
        """Copy pictures into the job; those that cannot be taken are named in one message."""
        found = [self._bridge.attach_photo(self._leak_path, file) for file in files]
        problems = [finding for finding in found if finding is not None]
        if problems:
            glyph, word = level_of(problems[0].level)
            self.message.say(glyph, word, " ".join(finding.text for finding in problems))
        else:
            self.message.hide()

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Welcome files."""
        if event.mimeData().hasUrls():
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Take the files dropped."""
        urls = event.mimeData().urls()
        self.attach([Path(url.toLocalFile()) for url in urls if url.isLocalFile()])
        event.acceptProposedAction()


def thumbnail(data: bytes, ratio: float) -> QPixmap:
    """Return a picture scaled to fit a tile; an empty one if it cannot be read."""
    buffer = QBuffer()
    buffer.setData(QByteArray(data))
    buffer.open(QIODevice.OpenModeFlag.ReadOnly)
    reader = QImageReader(buffer)
    size = reader.size()
    room = QSize(round(_SIDE.width() * ratio), round(_SIDE.height() * ratio))
    if size.isValid():
        reader.setScaledSize(size.scaled(room, Qt.AspectRatioMode.KeepAspectRatio))
    pixmap = QPixmap.fromImage(reader.read())
    pixmap.setDevicePixelRatio(ratio)
    return pixmap
