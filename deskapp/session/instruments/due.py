"""Which instruments are overdue for calibration, which soon will be, which have no date."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from deskapp.domain.measured import day_of
from deskapp.domain.register import InstrumentKind
from deskapp.i18n import _, ngettext
from deskapp.session.instruments.names import instrument_words

if TYPE_CHECKING:
    from datetime import date

    from deskapp.domain.instrument import Fan, Gauge
    from deskapp.domain.register import InstrumentRegister
    from deskapp.units.display import Formatter

SOON = 30
"""Days before the due day from which on an instrument is listed. House rule."""


@dataclass(frozen=True, slots=True)
class DueItem:
    """One instrument: its kind and key, its path in the register, and its name.

    `days_left` is below zero once the due day has passed; None without a due day, or where the
    text typed for it could not be read.
    """

    kind: InstrumentKind
    key: str
    path: str
    name: str
    due_on: date | None
    days_left: int | None

    def words(self, formatter: Formatter) -> str:
        """Return when calibration is due, such as "due on Mar 5, 2026, in 12 days"."""
        if self.due_on is None or self.days_left is None:
            return _("no due day recorded")
        day = formatter.day(self.due_on)
        if self.days_left == 0:
            return _("due today, {day}").format(day=day)
        if self.days_left > 0:
            words = ngettext("due tomorrow, {day}", "due on {day}, in {n} days", self.days_left)
        else:
            words = ngettext(
                "overdue since {day}, for a day",
                "overdue since {day}, for {n} days",
                -self.days_left,
            )
        return words.format(day=day, n=abs(self.days_left))


@dataclass(frozen=True, slots=True)
class DueList:
    """The instruments to see to, the most pressing first; retired ones are left out."""

    overdue: tuple[DueItem, ...]
    soon: tuple[DueItem, ...]
    undated: tuple[DueItem, ...]


def due(register: InstrumentRegister, today: date, soon: int = SOON) -> DueList:
    """List the instruments to see to.

    Args:
        register: the register.
        today: the day to count from. On its due day an instrument is not yet overdue.
        soon: how many days ahead to look.
    """
    items = sorted(
        (_item(kind, path, one, today) for kind, path, one in _in_use(register)),
        key=lambda item: (item.days_left or 0, item.name),
    )
    return DueList(
        overdue=tuple(i for i in items if i.days_left is not None and i.days_left < 0),
        soon=tuple(i for i in items if i.days_left is not None and 0 <= i.days_left <= soon),
        undated=tuple(i for i in items if i.days_left is None),
    )


def _in_use(register: InstrumentRegister) -> list[tuple[InstrumentKind, str, Gauge | Fan]]:
    gauges = [
        (InstrumentKind.GAUGE, f"gauges.{position}", item.gauge)
        for position, item in enumerate(register.gauges)
        if not item.retired
    ]
    fans = [
        (InstrumentKind.FAN, f"fans.{position}", item.fan)
        for position, item in enumerate(register.fans)
        if not item.retired
    ]
    return [*gauges, *fans]


def _item(kind: InstrumentKind, path: str, one: Gauge | Fan, today: date) -> DueItem:
    day = day_of(one.due_on)
    left = None if day is None else (day - today).days
    return DueItem(kind, one.key, path, instrument_words(one), day, left)
