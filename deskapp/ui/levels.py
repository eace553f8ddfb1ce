"""Glyph and word for each level of finding and each verdict."""

from __future__ import annotations

from deskapp.i18n import N_, _
from deskapp.ui.glyphs import Glyph

_LEVELS = {
    "stop": (Glyph.STOP, N_("Stop")),
    "check": (Glyph.CHECK, N_("Check")),
    "note": (Glyph.NOTE, N_("Note")),
}
_VERDICTS = {
    "pass": (Glyph.PASS, N_("Pass")),
    "fail": (Glyph.FAIL, N_("Fail")),
    "none": (Glyph.NONE, N_("No verdict yet")),
}


def level_of(level: str) -> tuple[Glyph, str]:
    """Return glyph and word of a level (``stop``, ``check``, ``note``)."""
    glyph, word = _LEVELS[level]
    return glyph, _(word)


def verdict_of(verdict: str) -> tuple[Glyph, str]:
    """Return glyph and word of a verdict (``pass``, ``fail``, ``none``)."""
    glyph, word = _VERDICTS[verdict]
    return glyph, _(word)
