"""Drawing of marks on photographs and of the sketch, as lines and letters."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.domain.ink import Inked, Letters, Oval, Piece, Stroke, pieces

if TYPE_CHECKING:
    from collections.abc import Iterable

    from deskapp.report.pdf.look import Look
    from deskapp.report.pdf.pen import Pen


def draw_ink(
    pen: Pen, look: Look, items: Iterable[Inked], width: float, height: float, letter: float
) -> None:
    """Draw things on a sheet `width` by `height` points whose lower left corner is the origin."""
    for piece in pieces(items, width, height, letter, look.faces.strong.width):
        _draw(pen, look, piece, height)


def _draw(pen: Pen, look: Look, piece: Piece, height: float) -> None:
    match piece:
        case Stroke():
            points = [(point.x, height - point.y) for point in piece.points]
            if not piece.closed:
                pen.line(points, piece.width, piece.color, round_ends=True)
            else:
                pen.shape(
                    points,
                    fill=piece.color if piece.filled else None,
                    outline=piece.color if piece.width else None,
                    width=piece.width,
                )
        case Oval():
            x, y = piece.center.x, height - piece.center.y
            pen.oval(
                (x, y),
                (piece.across, piece.down),
                fill=piece.fill or None,
                outline=piece.color if piece.width else None,
                width=piece.width,
            )
        case Letters():
            face = look.faces.strong
            x = piece.center.x - face.width(piece.text, piece.size) / 2
            y = height - piece.center.y - piece.size * 0.34
            pen.text(x, y, piece.text, face, piece.size, piece.color)
