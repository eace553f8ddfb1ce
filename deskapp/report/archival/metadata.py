"""What a report says of itself, as metadata and as document information: both always agree.

The form is that of XMP (ISO 16684-1), the pairs are those of ISO 19005-3, 6.6.4.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from string import Template
from typing import TYPE_CHECKING
from xml.sax.saxutils import escape

from deskapp.domain.data_files import resources_folder
from deskapp.report.archival.objects import text_string

if TYPE_CHECKING:
    from datetime import date

    from deskapp.report.archival.objects import Objects

_WORDS = {
    "Title": ("dc:title", "Alt"),
    "Author": ("dc:creator", "Seq"),
    "Subject": ("dc:description", "Alt"),
    "Creator": ("xmp:CreatorTool", ""),
    "Producer": ("pdf:Producer", ""),
}
_DAYS = {"CreationDate": "xmp:CreateDate", "ModDate": "xmp:ModifyDate"}
_IDENTITY = ("xmpMM:DocumentID", "xmpMM:InstanceID")
_ANY_LANGUAGE = 'xml:lang="x-default"'
_NOT_IN_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


@dataclass(frozen=True, slots=True)
class Information:
    """What a report says of itself.

    `creator` is the program it was written in, `producer` the library that drew it; `day` counts
    in universal time.
    """

    title: str
    author: str
    subject: str
    creator: str
    producer: str
    day: date

    @property
    def written_day(self) -> bytes:
        """The day as a file holds it (ISO 32000-1, 7.9.4)."""
        return f"(D:{self.day:%Y%m%d}000000+00'00)".encode()


def add_metadata(objects: Objects, about: Information, identity: str) -> tuple[int, int]:
    """Add document information and metadata that agree, and return their numbers.

    What only one of the two could say is in neither: entries without words, and characters no XML
    holds.
    """
    properties = [_property(name, "", identity) for name in _IDENTITY]
    entries: list[bytes] = []
    for key, place in _WORDS.items():
        words = _NOT_IN_XML.sub("", getattr(about, key.lower()))
        if words:
            entries.append(b"/%s%s" % (key.encode(), text_string(words)))
            properties.append(_property(*place, escape(words.replace("\r", "\n"))))
    for key, name in _DAYS.items():
        entries.append(b"/%s%s" % (key.encode(), about.written_day))
        properties.append(_property(name, "", f"{about.day.isoformat()}T00:00:00+00:00"))
    whole = _frame().substitute(properties="\n".join(f"   {line}" for line in properties)).encode()
    # Metadata is not compressed, so that it can be found without knowing PDF.
    metadata = b"<</Type/Metadata/Subtype/XML/Length %d>>\nstream\n%s\nendstream"
    return (
        objects.add(b"<<%s>>" % b"".join(entries)),
        objects.add(metadata % (len(whole), whole)),
    )


def _property(name: str, kind: str, said: str) -> str:
    """Return one entry; `kind` is that of the list it stands in, empty where in none."""
    if kind:
        opening = f"rdf:li {_ANY_LANGUAGE}" if kind == "Alt" else "rdf:li"
        said = f"<rdf:{kind}><{opening}>{said}</rdf:li></rdf:{kind}>"
    return f"<{name}>{said}</{name}>"


@cache
def _frame() -> Template:
    return Template((resources_folder() / "archival" / "metadata.xmp").read_text("utf-8"))
