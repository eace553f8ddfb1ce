"""Reads the pictures of a job; may be called in any thread, and lets others go on meanwhile."""

from __future__ import annotations

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QSize, Qt
from PySide6.QtGui import QImage, QImageReader


def read_picture(data: bytes, room: QSize | None = None) -> QImage:
    """Return a picture, scaled to fit into `room`; an empty one if it cannot be read."""
    buffer = QBuffer()
    buffer.setData(QByteArray(data))
    buffer.open(QIODevice.OpenModeFlag.ReadOnly)
    reader = QImageReader(buffer)
    size = reader.size()
    if room is not None and size.isValid():
        reader.setScaledSize(size.scaled(room, Qt.AspectRatioMode.KeepAspectRatio))
    return reader.read()
