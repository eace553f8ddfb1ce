"""Breaks text into lines: as many words on each as fit, and longer words where the line ends."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

from deskapp.report.pdf.faces import FaceRun
from deskapp.report.pdf.letters import widths_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

_KEPT_SPACES = "\N{NO-BREAK SPACE}\N{NARROW NO-BREAK SPACE}\N{FIGURE SPACE}"
_WORD = re.compile(rf"(?:\S|[{_KEPT_SPACES}])+")
_GOOD_ENDS = "-/"
"""A word that has to be cut ends a line after one of these where it has one."""
_FUZZ = 1e-6


class TextLine(NamedTuple):
    """One line: its width in points at a size of one point, and its runs."""

    width: float
    runs: tuple[FaceRun, ...]


_EMPTY = TextLine(0.0, ())
_Word = tuple[FaceRun, ...]


def broken(stretches: Sequence[Sequence[FaceRun]], room: float) -> list[TextLine]:
    """Return the lines of text no wider than `room`, in points at a size of one point.

    `stretches` are parted by line ends. Empty ones are lines as well, but none at either end.
    """
    lines: list[TextLine] = []
    for runs in stretches:
        lines += _stretch(runs, room) or ([_EMPTY] if lines else [])
    while lines and not lines[-1].runs:
        lines.pop()
    return lines


def _stretch(runs: Sequence[FaceRun], room: float) -> list[TextLine]:
    if len(runs) == 1:
        run = runs[0]
        widths = widths_of(run.font)
        words = run.text.split()
        if " ".join(words) == run.text and widths[run.text] <= room + _FUZZ:
            return [TextLine(widths[run.text], (run,))]
        words = _split(run.text)
        each = [widths[word] for word in words]
        if not words or max(each) <= room:
            return _one_font(run, words, each, room + _FUZZ)
    return _any_fonts(_words(runs), room + _FUZZ)


def _split(text: str) -> list[str]:
    if not text.isascii() and any(space in text for space in _KEPT_SPACES):
        return _WORD.findall(text)
    return text.split()


def _one_font(run: FaceRun, words: list[str], each: list[float], room: float) -> list[TextLine]:
    """Return the lines of words that all fit on a line by themselves."""
    space = widths_of(run.font)[" "]
    whole = sum(each) + space * (len(each) - 1)
    if whole <= room:
        return (
            [TextLine(whole, (FaceRun(" ".join(words), run.font, run.missing),))] if words else []
        )
    lines: list[TextLine] = []
    first, width = 0, -space
    for number, wide in enumerate(each):
        if width + space + wide > room:
            text = " ".join(words[first:number])
            lines.append(TextLine(width, (FaceRun(text, run.font, run.missing),)))
            first, width = number, wide
        else:
            width += space + wide
    lines.append(TextLine(width, (FaceRun(" ".join(words[first:]), run.font, run.missing),)))
    return lines


def _words(runs: Iterable[FaceRun]) -> list[_Word]:
    """Return the words of text in several fonts; one word may have more than one of them."""
    words: list[_Word] = []
    is_open = False
    for run in runs:
        parts = [FaceRun(part, run.font, run.missing) for part in _split(run.text)]
        if not parts:
            is_open = is_open and not run.text
            continue
        if is_open and run.text.startswith(parts[0].text):
            words[-1] = (*words[-1], parts.pop(0))
        words += [(part,) for part in parts]
        is_open = not _is_gap(run.text[-1])
    return words


def _is_gap(char: str) -> bool:
    return char.isspace() and char not in _KEPT_SPACES


def _any_fonts(words: list[_Word], room: float) -> list[TextLine]:
    lines: list[TextLine] = []
    line: list[FaceRun] = []
    width = 0.0
    for whole in words:
        word = whole
        while word:
            wide = _width(word)
            gap = widths_of(line[-1].font)[" "] if line else 0.0
            if width + gap + wide <= room:
                _join(line, word)
                width += gap + wide
                break
            if wide > room:
                head, word = _cut(word, room - width - gap, needed=not line)
                if head:
                    _join(line, head)
                    width += gap + _width(head)
            if line:
                lines.append(TextLine(width, tuple(line)))
            line, width = [], 0.0
    if line:
        lines.append(TextLine(width, tuple(line)))
    return lines


def _join(line: list[FaceRun], word: _Word) -> None:
    """Put a word at the end of a line, with a space before it; alike runs become one."""
    if line:
        last = line[-1]
        line[-1] = FaceRun(f"{last.text} ", last.font, last.missing)
    for part in word:
        last = line[-1] if line else None
        if last is not None and last.font == part.font and last.missing == part.missing:
            line[-1] = FaceRun(last.text + part.text, last.font, last.missing)
        else:
            line.append(part)


def _width(runs: Iterable[FaceRun]) -> float:
    return sum(widths_of(run.font)[run.text] for run in runs)


def _cut(word: _Word, room: float, *, needed: bool) -> tuple[_Word, _Word]:
    """Return what fits of a word and the rest; at least one character if one is `needed`."""
    head: list[FaceRun] = []
    for position, part in enumerate(word):
        widths = widths_of(part.font)
        fits = 0
        for char in part.text:
            room -= widths[char]
            if room < 0.0 and not (needed and not head and fits == 0):
                break
            fits += 1
        if fits:
            head.append(part._replace(text=part.text[:fits]))
        if fits < len(part.text):
            fits = max(part.text.rfind(sign, 0, fits) for sign in _GOOD_ENDS) + 1 or fits
            if fits:
                head[-1] = part._replace(text=part.text[:fits])
            rest = (part._replace(text=part.text[fits:]), *word[position + 1 :])
            return tuple(head), rest
    return tuple(head), ()
