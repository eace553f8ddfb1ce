"""Areas a limit cannot rest on: a system that serves more than the whole house has."""

from __future__ import annotations

from deskapp.domain.checks_systems import AREA_TOLERANCE
from deskapp.domain.measured import Measured, si_of
from deskapp.i18n import _

AREA_SERVED = "systems.*.area_served"


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
