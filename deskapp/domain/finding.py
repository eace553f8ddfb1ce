"""What the program has to say about a job."""

from __future__ import annotations

from enum import StrEnum

from deskapp.domain.base import Frozen


class Level(StrEnum):
    """How much a finding weighs: only `STOP` keeps the compliance report from being made."""

    STOP = "stop"
    CHECK = "check"
    NOTE = "note"


class Finding(Frozen):
    """One message: what is the matter (naming what was typed), what is allowed, how to mend it.

    `path` is the field it belongs to (such as ``systems.0.area_served``) or empty.
    """

    level: Level
    code: str
    path: str = ""
    what: str
    allowed: str = ""
    mend: str = ""

    @property
    def text(self) -> str:
        """The whole message as one paragraph."""
        return " ".join(part for part in (self.what, self.allowed, self.mend) if part)
