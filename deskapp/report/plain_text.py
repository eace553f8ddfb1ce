"""Text that other people typed, made fit for paper without changing what it says."""

from __future__ import annotations

import re
import unicodedata

_BREAKS = {"\r\n": "\n", "\r": "\n", "\v": "\n", "\f": "\n", "\x85": "\n"}
_LINE_SEPARATORS = {"\N{LINE SEPARATOR}": "\n", "\N{PARAGRAPH SEPARATOR}": "\n", "\t": " "}
_UNPRINTED = {"Cc", "Cf"}
_UNSEEN = re.compile("[\u034f\ufe00-\ufe0f\U000e0100-\U000e01ef]")
"""Marks that only choose between forms of the letter before them, as some emoji carry."""
_HALVES = re.compile("[\ud800-\udfff]")
"""Halves of characters, which damaged text may hold."""


def printable(text: str) -> str:
    """Return `text` in composed form (NFC), without characters that print nothing.

    Line ends become ``\\n`` and tabs spaces. Control characters and invisible marks, such as those
    that turn the writing direction, are left out: on paper they could only mislead. Half a
    character becomes the sign for one that was lost.
    """
    if text.isascii() and text.isprintable():
        return text
    plain = text.replace("\n", " ").replace("\N{NO-BREAK SPACE}", " ")
    if plain.isascii() and plain.isprintable():
        return text
    text = _UNSEEN.sub("", text)
    if plain.isprintable() and unicodedata.is_normalized("NFC", text):
        return text
    text = _HALVES.sub("\N{REPLACEMENT CHARACTER}", text)
    for written, meant in (*_BREAKS.items(), *_LINE_SEPARATORS.items()):
        text = text.replace(written, meant)
    composed = unicodedata.normalize("NFC", text)
    return "".join(
        char for char in composed if char == "\n" or unicodedata.category(char) not in _UNPRINTED
    )
