"""Sign and word of an outcome, and short remarks on it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.i18n import N_, _
from deskapp.ui.levels import verdict_of
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from deskapp.domain.limit import Verification
    from deskapp.domain.result import LimitOutcome, SystemResult
    from deskapp.ui.glyphs import Glyph
    from deskapp.units.display import Formatter

_WAIVED = N_("Waived")


def sign_of(outcome: LimitOutcome) -> tuple[Glyph, str]:
    """Return glyph and word of an outcome; a test that is not asked for is waived, no pass."""
    glyph, word = verdict_of(outcome.verdict)
    return (glyph, _(_WAIVED)) if outcome.is_waived else (glyph, word)


def system_sign_of(system: SystemResult) -> tuple[Glyph, str]:
    """Return glyph and word of a system; waived where every limit waives its test."""
    glyph, word = verdict_of(system.verdict)
    is_waived = bool(system.outcomes) and all(outcome.is_waived for outcome in system.outcomes)
    return (glyph, _(_WAIVED)) if is_waived else (glyph, word)


def beside_stop(sign: tuple[Glyph, str], *, stopped: bool) -> tuple[Glyph, str]:
    """Return glyph and word of a verdict; with an open safety stop beside it, not as all is well.

    The verdict stays what it is. It is called one of leakage alone, and a pass has no green mark.
    """
    if not stopped:
        return sign
    from deskapp.ui.glyphs import Glyph

    glyph, word = sign
    return (
        Glyph.CHECK if glyph is Glyph.PASS else glyph,
        _("Leakage alone: {verdict}").format(verdict=word.lower()),
    )


def close_words(outcome: LimitOutcome, formatter: Formatter) -> str:
    """Return the remark on an outcome that is too close to call, in a few words."""
    if outcome.probability is None:
        return _("Too close to call")
    chance = formatter.show(Kind.FRACTION, outcome.probability, digits=0)
    return _("Too close to call: the limit is kept with a probability of {chance}").format(
        chance=chance
    )


def status_words(status: Verification | None) -> str:
    """Return how well a limit is known, in words."""
    from deskapp.session.limit_words import STATUS_WORDS

    return _(STATUS_WORDS[status]) if status is not None else ""
