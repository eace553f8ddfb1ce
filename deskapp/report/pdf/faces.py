"""The typefaces of the reports, and which of them prints which character."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING, cast
from unicodedata import bidirectional, category

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

if TYPE_CHECKING:
    from collections.abc import Iterator

_FILES = {
    "text": "SourceSans3-Regular.ttf",
    "strong": "SourceSans3-SemiBold.ttf",
    "italic": "SourceSans3-Italic.ttf",
    "signs": "DejaVuSans.ttf",
    "strong signs": "DejaVuSans-Bold.ttf",
}
_FALLBACK = "DroidSansFallback-Full.ttf"
"""Chinese and Japanese; a large file, so it is read only when a text needs it."""
_RIGHT_TO_LEFT = {"R", "AL"}
_JOINED = ((0x0900, 0x109F), (0x1700, 0x18AF), (0x1900, 0x1CFF), (0xA800, 0xABFF))
"""Blocks of the scripts of India and its neighbors, whose letters join, stack or change places."""
_NO_LETTERS = {"Co", "Cn"}
"""Kinds of code points that mean something else in every font, or nothing."""
STAND_IN = "?"
"""Printed in a box for a character that no face has."""


@dataclass(frozen=True, slots=True)
class Run:
    """A stretch of text one face can print; `missing` if none can, and then the text is ``?``."""

    text: str
    font: str
    missing: bool = False


@dataclass(frozen=True, slots=True)
class Face:
    """A text face and the faces that stand in for a character it lacks, one after the other."""

    font: str
    signs: str
    folder: Path
    covered: frozenset[int]
    covered_by_signs: frozenset[int]

    def runs(self, text: str) -> Iterator[Run]:
        """Yield `text` in stretches of one font each; line ends stay with the text before them."""
        for font, group in groupby(text, self._font_for):
            part = "".join(group)
            if font:
                yield Run(part, font)
            else:
                yield Run(STAND_IN * len(part), self.font, missing=True)

    def missing(self, text: str) -> set[str]:
        """Return the characters of `text` that no face can print in its right order."""
        return {char for char in text if not self._font_for(char)}

    def width(self, text: str, size: float) -> float:
        """Return the printed width of `text` at `size` points."""
        return sum(pdfmetrics.stringWidth(run.text, run.font, size) for run in self.runs(text))

    def _font_for(self, char: str) -> str:
        if char == "\n" or ord(char) in self.covered:
            return self.font
        if is_out_of_order(char):
            return ""
        if ord(char) in self.covered_by_signs:
            return self.signs
        return Path(_FALLBACK).stem if ord(char) in _fallback(self.folder) else ""


@dataclass(frozen=True, slots=True)
class Faces:
    """The faces of a report."""

    text: Face
    strong: Face
    italic: Face


@cache
def load_faces(folder: Path) -> Faces:
    """Register the fonts in `folder` and return the faces made of them.

    Errors: FileNotFoundError, naming the file, when one is not there.
    """
    coverage = {name: _register(folder / file) for name, file in _FILES.items()}
    fonts = {name: Path(file).stem for name, file in _FILES.items()}

    def face(name: str, signs: str) -> Face:
        return Face(fonts[name], fonts[signs], folder, coverage[name], coverage[signs])

    return Faces(
        text=face("text", "signs"),
        strong=face("strong", "strong signs"),
        italic=face("italic", "signs"),
    )


def is_out_of_order(char: str) -> bool:
    """Say whether letters like `char` would print in the wrong order or shape."""
    if bidirectional(char) in _RIGHT_TO_LEFT:
        return True
    return any(first <= ord(char) <= last for first, last in _JOINED)


@cache
def _fallback(folder: Path) -> frozenset[int]:
    return _register(folder / _FALLBACK)


def _register(path: Path) -> frozenset[int]:
    if not path.is_file():
        raise FileNotFoundError(f"The font file {path} is not there. Install Ductfolio anew.")
    font = TTFont(path.stem, str(path))
    pdfmetrics.registerFont(font)  # pyright: ignore[reportUnknownMemberType]
    glyphs = cast("dict[int, int]", font.face.charToGlyph)
    return frozenset(code for code in glyphs if category(chr(code)) not in _NO_LETTERS)
