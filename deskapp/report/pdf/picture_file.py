"""Opening the bytes of a picture for the page; JPEG files go into the PDF untouched."""

from __future__ import annotations

from io import BytesIO

from PIL import Image
from reportlab.lib.utils import ImageReader
from reportlab.pdfbase.pdfutils import readJPEGInfo

# pyright: reportUnknownMemberType=false, reportUnknownVariableType=false
# (reportlab declares the arguments of its picture functions without types.)

_PRESS_COLORS = 4
"""Colors of a JPEG file made for printing presses: cyan, magenta, yellow and black."""


class _JpegReader(ImageReader):
    """A JPEG that is never decoded.

    The library asks for the pixels only to tell pictures apart; the file itself does that as well,
    and decoding would take longer than all the rest of a page.
    """

    _dataA = None  # noqa: N815 - the library looks for a transparency mask here

    def __init__(self, data: bytes) -> None:
        super().__init__(BytesIO(data))
        self._bytes = data

    def getRGBData(self) -> bytes:  # noqa: N802
        """Return the file."""
        return self._bytes


def open_picture(data: bytes) -> ImageReader | None:
    """Return a reader of the picture in `data`, or None if it cannot be printed.

    A picture in the four colors of the press is turned into one of screen colors, the only ones an
    archival report may hold.
    """
    try:
        jpeg = readJPEGInfo(BytesIO(data)) if data.startswith(b"\xff\xd8") else None
        if jpeg is not None and jpeg[2] != _PRESS_COLORS:
            return _JpegReader(data)
        picture = Image.open(BytesIO(data))
        reader = ImageReader(picture.convert("RGB") if picture.mode == "CMYK" else picture)
        reader.getRGBData()
    except Exception:
        return None
    return reader
