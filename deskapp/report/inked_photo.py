"""Photographs as JPEG files of their own: what is drawn on them, and a strip of words below."""

from __future__ import annotations

from functools import cache
from io import BytesIO
from typing import TYPE_CHECKING

from PIL import Image, ImageDraw, ImageFont

from deskapp.domain.data_files import resources_folder
from deskapp.domain.ink import DARK, LETTERS_ACROSS, WHITE, Letters, Oval, Piece, Stroke, pieces
from deskapp.report.pdf.faces import load_faces

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from deskapp.domain.ink import Inked, Point
    from deskapp.report.pdf.faces import Face, FaceRun

_FINER = 2
"""Marks are drawn this many times larger, then made small, which smooths their edges."""
_SMALLEST_MARK = 12.0
_SMALLEST_WORDS = 11.0
_UNREADABLE = 2.0
_WORDS_SHARE = 0.6
_LEADING = 1.3
_QUALITY = 90


def inked_photo(data: bytes, marks: Iterable[Inked], slate: str = "") -> bytes | None:
    """Return a photo as a JPEG file with its marks drawn in, and `slate` in a strip below it.

    None where `data` holds no picture that can be read. The same photo gives the same bytes.
    """
    try:
        with Image.open(BytesIO(data)) as opened:
            picture = opened.convert("RGB")
    except Exception:  # the library raises whatever damaged files lead it to
        return None
    face = load_faces(_fonts()).strong
    _draw_marks(picture, tuple(marks), face)
    if slate.strip():
        picture = _with_strip(picture, slate, face)
    target = BytesIO()
    picture.save(target, "JPEG", quality=_QUALITY, optimize=True)
    return target.getvalue()


def _draw_marks(picture: Image.Image, marks: tuple[Inked, ...], face: Face) -> None:
    if not marks:
        return
    width, height = (side * _FINER for side in picture.size)
    letter = max(_SMALLEST_MARK * _FINER, width / LETTERS_ACROSS)
    sheet = Image.new("RGBA", (width, height))
    draw = ImageDraw.Draw(sheet)

    def measure(text: str, size: float) -> float:
        return _width(face, text, size)

    for piece in pieces(marks, width, height, letter, measure):
        _draw(draw, piece, face)
    fine = sheet.resize(picture.size, Image.Resampling.BOX)
    picture.paste(fine, (0, 0), fine)


def _draw(draw: ImageDraw.ImageDraw, piece: Piece, face: Face) -> None:
    match piece:
        case Stroke():
            if piece.filled:
                draw.polygon(piece.points, fill=piece.color)
            if piece.width:
                _line(draw, piece)
        case Oval():
            half = piece.width / 2
            outer = _box(piece.center, piece.across + half, piece.down + half)
            line = max(1, round(piece.width)) if piece.width else 0
            draw.ellipse(outer, fill=piece.fill or None, outline=piece.color, width=line)
        case Letters():
            x = piece.center.x - _width(face, piece.text, piece.size) / 2
            # The middle of capitals lies about a third of the size above the line.
            y = piece.center.y + piece.size * 0.34
            _write(draw, (x, y), piece.text, face, piece.size, piece.color)


def _line(draw: ImageDraw.ImageDraw, stroke: Stroke) -> None:
    """Draw a line with round ends and corners."""
    points = (*stroke.points, stroke.points[0]) if stroke.closed else stroke.points
    draw.line(points, fill=stroke.color, width=max(1, round(stroke.width)))
    for point in stroke.points:
        draw.ellipse(_box(point, stroke.width / 2, stroke.width / 2), fill=stroke.color)


def _box(center: Point, across: float, down: float) -> tuple[float, float, float, float]:
    return (center.x - across, center.y - down, center.x + across, center.y + down)


def _with_strip(picture: Image.Image, words: str, face: Face) -> Image.Image:
    """Return the picture with a dark strip of light words below it, as wide as it is."""
    size = max(_SMALLEST_WORDS, picture.width / LETTERS_ACROSS * _WORDS_SHARE)
    margin = size * 0.7
    room = picture.width - 2 * margin
    longest = max(words.split(" "), key=len)
    while size > _UNREADABLE and _width(face, longest, size) > room:
        size *= 0.95
    lines = _wrapped(words, face, size, room)
    step = size * _LEADING
    strip = round(len(lines) * step + margin)
    whole = Image.new("RGB", (picture.width, picture.height + strip), DARK)
    whole.paste(picture, (0, 0))
    draw = ImageDraw.Draw(whole)
    for number, line in enumerate(lines):
        y = picture.height + margin / 2 + step * number + size
        _write(draw, (margin, y), line, face, size, WHITE)
    return whole


def _wrapped(words: str, face: Face, size: float, room: float) -> list[str]:
    lines = [""]
    for word in words.split(" "):
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and _width(face, longer, size) > room:
            lines.append(word)
        else:
            lines[-1] = longer
    return lines


def _width(face: Face, text: str, size: float) -> float:
    return sum(_font(run.font, round(size)).getlength(run.text) for run in _runs(face, text))


def _write(
    draw: ImageDraw.ImageDraw,
    at: tuple[float, float],
    text: str,
    face: Face,
    size: float,
    color: str,
) -> None:
    """Write `text` from the place `at` on the line, in the faces that have its letters."""
    x, y = at
    for run in _runs(face, text):
        font = _font(run.font, round(size))
        draw.text((x, y), run.text, fill=color, font=font, anchor="ls")
        x += font.getlength(run.text)


def _runs(face: Face, text: str) -> list[FaceRun]:
    return face.line(" ".join(text.splitlines()))


@cache
def _font(name: str, size: int) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(_fonts() / f"{name}.ttf", max(1, size))


def _fonts() -> Path:
    return resources_folder() / "fonts"
