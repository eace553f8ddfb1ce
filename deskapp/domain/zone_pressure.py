"""A room with burners that is pulled hard, and no limit recorded to hold that against."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from pydantic import Field

from deskapp.domain import paths
from deskapp.domain.base import Frozen
from deskapp.domain.checks_safety import drafts_naturally
from deskapp.domain.choices import YesNo
from deskapp.domain.choices_safety import Fuel, Vent
from deskapp.domain.fields import label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.limit import Verification
from deskapp.domain.measured import Measured, si_of
from deskapp.i18n import _
from deskapp.units.display import in_sentences
from deskapp.units.kinds import Kind

LIMIT = "safety.zone_limit"
# The latest first: what was measured after the work stands for how the house was left.
_MEASURED = ("safety.zone_pressure_after", "safety.zone_pressure")


class ZoneGuide(Frozen):
    """From which `pressure` of a room, Pa, the trade asks about an appliance that vents so."""

    id: str = Field(min_length=1)
    vent: Vent
    text: str = Field(min_length=1)
    pressure: float = Field(lt=0)
    source: str = Field(min_length=1)
    status: Verification


def zone_findings(job: Job, guides: Iterable[ZoneGuide]) -> Iterator[Finding]:
    """Yield the question for a limit where a room is pulled harder than a guide and none is given.

    It decides nothing: only the limit of the standard a technician works to does. Where nobody
    recorded how the appliances vent, the strictest guide asks.
    """
    path = next((path for path in _MEASURED if paths.get(job, path) is not None), "")
    value = paths.get(job, path) if path else None
    pressure = si_of(value) if isinstance(value, Measured) else None
    if pressure is None or job.safety.zone_limit is not None or not _may_burn(job):
        return
    vents = _vents(job)
    fitting = [guide for guide in guides if not vents or guide.vent in vents]
    strictest = max(fitting, key=lambda guide: guide.pressure, default=None)
    if strictest is None or pressure >= strictest.pressure:
        return
    shown = in_sentences()
    ask = _("Enter the limit of the standard your technician works to.")
    if not vents:
        ask = _("Enter how each appliance vents, and the limit of your technician's standard.")
    caution = _(
        "Until then leave the appliance to a licensed technician, who also looks for spilled fumes."
    )
    yield Finding(
        level=Level.CHECK,
        code="zone_limit_missing",
        path=LIMIT,
        what=_("{label}: {pressure}, and no limit is recorded to hold it against.").format(
            label=label_of(path), pressure=shown.show(Kind.PRESSURE, pressure)
        ),
        allowed=_("The trade begins to ask at {guide}, for {appliance}. Source: {source}.").format(
            guide=shown.show(Kind.PRESSURE, strictest.pressure),
            appliance=_(strictest.text),
            source=_(strictest.source),
        ),
        mend=f"{ask} {caution}",
    )


def _may_burn(job: Job) -> bool:
    """Say whether something in the building may burn fuel: nobody said that nothing does."""
    burning = any(row.fuel not in (None, Fuel.ELECTRIC) for row in job.appliances)
    return burning or job.safety.combustion_appliances is not YesNo.NO


def _vents(job: Job) -> set[Vent]:
    """Return how the appliances vent; empty where that is not known of each of them."""
    rows = [row for row in job.appliances if row.fuel is not Fuel.ELECTRIC]
    vents = {row.vent for row in rows if row.vent is not None}
    if drafts_naturally(job):
        return {*vents, Vent.NATURAL_DRAFT}
    return set() if any(row.vent is None for row in rows) else vents
