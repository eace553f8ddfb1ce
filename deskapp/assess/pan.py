"""Pressure-pan readings: what they tell in words, and what makes them hard to read."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from deskapp.domain.fields import label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.measured import Measured, si_of
from deskapp.domain.screening import PanBand, PanReading
from deskapp.i18n import _
from deskapp.units.display import in_sentences
from deskapp.units.kinds import Kind

HOUSE_PA, HOUSE_TOLERANCE_PA = 50.0, 3.0
"""Pressure of the house for pan readings, and how far it may be off. Common practice, no source."""

SLACK_PA = 1.0
"""How far a pan may read above the house before it cannot be right. House rule."""

MEND, LOOK = 2, 1
"""Urgency of a band from which a register is to be mended, or to be looked at."""


def screen(job: Job, bands: Sequence[PanBand]) -> tuple[PanReading, ...]:
    """Return each register with the band its readings fall into. No flow follows from a pan.

    Args:
        job: the job; its readings are taken as sizes, in Pa.
        bands: what readings tell, as data; the highest one a reading is above counts.

    Returns:
        One row for each register, in order. A reading set aside or unread has no band.
    """
    rising = sorted(bands, key=lambda band: band.above_pa)
    return tuple(
        PanReading(
            key=register.key,
            before=_size(register.pan_before),
            before_band=_band(_size(register.pan_before), rising),
            after=_size(register.pan_after),
            after_band=_band(_size(register.pan_after), rising),
        )
        for register in job.registers
    )


def worst_first(readings: Sequence[PanReading], bands: Sequence[PanBand]) -> tuple[int, ...]:
    """Return the positions of the registers read: by urgency of the last band, then by reading.

    Of two readings the one before the work counts, so that what was mended stays in its order.
    """
    urgency = {band.id: band.urgency for band in bands}

    def rank(position: int) -> tuple[int, float]:
        one = readings[position]
        size = one.before if one.before is not None else one.after
        return -urgency.get(one.latest_band, 0), -(size or 0.0)

    read = (at for at, one in enumerate(readings) if one.latest_band)
    return tuple(sorted(read, key=rank))


def _size(reading: Measured | None) -> float | None:
    si = si_of(reading)
    return None if si is None else abs(si)


def _band(size: float | None, rising: list[PanBand]) -> str:
    if size is None or not rising:
        return ""
    found = rising[0]
    for band in rising[1:]:
        if size > band.above_pa:
            found = band
    return found.id


def pan_findings(job: Job) -> Iterator[Finding]:
    """Yield what is to be said about the house during the pan readings, and about each of them."""
    for name in ("before", "after"):
        readings = [
            (position, size)
            for position, register in enumerate(job.registers)
            if (size := _size(getattr(register, f"pan_{name}"))) is not None
        ]
        if readings:
            house = _size(getattr(job.screening, f"house_pressure_{name}"))
            yield from _about_house(name, house)
            yield from _above_house(name, house, readings)


def _about_house(name: str, house: float | None) -> Iterator[Finding]:
    path = f"screening.house_pressure_{name}"
    if house is None:
        yield Finding(
            level=Level.CHECK,
            code="pan_house_missing",
            path=path,
            what=_("Pan readings are recorded, but {field} is not.").format(field=label_of(path)),
            allowed=_("They tell something only with the house at 50 Pa against outdoors."),
            mend=_("Type the pressure the house was held at."),
        )
    elif abs(house - HOUSE_PA) > HOUSE_TOLERANCE_PA:
        yield Finding(
            level=Level.CHECK,
            code="pan_house_off",
            path=path,
            what=_("The house stood at {house} while the pan was read.").format(
                house=in_sentences().show(Kind.PRESSURE, house)
            ),
            allowed=_("What pan readings tell holds for a house at 50 Pa."),
            mend=_("Bring the house to 50 Pa and read again."),
        )


def _above_house(
    name: str, house: float | None, readings: list[tuple[int, float]]
) -> Iterator[Finding]:
    if house is None:
        return
    for position, size in readings:
        if size > house + SLACK_PA:
            path = f"registers.{position}.pan_{name}"
            yield Finding(
                level=Level.CHECK,
                code="pan_above_house",
                path=path,
                what=_("{label} is {size}, more than the house itself ({house}).").format(
                    label=label_of(path),
                    size=in_sentences().show(Kind.PRESSURE, size),
                    house=in_sentences().show(Kind.PRESSURE, house),
                ),
                allowed=_("A pan reads between zero and the pressure of the house."),
                mend=_("Check both figures."),
            )
