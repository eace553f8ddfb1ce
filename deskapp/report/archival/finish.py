"""Turns a drawn report into one that lasts and that everyone can read.

It keeps to PDF/A-3, the archival form of PDF (ISO 19005-3, level A), and to PDF/UA-1, the
accessible one (ISO 14289-1).
"""

from __future__ import annotations

import hashlib
import re
from functools import cache
from io import BytesIO
from typing import TYPE_CHECKING
from uuid import NAMESPACE_OID, UUID, uuid5

import pikepdf
from pikepdf import Array, AttachedFileSpec, Dictionary, Name, Pdf, Stream

from deskapp.domain.data_files import resources_folder
from deskapp.report.archival.metadata import add_metadata
from deskapp.report.archival.tags import opened_with_tags

if TYPE_CHECKING:
    from collections.abc import Iterable

    from deskapp.report.archival.attachment import Attachment
    from deskapp.report.archival.structure import Element

_VERSION = "1.7"
_COLORS = "sRGB IEC61966-2.1"
_BEYOND = re.compile(rb"<([0-9A-F]{5,6})>")


def finish(drawn: bytes, structure: Element, attachments: Iterable[Attachment] = ()) -> bytes:
    """Return the report `drawn` with color space, metadata, tags and the files it carries.

    `structure` tells what its parts are and where they stand.

    Title, author, subject and dates are taken from its document information, so both always agree.
    The same input gives the same bytes.
    """
    with opened_with_tags(drawn, structure) as pdf:
        _keep_compressed(pdf)
        _mend_letters(pdf)
        _add_color_space(pdf)
        for attachment in attachments:
            _attach(pdf, attachment)
        add_metadata(pdf, _identity(drawn))
        whole = BytesIO()
        pdf.save(
            whole,
            deterministic_id=True,
            min_version=_VERSION,
            object_stream_mode=pikepdf.ObjectStreamMode.generate,
        )
    return whole.getvalue()


def _keep_compressed(pdf: Pdf) -> None:
    """Name the one filter of each stream by itself: as a list of one, it is compressed again."""
    for number in range(1, pdf.Root.StructTreeRoot.objgen[0]):
        item = pdf.get_object(number, 0)
        if isinstance(item, Stream):
            filters = item.get("/Filter")
            if isinstance(filters, Array) and len(filters) == 1 and "/DecodeParms" not in item:
                item.stream_dict.Filter = filters[0]


def _mend_letters(pdf: Pdf) -> None:
    """Name letters beyond the first 65,536 by the two halves that PDF asks for."""
    fonts = {
        font.objgen: font
        for page in pdf.pages
        for font in page.resources.get("/Font", Dictionary()).values()
        if "/ToUnicode" in font
    }
    for font in fonts.values():
        told = font.ToUnicode.read_bytes()
        if _BEYOND.search(told):
            font.ToUnicode.write(_BEYOND.sub(_halves, told))


def _halves(found: re.Match[bytes]) -> bytes:
    return b"<%s>" % chr(int(found[1], 16)).encode("utf-16-be").hex().upper().encode()


def _add_color_space(pdf: Pdf) -> None:
    pdf.Root.OutputIntents = Array(
        [
            Dictionary(
                Type=Name.OutputIntent,
                S=Name.GTS_PDFA1,
                OutputConditionIdentifier=_COLORS,
                Info=_COLORS,
                DestOutputProfile=pdf.make_stream(_resource("sRGB.icc"), N=3),
            )
        ]
    )


def _attach(pdf: Pdf, attachment: Attachment) -> None:
    day = str(pdf.docinfo["/CreationDate"])
    pdf.attachments[attachment.name] = AttachedFileSpec(
        pdf,
        attachment.data,
        filename=attachment.name,
        description=attachment.description,
        mime_type=attachment.media_type,
        relationship=Name(f"/{attachment.relationship}"),
        creation_date=day,
        mod_date=day,
    )


def _identity(drawn: bytes) -> UUID:
    """Return an identity made from the content, so that equal reports have equal ones."""
    return uuid5(NAMESPACE_OID, hashlib.sha256(drawn).hexdigest())


@cache
def _resource(name: str) -> bytes:
    return (resources_folder() / "archival" / name).read_bytes()
