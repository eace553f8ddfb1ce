"""What a report says of itself, as metadata and as document information: both always agree.

The form is that of XMP (ISO 16684-1), the pairs are those of ISO 19005-3, 6.6.4.
"""

from __future__ import annotations

import re
from functools import cache
from string import Template
from typing import TYPE_CHECKING
from xml.sax.saxutils import escape

from pikepdf import Name

from deskapp.domain.data_files import resources_folder

if TYPE_CHECKING:
    from uuid import UUID

    from pikepdf import Pdf

_WORDS = {
    "/Title": ("dc:title", "Alt"),
    "/Author": ("dc:creator", "Seq"),
    "/Subject": ("dc:description", "Alt"),
    "/Creator": ("xmp:CreatorTool", ""),
    "/Producer": ("pdf:Producer", ""),
}
_DAYS = {"/CreationDate": ("xmp:CreateDate", ""), "/ModDate": ("xmp:ModifyDate", "")}
_IDENTITY = ("xmpMM:DocumentID", "xmpMM:InstanceID")
_ANY_LANGUAGE = 'xml:lang="x-default"'
_NOT_IN_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def add_metadata(pdf: Pdf, identity: UUID) -> None:
    """Give `pdf` metadata that agrees with its document information, and an identity.

    What only one of the two can say is taken out of the document information: entries without
    words, those the metadata has no place for, and characters no XML holds.
    """
    told = {key: str(value) for key, value in pdf.docinfo.items()}
    properties = [_property(name, "", identity.urn) for name in _IDENTITY]
    for key, typed in told.items():
        words = _NOT_IN_XML.sub("", typed.rstrip("'") if key in _DAYS else typed)
        place = (_WORDS | _DAYS).get(key)
        if place is None or not words:
            del pdf.docinfo[key]
            continue
        if words != typed:
            pdf.docinfo[key] = words
        said = _moment(words) if key in _DAYS else words.replace("\r", "\n")
        properties.append(_property(*place, escape(said)))
    whole = _frame().substitute(properties="\n".join(f"   {line}" for line in properties))
    pdf.Root.Metadata = pdf.make_stream(whole.encode(), Type=Name.Metadata, Subtype=Name.XML)


def _property(name: str, kind: str, said: str) -> str:
    """Return one entry; `kind` is that of the list it stands in, empty where in none."""
    if kind:
        opening = f"rdf:li {_ANY_LANGUAGE}" if kind == "Alt" else "rdf:li"
        said = f"<rdf:{kind}><{opening}>{said}</rdf:li></rdf:{kind}>"
    return f"<{name}>{said}</{name}>"


def _moment(written: str) -> str:
    """Return a moment of universal time in the form of XMP: that of a PDF is D:YYYYMMDDhhmmss."""
    day, time = written[2:10], written[10:16]
    return f"{day[:4]}-{day[4:6]}-{day[6:]}T{time[:2]}:{time[2:4]}:{time[4:]}+00:00"


@cache
def _frame() -> Template:
    return Template((resources_folder() / "archival" / "metadata.xmp").read_text("utf-8"))
