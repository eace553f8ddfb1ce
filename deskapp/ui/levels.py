"""Glyph and word for each level of finding and each verdict."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.i18n import N_, _, labeled
from deskapp.ui.glyphs import Glyph

if TYPE_CHECKING:
    from collections.abc import Sequence

    from deskapp.domain.finding import Finding
    from deskapp.ui.marks import Notice

_LEVELS = {
    "danger": (Glyph.STOP, N_("Danger")),
    "past": (Glyph.CHECK, N_("Danger")),
    "stop": (Glyph.STOP, N_("Must be mended")),
    "check": (Glyph.CHECK, N_("Check")),
    "note": (Glyph.NOTE, N_("Note")),
}
_VERDICTS = {
    "pass": (Glyph.PASS, N_("Pass")),
    "fail": (Glyph.FAIL, N_("Fail")),
    "none": (Glyph.NONE, N_("No verdict yet")),
}


def level_of(level: str) -> tuple[Glyph, str]:
    """Return glyph and word of a level (``stop``, ``check``, ``note``), or of a nature."""
    glyph, word = _LEVELS[level]
    return glyph, _(word)


def tell_findings(notice: Notice, findings: Sequence[Finding]) -> None:
    """Show `findings`, of which there is at least one, below each other behind one glyph."""
    glyph, word = level_of(findings[0].nature)
    others = [labeled(level_of(finding.nature)[1], finding.text) for finding in findings[1:]]
    notice.say(glyph, word, "\n".join((findings[0].text, *others)))


def tell_stop(notice: Notice, text: str) -> None:
    """Show why something was not done, or cannot be."""
    notice.say(*level_of("stop"), text)


def verdict_of(verdict: str) -> tuple[Glyph, str]:
    """Return glyph and word of a verdict (``pass``, ``fail``, ``none``)."""
    glyph, word = _VERDICTS[verdict]
    return glyph, _(word)
