"""A leakage test of one duct system: set-up, surroundings and readings."""

from __future__ import annotations

from deskapp.domain.base import Frozen
from deskapp.domain.choices import (
    Direction,
    FlowBasis,
    Method,
    Metric,
    Part,
    Reference,
    Stage,
    YesNo,
)
from deskapp.domain.measured import Day, Measured
from deskapp.i18n import N_

SIMULATED = N_("simulated for training")
"""How the note of a reading begins that no real duct gave; it can never be reported."""


class SetUp(Frozen):
    """How the test was arranged; part of the result, as another arrangement reads differently.

    `method` and `part` left open mean one pressure and the whole system, as in older jobs.
    """

    stage: Stage | None = None
    metric: Metric | None = None
    method: Method | None = None
    part: Part | None = None
    direction: Direction | None = None
    reference: Reference | None = None
    target_pressure: Measured | None = None
    gauge: str = ""
    fan: str = ""
    ring: str = ""
    fan_attachment: str = ""
    tap_location: str = ""
    averaging_time: Measured | None = None
    exponent: Measured | None = None
    exponent_uncertainty: Measured | None = None
    flow_basis: FlowBasis | None = None
    supplies_sealed: Measured | None = None
    returns_sealed: Measured | None = None
    house_openings: str = ""
    filter_removed: YesNo | None = None
    fresh_air_sealed: YesNo | None = None

    @property
    def is_whole(self) -> bool:
        """Whether the test took in the whole duct system or section, not one side of it."""
        return self.part in (None, Part.WHOLE)


class Ambient(Frozen):
    """The air around the test."""

    indoor_temperature: Measured | None = None
    outdoor_temperature: Measured | None = None
    fan_air_temperature: Measured | None = None
    barometer: Measured | None = None
    humidity: Measured | None = None
    wind: Measured | None = None
    weather: str = ""


class Reading(Frozen):
    """One averaged reading, signed as the gauge shows it (ducts with respect to the reference)."""

    duct_pressure: Measured | None = None
    fan_signal: Measured | None = None
    indicated_flow: Measured | None = None
    note: str = ""


class LeakageTest(Frozen):
    """One test of one system. A retest is a new record; it never overwrites an earlier one.

    `retest_of` is the key of the test that it repeats after a repair. `supply_alone` and
    `return_alone` are what each side leaked at the target, where it was read beside this test and
    has no test of its own; only the owner's figures use them.
    """

    key: str
    system: str = ""
    label: str = ""
    retest_of: str = ""
    tested_on: Day | None = None
    start_time: str = ""
    end_time: str = ""
    setup: SetUp = SetUp()
    ambient: Ambient = Ambient()
    baseline_before: Measured | None = None
    baseline_after: Measured | None = None
    readings: tuple[Reading, ...] = ()
    house_pressure: Measured | None = None
    house_fan_flow: Measured | None = None
    duct_to_house_pressure: Measured | None = None
    supply_alone: Measured | None = None
    return_alone: Measured | None = None
    smoke_result: str = ""
    witnessed: YesNo | None = None
    comments: str = ""

    @property
    def was_read(self) -> bool:
        """Whether anything is recorded in a reading; until then nothing is missed in the set-up."""
        return any(reading != Reading() for reading in self.readings)
