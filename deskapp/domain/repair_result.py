"""What was worked out about leaks and their repair. SI throughout: flows m3/s, pressures Pa."""

from __future__ import annotations

from deskapp.domain.base import Frozen
from deskapp.domain.choices import LeakSize, Severity


class LeakRank(Frozen):
    """How much one leak matters: its number, its severity, and in `reason` why it is that.

    `usual` is the severity of its kind of place; None where the kind is not known. A severity that
    a person gave `is_given`.
    """

    key: str
    number: int
    system: str = ""
    severity: Severity | None = None
    usual: Severity | None = None
    reason: str = ""
    is_given: bool = False
    is_open: bool = True
    size: LeakSize | None = None
