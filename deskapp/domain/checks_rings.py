"""Do the ranges of each ring run from low to high, and fit the law of the ring?"""

from __future__ import annotations

from collections.abc import Iterator

from deskapp.domain import paths
from deskapp.domain.fields import field_at, label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.measured import Measured, si_of
from deskapp.i18n import _
from deskapp.units.display import in_sentences
from deskapp.units.kinds import Kind
from deskapp.units.table import fits

RANGE_TOLERANCE = 0.10
"""How far the flow by a ring's own law may lie from the end of its flow range, as a share of it.
House rule; no source."""
_ROUNDING = 1e-9
_STEEPEST = 2.0
"""Exponents above it are told elsewhere; no law of a ring reaches it."""

_RANGES = (("flow_low", "flow_high", Kind.FLOW), ("signal_low", "signal_high", Kind.PRESSURE))


def check(job: Job) -> Iterator[Finding]:
    """Yield what of a ring does not fit together.

    Told are ranges whose low end lies above the high end, and ends of the flow range that the law
    of the ring does not give at the ends of its signal range.
    """
    for at, fan in enumerate(job.fans):
        for row in range(len(fan.rings)):
            ring = f"fans.{at}.rings.{row}"
            for low_name, high_name, kind in _RANGES:
                low: Measured | None = paths.get(job, f"{ring}.{low_name}")
                high: Measured | None = paths.get(job, f"{ring}.{high_name}")
                if low is None or low.si is None or high is None or high.si is None:
                    continue
                if low.si > high.si:
                    yield _turned(f"{ring}.{low_name}", f"{ring}.{high_name}", (low, high), kind)
            for end in ("low", "high"):
                yield from _law(job, ring, end)


def _turned(low_path: str, high_path: str, ends: tuple[Measured, Measured], kind: Kind) -> Finding:
    low, high = (one.typed or in_sentences().show(kind, one.si or 0.0) for one in ends)
    names = {
        "label": label_of(low_path),
        "low": _(field_at(low_path).label),
        "high": _(field_at(high_path).label),
    }
    return Finding(
        level=Level.STOP,
        code="range_turned",
        path=low_path,
        what=_("{label}: “{typed}” lies above “{other}” under {high}.").format(
            **names, typed=low, other=high
        ),
        allowed=_("“{low}” may be at most “{high}”.").format(**names),
        mend=_("Exchange the two, or compare them with the calibration certificate."),
    )


def _law(job: Job, ring: str, end: str) -> Iterator[Finding]:
    """Yield an end of the flow range that is not what the law gives at that end of the signal."""
    flow_path = f"{ring}.flow_{end}"
    stated: Measured | None = paths.get(job, flow_path)
    signal: Measured | None = paths.get(job, f"{ring}.signal_{end}")
    coefficient = si_of(paths.get(job, f"{ring}.coefficient"))
    exponent = si_of(paths.get(job, f"{ring}.exponent"))
    at, flow = si_of(signal), si_of(stated)
    if stated is None or signal is None or coefficient is None or exponent is None:
        return
    if at is None or flow is None or min(coefficient, exponent, at, flow) <= 0.0:
        return
    if exponent > _STEEPEST:
        return
    by_law = coefficient * at**exponent
    if abs(by_law - flow) <= RANGE_TOLERANCE * flow * (1.0 + _ROUNDING):
        return
    show = in_sentences().show
    unit = stated.unit if stated.unit and fits(stated.unit, Kind.FLOW) else None
    yield Finding(
        level=Level.CHECK,
        code="ring_law_range",
        path=flow_path,
        what=_(
            "{label}: {stated} is entered, but the law of the ring gives {flow} at {signal}."
        ).format(
            label=label_of(flow_path),
            stated=_as_typed(stated) or show(Kind.FLOW, flow, unit),
            flow=show(Kind.FLOW, by_law, unit),
            signal=_as_typed(signal) or show(Kind.PRESSURE, at),
        ),
        allowed=_("The two may differ by {share} at most; a house rule, no source.").format(
            share=show(Kind.FRACTION, RANGE_TOLERANCE)
        ),
        mend=_(
            "Compare coefficient, exponent and the ranges of flow and signal with the calibration "
            "certificate, and correct what differs."
        ),
    )


def _as_typed(value: Measured) -> str:
    """Return what was typed; a bare number has the unit it was taken in behind it."""
    is_bare = value.typed and not any(
        letter.isalpha() or letter in "%\"'" for letter in value.typed
    )
    if not is_bare or not value.unit:
        return value.typed
    return f"{value.typed}\N{NO-BREAK SPACE}{in_sentences().label(value.unit)}"
