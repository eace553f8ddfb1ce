"""What rests on the floor area, and areas a limit cannot rest on."""

from __future__ import annotations

from collections.abc import Iterator

from deskapp.domain.checks_systems import AREA_TOLERANCE
from deskapp.domain.choices import AreaSource
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.limit import EitherOf, FloorAreaFraction, GreaterOf, LimitRow, PerFloorArea
from deskapp.domain.measured import Measured, si_of
from deskapp.domain.result import SystemResult
from deskapp.i18n import _

AREA_SERVED = "systems.*.area_served"
_BY_AREA = (PerFloorArea, GreaterOf, FloorAreaFraction)


def rests_on_estimate(job: Job, systems: tuple[SystemResult, ...]) -> bool:
    """Say whether the areas are estimated, and a row that judges a system goes by them."""
    if job.house.area_source is not AreaSource.ESTIMATED:
        return False
    editions = {limit.key: limit.edition for limit in job.compliance.limits}
    outcomes = (one for system in systems for one in system.outcomes if not one.is_waived)
    rows = (editions[one.limit].row(one.row) for one in outcomes if one.limit in editions)
    return any(row is not None and _goes_by_area(row) for row in rows)


def _goes_by_area(row: LimitRow) -> bool:
    """Say whether a row divides by floor area, or stands for some areas alone."""
    rules = row.rule.rules if isinstance(row.rule, EitherOf) else (row.rule,)
    by_size = row.area_above_ft2 is not None or row.area_up_to_ft2 is not None
    return by_size or any(isinstance(rule, _BY_AREA) for rule in rules)


def estimate_findings(job: Job, systems: tuple[SystemResult, ...]) -> Iterator[Finding]:
    """Yield the remark on a verdict that rests on estimated areas."""
    if rests_on_estimate(job, systems):
        yield Finding(
            level=Level.CHECK,
            code="area_estimated",
            path="house.area_source",
            what=_("The floor areas are estimated, and the area decides the verdict."),
            mend=_("Measure them or take them from the plans before you sign."),
        )


def impossible_area(served: Measured | None, house: Measured | None) -> str:
    """Return why the area `served` cannot be right beside that of the `house`; empty if it can.

    Which of the two is wrong nobody can tell, so nothing is worked out from either.
    """
    area, whole = si_of(served), si_of(house)
    if area is None or whole is None or area <= whole * (1 + AREA_TOLERANCE):
        return ""
    return _(
        "The system is said to serve more than the whole house has. No verdict is drawn from an "
        "area that cannot be right. Correct the area of the system or of the house."
    )
