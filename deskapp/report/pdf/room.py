"""How much room the pieces of a report take, told without drawing them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.platypus import Flowable, PageBreak

from deskapp.report.pdf.look import FIRST_HIGHER

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from deskapp.report.pdf.look import Look

_FUZZ = 1e-6


def pages_of(story: Sequence[Flowable], look: Look, grown: Mapping[int, float]) -> int:
    """Return about how many pages `story` takes; `grown` as in `pages_taken`."""
    return pages_taken(story, look, grown)[0]


def pages_taken(
    story: Sequence[Flowable], look: Look, grown: Mapping[int, float]
) -> tuple[int, float]:
    """Return about how many pages `story` takes, and the share of the last one that it fills.

    `grown` has how many points taller than it is the piece at a place would be; such a piece is
    not parted.
    """
    pages, room, used, gap = 1, look.height + FIRST_HIGHER, 0.0, 0.0
    waiting = [(piece, grown.get(place, 0.0)) for place, piece in enumerate(story)][::-1]
    while waiting:
        piece, more = waiting.pop()
        if isinstance(piece, PageBreak):
            pages, room, used, gap = pages + 1, look.height, 0.0, 0.0
            continue
        start = used + max(gap, piece.getSpaceBefore()) if used else 0.0
        end = start + piece.wrap(look.width, look.height)[1] + more
        if end > room + _FUZZ and not (more or start >= room):
            parts = piece.split(look.width, room - start)
            if len(parts) > 1:
                waiting += [(part, 0.0) for part in parts[1:]][::-1]
                pages, room, used, gap = pages + 1, look.height, 0.0, 0.0
                continue
        if end > room + _FUZZ and used:
            pages, room, end = pages + 1, look.height, end - start
        used, gap = end, piece.getSpaceAfter()
    return pages, used / room
