"""Whether the fan signal suits the ring that was entered, and which ring would suit the flow."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from deskapp.domain.measured import si_of
from deskapp.i18n import _
from deskapp.physics.flow_device import ring_flow, ring_flow_range
from deskapp.session.options import ring_words
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from collections.abc import Sequence

    from deskapp.domain.instrument import Fan, Ring
    from deskapp.units.display import Formatter


class RingFault(StrEnum):
    """How a signal does not suit a ring."""

    SIGNAL_LOW = "signal low"
    SIGNAL_HIGH = "signal high"
    BELOW_ZERO = "below zero"


@dataclass(frozen=True, slots=True)
class RingLaw:
    """What is needed of a ring: its law, and the ranges its certificate holds for.

    `words` name it by its flow range. Coefficient in m3/(s Pa^n), signals in Pa, flows in m3/s;
    None where the certificate was not entered so far.
    """

    key: str
    words: str
    coefficient: float
    exponent: float
    signal_low: float | None = None
    signal_high: float | None = None
    flow_low: float | None = None
    flow_high: float | None = None

    def flow(self, signal: float) -> float:
        """Return the flow the ring indicates at a signal [m3/s]; 0 for one below zero."""
        return ring_flow(self.coefficient, self.exponent, max(signal, 0.0))

    def room(self, flow: float) -> float:
        """Return how far a flow [m3/s] lies inside the range, as a factor less 1; below 0 outside.

        A range that is not known at both ends holds nothing.
        """
        if self.flow_low is None or self.flow_high is None or flow <= 0.0:
            return -1.0
        above = flow / self.flow_low if self.flow_low > 0.0 else float("inf")
        return min(above, self.flow_high / flow) - 1.0


def ring_laws(fan: Fan, formatter: Formatter) -> tuple[RingLaw, ...]:
    """Return the laws of the rings of `fan`; a ring without a usable law is left out."""
    laws = (_law_of(ring, formatter) for ring in fan.rings)
    return tuple(law for law in laws if law is not None)


def _law_of(ring: Ring, formatter: Formatter) -> RingLaw | None:
    coefficient, exponent = si_of(ring.coefficient), si_of(ring.exponent)
    low, high = si_of(ring.signal_low), si_of(ring.signal_high)
    flows: tuple[float | None, float | None] = (si_of(ring.flow_low), si_of(ring.flow_high))
    if coefficient is None or exponent is None:
        return None
    try:
        ring_flow(coefficient, exponent, 1.0)
        if low is not None and high is not None:
            flows = ring_flow_range(coefficient, exponent, low, high)
    except ValueError:
        return None
    words = ring_words(ring, formatter)
    return RingLaw(ring.key, words, coefficient, exponent, low, high, *flows)


@dataclass(frozen=True, slots=True)
class RingFit:
    """What a signal says about the ring entered.

    `flow` is what the ring would indicate [m3/s], a guess where there is a `fault`; `better` are
    the keys of the rings whose range holds that flow, the roomiest first; `text` is for a person
    and empty where all is well.
    """

    ring: str
    signal: float
    flow: float
    fault: RingFault | None = None
    better: tuple[str, ...] = ()
    text: str = ""


def judge_ring(
    rings: Sequence[RingLaw], fitted: str, signal: float, formatter: Formatter
) -> RingFit | None:
    """Say whether a mean fan signal suits the ring with the key `fitted`.

    Args:
        rings: the rings of the fan.
        fitted: the key of the ring entered as fitted.
        signal: mean fan signal [Pa].
        formatter: writes the figures in the message.

    Returns:
        The judgment, or None where no law is known for that ring.
    """
    law = next((ring for ring in rings if ring.key == fitted), None)
    if law is None:
        return None
    flow = law.flow(signal)
    fault = _fault(law, signal)
    if fault is None:
        return RingFit(fitted, signal, flow)
    others = [ring for ring in rings if ring.key != fitted and ring.room(flow) >= 0.0]
    others.sort(key=lambda ring: -ring.room(flow))
    better = tuple(others) if fault is not RingFault.BELOW_ZERO else ()
    text = _words(law, fault, signal, flow, better, formatter)
    return RingFit(fitted, signal, flow, fault, tuple(ring.key for ring in better), text)


def _fault(law: RingLaw, signal: float) -> RingFault | None:
    if signal < 0.0:
        return RingFault.BELOW_ZERO
    if law.signal_low is not None and signal < law.signal_low:
        return RingFault.SIGNAL_LOW
    if law.signal_high is not None and signal > law.signal_high:
        return RingFault.SIGNAL_HIGH
    return None


def _words(
    law: RingLaw,
    fault: RingFault,
    signal: float,
    flow: float,
    better: Sequence[RingLaw],
    formatter: Formatter,
) -> str:
    shown = formatter.show(Kind.PRESSURE, signal, "Pa")
    if fault is RingFault.BELOW_ZERO:
        words = _("The fan signal is below zero ({signal}). Check the hoses at fan and gauge.")
        return words.format(signal=shown)
    name = _("the ring for {range}").format(range=law.words) if law.words else _("the ring")
    if fault is RingFault.SIGNAL_LOW:
        words = _("The fan signal of {signal} is below {limit}, where the range of {ring} begins.")
        limit = law.signal_low
    else:
        words = _("The fan signal of {signal} is above {limit}, where the range of {ring} ends.")
        limit = law.signal_high
    limit_shown = formatter.show_optional(Kind.PRESSURE, limit, "Pa")
    first = words.format(signal=shown, limit=limit_shown, ring=name)
    amount = formatter.show(Kind.FLOW, flow)
    second = _("No other ring of this fan covers about {flow}.").format(flow=amount)
    named = next((ring for ring in better if ring.words), None)
    if named is not None:
        words = _("About {flow} would suit the ring for {range}.")
        second = words.format(flow=amount, range=named.words)
    third = _("Make sure as well that the ring entered is the one fitted.")
    return f"{first} {second} {third}"
