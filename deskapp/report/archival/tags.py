"""Writes the tree of a report into its file, as PDF/UA-1 asks (ISO 14289-1).

A tree has a thousand parts. They are written as text behind the drawn file, as ISO 32000-1, 7.5.6,
lets a file be added to, and read again in one go: made one by one they took longer than the rest.
"""

from __future__ import annotations

import struct
from collections import defaultdict
from io import BytesIO
from typing import TYPE_CHECKING

import pikepdf
from pikepdf import Dictionary, Name, Pdf, String

from deskapp.report.archival.structure import Role

if TYPE_CHECKING:
    from deskapp.report.archival.structure import Element

_ATTRIBUTES = {
    Role.NUMBERED_LIST: b"<</O/List/ListNumbering/Decimal>>",
    Role.COLUMN_HEAD: b"<</O/Table/Scope/Column>>",
    Role.ROW_HEAD: b"<</O/Table/Scope/Row>>",
}
_NAMES = {role: role.partition(" ")[0].encode() for role in Role}
_TABLE_AT = b"startxref"
_STREAM_ENDS = b"\nendstream\nendobj\n"
_ROW = struct.Struct(">BII")
"""A row of the table of objects: how it stands there, where, and its number in its stream."""
_IN_FILE, _IN_STREAM = 1, 2


def opened_with_tags(drawn: bytes, document: Element) -> Pdf:
    """Return the file `drawn`, open, with the structure tree below `document`, said to be tagged.

    `drawn` is a file with a plain table of objects, never added to before.
    """
    with pikepdf.open(BytesIO(drawn)) as bare:
        first = int(bare.trailer.Size)
        root, info = bare.Root.objgen[0], bare.docinfo.objgen[0]
        writer = _Writer([page.obj.objgen[0] for page in bare.pages], first)
    tree = writer.write_tree(document)
    pdf = pikepdf.open(BytesIO(_added(drawn, writer.objects, first, root, info)))
    pdf.Root.StructTreeRoot = pdf.get_object(tree, 0)
    pdf.Root.MarkInfo = Dictionary(Marked=True)
    pdf.Root.ViewerPreferences = Dictionary(DisplayDocTitle=True)
    for number, page in enumerate(pdf.pages):
        page.obj.StructParents = number
        page.obj.Tabs = Name.S
    return pdf


def _added(drawn: bytes, objects: list[bytes], first: int, root: int, info: int) -> bytes:
    """Return the file with `objects` behind it, numbered from `first`.

    They stand in one stream of objects (7.5.7), with a table that is a stream as well (7.5.8).
    """
    before = int(drawn[drawn.rindex(_TABLE_AT) + len(_TABLE_AT) :].split()[0])
    held, table = first + len(objects), first + len(objects) + 1
    heads: list[bytes] = []
    rows: list[bytes] = []
    at = 0
    for index, content in enumerate(objects):
        heads.append(b"%d %d " % (first + index, at))
        rows.append(_ROW.pack(_IN_STREAM, held, index))
        at += len(content) + 1
    head = b"".join(heads)
    body = head + b"\n".join(objects)
    opening = b"\n%d 0 obj\n<</Type/ObjStm/N %d/First %d/Length %d>>\nstream\n"
    stream = opening % (held, len(objects), len(head), len(body)) + body + _STREAM_ENDS
    stream_at, table_at = len(drawn) + 1, len(drawn) + len(stream)
    rows += [_ROW.pack(_IN_FILE, stream_at, 0), _ROW.pack(_IN_FILE, table_at, 0)]
    known = (
        b"<</Type/XRef/W[1 4 4]/Index[%d %d]/Size %d/Root %d 0 R/Info %d 0 R/Prev %d/Length %d>>"
    )
    told = known % (first, len(rows), table + 1, root, info, before, len(rows) * _ROW.size)
    places = b"%d 0 obj\n%s\nstream\n" % (table, told) + b"".join(rows) + _STREAM_ENDS
    return b"%s%s%s%s\n%d\n%%%%EOF\n" % (drawn, stream, places, _TABLE_AT, table_at)


class _Writer:
    """Writes elements and remembers which stretch of which page belongs to which.

    `pages` are the numbers of the objects of the pages, `first` is the next one that is free.
    """

    def __init__(self, pages: list[int], first: int) -> None:
        self.objects: list[bytes] = []
        self._pages = pages
        self._first = first
        self._owners: dict[int, dict[int, int]] = defaultdict(dict)

    def write_tree(self, document: Element) -> int:
        """Write all of the tree, and return the number of the object that is its root."""
        root = self._reserve()
        top = self._write(document, root)
        if top is None:
            top = self._reserve()
            self._put(top, b"<</Type/StructElem/S/Document/P %d 0 R>>" % root)
        back = self._reserve()
        self._put(back, b"<</Nums[%s]>>" % self._ways_back())
        self._put(
            root,
            b"<</Type/StructTreeRoot/K %d 0 R/ParentTree %d 0 R/ParentTreeNextKey %d>>"
            % (top, back, len(self._pages)),
        )
        return root

    def _write(self, element: Element, parent: int) -> int | None:
        """Write `element` and all inside it; None for one for which nothing was drawn."""
        objects = self.objects
        at = len(objects)
        number = self._first + at
        objects.append(b"")
        inside = self._content(element, number) if element.places else []
        for part in element.parts:
            written = self._write(part, number)
            if written is not None:
                inside.append(b"%d 0 R" % written)
        if not inside and not element.is_kept_empty:
            objects.pop()
            return None
        said = [b"<</Type/StructElem/S/%s/P %d 0 R" % (_NAMES[element.role], parent)]
        if element.alternative:
            said.append(b"/Alt %s" % String(element.alternative).unparse())
        attributes = _attributes(element)
        if attributes:
            said.append(b"/A%s" % attributes)
        if element.places:
            said.append(b"/Pg %d 0 R" % self._pages[element.places[0].page])
        if inside:
            said.append(b"/K[%s]" % b" ".join(inside) if len(inside) > 1 else b"/K %s" % inside[0])
        said.append(b">>")
        objects[at] = b"".join(said)
        return number

    def _ways_back(self) -> bytes:
        """Return the way back from each page's content to its elements."""
        return b"".join(
            b"%d[%s]" % (page, b" ".join(b"%d 0 R" % owners[one] for one in range(len(owners))))
            for page, owners in sorted(self._owners.items())
        )

    def _content(self, element: Element, number: int) -> list[bytes]:
        if len(element.places) == 1:
            [(page, position)] = element.places
            self._owners[page][position] = number
            return [b"%d" % position]
        home = element.places[0].page
        for place in element.places:
            self._owners[place.page][place.number] = number
        return [
            b"%d" % place.number
            if place.page == home
            else b"<</Type/MCR/Pg %d 0 R/MCID %d>>" % (self._pages[place.page], place.number)
            for place in element.places
        ]

    def _reserve(self) -> int:
        self.objects.append(b"null")
        return self._first + len(self.objects) - 1

    def _put(self, number: int, content: bytes) -> None:
        self.objects[number - self._first] = content


def _attributes(element: Element) -> bytes:
    if element.role is Role.FIGURE and element.box is not None:
        corners = " ".join(f"{corner:.2f}" for corner in element.box)
        return b"<</O/Layout/Placement/Block/BBox[%s]>>" % corners.encode()
    return _ATTRIBUTES.get(element.role, b"")
