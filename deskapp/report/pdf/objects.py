"""Takes what a canvas has drawn, object by object, before the library would write a file of it."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING, Any, cast

from reportlab.pdfbase import pdfdoc

from deskapp.report.archival.objects import DrawnFile, Objects, compressed, raw_stream
from deskapp.report.pdf.letters import number

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

# pyright: reportUnknownMemberType=false, reportUnknownVariableType=false
# pyright: reportUnknownArgumentType=false, reportPrivateUsage=false
# (The document of reportlab declares no types.)

_STREAM_ENDS = b"endstream\n"
_LETTERS = "toUnicodeCMap:"
"""How the library names the objects that tell which letters the codes of a font stand for."""
_FONT_LENGTH = "Length1"
"""An entry that only the streams of fonts have."""
_BEYOND = re.compile("<([0-9A-F]{5,6})>")


class _Compressed:
    """Stands for the filter of the library, which takes longer over it."""

    pdfname = "FlateDecode"

    def encode(self, data: bytes | str) -> bytes:
        return compressed(data.encode() if isinstance(data, str) else data)


class _CompressedFont(_Compressed):
    """The same for letters cut out of a font, which most reports have in common."""

    def encode(self, data: bytes | str) -> bytes:
        return _compressed_font(data.encode() if isinstance(data, str) else data)


_compressed_font = lru_cache(64)(compressed)
_COMPRESSED, _COMPRESSED_FONT = [_Compressed()], [_CompressedFont()]


def objects_of(canvas: Canvas) -> DrawnFile:
    """Return the objects of the pages that were drawn on a canvas, all of them ended.

    It does what the library does when it writes a file, except that its own information on the
    document is left out: `deskapp.report.archival.finish` has its own.
    """
    document: Any = cast("Any", canvas)._doc
    for font in document.delayedFonts:
        font.addObjects(document)
    _mend_letters(document)
    catalog = document.Reference(document.Catalog)
    document.Catalog.Outlines = None
    objects = Objects()
    names, held = document.numberToId, document.idToObject
    # What is written may ask for further objects, so how many there are is not known before.
    while (name := names.get(len(objects.contents))) is not None:
        item: Any = held[name]
        if isinstance(item, pdfdoc.PDFStream) and item.filters == [pdfdoc.PDFZCompress]:
            is_font = _FONT_LENGTH in item.dictionary
            item.filters = _COMPRESSED_FONT if is_font else _COMPRESSED
        elif isinstance(item, pdfdoc.PDFTrueTypeFont):
            _write_widths(item)
        written: bytes = pdfdoc.format(item, document, toplevel=1)
        is_stream = written.endswith(_STREAM_ENDS)
        objects.add(raw_stream(written, _STREAM_ENDS) if is_stream else written)
    known = document.idToObjectNumberAndVersion
    pages = [known[f"Page{page}"][0] for page in range(1, document.pageCounter)]
    return DrawnFile(objects, known[catalog.name][0], pages)


def _write_widths(font: Any) -> None:
    """Write the widths of letters at once: one by one they take the library long."""
    font.Widths = f"[{number(*font.Widths.sequence)}]"


def _mend_letters(document: Any) -> None:
    """Name letters beyond the first 65,536 by the two halves that PDF asks for (9.10.3)."""
    for name, told in document.idToObject.items():
        if name.startswith(_LETTERS) and _BEYOND.search(told.content):
            told.content = _BEYOND.sub(_halves, told.content)


def _halves(found: re.Match[str]) -> str:
    return f"<{chr(int(found[1], 16)).encode('utf-16-be').hex().upper()}>"
