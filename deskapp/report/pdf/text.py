"""Text to paragraphs: typed characters print as typed, and each in a face that has it.

Fragments are made here rather than by the library's markup reader. So nothing a person types can
be taken for markup, and a paragraph is ready several times sooner.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from reportlab.lib.colors import Color, HexColor
from reportlab.platypus import Paragraph
from reportlab.platypus.paraparser import ParaFrag

from deskapp.report.pdf.look import INK
from deskapp.report.pdf.tagged import canvas_of
from deskapp.report.plain_text import printable

if TYPE_CHECKING:
    from collections.abc import Iterator

    from reportlab.lib.styles import ParagraphStyle
    from reportlab.platypus import Flowable

    from deskapp.report.archival.structure import Element
    from deskapp.report.blocks import Text
    from deskapp.report.pdf.faces import Face
    from deskapp.report.pdf.look import Look

_BOX_COLOR: Color = HexColor("#c9d0d5")


class _Words(Paragraph):
    """A paragraph that is the content of an element, all pieces of it alike."""

    element: Element
    _wrapped: tuple[float, tuple[float, float]] | None = None

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:  # noqa: N803
        """Return width and height; tables and frames ask again and again for the same width."""
        # The library drops the lines it broke where a split came to nothing.
        is_broken = hasattr(self, "blPara")
        if self._wrapped is None or self._wrapped[0] != aW or not is_broken:
            self._wrapped = (aW, super().wrap(aW, aH))
        return self._wrapped[1]

    def split(self, availWidth: float, availHeight: float) -> list[Flowable]:  # noqa: N803
        """Return the pieces for this page and the rest."""
        pieces = super().split(availWidth, availHeight)
        for piece in pieces:
            if isinstance(piece, _Words):
                piece.element = self.element
        return pieces

    def draw(self) -> None:
        """Draw it."""
        with canvas_of(self).stretch(self.element):
            super().draw()


def paragraph(
    look: Look,
    text: str | Text,
    size: float,
    element: Element,
    *,
    face: Face | None = None,
    color: str = INK,
    leading: float = 1.38,
    after: float = 0.0,
    right: bool = False,
) -> Paragraph:
    """Return a paragraph of `text`, `size` in points, `after` the space below it.

    It is the content of `element`.
    """
    base = face or look.faces.text
    style = look.style(size, base, color, leading=leading, after=after, right=right)
    if isinstance(text, str):
        fragments = list(_fragments(text, base, style))
    else:
        fragments = [
            fragment
            for span in text
            for fragment in _fragments(span.text, look.faces.strong if span.strong else base, style)
        ]
    words = _Words("", style, frags=fragments or [_fragment("", style, base.font)])
    words.element = element
    return words


def _fragments(text: str, face: Face, style: ParagraphStyle) -> Iterator[Any]:
    """Yield the fragments of one stretch of text; line ends become line breaks."""
    for number, line in enumerate(printable(text).split("\n")):
        if number:
            yield _fragment("", style, face.font, lineBreak=True)
        for run in face.runs(line):
            boxed = {"backColor": _BOX_COLOR} if run.missing else {}
            yield _fragment(run.text, style, run.font, **boxed)


def _fragment(text: str, style: ParagraphStyle, font: str, **more: object) -> Any:
    """Return one fragment with all that the library expects to find on it."""
    return ParaFrag(  # pyright: ignore[reportUnknownVariableType]
        text=text,
        fontName=font,
        fontSize=style.fontSize,
        textColor=style.textColor,
        rise=0,
        greek=0,
        link=[],
        bold=0,
        italic=0,
        us_lines=[],
        **more,
    )
