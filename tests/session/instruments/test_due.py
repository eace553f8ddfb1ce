"""The list of instruments to see to. All of it is invented."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from deskapp.domain.instrument import Fan, Gauge
from deskapp.domain.measured import Day
from deskapp.domain.register import (
    InstrumentKind,
    InstrumentRegister,
    RegisteredFan,
    RegisteredGauge,
)
from deskapp.session.instruments.due import SOON, DueItem, due
from deskapp.session.settings import Preferences

TODAY = date(2026, 6, 1)
IP = Preferences().formatter


def gauge(serial: str, days: int | None, retired: bool = False) -> RegisteredGauge:
    day = None if days is None else Day(value=TODAY + timedelta(days=days))
    return RegisteredGauge(gauge=Gauge(key=serial, serial=serial, due_on=day), retired=retired)


def serials(items: tuple[DueItem, ...]) -> list[str]:
    return [item.key for item in items]


def test_that_each_instrument_in_use_is_listed_once_and_in_order_of_urgency():
    register = InstrumentRegister(
        gauges=(
            gauge("late", -1),
            gauge("today", 0),
            gauge("later", -200),
            gauge("edge", SOON),
            gauge("far", SOON + 1),
            gauge("none", None),
            gauge("gone", -500, retired=True),
        ),
        fans=(RegisteredFan(fan=Fan(key="fan", due_on=Day(value=date(2026, 6, 10)))),),
    )
    found = due(register, TODAY)
    assert serials(found.overdue) == ["later", "late"]
    assert serials(found.soon) == ["today", "fan", "edge"]
    assert serials(found.undated) == ["none"]


def test_that_a_due_day_that_could_not_be_read_counts_as_none():
    unread = Gauge(key="g1", due_on=Day(value=None, typed="next spring"))
    found = due(InstrumentRegister(gauges=(RegisteredGauge(gauge=unread),)), TODAY)
    assert serials(found.undated) == ["g1"]


def test_that_an_item_says_where_its_instrument_is_and_what_it_is_called(
    register: InstrumentRegister,
):
    [fan] = due(register, date(2026, 11, 20)).soon
    assert (fan.kind, fan.path, fan.name) == (InstrumentKind.FAN, "fans.0", "Duct fan, FA-01")
    [overdue] = due(register, date(2026, 11, 20)).overdue
    assert (overdue.kind, overdue.path) == (InstrumentKind.GAUGE, "gauges.0")


@pytest.mark.parametrize(
    ("days", "words"),
    [
        (None, "no due day recorded"),
        (0, "due today, Jun 1, 2026"),
        (1, "due tomorrow, Jun 2, 2026"),
        (12, "due on Jun 13, 2026, in 12 days"),
        (-1, "overdue since May 31, 2026, for a day"),
        (-31, "overdue since May 1, 2026, for 31 days"),
    ],
)
def test_that_the_words_say_when(days: int | None, words: str):
    found = due(InstrumentRegister(gauges=(gauge("g1", days),)), TODAY)
    [item] = (*found.overdue, *found.soon, *found.undated)
    assert item.words(IP).replace("\N{NO-BREAK SPACE}", " ") == words


def test_that_how_far_to_look_ahead_can_be_set():
    register = InstrumentRegister(gauges=(gauge("g1", 60),))
    assert due(register, TODAY).soon == ()
    assert serials(due(register, TODAY, soon=60).soon) == ["g1"]


def test_that_an_empty_register_has_nothing_to_see_to():
    found = due(InstrumentRegister(), TODAY)
    assert (found.overdue, found.soon, found.undated) == ((), (), ())
