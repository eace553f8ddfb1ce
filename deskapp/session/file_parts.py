"""What a report file holds beside the words of its pages: what it says of itself, files, pictures.

It is read with a library for PDFs that had no part in writing it.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, field
from io import BytesIO
from typing import TYPE_CHECKING, Any, cast
from xml.etree import ElementTree

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pypdf import PageObject, PdfReader

_IDENTITY = ("DocumentID", "InstanceID")
"""Two marks in the metadata that differ as soon as any byte of the file does."""
_DESCRIPTION = "{http://www.w3.org/1999/02/22-rdf-syntax-ns#}Description"
_JPEG = "/DCTDecode"
_DEEPEST = 8
_END = b"%%EOF\n"
_NOT_READABLE = "?"


@dataclass(frozen=True, slots=True)
class FileParts:
    """One file, taken apart.

    `information` is what it says of itself by name, `metadata` the same once more in XMP, without
    the marks of identity. `pictures` are the JPEG files on its pages by their SHA-256, `others`
    counts pictures in another form, whose files cannot be had back. `on_top` counts what lies
    above the pages: notes, stamps, fields to fill in. `drawn` is the SHA-256 of what draws each
    page, unpacked.
    """

    information: dict[str, str]
    metadata: tuple[str, ...]
    files: dict[str, bytes]
    pictures: dict[str, bytes] = field(default_factory=dict[str, bytes])
    others: int = 0
    on_top: int = 0
    drawn: tuple[str, ...] = ()


def parts_of(report: bytes) -> FileParts | None:
    """Take a report apart; None where it is damaged."""
    from pypdf import PdfReader

    try:
        reader = PdfReader(BytesIO(report))
        pictures = list(_pictures(reader))
        kept = [one for one in pictures if one.get("/Filter") in (_JPEG, [_JPEG])]
        held = [cast("bytes", one._data) for one in kept]
        return FileParts(
            _information(reader),
            _metadata(reader),
            {name: data for name, versions in reader.attachments.items() for data in versions},
            {hashlib.sha256(data).hexdigest(): data for data in held},
            len(pictures) - len(kept),
            sum(_on_top(page) for page in reader.pages),
            tuple(hashlib.sha256(_drawing(page)).hexdigest() for page in reader.pages),
        )
    except Exception:  # what a damaged file sets off in the library has no common name
        return None


def _drawing(page: PageObject) -> bytes:
    content = page.get_contents()
    return b"" if content is None else b" ".join(content.get_data().split())


def before_seals(report: bytes) -> bytes:
    """Return a report as it was before anything was added to its end."""
    end = report.find(_END)
    return report if end < 0 else report[: end + len(_END)]


def _information(reader: PdfReader) -> dict[str, str]:
    found = cast("dict[str, object]", reader.metadata or {})
    return {key[1:]: str(words) for key, words in found.items()}


def _metadata(reader: PdfReader) -> tuple[str, ...]:
    """Return what the metadata says, however it is laid out in its file."""
    found = cast("Any", reader.trailer["/Root"]).get("/Metadata")
    if found is None:
        return ()
    try:
        whole = ElementTree.fromstring(found.get_object().get_data())
    except ElementTree.ParseError:
        return (_NOT_READABLE,)
    return tuple(sorted(line for told in whole.iter(_DESCRIPTION) for line in _said(told, "")))


def _said(element: ElementTree.Element, where: str) -> Iterator[str]:
    """Yield each attribute and each text below `element`, with the names it stands under."""
    parts = [*element.attrib.items(), ("", (element.text or "").strip())]
    yield from (f"{where} {name}: {words}" for name, words in parts if words)
    for part in element:
        if not part.tag.endswith(_IDENTITY):
            yield from _said(part, f"{where}/{part.tag}")


def _on_top(page: Any) -> int:
    """Return how many notes, stamps and fields lie above a page; a seal that is not seen is none.

    Links are not counted: they show nothing.
    """
    notes = page.get("/Annots")
    found = [] if notes is None else [one.get_object() for one in notes.get_object()]
    return sum(
        not (one.get("/Subtype") == "/Link" or (_is_seal(one) and not _has_room(one)))
        for one in found
    )


def _is_seal(note: Any) -> bool:
    return note.get("/Subtype") == "/Widget" and note.get("/FT") == "/Sig"


def _has_room(note: Any) -> bool:
    left, low, right, high = (float(edge) for edge in note["/Rect"])
    return left != right and low != high


def _pictures(reader: PdfReader) -> Iterator[Any]:
    """Yield each picture of the pages once, also those inside of drawings."""
    seen: set[int] = set()
    for page in reader.pages:
        yield from _pictures_in(cast("Any", page).get("/Resources"), seen, 0)


def _pictures_in(resources: Any, seen: set[int], depth: int) -> Iterator[Any]:
    if resources is None or depth > _DEEPEST:
        return
    drawings = resources.get_object().get("/XObject")
    for held in () if drawings is None else drawings.get_object().values():
        drawn = held.get_object()
        if id(drawn) in seen:
            continue
        seen.add(id(drawn))
        if drawn.get("/Subtype") == "/Image":
            yield drawn
        else:
            yield from _pictures_in(drawn.get("/Resources"), seen, depth + 1)
