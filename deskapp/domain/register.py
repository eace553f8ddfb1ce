"""The register: gauges and fans a company owns, kept outside of any job, with their field checks.

An instrument is copied into a job. From then on the two are apart: nothing that changes in the
register reaches a job by itself.
"""

from __future__ import annotations

from collections import Counter
from enum import StrEnum
from typing import Self

from pydantic import model_validator

from deskapp.domain.base import Frozen
from deskapp.domain.choices import FlowBasis
from deskapp.domain.instrument import Fan, Gauge, Ring
from deskapp.domain.job import Job
from deskapp.domain.measured import Day, Measured


class InstrumentKind(StrEnum):
    """The two lists of a register."""

    GAUGE = "gauge"
    FAN = "fan"


class CheckEntries(Frozen):
    """What was typed for a field check against a hole of known size.

    The hole is given by diameter or by area; the flow of the fan by ring and fan signal, or as the
    gauge showed it, and then `flow_basis` says whether the gauge had corrected it for the density
    of the air.
    """

    done_on: Day | None = None
    tester: str = ""
    gauge: str = ""
    ring: str = ""
    hole_diameter: Measured | None = None
    hole_area: Measured | None = None
    discharge_coefficient: Measured | None = None
    plate_pressure: Measured | None = None
    air_temperature: Measured | None = None
    barometer: Measured | None = None
    humidity: Measured | None = None
    fan_signal: Measured | None = None
    indicated_flow: Measured | None = None
    flow_basis: FlowBasis | None = None
    tolerance: Measured | None = None
    comments: str = ""


class FieldCheck(Frozen):
    """One field check of a fan, with all it takes to work it out again.

    `entries` is what was typed; `gauge` and `ring` are the instruments in words, `ring_used` and
    `calibration_density` what held for the fan on that day. `expected` and `indicated` are flows
    in m3/s at `density` kg/m3, `share_off` and `tolerance` shares of the expected flow.
    """

    entries: CheckEntries
    gauge: str = ""
    ring: str = ""
    ring_used: Ring | None = None
    calibration_density: Measured | None = None
    density: float
    expected: float
    indicated: float
    share_off: float
    tolerance: float
    within: bool


class RegisteredGauge(Frozen):
    """A gauge of the register."""

    gauge: Gauge
    notes: str = ""
    retired: bool = False


class RegisteredFan(Frozen):
    """A fan of the register with its field checks, in the order they were recorded."""

    fan: Fan
    notes: str = ""
    retired: bool = False
    checks: tuple[FieldCheck, ...] = ()


class InstrumentRegister(Frozen):
    """All instruments of a company. Keys tell the rows of a list apart and never change."""

    gauges: tuple[RegisteredGauge, ...] = ()
    fans: tuple[RegisteredFan, ...] = ()

    @model_validator(mode="after")
    def _is_sound(self) -> Self:
        self.as_job()
        for name, keys in (
            ("gauges", [item.gauge.key for item in self.gauges]),
            ("fans", [item.fan.key for item in self.fans]),
            *((f"rings of {fan.fan.key}", [r.key for r in fan.fan.rings]) for fan in self.fans),
        ):
            twice = [key for key, count in Counter(keys).items() if count > 1]
            if twice:
                raise ValueError(f"{name}: the key {twice[0]!r} stands there twice")
        return self

    def gauge(self, key: str) -> RegisteredGauge | None:
        """Return the gauge with this key."""
        return next((item for item in self.gauges if item.gauge.key == key), None)

    def fan(self, key: str) -> RegisteredFan | None:
        """Return the fan with this key."""
        return next((item for item in self.fans if item.fan.key == key), None)

    def as_job(self) -> Job:
        """Return a job that holds the instruments and nothing else, for the checks of a job.

        Raises ValueError for a unit that does not measure what its field holds.
        """
        return Job(
            gauges=tuple(item.gauge for item in self.gauges),
            fans=tuple(item.fan for item in self.fans),
        )
