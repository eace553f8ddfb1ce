"""The typefaces of the reports, and which of them prints which character."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache, lru_cache
from itertools import groupby
from operator import itemgetter
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple, cast
from unicodedata import bidirectional, category

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from deskapp.report.pdf.letters import widths_of

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

_FILES = {
    "text": "SourceSans3-Regular.ttf",
    "strong": "SourceSans3-SemiBold.ttf",
    "italic": "SourceSans3-Italic.ttf",
    "signs": "DejaVuSans.ttf",
    "strong signs": "DejaVuSans-Bold.ttf",
}
_HANGUL = "DuctfolioHangul-Regular"
_IDEOGRAPHS = "DroidSansFallback-Full"
"""Korean, and Chinese and Japanese; large files, so each is read only when a text needs it."""
_HANGUL_BLOCKS = ((0x3131, 0x318E), (0xAC00, 0xD7A3))
_RIGHT_TO_LEFT = {"R", "AL"}
_JOINED = ((0x0900, 0x109F), (0x1700, 0x18AF), (0x1900, 0x1CFF), (0xA800, 0xABFF))
"""Blocks of the scripts of India and its neighbors, whose letters join, stack or change places."""
_NO_LETTERS = {"Co", "Cn"}
"""Kinds of code points that mean something else in every font, or nothing."""
STAND_IN = "?"
"""Printed in a box for a character that no face has."""


_MOST_CUTS = 16


class FaceRun(NamedTuple):
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
    _known: dict[str, str] = field(default_factory=dict[str, str], compare=False, repr=False)
    _own: set[str] = field(default_factory=set[str], compare=False, repr=False)

    def line(self, text: str) -> list[FaceRun]:
        """Return `text` in stretches of one font each; most often there is one."""
        if self._own.issuperset(text):
            return [FaceRun(text, self.font)] if text else []
        return list(self._parted(text))

    def _parted(self, text: str) -> Iterator[FaceRun]:
        for font, group in groupby(zip(self._fonts_for(text), text, strict=True), itemgetter(0)):
            part = "".join(char for _font, char in group)
            if font:
                yield FaceRun(part, font)
            else:
                yield FaceRun(STAND_IN * len(part), self.font, missing=True)

    def missing(self, text: str) -> set[str]:
        """Return the characters of `text` that no face can print in its right order."""
        return {char for char in text if not self._font_for(char)}

    def width(self, text: str, size: float) -> float:
        """Return the printed width of `text` at `size` points."""
        return size * sum(widths_of(run.font)[run.text] for run in self.line(text))

    def _fonts_for(self, text: str) -> Iterator[str]:
        """Yield the font of each character; words of one fallback keep the spaces between them."""
        font = ""
        for char in text:
            if char != " " or font not in (_HANGUL, _IDEOGRAPHS):
                font = self._font_for(char)
            yield font

    def _font_for(self, char: str) -> str:
        font = self._known.get(char)
        if font is None:
            font = self._known[char] = self._found_for(char)
            if font == self.font:
                self._own.add(char)
        return font

    def _found_for(self, char: str) -> str:
        if char == "\n" or ord(char) in self.covered:
            return self.font
        if is_out_of_order(char):
            return ""
        if ord(char) in self.covered_by_signs:
            return self.signs
        fallback = _HANGUL if _is_within(char, _HANGUL_BLOCKS) else _IDEOGRAPHS
        return fallback if ord(char) in _fallback(self.folder, fallback) else ""


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
    return _is_within(char, _JOINED)


def _is_within(char: str, blocks: tuple[tuple[int, int], ...]) -> bool:
    return any(first <= ord(char) <= last for first, last in blocks)


@cache
def _fallback(folder: Path, font: str) -> frozenset[int]:
    return _register(folder / f"{font}.ttf")


def _remembered(make: Callable[[Sequence[int]], bytes]) -> Callable[[Sequence[int]], bytes]:
    """Return `make`, which cuts the letters of a report out of a font, with the last ones known.

    Most reports use the same letters, and a report that is drawn again as it grows always does.
    """

    @lru_cache(_MOST_CUTS)
    def cut(letters: tuple[int, ...]) -> bytes:
        return make(letters)

    def known(subset: Sequence[int]) -> bytes:
        return cut(tuple(subset))

    return known


def _register(path: Path) -> frozenset[int]:
    if not path.is_file():
        raise FileNotFoundError(f"The font file {path} is not there. Install Ductfolio anew.")
    font = TTFont(path.stem, str(path))
    font.face.makeSubset = _remembered(font.face.makeSubset)  # pyright: ignore[reportAttributeAccessIssue]
    pdfmetrics.registerFont(font)  # pyright: ignore[reportUnknownMemberType]
    glyphs = cast("dict[int, int]", font.face.charToGlyph)
    return frozenset(code for code in glyphs if category(chr(code)) not in _NO_LETTERS)
