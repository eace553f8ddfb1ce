"""How a report looks: sheet, margins, one scale of text sizes, and colors that print in gray."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cache
from typing import TYPE_CHECKING

from reportlab.lib.colors import HexColor
from reportlab.pdfbase import pdfmetrics

from deskapp.report.blocks import Paper, Sign
from deskapp.report.color import tint
from deskapp.report.pdf.letters import number

if TYPE_CHECKING:
    from collections.abc import Mapping

    from reportlab.lib.utils import ImageReader

    from deskapp.report.archival.structure import Element
    from deskapp.report.blocks import Document
    from deskapp.report.pdf.faces import Face, Faces

INK = "#1c2429"
QUIET = "#56616a"
RULE = "#d3d9dd"
SHADE = "#f3f5f6"
WHITE = "#ffffff"

SIGN_COLORS: dict[Sign, str] = {
    Sign.PASS: "#1f6b45",
    Sign.FAIL: "#9c3216",
    Sign.NONE: "#4f5b66",
    Sign.DANGER: "#9c1c1c",
    Sign.WARNING: "#8a5a00",
    Sign.NOTE: "#4f5b66",
}

_SHEETS = {Paper.LETTER: (612.0, 792.0), Paper.A4: (595.28, 841.89)}
_SIDE, _TOP, _FOOT = 54.0, 56.0, 56.0
FIRST_HIGHER = 18.0
"""Points by which the text of page 1, which has no running header, may reach higher."""
_LEADING = 1.38
_SMALLEST = 7.0
"""Points below which no text is set, however tight a page is."""


@dataclass(frozen=True, slots=True)
class Sizes:
    """The scale of text sizes, in points."""

    small: float
    body: float
    lead: float
    piece: float
    section: float
    title: float
    figure: float

    @staticmethod
    def of(body: float) -> Sizes:
        """Return the scale built on the size of running text."""
        return Sizes(
            small=max(_SMALLEST, body * 0.82),
            body=body,
            lead=body * 1.16,
            piece=body * 1.06,
            section=body * 1.36,
            title=body * 2.0,
            figure=body * 1.6,
        )


@dataclass(frozen=True, slots=True)
class Lettering:
    """How a paragraph is written; sizes in points, `color` and `sized` as operators of a page."""

    face: Face
    size: float
    leading: float
    right: bool
    ascent: float
    color: str
    sized: str

    @staticmethod
    def of(size: float, face: Face, color: str, leading: float, right: bool) -> Lettering:
        """Return the lettering of a face; `right` lines end at the right."""
        ascent, _descent = pdfmetrics.getAscentDescent(face.font, size)
        sized = f"{number(size)} Tf {number(leading)} TL"
        return Lettering(face, size, leading, right, ascent, fill_of(color), sized)


@cache
def fill_of(color: str) -> str:
    """Return the operator that fills in a color."""
    shade = HexColor(color)
    return f"{number(shade.red, shade.green, shade.blue)} rg"


@cache
def stroke_of(color: str) -> str:
    """Return the operator that draws lines in a color."""
    shade = HexColor(color)
    return f"{number(shade.red, shade.green, shade.blue)} RG"


@dataclass(frozen=True, slots=True)
class Look:
    """Everything the drawing of one document shares.

    `problems` collects what went amiss, `shown` the elements that show a field of the job,
    `pictures` the readers of those that were opened.
    """

    faces: Faces
    photos: Mapping[str, bytes]
    logo: bytes | None
    accent: str
    sizes: Sizes
    page_width: float
    page_height: float
    side: float = _SIDE
    top: float = _TOP
    foot: float = _FOOT
    problems: list[str] = field(default_factory=list[str])
    shown: dict[str, Element] = field(default_factory=dict[str, "Element"])
    pictures: dict[bytes, ImageReader | None] = field(
        default_factory=dict[bytes, "ImageReader | None"]
    )
    _letterings: dict[tuple[object, ...], Lettering] = field(
        default_factory=dict[tuple[object, ...], Lettering]
    )

    @property
    def width(self) -> float:
        """Width of the text, in points."""
        return self.page_width - 2 * self.side

    @property
    def height(self) -> float:
        """Height of the text, in points."""
        return self.page_height - self.top - self.foot

    def tighter(self, share: float) -> Look:
        """Return the look with all text set at a `share` of its size."""
        return replace(self, sizes=Sizes.of(self.sizes.body * share)) if share != 1.0 else self

    def show(self, path: str, element: Element) -> None:
        """Note that an element shows the field at `path`; the first one counts."""
        if path:
            self.shown.setdefault(path, element)

    def pages_of_fields(self) -> dict[str, int]:
        """Return the first page, from 1, of each field of the job that was drawn."""
        pages = ((path, element.first_page()) for path, element in self.shown.items())
        return {path: page + 1 for path, page in pages if page is not None}

    def lettering(
        self,
        size: float,
        face: Face,
        color: str = INK,
        *,
        leading: float = _LEADING,
        right: bool = False,
    ) -> Lettering:
        """Return how paragraphs of this size, face and color are written."""
        key = (size, face.font, color, leading, right)
        known = self._letterings.get(key)
        if known is None:
            known = self._letterings[key] = Lettering.of(size, face, color, size * leading, right)
        return known


def look_of(document: Document, photos: Mapping[str, bytes], faces: Faces) -> Look:
    """Return the look of a document and the pictures that go with it."""
    page_width, page_height = _SHEETS[document.paper]
    return Look(
        faces=faces,
        photos=photos,
        logo=document.logo,
        accent=document.accent,
        sizes=Sizes.of(document.text_size),
        page_width=page_width,
        page_height=page_height,
    )


def sign_color(sign: Sign) -> str:
    """Return the color that goes with a sign; it always stands beside a shape and a word."""
    return SIGN_COLORS[sign]


def sign_tint(sign: Sign) -> str:
    """Return the pale ground of a panel with this sign; near-black text reads well on it."""
    return tint(SIGN_COLORS[sign], 0.08)
