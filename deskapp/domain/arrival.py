"""What was changed in the house on arrival, and how it was left."""

from __future__ import annotations

from deskapp.domain.base import Frozen
from deskapp.domain.choices import YesNo
from deskapp.domain.measured import Measured, si_of


class ArrivalItem(Frozen):
    """One thing that a tester may change; `item` is its id in the list that comes along.

    `was` says how it was found. It is `undone` again at the end, or `explained` why not. Where
    seals are put on, as many have to come off.
    """

    key: str
    item: str = ""
    what: str = ""
    changed: YesNo | None = None
    was: str = ""
    seals_on: Measured | None = None
    undone: YesNo | None = None
    seals_off: Measured | None = None
    explained: str = ""

    @property
    def is_blank(self) -> bool:
        """Whether nothing stands in the row."""
        return self == ArrivalItem(key=self.key)

    @property
    def is_changed(self) -> bool:
        """Whether it was changed; seals put on are a change even if nobody ticked it."""
        return self.changed is YesNo.YES or bool(si_of(self.seals_on))

    @property
    def seals_agree(self) -> bool:
        """Whether as many seals came off as were put on."""
        return (si_of(self.seals_on) or 0.0) == (si_of(self.seals_off) or 0.0)

    @property
    def is_put_back(self) -> bool:
        """Whether it is as it was found."""
        return not self.is_changed or (self.undone is YesNo.YES and self.seals_agree)

    @property
    def is_settled(self) -> bool:
        """Whether it was never changed, is put back, or is explained."""
        said = self.changed is not None or self.is_changed
        return said and (self.is_put_back or bool(self.explained.strip()))


class Leaving(Frozen):
    """Who closed the list, and when (``2026-04-09T15:20``); empty while it is open."""

    closed_by: str = ""
    closed_at: str = ""
