"""Pictures of a leak or of the job: dropped, pasted or attached, put in order, marked."""

from __future__ import annotations

from collections import deque
from typing import TYPE_CHECKING

from PySide6.QtCore import QMimeData, Qt
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QGuiApplication, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.ui.building import InTurns, laid_out_after
from deskapp.ui.dialogs.files import ask_pictures
from deskapp.ui.form import RowExtra
from deskapp.ui.glyphs import Glyph
from deskapp.ui.levels import level_of
from deskapp.ui.marks import Notice
from deskapp.ui.photos.intake import PhotoIntake, intake_line
from deskapp.ui.photos.offered import holds_pictures, offers_in
from deskapp.ui.photos.tile import PhotoTile
from deskapp.ui.row_tabs import WrappingRow
from deskapp.ui.theme import GRID
from deskapp.ui.words import Command, Size, Words

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

    from deskapp.session.editor import Editor
    from deskapp.session.photo_intake import OfferedPicture, Taken
    from deskapp.ui.bridge import Bridge


class PhotoStrip(RowExtra):
    """The pictures of one leak, or of the job as a whole (bound to an empty path)."""

    tail = "photos"

    def __init__(self, bridge: Bridge, title: str = "") -> None:
        super().__init__()
        self._bridge = bridge
        self._leak_path = ""
        self.tiles: list[PhotoTile] = []
        self._spare: deque[PhotoTile] = deque()
        self._making: InTurns | None = None
        self._loading: InTurns | None = None
        self.setAcceptDrops(True)
        self.intake = PhotoIntake(self)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(Words(title or _("Photos"), Size.HEADING if title else Size.STRONG))
        self._box = QWidget()
        self._line = WrappingRow(self._box, 2 * GRID)
        column.addWidget(self._box)
        column.addLayout(self._foot())
        self.progress = intake_line(self.intake)
        column.addWidget(self.progress)
        self.message = Notice()
        bridge.opened.connect(self.message.hide)
        column.addWidget(self.message)

    def _foot(self) -> QHBoxLayout:
        self.attach_button = Command(_("Attach photos…"), Glyph.PICTURE)
        self.attach_button.clicked.connect(self.ask)
        self.paste_button = Command(_("Paste"))
        self.paste_button.setToolTip(_("Paste copied pictures or picture files"))
        self.paste_button.clicked.connect(self.paste)
        foot = QHBoxLayout()
        foot.addWidget(self.attach_button)
        foot.addWidget(self.paste_button)
        self._hint = Words("", Size.SMALL, muted=True)
        foot.addWidget(self._hint, 1)
        return foot

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
        with laid_out_after(self._line):
            while len(self.tiles) < count:
                if not self._spare:
                    self._make_one()
                self.tiles.append(self._spare.popleft())
            for at, tile in enumerate(self.tiles):
                tile.setVisible(at < count)
                if at < count:
                    tile.bind(f"{photos_path}.{at}")
                else:
                    tile.unbind()
        self._box.setVisible(count > 0)
        what_drops = _("or drop pictures here. The files themselves stay as they are.")
        what_works = _("Click a photo to draw on it; Alt with arrow keys moves it.")
        self._hint.setText(what_works if count else what_drops)
        self._load_soon()

    def _make_one(self) -> None:
        """Make a tile, out of sight until there is a picture for it."""
        tile = PhotoTile(self._bridge)
        tile.opened.connect(self.open_photo)
        tile.moved.connect(self._move)
        tile.hide()
        self._line.addWidget(tile)
        self._spare.append(tile)

    def _make(self, count: int) -> Iterator[None]:
        """Have as many tiles ready, one made in each turn."""
        while len(self._spare) < count:
            self._make_one()
            yield

    def _load_soon(self) -> None:
        """Let pictures come up one by one, since making one small takes a moment."""
        lacks = any(tile.path and tile.lacks_picture for tile in self.tiles)
        if lacks and (self._loading is None or self._loading.is_over):
            if self._loading is not None:
                self._loading.deleteLater()
            self._loading = InTurns(self, self._load())

    def _load(self) -> Iterator[None]:
        while lacking := [tile for tile in self.tiles if tile.path and tile.lacks_picture]:
            lacking[0].load_picture()
            yield

    def reveal(self, path: str) -> bool:
        """Put the cursor to a picture, or to the button."""
        if not path.startswith(self._photos_path):
            return False
        tile = next((t for t in self.tiles if t.path and f"{path}.".startswith(f"{t.path}.")), None)
        (tile.caption if tile is not None else self.attach_button).setFocus()
        return True

    def ask(self) -> None:
        """Ask for pictures."""
        ask_pictures(self.window(), _("Attach photos"), self.attach)

    def attach(self, files: Sequence[Path]) -> None:
        """Copy picture files into the job."""
        from deskapp.session.photo_intake import offered_file

        self.take(tuple(offered_file(file) for file in files))

    def paste(self) -> None:
        """Copy what the clipboard holds into the job; say so if that is no picture."""
        offers = offers_in(QGuiApplication.clipboard().mimeData() or QMimeData())
        if not offers:
            self._say([_("There is no picture on the clipboard. Copy one first.")])
        self.take(offers)

    def take(self, offers: Sequence[OfferedPicture]) -> None:
        """Copy pictures into the job; those that cannot be taken are named in one message.

        Tiles for them are made while they are read.
        """
        if self._making is not None:
            self._making.deleteLater()
        self._making = InTurns(self, self._make(len(offers)))
        editor = self._bridge.editor
        key = self._bridge.value_at(self._leak_path).key if self._leak_path else ""

        def deliver(taken: Taken) -> None:
            self._deliver(editor, key, taken)

        self.intake.order(offers, self._bridge.preferences, deliver)

    def _deliver(self, editor: Editor, leak_key: str, taken: Taken) -> None:
        """Put pictures where they were meant to go, whatever is shown by now."""
        if editor is not self._bridge.editor:
            return
        keys = [leak.key for leak in editor.job.leaks]
        told = list(taken.refused)
        if not leak_key:
            self._bridge.add_photos("photos", taken)
        elif leak_key in keys:
            self._bridge.add_photos(f"leaks.{keys.index(leak_key)}.photos", taken)
        else:
            told.append(_("The leak was removed meanwhile, so its photos were not added."))
        if taken.left:
            told.append(_("Ended early: {count} left out.").format(count=taken.left))
        self._say(told)
        self._bridge.photos_told.emit(" ".join(told))

    def _say(self, told: Sequence[str]) -> None:
        if told:
            glyph, word = level_of("check")
            self.message.say(glyph, word, " ".join(told))
        else:
            self.message.hide()

    def open_photo(self, path: str) -> None:
        """Let marks be drawn on a picture."""
        from deskapp.ui.photos.boards import PhotoBoard
        from deskapp.ui.photos.drawing_dialog import DrawingDialog

        self._bridge.settle()
        DrawingDialog(PhotoBoard(self._bridge, path), self.window()).open()

    def _move(self, path: str, by: int) -> None:
        caption_had_focus = any(tile.caption.hasFocus() for tile in self.tiles)
        there = int(self._bridge.move_photo(path, by).rpartition(".")[2])
        tile = self.tiles[there]
        (tile.caption if caption_had_focus else tile.picture).setFocus()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Paste pictures with the usual keys."""
        if event.matches(QKeySequence.StandardKey.Paste):
            self.paste()
        else:
            super().keyPressEvent(event)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Welcome pictures."""
        if holds_pictures(event.mimeData()):
            event.setDropAction(Qt.DropAction.CopyAction)
            event.accept()

    def dropEvent(self, event: QDropEvent) -> None:
        """Take the pictures dropped."""
        self.take(offers_in(event.mimeData()))
        event.setDropAction(Qt.DropAction.CopyAction)
        event.accept()
