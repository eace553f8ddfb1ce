"""What there is to say about the entries of a field check beyond each single value."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.domain.choices import FlowBasis
from deskapp.domain.finding import Finding, Level
from deskapp.domain.measured import day_of, si_of
from deskapp.i18n import _
from deskapp.session.instruments.check_fields import CHECK_FIELD
from deskapp.session.instruments.entries import left_empty
from deskapp.session.instruments.hole_check import ring_flow_of
from deskapp.units.display import day_in_words
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import date

    from deskapp.domain.instrument import Gauge, Ring
    from deskapp.domain.register import CheckEntries
    from deskapp.units.display import Formatter

DISAGREEMENT = 0.02
"""Difference between two ways of giving the same thing that earns a finding. House rule."""


def doubts(
    entries: CheckEntries,
    ring: Ring | None,
    gauge: Gauge | None,
    today: date | None,
    formatter: Formatter,
) -> Iterator[Finding]:
    """Yield what does not fit together among the entries; values not read count as not typed."""
    yield from _hole_twice(entries)
    yield from _ring(entries, ring, formatter)
    yield from _flow_twice(entries, ring, formatter)
    yield from _air_taken(entries, from_ring=ring_flow_of(ring, entries.fan_signal) is not None)
    yield from _days(entries, gauge, today)


def wanted(entries: CheckEntries, ring: Ring | None) -> Iterator[Finding]:
    """Yield what is still needed before the check can be recorded."""
    if entries.done_on is None:
        yield _needed("check.done_on", _("A record needs the day of the check."))
    if entries.hole_diameter is None and entries.hole_area is None:
        yield _needed("check.hole_diameter", _("The hole is given by its diameter or its area."))
    if entries.plate_pressure is None:
        yield _needed(
            "check.plate_pressure", _("The flow through the hole follows from this pressure.")
        )
    if entries.fan_signal is None and entries.indicated_flow is None:
        words = _("The flow of the fan follows from ring and fan signal, or from the flow shown.")
        yield _needed("check.fan_signal", words)
    elif entries.fan_signal is not None and ring is None and entries.indicated_flow is None:
        yield _needed("check.ring", _("A fan signal gives a flow together with the ring only."))


def _needed(path: str, words: str) -> Finding:
    return left_empty(path, _(CHECK_FIELD[path].label), words, _("Fill it in."))


def _hole_twice(entries: CheckEntries) -> Iterator[Finding]:
    from math import pi

    diameter, area = si_of(entries.hole_diameter), si_of(entries.hole_area)
    if diameter is None or area is None:
        return
    round_area = pi / 4.0 * diameter**2
    if abs(round_area / area - 1.0) <= DISAGREEMENT:
        return
    yield Finding(
        level=Level.STOP,
        code="hole-twice",
        path="check.hole_area",
        what=_("Hole diameter and hole area are both typed, and are those of different holes."),
        allowed=_("One of the two is enough; where they agree, the area counts."),
        mend=_("Clear the one that does not hold."),
    )


def _ring(entries: CheckEntries, ring: Ring | None, formatter: Formatter) -> Iterator[Finding]:
    signal = si_of(entries.fan_signal)
    if signal is None:
        return
    if ring is None:
        if entries.indicated_flow is not None:
            yield _signal_unused()
        return
    if ring_flow_of(ring, entries.fan_signal) is None:
        yield _ring_unknown()
        return
    low, high = si_of(ring.signal_low), si_of(ring.signal_high)
    if (low is None or signal >= low) and (high is None or signal <= high):
        return
    show = formatter.show
    yield Finding(
        level=Level.STOP,
        code="signal-out-of-range",
        path="check.fan_signal",
        what=_("The fan signal is {signal}.").format(signal=show(Kind.PRESSURE, signal)),
        allowed=_("The certificate holds for this ring from {low} to {high}.").format(
            low=formatter.show_optional(Kind.PRESSURE, low),
            high=formatter.show_optional(Kind.PRESSURE, high),
        ),
        mend=_("Choose the ring really fitted, or set another pressure or another hole."),
    )


def _signal_unused() -> Finding:
    return Finding(
        level=Level.CHECK,
        code="signal-unused",
        path="check.ring",
        what=_("No ring is chosen, so the fan signal is not used; the flow shown is."),
        mend=_("Choose the ring that was fitted, or clear the fan signal."),
    )


def _ring_unknown() -> Finding:
    return Finding(
        level=Level.STOP,
        code="ring-unknown",
        path="check.ring",
        what=_("Coefficient and exponent of this ring are not both known, or cannot be right."),
        allowed=_("A flow follows from a fan signal with both of them only."),
        mend=_("Enter them from the certificate of the fan, or fit them to its pairs."),
    )


def _flow_twice(
    entries: CheckEntries, ring: Ring | None, formatter: Formatter
) -> Iterator[Finding]:
    from_ring, shown = ring_flow_of(ring, entries.fan_signal), si_of(entries.indicated_flow)
    if from_ring is None or shown is None or entries.flow_basis is FlowBasis.ACTUAL_AIR:
        return
    if abs(shown / from_ring - 1.0) <= DISAGREEMENT:
        return
    yield Finding(
        level=Level.CHECK,
        code="flow-twice",
        path="check.indicated_flow",
        what=_("The gauge showed {shown}; ring and fan signal give {flow}.").format(
            shown=formatter.show(Kind.FLOW, shown), flow=formatter.show(Kind.FLOW, from_ring)
        ),
        allowed=_("The flow from ring and fan signal is the one that counts here."),
        mend=_(
            "See whether the ring chosen is the one really fitted and the one set in the gauge."
        ),
    )


def _air_taken(entries: CheckEntries, *, from_ring: bool) -> Iterator[Finding]:
    """Yield what was taken for the air where nothing is typed.

    Between ring and hole the density cancels out, as both go by the root of it; against a flow
    already corrected it does not.
    """
    read = (entries.plate_pressure, entries.fan_signal, entries.indicated_flow)
    if all(one is None for one in read):
        return  # nothing is read yet, so nothing is taken for anything
    corrected = entries.flow_basis is FlowBasis.ACTUAL_AIR and not from_ring
    for path, value, words in (
        (
            "check.air_temperature",
            entries.air_temperature,
            _("No air temperature is typed; 20 °C (68 °F) is taken."),
        ),
        (
            "check.barometer",
            entries.barometer,
            _("No barometric pressure is typed; 101.325 kPa, that of sea level, is taken."),
        ),
    ):
        if value is not None:
            continue
        yield Finding(
            level=Level.CHECK if corrected else Level.NOTE,
            code="air-taken",
            path=path,
            what=words,
            allowed=_("It moves the percentage, as the flow shown is corrected for density.")
            if corrected
            else _("It moves both flows alike and the percentage not at all."),
            mend=_("Type it if it is known."),
        )


def _days(entries: CheckEntries, gauge: Gauge | None, today: date | None) -> Iterator[Finding]:
    done = day_of(entries.done_on)
    if done is None:
        return
    if today is not None and done > today:
        yield Finding(
            level=Level.CHECK,
            code="check-to-come",
            path="check.done_on",
            what=_("The check is dated {day}, which is yet to come.").format(
                day=day_in_words(done)
            ),
            mend=_("Correct the day; it decides the order of the history."),
        )
    due = day_of(gauge.due_on) if gauge is not None else None
    if due is not None and due < done:
        yield Finding(
            level=Level.CHECK,
            code="gauge-overdue",
            path="check.gauge",
            what=_("The calibration of this gauge ran out on {due}, before the check.").format(
                due=day_in_words(due)
            ),
            mend=_("Repeat the check with a calibrated gauge, or say in the comments why not."),
        )
