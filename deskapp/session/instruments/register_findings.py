"""What there is to say about a register as it stands."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.domain.finding import Finding, Level
from deskapp.i18n import _
from deskapp.session.instruments.names import instrument_words, ring_name
from deskapp.session.instruments.ring_fit import parted_from_pairs
from deskapp.session.messages import together, unread_findings
from deskapp.units.display import writing
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from deskapp.domain.instrument import Fan, Gauge
    from deskapp.domain.register import InstrumentRegister
    from deskapp.session.settings import Preferences
    from deskapp.units.display import Formatter

_LISTS = ("gauges.", "fans.")


def register_findings(
    register: InstrumentRegister, preferences: Preferences
) -> tuple[Finding, ...]:
    """Return all there is to say, stops first; paths are those of a job."""
    from deskapp.domain import checks

    job = register.as_job()
    with writing(preferences.number_style):
        of_fields = (found for found in checks.check(job) if found.path.startswith(_LISTS))
        others = (*of_fields, *_serials(register), *_laws(register, preferences.formatter))
        return together(unread_findings(job, preferences), others)


def _serials(register: InstrumentRegister) -> Iterator[Finding]:
    """Yield instruments in use that cannot be told apart: without a serial number, or with one."""
    yield from _told_apart("gauges", [g.gauge for g in register.gauges if not g.retired], register)
    yield from _told_apart("fans", [f.fan for f in register.fans if not f.retired], register)


def _told_apart(
    name: str, instruments: list[Gauge] | list[Fan], register: InstrumentRegister
) -> Iterator[Finding]:
    everything: list[str] = (
        [item.gauge.key for item in register.gauges]
        if name == "gauges"
        else [item.fan.key for item in register.fans]
    )
    seen: dict[str, str] = {}
    for instrument in instruments:
        path = f"{name}.{everything.index(instrument.key)}.serial"
        serial = "".join(instrument.serial.split()).casefold()
        if not serial:
            yield _no_serial(path, instrument_words(instrument))
        elif serial in seen:
            yield _twice(path, instrument.serial.strip(), seen[serial])
        else:
            seen[serial] = instrument_words(instrument)


def _no_serial(path: str, words: str) -> Finding:
    return Finding(
        level=Level.NOTE,
        code="serial-missing",
        path=path,
        what=_("{name} has no serial number.").format(name=words),
        allowed=_("By it alone a job's copy is known to be this instrument."),
        mend=_("Type the number on its plate."),
    )


def _twice(path: str, serial: str, other: str) -> Finding:
    return Finding(
        level=Level.CHECK,
        code="serial-twice",
        path=path,
        what=_("The serial number {serial} is also that of {other}.").format(
            serial=serial, other=other
        ),
        allowed=_("One number belongs to one instrument; a job's copy is known by it."),
        mend=_("Correct one of the two, or retire the record that no longer holds."),
    )


def _laws(register: InstrumentRegister, formatter: Formatter) -> Iterator[Finding]:
    """Yield rings whose coefficient and exponent no longer follow the pairs kept with them."""
    for at, item in enumerate(register.fans):
        for position, ring in enumerate(item.fan.rings):
            parted = parted_from_pairs(ring)
            if parted is None:
                continue
            yield Finding(
                level=Level.CHECK,
                code="law-parted",
                path=f"fans.{at}.rings.{position}.coefficient",
                what=_(
                    "Coefficient and exponent of {ring} give flows up to {share} off the pairs of "
                    "the certificate that are kept with them."
                ).format(
                    ring=ring_name(ring, position, formatter),
                    share=formatter.show(Kind.FRACTION, abs(parted)),
                ),
                mend=_("Fit them to the pairs again, or correct the pairs."),
            )
