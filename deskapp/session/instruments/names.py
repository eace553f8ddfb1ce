"""What instruments and rings are called in lists and records."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.domain.instrument import Gauge
from deskapp.i18n import _
from deskapp.session.options import ring_words

if TYPE_CHECKING:
    from deskapp.domain.instrument import Fan, Ring
    from deskapp.units.display import Formatter


def instrument_words(instrument: Gauge | Fan) -> str:
    """Return description and serial number, or what there is of them."""
    kind = _("Gauge") if isinstance(instrument, Gauge) else _("Fan")
    name = instrument.description.strip() or kind
    serial = instrument.serial.strip()
    return f"{name}, {serial}" if serial else name


def ring_name(ring: Ring, position: int, formatter: Formatter) -> str:
    """Return the flow range that names a ring; its place in the list where it has none."""
    return ring_words(ring, formatter) or _("Ring {n}").format(n=position + 1)
