"""Words kept as data: where ducts leak, and what to be careful about."""

from __future__ import annotations

from enum import StrEnum

from pydantic import Field

from deskapp.domain.base import Frozen
from deskapp.domain.choices import DuctSide, LeakSize
from deskapp.domain.limit import Verification


class LeakLocation(Frozen):
    """A kind of place where ducts leak.

    `side` is where it usually sits (None: supply or return alike), `severity` how big such a leak
    usually is, `repair` how it is usually closed.
    """

    id: str = Field(min_length=1)
    label: str = Field(min_length=1)
    side: DuctSide | None = None
    severity: LeakSize | None = None
    repair: str = ""


class CautionLevel(StrEnum):
    """How urgent a caution is: something to act on at once, to watch, or to know."""

    DANGER = "danger"
    WARNING = "warning"
    NOTE = "note"


class Caution(Frozen):
    """One sentence of care, with where it comes from and how well that is known."""

    id: str = Field(min_length=1)
    level: CautionLevel
    text: str = Field(min_length=1)
    source: str = Field(min_length=1)
    status: Verification
