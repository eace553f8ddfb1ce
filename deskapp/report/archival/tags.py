"""Writes the tree of a report into its file, as PDF/UA-1 asks (ISO 14289-1)."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from pikepdf import Array, Dictionary, Name, Object, Pdf, String

from deskapp.report.archival.structure import Role

if TYPE_CHECKING:
    from deskapp.report.archival.structure import Element


def add_tags(pdf: Pdf, document: Element) -> None:
    """Give `pdf` the structure tree below `document` and say that the file is tagged."""
    root = pdf.make_indirect(Dictionary(Type=Name.StructTreeRoot))
    writer = _Writer(pdf)
    root.K = writer.write(document, root)
    root.ParentTree = writer.parent_tree()
    root.ParentTreeNextKey = len(pdf.pages)
    pdf.Root.StructTreeRoot = root
    pdf.Root.MarkInfo = Dictionary(Marked=True)
    pdf.Root.ViewerPreferences = Dictionary(DisplayDocTitle=True)
    for number, page in enumerate(pdf.pages):
        page.obj.StructParents = number
        page.obj.Tabs = Name.S


class _Writer:
    """Writes elements and remembers which stretch of which page belongs to which."""

    def __init__(self, pdf: Pdf) -> None:
        self._pdf = pdf
        self._pages = [page.obj for page in pdf.pages]
        self._owners: dict[int, dict[int, Object]] = defaultdict(dict)

    def write(self, element: Element, parent: Object) -> Object:
        """Write `element` and all inside it; parts for which nothing was drawn are left out."""
        written = self._pdf.make_indirect(
            Dictionary(Type=Name.StructElem, S=Name(f"/{element.role.partition(' ')[0]}"), P=parent)
        )
        if element.alternative:
            written.Alt = String(element.alternative)
        self._add_attributes(element, written)
        inside = self._content(element, written)
        inside += [self.write(part, written) for part in element.parts if not part.is_empty()]
        if inside:
            written.K = inside[0] if len(inside) == 1 else Array(inside)
        return written

    def parent_tree(self) -> Object:
        """Return the way back from each page's content to its elements."""
        numbers: list[Object | int] = []
        for page, owners in sorted(self._owners.items()):
            numbers += [page, Array([owners[number] for number in range(len(owners))])]
        return self._pdf.make_indirect(Dictionary(Nums=Array(numbers)))

    def _content(self, element: Element, written: Object) -> list[Object | int]:
        if not element.places:
            return []
        home = element.places[0].page
        written.Pg = self._pages[home]
        for place in element.places:
            self._owners[place.page][place.number] = written
        return [
            place.number
            if place.page == home
            else Dictionary(Type=Name.MCR, Pg=self._pages[place.page], MCID=place.number)
            for place in element.places
        ]

    def _add_attributes(self, element: Element, written: Object) -> None:
        attributes = _attributes(element.role)
        if attributes is not None:
            written.A = attributes
        elif element.role is Role.FIGURE and element.box is not None:
            written.A = Dictionary(
                O=Name.Layout, Placement=Name.Block, BBox=Array([*map(_rounded, element.box)])
            )


def _rounded(points: float) -> float:
    return round(points, 2)


def _attributes(role: Role) -> Dictionary | None:
    """Return new attributes each time: they belong to one file, and two may be written at once."""
    match role:
        case Role.NUMBERED_LIST:
            return Dictionary(O=Name.List, ListNumbering=Name.Decimal)
        case Role.COLUMN_HEAD:
            return Dictionary(O=Name.Table, Scope=Name.Column)
        case Role.ROW_HEAD:
            return Dictionary(O=Name.Table, Scope=Name.Row)
        case _:
            return None
