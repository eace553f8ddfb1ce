"""Widths of columns for tables of which a cell would stand on many short lines."""

from __future__ import annotations

from math import ceil
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from deskapp.report import blocks
    from deskapp.report.pdf.look import Look

_MANY_LINES = 4
"""Lines of a cell from which its column is too narrow, if others have room."""
_FULL = 0.92
"""Share of a line that words fill, as they rarely end where the line does."""


def fair_widths(
    look: Look, block: blocks.Table, usual: Sequence[float], sides: float
) -> list[float]:
    """Return widths that make the rows lower, where a cell has many lines at its `usual` one.

    `sides` is the padding of a cell, in points. Each column keeps room for its heading and its
    longest word, and none becomes wider than what stands in it asks for.
    """
    size = look.sizes.body * 0.95
    face = look.faces.text
    cells = [[face.width(cell, size) for cell in row] for row in block.rows]
    if _most_lines(cells, usual, sides) < _MANY_LINES:
        return list(usual)
    least = [
        max(
            [look.faces.strong.width(word, look.sizes.small) for word in _words(column.title)]
            + [face.width(word, size) for row in block.rows for word in _words(row[at])]
        )
        + sides
        for at, column in enumerate(block.columns)
    ]
    asked = [max(row[at] for row in cells) / _FULL + sides for at in range(len(usual))]
    made = _shared(sum(usual), least, asked)
    return made if _height(cells, made, sides) < _height(cells, usual, sides) else list(usual)


def _words(text: str) -> list[str]:
    """Return what a line may end between: a no-break space holds a number and its unit."""
    return text.replace("\n", " ").split(" ")


def _shared(width: float, least: Sequence[float], asked: Sequence[float]) -> list[float]:
    """Share a width: what is left beside the least goes by what each asks for beyond it."""
    more = [max(0.0, wish - need) for wish, need in zip(asked, least, strict=True)]
    left = width - sum(least)
    if left <= 0.0 or not any(more):
        return [width * need / sum(least) for need in least]
    return [need + left * wish / sum(more) for need, wish in zip(least, more, strict=True)]


def _lines(cell: float, width: float, sides: float) -> int:
    return max(1, ceil(cell / max(1.0, (width - sides) * _FULL)))


def _most_lines(cells: Sequence[Sequence[float]], widths: Sequence[float], sides: float) -> int:
    return max(
        (_lines(*one, sides) for row in cells for one in zip(row, widths, strict=True)), default=0
    )


def _height(cells: Sequence[Sequence[float]], widths: Sequence[float], sides: float) -> int:
    """Return how many lines the rows have, each that of its tallest cell."""
    return sum(max(_lines(*one, sides) for one in zip(row, widths, strict=True)) for row in cells)
