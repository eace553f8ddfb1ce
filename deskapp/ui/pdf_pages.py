"""Pages of a PDF as pictures, for the screen and for paper."""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QSize, Qt
from PySide6.QtGui import QImage, QPainter

if TYPE_CHECKING:
    from collections.abc import Generator

    from PySide6.QtPdf import QPdfDocument


@contextmanager
def opened(data: bytes) -> Generator[QPdfDocument]:
    """Open a PDF from memory for the length of a ``with``."""
    from PySide6.QtPdf import QPdfDocument

    buffer = QBuffer()
    buffer.setData(QByteArray(data))
    buffer.open(QIODevice.OpenModeFlag.ReadOnly)
    document = QPdfDocument()
    document.load(buffer)
    try:
        yield document
    finally:
        document.close()


def page_image(document: QPdfDocument, number: int, size: QSize) -> QImage:
    """Return the page `number`, from 0, as a picture of that size on white."""
    image = document.render(number, size)
    painter = QPainter(image)
    painter.setCompositionMode(QPainter.CompositionMode.CompositionMode_DestinationOver)
    painter.fillRect(image.rect(), Qt.GlobalColor.white)
    painter.end()
    image.convertTo(QImage.Format.Format_RGB32)
    return image


def page_images(data: bytes, width: int) -> list[QImage]:
    """Return the pages of a PDF as pictures `width` dots wide, on white."""
    images: list[QImage] = []
    with opened(data) as document:
        for number in range(document.pageCount()):
            size = document.pagePointSize(number)
            height = round(width * size.height() / size.width())
            images.append(page_image(document, number, QSize(width, height)))
    return images
