"""The field checks of a fan over the years: points, a straight line, and what it tells in words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from deskapp.domain.fields import field_at
from deskapp.domain.measured import Day, day_of
from deskapp.i18n import _
from deskapp.session.instruments.entries import as_typed
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from datetime import date

    from deskapp.domain.register import FieldCheck, RegisteredFan
    from deskapp.session.settings import Preferences
    from deskapp.units.display import Formatter

SMALLEST_TOLD = 0.001
"""A drift that moves less than this between first and last check is no drift [1]. House rule."""

_ERROR = field_at("fans.*.field_check_error")
_DIGITS = 3


@dataclass(frozen=True, slots=True)
class CheckPoint:
    """One check: `position` in the record of the fan; shares of the flow, above zero reads high."""

    position: int
    day: date
    share_off: float
    tolerance: float
    within: bool
    ring: str


@dataclass(frozen=True, slots=True)
class DriftLine:
    """The straight line through the checks, from `start` to `end`, each a day and a share.

    `per_year` is its slope; `lowest` and `highest` hold it with 95% and are None for two checks.
    `beyond_scatter` is None where two checks cannot tell.
    """

    start: tuple[date, float]
    end: tuple[date, float]
    per_year: float
    lowest: float | None
    highest: float | None
    beyond_scatter: bool | None


@dataclass(frozen=True, slots=True)
class CheckHistory:
    """All dated checks by day, the line through them if there is one, and words for both."""

    points: tuple[CheckPoint, ...]
    line: DriftLine | None
    words: str


def with_check(fan: RegisteredFan, check: FieldCheck, preferences: Preferences) -> RegisteredFan:
    """Return `fan` with `check` added to its history.

    If no later check is known, day and difference also go into the fields of the fan that are
    copied into jobs.
    """
    day = check.entries.done_on
    known, done = day_of(fan.fan.field_check_on), day_of(day)
    bare = fan.fan
    if day is not None and done is not None and (known is None or done >= known):
        error = as_typed(_ERROR, round(check.share_off, 5), preferences, _DIGITS)
        kept = Day(value=done, typed=day.typed)
        bare = bare.model_copy(update={"field_check_on": kept, "field_check_error": error})
    return fan.model_copy(update={"fan": bare, "checks": (*fan.checks, check)})


def history_of(fan: RegisteredFan, formatter: Formatter, ring: str = "") -> CheckHistory:
    """Return the checks of a fan by day, with the line through them.

    Args:
        fan: a fan of the register.
        formatter: what writes days and shares.
        ring: the key of a ring, to look at its checks only; all rings together without it.
    """
    all_of_them = [_point(position, check, ring) for position, check in enumerate(fan.checks)]
    points = sorted((p for p in all_of_them if p is not None), key=lambda point: point.day)
    line = _line(points)
    return CheckHistory(tuple(points), line, _words(points, line, formatter))


def check_outcome_words(share_off: float, tolerance: float, formatter: Formatter) -> str:
    """Return what a check says: how far the fan reads off, and whether that is within bounds."""
    within = abs(share_off) <= tolerance
    close = abs(abs(share_off) - tolerance) < 0.001
    digits = 2 if close else 1
    share = formatter.show(Kind.FRACTION, abs(share_off), digits=digits)
    bound = formatter.show(Kind.FRACTION, tolerance)
    if float(f"{100.0 * abs(share_off):.{digits}f}") == 0.0:
        reads = _("The fan reads as expected.")
    elif share_off > 0.0:
        reads = _("The fan reads {share} high.").format(share=share)
    else:
        reads = _("The fan reads {share} low.").format(share=share)
    if within:
        verdict = _("That is within the tolerance of {bound}.").format(bound=bound)
        return f"{reads} {verdict}"
    verdict = _("That is outside the tolerance of {bound}.").format(bound=bound)
    advice = _(
        "Look at the ring, the hoses, the tape around the plate and the edge of the hole, and "
        "check again; if it stays, have the fan calibrated before it is used for a report."
    )
    return f"{reads} {verdict} {advice}"


def _point(position: int, check: FieldCheck, ring: str) -> CheckPoint | None:
    day = day_of(check.entries.done_on)
    used = "" if check.ring_used is None else check.ring_used.key
    if day is None or (ring and used != ring):
        return None
    return CheckPoint(position, day, check.share_off, check.tolerance, check.within, check.ring)


def _line(points: list[CheckPoint]) -> DriftLine | None:
    from deskapp.physics.field_check import DAYS_PER_YEAR, drift

    try:
        found = drift([point.day for point in points], [point.share_off for point in points])
    except ValueError:
        return None
    first, last = points[0].day, points[-1].day
    years = (last - first).days / DAYS_PER_YEAR
    beyond = None
    if found.lowest is not None and found.highest is not None:
        moved = abs(found.per_year) * years
        beyond = moved >= SMALLEST_TOLD and not found.lowest <= 0.0 <= found.highest
    return DriftLine(
        start=(first, found.at_last - found.per_year * years),
        end=(last, found.at_last),
        per_year=found.per_year,
        lowest=found.lowest,
        highest=found.highest,
        beyond_scatter=beyond,
    )


def _words(points: list[CheckPoint], line: DriftLine | None, formatter: Formatter) -> str:
    if not points:
        return _("No field check is taken down here yet; a drift shows from two on.")
    if line is None and len(points) == 1:
        return _("One field check is recorded. A drift shows from two checks on different days on.")
    if line is None:
        return _("All field checks are of one day. A drift shows with a check on another day.")
    sentences = [
        _("{n} field checks from {first} to {last}.").format(
            n=len(points), first=formatter.day(line.start[0]), last=formatter.day(line.end[0])
        ),
        _("By the straight line through them the reading changes by {share} a year.").format(
            share=_signed(line.per_year, formatter)
        ),
        _judged(line, formatter),
    ]
    if (line.end[0] - line.start[0]).days < 365:
        sentences.append(_("The checks span less than a year, so a figure per year says little."))
    return " ".join(sentences)


def _judged(line: DriftLine, formatter: Formatter) -> str:
    if line.beyond_scatter is None or line.lowest is None or line.highest is None:
        return _("Two checks cannot tell a drift from scatter; a third one can.")
    range_words = _("with 95% confidence it lies between {low} and {high} a year").format(
        low=_signed(line.lowest, formatter), high=_signed(line.highest, formatter)
    )
    if line.beyond_scatter:
        return _("That is more than the scatter of the checks explains: {range}.").format(
            range=range_words
        )
    return _("Scatter of the checks explains that; no drift is shown: {range}.").format(
        range=range_words
    )


def _signed(share: float, formatter: Formatter) -> str:
    shown = formatter.show(Kind.FRACTION, share, digits=2)
    return f"+{shown}" if share > 0.0 and float(f"{100.0 * share:.2f}") else shown
