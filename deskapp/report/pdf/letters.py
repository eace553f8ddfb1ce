"""The letters of one font: how wide words are, and how they are written into one file."""

from __future__ import annotations

from functools import cache
from itertools import groupby
from typing import TYPE_CHECKING, Any, cast

from reportlab.lib.rl_accel import fp_str  # pyright: ignore[reportUnknownVariableType]
from reportlab.pdfbase import pdfmetrics

if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import Protocol

    class _Font(Protocol):
        """What is used of a font of the library."""

        def splitString(self, text: str, doc: object) -> list[tuple[int, bytes]]: ...  # noqa: N802

        def getSubsetInternalName(self, subset: int, doc: object) -> str: ...  # noqa: N802


_MOST_WORDS = 20_000

number = cast("Callable[..., str]", fp_str)
"""Writes numbers as files hold them, a space between each two."""


class Widths(dict[str, float]):
    """The widths of words in one font, in points at a size of one point.

    Reports say the same words again and again. When there are too many they are worked out anew.
    """

    def __init__(self, font: str) -> None:
        super().__init__()
        self._font = font

    def __missing__(self, word: str) -> float:
        if len(self) >= _MOST_WORDS:
            self.clear()
        width = self[word] = pdfmetrics.stringWidth(word, self._font, 1.0)
        return width


@cache
def widths_of(font: str) -> Widths:
    """Return the widths of words in a font that is registered."""
    return Widths(font)


class FontCodes(dict[int, str]):
    """How the letters of one font are written into one file, by their code points.

    A letter gets its code in the file when it is first used. One font of a file holds 256 letters,
    those beyond stand in further ones, which the library numbers from 1.
    """

    def __init__(self, font: str, document: object, escape: Callable[[bytes], str]) -> None:
        super().__init__()
        self._font = cast("_Font", cast("Any", pdfmetrics.getFont(font)))  # pyright: ignore[reportUnknownMemberType]
        self._document = document
        self._escape = escape
        self._beyond: dict[str, int] = {}
        self._font.splitString(" ", document)
        self.name = self._font.getSubsetInternalName(0, document)

    def __missing__(self, code: int) -> str:
        [(part, data)] = self._font.splitString(chr(code), self._document)
        if part:
            self._beyond[chr(code)] = part
        written = self[code] = self._escape(data)
        return written

    def shown(self, text: str, size: float) -> str:
        """Return the operators that show `text`; this font is in use before and after."""
        written = text.translate(self)
        if not self._beyond or self._beyond.keys().isdisjoint(text):
            return f"({written}) Tj"
        told: list[str] = []
        for part, group in groupby(text, lambda char: self._beyond.get(char, 0)):
            name = self._font.getSubsetInternalName(part, self._document)
            told += [f"{name} {number(size)} Tf", f"({''.join(group).translate(self)}) Tj"]
        return f"{' '.join(told)} {self.name} {number(size)} Tf"
