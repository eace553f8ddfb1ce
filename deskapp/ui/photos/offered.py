"""Pictures in what was dropped or copied: files, or the pixels themselves."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QBuffer, QByteArray, QIODevice
from PySide6.QtGui import QImage

from deskapp.i18n import _

if TYPE_CHECKING:
    from PySide6.QtCore import QMimeData

    from deskapp.session.photo_intake import OfferedPicture


def holds_pictures(mime: QMimeData) -> bool:
    """Say whether there may be pictures in it."""
    return mime.hasImage() or any(url.isLocalFile() for url in mime.urls())


def offers_in(mime: QMimeData) -> tuple[OfferedPicture, ...]:
    """Return the files in it; where there are none, the picture itself."""
    from deskapp.session.photo_intake import OfferedPicture, offered_file

    files = [Path(url.toLocalFile()) for url in mime.urls() if url.isLocalFile()]
    if files:
        return tuple(offered_file(file) for file in files)
    image = QImage(mime.imageData()) if mime.hasImage() else QImage()
    if image.isNull():
        return ()
    return (OfferedPicture(_("Pasted picture"), lambda: png_of(image)),)


def png_of(image: QImage) -> bytes:
    """Return a picture as a file; called in another thread, since that takes a while."""
    data = QByteArray()
    buffer = QBuffer(data)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    image.save(buffer, "PNG")  # pyright: ignore[reportCallIssue, reportArgumentType]
    return bytes(data.data())
