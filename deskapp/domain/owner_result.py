"""What leakage means to the owner: the share of heating and cooling delivered, and its cost.

SI values: flows m3/s, shares 0 to 1; money is a plain number in the currency of the bill. A
leakage flow at the test pressure is never called air lost here: what is told is an estimate for
the system while it runs, and rests on the assumptions listed with it.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated

from pydantic import Field

from deskapp.domain.base import Frozen
from deskapp.domain.later import Later
from deskapp.domain.result_parts import Assumption
from deskapp.domain.step import NO_TRACE, KeptTrace, Step


class LeakBasis(StrEnum):
    """Which test the leakage to outside follows from."""

    OUTSIDE = "outside"
    TOTAL = "total"


class DeliveryResult(Frozen):
    """One test seen from the rooms, for the system while it runs.

    `supply_leakage` and `return_leakage` are estimates of the leakage to outside at the pressures
    of operation, `fan_share` is their greater over the fan flow. `heating` and `cooling` are the
    shares delivered to the rooms; those with `tight` would be reached without leakage, with the
    same insulation. None where capacity or flow are missing. `trace` holds the arithmetic.
    """

    test: str
    basis: LeakBasis
    supply_leakage: float
    return_leakage: float
    fan_share: float | None = None
    heating: float | None = None
    heating_tight: float | None = None
    cooling: float | None = None
    cooling_tight: float | None = None
    trace: KeptTrace = NO_TRACE

    @property
    def steps(self) -> tuple[Step, ...]:
        """The lines of arithmetic that lead to the shares."""
        return self.trace.value


class OwnerResult(Frozen):
    """One system for its owner: now, before the work, and what that means in money.

    `before` is the first like test where there are two. `cost_low` to `cost_high` is what the
    leakage costs in a year as things stand, `saved_low` to `saved_high` what the work saves; None
    without a bill. `reason` says why there is nothing. Every assumption is listed.
    """

    now: DeliveryResult | None = None
    before: DeliveryResult | None = None
    cost_low: float | None = None
    cost_high: float | None = None
    saved_low: float | None = None
    saved_high: float | None = None
    currency: str = ""
    assumptions: tuple[Assumption, ...] = ()
    reason: str = ""


KeptEstimate = Annotated[
    Later[OwnerResult | None], Field(validation_alias="owner", serialization_alias="owner")
]
"""The figures for the owner, as a result of a system holds them."""

NO_ESTIMATE: Later[OwnerResult | None] = Later(lambda: None)
"""That of a system of which nothing was asked."""
