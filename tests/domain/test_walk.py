"""Visiting the quantities and days of a job."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from deskapp.domain.base import Frozen
from deskapp.domain.instrument import Fan, Ring
from deskapp.domain.job import Job
from deskapp.domain.measured import Day, Measured
from deskapp.domain.screening import PanScreening, Register
from deskapp.domain.site import House
from deskapp.domain.trial import Ambient, LeakageTest, Reading, SetUp
from deskapp.domain.walk import entries

PA = Measured(si=25.0, unit="Pa", typed="25 Pa")
DAY = Day(value=date(2026, 3, 11), typed="2026-03-11")


def everywhere(record: Frozen, prefix: str = "") -> Iterator[tuple[str, object]]:
    """The same walk without leaving anything out."""
    for name in type(record).model_fields:
        value = getattr(record, name)
        if isinstance(value, Measured | Day):
            yield f"{prefix}{name}", value
        elif isinstance(value, Frozen):
            yield from everywhere(value, f"{prefix}{name}.")
        elif isinstance(value, tuple):
            for position, row in enumerate(value):
                if isinstance(row, Frozen):
                    yield from everywhere(row, f"{prefix}{name}.{position}.")


def test_that_every_quantity_and_day_is_visited_in_order() -> None:
    job = Job(
        house=House(floor_area=Measured(si=1.0, unit="m2")),
        fans=(Fan(key="f1", due_on=DAY, rings=(Ring(key="r1", signal_low=PA),)),),
        tests=(
            LeakageTest(
                key="t1",
                tested_on=DAY,
                setup=SetUp(target_pressure=PA),
                ambient=Ambient(barometer=PA),
                readings=(Reading(duct_pressure=PA), Reading(fan_signal=PA)),
            ),
        ),
        registers=(Register(key="p1", pan_before=PA),),
        screening=PanScreening(house_pressure_after=PA),
    )
    found = list(entries(job))
    assert found == list(everywhere(job))
    assert [path for path, _value in found] == [
        "house.floor_area",
        "fans.0.due_on",
        "fans.0.rings.0.signal_low",
        "tests.0.tested_on",
        "tests.0.setup.target_pressure",
        "tests.0.ambient.barometer",
        "tests.0.readings.0.duct_pressure",
        "tests.0.readings.1.fan_signal",
        "registers.0.pan_before",
        "screening.house_pressure_after",
    ]


def test_that_an_empty_job_has_nothing_to_visit() -> None:
    assert list(entries(Job())) == []
