"""What the program has to say about a job."""

from __future__ import annotations

from enum import StrEnum

from deskapp.domain.base import Frozen


class Level(StrEnum):
    """How much a finding weighs: only `STOP` keeps the compliance report from being made."""

    STOP = "stop"
    CHECK = "check"
    NOTE = "note"

    @property
    def rank(self) -> int:
        """Its place where findings stand in order: stops come first."""
        return _RANKS[self]


class Nature(StrEnum):
    """What a finding is about, as people are told: a danger to somebody is no mistake to mend.

    `PAST` is a danger that somebody went past by name, and that is not cleared.
    """

    DANGER = "danger"
    PAST = "past"
    STOP = "stop"
    CHECK = "check"
    NOTE = "note"


_RANKS = {level: place for place, level in enumerate(Level)}
_DANGERS = frozenset({"safety_stop", "not_put_back", "left_sealed"})
_PAST = "acknowledged_stop"


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
    def nature(self) -> Nature:
        """What it is about: a stop about what can hurt someone is a danger."""
        if self.code == _PAST:
            return Nature.PAST
        if self.level is Level.STOP and self.code in _DANGERS:
            return Nature.DANGER
        return Nature(self.level.value)

    @property
    def text(self) -> str:
        """The whole message as one paragraph."""
        return " ".join(part for part in (self.what, self.allowed, self.mend) if part)
