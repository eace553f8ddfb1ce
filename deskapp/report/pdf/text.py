"""Text to paragraphs: typed characters print as typed, and each in a face that has it."""

from __future__ import annotations

from typing import TYPE_CHECKING
from xml.sax.saxutils import escape

from reportlab.platypus import Paragraph

from deskapp.report.pdf.look import INK
from deskapp.report.plain_text import printable

if TYPE_CHECKING:
    from deskapp.report.blocks import Span, Text
    from deskapp.report.pdf.faces import Face
    from deskapp.report.pdf.look import Look

_BOX_COLOR = "#c9d0d5"


def paragraph(
    look: Look,
    text: str | Text,
    size: float,
    *,
    face: Face | None = None,
    color: str = INK,
    leading: float = 1.38,
    after: float = 0.0,
    right: bool = False,
) -> Paragraph:
    """Return a paragraph of `text`, `size` in points, `after` the space below it."""
    base = face or look.faces.text
    style = look.style(size, base, color, leading=leading, after=after, right=right)
    if isinstance(text, str):
        return Paragraph(_markup(text, base, base), style)
    return Paragraph("".join(_span_markup(look, span, base) for span in text), style)


def _span_markup(look: Look, span: Span, base: Face) -> str:
    return _markup(span.text, look.faces.strong if span.strong else base, base)


def _markup(text: str, face: Face, base: Face) -> str:
    """Return `text` as paragraph markup; everything that looks like markup is escaped."""
    parts: list[str] = []
    for run in face.runs(printable(text)):
        part = escape(run.text).replace("\n", "<br/>")
        if run.missing:
            part = f'<font backColor="{_BOX_COLOR}">{part}</font>'
        if run.font != base.font:
            part = f'<font name="{run.font}">{part}</font>'
        parts.append(part)
    return "".join(parts)
