"""What speaks against the pairs of a ring, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.domain.finding import Finding, Level
from deskapp.i18n import _

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from deskapp.physics.curve_doubts import CurveDoubt
    from deskapp.physics.leakage_curve import NoCurveError
    from deskapp.units.display import Formatter

SMALLEST_NAMED = 0.5
"""A pair nearer to the line than this is not named, in percent of the flow.

House rule: what moves a result by less than half a percent is not worth a question."""


def no_curve_finding(error: NoCurveError, count: int) -> Finding:
    """Return why no line can be drawn through `count` pairs that were read."""
    from deskapp.physics.leakage_curve import NoCurve

    if error.reason is NoCurve.TOO_FEW_POINTS:
        what = _("Pairs of signal and flow: {n} given.").format(n=count)
        return _stop(
            what,
            _("A line takes two pairs; five or more are usual."),
            _("Type every pair the certificate lists for this ring."),
        )
    if error.reason is NoCurve.ONE_PRESSURE:
        return _stop(
            _("All pairs have the same fan signal."),
            _("A line takes at least two different signals."),
            _("Type the pairs of the other signals as well."),
        )
    return _stop(
        _("No law of a ring fits these pairs: the flow changes far too much with the signal."),
        _("The flow through a ring rises about with the square root of the signal."),
        _("See whether signals and flows stand in their own columns, each with the right unit."),
    )


def doubt_findings(
    doubts: Iterable[CurveDoubt],
    pairs: Sequence[tuple[int, str, str]],
    residuals: Sequence[float],
    formatter: Formatter,
) -> tuple[Finding, ...]:
    """Return each doubt about a fit in words.

    Args:
        doubts: the doubts, as numbers.
        pairs: number, signal and flow of each pair, as typed.
        residuals: how far each pair lies above the line, in percent.
        formatter: what writes the numbers.
    """
    from deskapp.physics.curve_doubts import Doubt

    found: list[Finding] = []
    for doubt in doubts:
        if doubt.doubt is not Doubt.POINT_OFF_LINE:
            found.append(_about_the_table(doubt, formatter))
        elif doubt.index is not None and abs(residuals[doubt.index]) >= SMALLEST_NAMED:
            found.append(_off_line(pairs[doubt.index], residuals[doubt.index], formatter))
    return tuple(found)


def _about_the_table(doubt: CurveDoubt, formatter: Formatter) -> Finding:
    from deskapp.physics.curve_doubts import RING_RULES, Doubt

    number = formatter.number
    if doubt.doubt is Doubt.TOO_FEW_POINTS:
        return _check(
            _("Pairs of signal and flow: {n} given.").format(n=int(doubt.value)),
            _("{n} or more are usual.").format(n=int(doubt.bound)),
            _("Type every pair the certificate lists for this ring."),
        )
    if doubt.doubt is Doubt.NARROW_SPAN:
        return _check(
            _("The highest signal is {ratio} times the lowest.").format(
                ratio=number(doubt.value, 1)
            ),
            _("Usual is {ratio} times or more; a narrow span leaves the exponent unsure.").format(
                ratio=number(doubt.bound, 0)
            ),
            _("Type the pairs at both ends of the certificate as well."),
        )
    if doubt.doubt is Doubt.LOW_R_SQUARED:
        return _check(
            _("The pairs scatter about the line: r² is {value}.").format(
                value=number(doubt.value, 4)
            ),
            _("Usual is {value} or more.").format(value=number(doubt.bound, 3)),
            _("Compare the pairs with the certificate, and see that all belong to one ring."),
        )
    return _check(
        _("These pairs give an exponent of {n}.").format(n=number(doubt.value, 3)),
        _("Usual is {low} to {high}.").format(
            low=number(RING_RULES.lowest_exponent, 2), high=number(RING_RULES.highest_exponent, 2)
        ),
        _("Compare the pairs and their units with the certificate; it stands if they are right."),
    )


def _off_line(pair: tuple[int, str, str], residual: float, formatter: Formatter) -> Finding:
    count, signal, flow = pair
    side = _("above") if residual > 0.0 else _("below")
    return Finding(
        level=Level.CHECK,
        code="pair-off-line",
        path=f"pairs.{count - 1}",
        what=_("Pair {n} ({signal}, {flow}) lies {share}% {side} the line.").format(
            n=count,
            signal=signal,
            flow=flow,
            share=formatter.number(abs(residual), 1),
            side=side,
        ),
        allowed=_("The scatter of the other pairs does not explain that."),
        mend=_("Compare it with the certificate. It counts like the others; none is left out."),
    )


def _check(what: str, allowed: str, mend: str) -> Finding:
    return Finding(
        level=Level.CHECK, code="pairs-doubt", path="pairs", what=what, allowed=allowed, mend=mend
    )


def _stop(what: str, allowed: str, mend: str) -> Finding:
    return Finding(
        level=Level.STOP, code="pairs-no-line", path="pairs", what=what, allowed=allowed, mend=mend
    )
