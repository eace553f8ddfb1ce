"""Measured value, limit and margin of an outcome in words, in the code's own unit."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from deskapp.i18n import _

if TYPE_CHECKING:
    from deskapp.domain.limit import Verification
    from deskapp.domain.result import LimitOutcome
    from deskapp.units.display import Formatter

_MOST_DIGITS = 12


class OutcomeWords(NamedTuple):
    """The texts of one outcome; `at_least` when the measured value must reach the limit."""

    measured: str
    limit: str
    margin: str
    at_least: bool


def status_words(status: Verification | None) -> str:
    """Return how well a limit is known, in words."""
    from deskapp.session.limit_words import STATUS_WORDS

    return _(STATUS_WORDS[status]) if status is not None else ""


def outcome_words(outcome: LimitOutcome, formatter: Formatter) -> OutcomeWords | None:
    """Return the texts of an outcome, or None if it was not decided."""
    measured, limit, margin = outcome.measured, outcome.limit_value, outcome.margin
    if measured is None or limit is None or margin is None:
        return None
    digits = _digits(outcome.unit, measured, limit, formatter)
    label = formatter.label(outcome.unit)
    at_least = _must_reach(outcome)
    wording = _("at least {limit} {unit}") if at_least else _("at most {limit} {unit}")
    room = _("{margin} {unit} to spare") if margin >= 0 else _("{margin} {unit} too much")
    if at_least and margin < 0:
        room = _("{margin} {unit} short")
    return OutcomeWords(
        f"{formatter.number(measured, digits)} {label}".strip(),
        wording.format(limit=formatter.number(limit, digits), unit=label).strip(),
        room.format(margin=formatter.number(abs(margin), digits), unit=label),
        at_least,
    )


def _must_reach(outcome: LimitOutcome) -> bool:
    """Say whether more is better: then the margin is measured minus limit."""
    if outcome.measured is None or outcome.limit_value is None or outcome.margin is None:
        return False
    above = outcome.measured > outcome.limit_value
    return (above and outcome.margin > 0) or (not above and outcome.margin < 0)


def _digits(unit: str, measured: float, limit: float, formatter: Formatter) -> int:
    """Return decimals at which two values that differ also look different."""
    from deskapp.units.table import unit_named

    digits = unit_named(unit).decimals
    while (
        measured != limit
        and digits < _MOST_DIGITS
        and formatter.number(measured, digits) == formatter.number(limit, digits)
    ):
        digits += 1
    return digits
