"""Measured value, limit and margin of an outcome in words, in the code's own unit."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from deskapp.i18n import N_, _
from deskapp.limits.digits import telling_decimals
from deskapp.ui.levels import verdict_of
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from deskapp.domain.limit import Verification
    from deskapp.domain.result import LimitOutcome, SystemResult
    from deskapp.ui.glyphs import Glyph
    from deskapp.units.display import Formatter

_WAIVED = N_("Waived")


class OutcomeWords(NamedTuple):
    """The texts of one outcome; `at_least` when the measured value must reach the limit.

    `unsure` is the expanded uncertainty of the measured value, such as ``± 3.1 cfm``, or empty.
    """

    measured: str
    limit: str
    margin: str
    at_least: bool
    unsure: str = ""


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


def outcome_words(outcome: LimitOutcome, formatter: Formatter) -> OutcomeWords | None:
    """Return the texts of an outcome, or None if it was not decided."""
    measured, limit, margin = outcome.measured, outcome.limit_value, outcome.margin
    if measured is None or limit is None or margin is None:
        return None
    digits = telling_decimals(outcome.unit, measured, limit)

    def shown(value: float) -> str:
        return formatter.in_unit(value, outcome.unit, digits)

    at_least = _must_reach(outcome)
    wording = _("at least {limit}") if at_least else _("at most {limit}")
    room = _("{margin} to spare") if margin >= 0 else _("{margin} too much")
    if at_least and margin < 0:
        room = _("{margin} short")
    spare = shown(abs(margin))
    if outcome.unit == "percent":
        # The difference of two shares is told in points, as in the arithmetic and on paper.
        spare = f"{formatter.number(abs(margin), digits)} {_('points')}"
    unsure = "" if outcome.uncertainty is None else f"± {shown(outcome.uncertainty)}"
    return OutcomeWords(
        shown(measured),
        wording.format(limit=shown(limit)),
        room.format(margin=spare),
        at_least,
        unsure,
    )


def _must_reach(outcome: LimitOutcome) -> bool:
    """Say whether more is better: then the margin is measured minus limit."""
    if outcome.measured is None or outcome.limit_value is None or outcome.margin is None:
        return False
    above = outcome.measured > outcome.limit_value
    return (above and outcome.margin > 0) or (not above and outcome.margin < 0)
