"""What a camera wrote into a picture: when and where it was taken.

Tags and forms by the Exif standard (CIPA DC-008): DateTimeOriginal is ``YYYY:MM:DD HH:MM:SS`` in
the clock of the camera, a place is degrees, minutes and seconds with a letter for its half. What
does not have these forms counts as not written.
"""

from __future__ import annotations

import struct
from contextlib import suppress
from datetime import datetime
from typing import TYPE_CHECKING, Any

from pydantic import ValidationError

from deskapp.domain.leak import PhotoPlace

if TYPE_CHECKING:
    from PIL import Image

_EXIF_IFD = 0x8769
_GPS_IFD = 0x8825
_TAKEN = 0x9003
_LATITUDE_HALF, _LATITUDE, _LONGITUDE_HALF, _LONGITUDE = 1, 2, 3, 4
_MISLEADING = (
    *(OSError, SyntaxError, ValueError, KeyError, IndexError, TypeError, AttributeError),
    *(ArithmeticError, struct.error, ValidationError),
)


def taken_at(image: Image.Image) -> str:
    """Return when the picture was taken (``2026-11-04T09:31:12``); empty if it does not say."""
    with suppress(*_MISLEADING):
        written = str(image.getexif().get_ifd(_EXIF_IFD)[_TAKEN]).strip("\0 ")
        return datetime.strptime(written, "%Y:%m:%d %H:%M:%S").isoformat()
    return ""


def place_of(image: Image.Image) -> PhotoPlace | None:
    """Return where the picture was taken; None if it does not say."""
    with suppress(*_MISLEADING):
        tags: dict[int, Any] = image.getexif().get_ifd(_GPS_IFD)
        return PhotoPlace(
            latitude=_degrees(tags[_LATITUDE], str(tags[_LATITUDE_HALF]), "NS"),
            longitude=_degrees(tags[_LONGITUDE], str(tags[_LONGITUDE_HALF]), "EW"),
        )
    return None


def _degrees(parts: Any, half: str, halves: str) -> float:
    degrees, minutes, seconds = (float(part) for part in parts)
    sign = (1.0, -1.0)[halves.index(half.strip("\0 ")[:1].upper())]
    return sign * round(degrees + minutes / 60.0 + seconds / 3600.0, 6)
