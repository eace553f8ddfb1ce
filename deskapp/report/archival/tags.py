"""Writes the tree of a report into its file, as PDF/UA-1 asks (ISO 14289-1)."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from deskapp.report.archival.objects import text_string
from deskapp.report.archival.structure import Role

if TYPE_CHECKING:
    from deskapp.report.archival.objects import DrawnFile, Objects
    from deskapp.report.archival.structure import Element

_ATTRIBUTES = {
    Role.NUMBERED_LIST: b"<</O/List/ListNumbering/Decimal>>",
    Role.COLUMN_HEAD: b"<</O/Table/Scope/Column>>",
    Role.ROW_HEAD: b"<</O/Table/Scope/Row>>",
}
_NAMES = {role: role.partition(" ")[0].encode() for role in Role}
_LEAVES = {
    role: b"<</S/%s%s/P %%d 0 R/Pg %%d 0 R/K %%d>>"
    % (_NAMES[role], b"/A" + _ATTRIBUTES[role] if role in _ATTRIBUTES else b"")
    for role in Role
}
"""Most elements: one stretch of content and nothing inside."""


def add_tags(drawn: DrawnFile, document: Element) -> int:
    """Add the structure tree below `document` and the ways back to it from the pages.

    Returns the number of the object that is its root.
    """
    for number, page in enumerate(drawn.pages):
        drawn.objects.extend(page, b"/StructParents %d/Tabs/S" % number)
    return _Writer(drawn.objects, drawn.pages).write_tree(document)


class _Writer:
    """Writes elements and remembers which stretch of which page belongs to which.

    `pages` are the numbers of the objects of the pages.
    """

    def __init__(self, objects: Objects, pages: list[int]) -> None:
        self._objects = objects
        self._contents = objects.contents
        self._pages = pages
        self._owners: dict[int, dict[int, int]] = defaultdict(dict)

    def write_tree(self, document: Element) -> int:
        """Write all of the tree, and return the number of the object that is its root."""
        root = self._objects.reserve()
        top = self._write(document, root)
        if top is None:
            top = self._objects.add(b"<</S/Document/P %d 0 R>>" % root)
        back = self._objects.add(b"<</Nums[%s]>>" % self._ways_back())
        self._contents[root] = (
            b"<</Type/StructTreeRoot/K %d 0 R/ParentTree %d 0 R/ParentTreeNextKey %d>>"
            % (top, back, len(self._pages))
        )
        return root

    def _write(self, element: Element, parent: int) -> int | None:
        """Write `element` and all inside it; None for one for which nothing was drawn."""
        contents, places = self._contents, element.places
        number = len(contents)
        if len(places) == 1 and not element.parts and not element.alternative:
            [(page, position)] = places
            self._owners[page][position] = number
            contents.append(_LEAVES[element.role] % (parent, self._pages[page], position))
            return number
        contents.append(b"")
        inside = self._content(element, number) if places else []
        for part in element.parts:
            written = self._write(part, number)
            if written is not None:
                inside.append(b"%d 0 R" % written)
        if not inside and not element.is_kept_empty:
            contents.pop()
            return None
        alternative, attributes = element.alternative, _attributes(element)
        contents[number] = b"<</S/%s/P %d 0 R%s%s%s/K[%s]>>" % (
            _NAMES[element.role],
            parent,
            b"/Alt" + text_string(alternative) if alternative else b"",
            b"/A" + attributes if attributes else b"",
            b"/Pg %d 0 R" % self._pages[places[0][0]] if places else b"",
            b" ".join(inside),
        )
        return number

    def _ways_back(self) -> bytes:
        """Return the way back from each page's content to its elements."""
        return b"".join(
            b"%d[%s]" % (page, b" ".join(b"%d 0 R" % owners[one] for one in range(len(owners))))
            for page, owners in sorted(self._owners.items())
        )

    def _content(self, element: Element, number: int) -> list[bytes]:
        home, _number = element.places[0]
        for page, position in element.places:
            self._owners[page][position] = number
        return [
            b"%d" % position
            if page == home
            else b"<</Type/MCR/Pg %d 0 R/MCID %d>>" % (self._pages[page], position)
            for page, position in element.places
        ]


def _attributes(element: Element) -> bytes:
    if element.role is Role.FIGURE and element.box is not None:
        corners = " ".join(f"{corner:.2f}" for corner in element.box)
        return b"<</O/Layout/Placement/Block/BBox[%s]>>" % corners.encode()
    return _ATTRIBUTES.get(element.role, b"")
