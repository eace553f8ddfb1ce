"""Text to paragraphs: typed characters print as typed, and each in a face that has it.

Lines are broken and written here rather than by the paragraphs of the library, which know markup,
hyphens and justified lines: a report needs none of them, and is ready several times sooner.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.report.pdf.breaking import TextLine, broken
from deskapp.report.pdf.letters import number, widths_of
from deskapp.report.pdf.look import INK
from deskapp.report.pdf.piece import Piece
from deskapp.report.plain_text import printable

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from reportlab.platypus import Flowable

    from deskapp.report.archival.structure import Element
    from deskapp.report.blocks import Text
    from deskapp.report.pdf.faces import Face, FaceRun
    from deskapp.report.pdf.look import Lettering, Look
    from deskapp.report.pdf.tagged import TaggedCanvas

_BOX_COLOR = ".788235 .815686 .835294 rg"
_FEWEST = 2
"""Lines of a paragraph that stay together at the foot of a page, and at the top of the next."""


class ParagraphPiece(Piece):
    """A paragraph that is the content of an element, all pieces of it alike."""

    def __init__(
        self,
        stretches: Sequence[Sequence[FaceRun]],
        style: Lettering,
        element: Element,
        after: float,
    ) -> None:
        super().__init__()
        self._stretches = stretches
        self._style = style
        self._element = element
        self._lines: list[TextLine] | None = None
        self._is_piece = False
        self.spaceBefore = 0.0
        self.spaceAfter = after

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:  # noqa: ARG002, N803
        """Return width and height; tables and frames ask again and again for the same width."""
        if self._lines is None or (aW != self.width and not self._is_piece):
            self._lines = broken(self._stretches, aW / self._style.size)
            self.height = len(self._lines) * self._style.leading
        self.width = aW
        return aW, self.height

    def split(self, availWidth: float, availHeight: float) -> list[Flowable]:  # noqa: N803
        """Return the pieces for this page and the rest, or nothing to start a page first."""
        self.wrap(availWidth, availHeight)
        lines = self._lines or []
        fit = int(availHeight / self._style.leading + 1e-6)
        if fit < _FEWEST:
            return []
        if len(lines) <= fit:
            return [self]
        if len(lines) - fit < _FEWEST:
            fit = len(lines) - _FEWEST
        if fit < _FEWEST:
            return []
        return [self._piece(lines[:fit], 0.0), self._piece(lines[fit:], self.spaceAfter)]

    def _piece(self, lines: list[TextLine], after: float) -> ParagraphPiece:
        piece = ParagraphPiece((), self._style, self._element, after)
        piece._lines, piece._is_piece = lines, True
        piece.width, piece.height = self.width, len(lines) * self._style.leading
        return piece

    def place(self, canvas: TaggedCanvas, x: float, y: float) -> None:
        """Draw it with its lower left corner at `x`, `y`."""
        lines, style = self._lines or [], self._style
        base = y + self.height - style.ascent
        if len(lines) == 1 and len(lines[0].runs) == 1 and not lines[0].runs[0].missing:
            [run] = lines[0].runs
            letters = canvas.letters(run.font)
            at = x + self._indent(lines[0]) if style.right else x
            told = (
                f"{style.color}\nBT {letters.name} {style.sized} {at:.2f} {base:.2f} Td "
                f"{letters.shown(run.text, style.size)} ET"
            )
        else:
            # An empty cell of a table is read as one.
            told = self._told(canvas, lines, x, base) if lines else ""
        canvas.show(self._element, told)

    def _told(self, canvas: TaggedCanvas, lines: list[TextLine], x: float, base: float) -> str:
        """Return the operators that show all the lines."""
        style = self._style
        told = [*_boxes(lines, x, base, style), style.color, "BT"]
        font = ""
        before = 0.0
        for position, line in enumerate(lines):
            at = x + self._indent(line)
            if not position:
                # The font goes first: readers tell a new line from the size that is in force.
                font = line.runs[0].font if line.runs else ""
                told += [f"{canvas.letters(font).name} {style.sized}"] if font else []
                told.append(f"{at:.2f} {base:.2f} Td")
            elif style.right:
                told.append(f"{at - before:.2f} {-style.leading:.2f} Td")
            else:
                told.append("T*")
            before = at
            for run in line.runs:
                letters = canvas.letters(run.font)
                if run.font != font:
                    told.append(f"{letters.name} {style.sized}")
                    font = run.font
                told.append(letters.shown(run.text, style.size))
        told.append("ET")
        return "\n".join(told)

    def _indent(self, line: TextLine) -> float:
        return self.width - line.width * self._style.size if self._style.right else 0.0


def _boxes(lines: list[TextLine], x: float, base: float, style: Lettering) -> Iterator[str]:
    """Yield the operators of a box behind each stand-in for a character that no face has."""
    for line in lines:
        for at, run in zip(_starts(line), line.runs, strict=True):
            if run.missing:
                left, wide = x + at * style.size, style.face.width(run.text, style.size)
                box = number(left, base - 0.2 * style.size, wide, style.size)
                yield f"{_BOX_COLOR} {box} re\nf"
        base -= style.leading


def _starts(line: TextLine) -> Iterator[float]:
    """Yield where each run of a line starts, in points at a size of one point."""
    at = 0.0
    for run in line.runs:
        yield at
        at += widths_of(run.font)[run.text]


def _bound(text: str) -> str:
    """Return text in which no line ends between a sign of plus or minus and its number."""
    return text.replace("± ", "±\N{NO-BREAK SPACE}") if "±" in text else text


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
) -> ParagraphPiece:
    """Return a paragraph of `text`, `size` in points, `after` the space below it.

    It is the content of `element`.
    """
    base = face or look.faces.text
    style = look.lettering(size, base, color, leading=leading, right=right)
    if isinstance(text, str):
        stretches = [base.line(line) for line in _bound(printable(text)).split("\n")]
    else:
        stretches: list[list[FaceRun]] = [[]]
        for span in text:
            first, *rest = _bound(printable(span.text)).split("\n")
            face_of = look.faces.strong if span.strong else base
            stretches[-1] += face_of.line(first)
            stretches += [face_of.line(line) for line in rest]
    return ParagraphPiece(stretches, style, element, after)
