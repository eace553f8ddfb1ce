"""Parts of invented jobs: typed numbers, instruments, rings, tests and limits."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from deskapp.domain import choices as c
from deskapp.domain.instrument import Fan, Gauge, Ring
from deskapp.domain.limit import (
    LimitRow,
    PerFloorArea,
    Verification,
)
from deskapp.domain.measured import Day, Measured
from deskapp.domain.people import Tester
from deskapp.domain.site import Site
from deskapp.domain.trial import Ambient, LeakageTest, Reading, SetUp
from deskapp.units.kinds import Kind
from tests.typed_text import cfm as cfm
from tests.typed_text import ft2 as ft2
from tests.typed_text import pa as pa
from tests.typed_text import readings as readings
from tests.typed_text import typed as typed

ROOT = Path(__file__).parents[2]


def count(text: str) -> Measured:
    return typed(text, Kind.COUNT)


def degrees(text: str) -> Measured:
    return typed(text, Kind.TEMPERATURE)


def day(text: str) -> Day:
    return Day(value=date.fromisoformat(text), typed=text)


def ring(key: str, coefficient: str, low: str, high: str) -> Ring:
    """An invented ring: square-root law, calibrated for fan signals of 25 to 250 Pa."""
    return Ring(
        key=key,
        flow_low=cfm(low),
        flow_high=cfm(high),
        coefficient=typed(coefficient, Kind.COEFFICIENT),
        exponent=typed("0.5", Kind.NUMBER),
        signal_low=pa("25"),
        signal_high=pa("250"),
    )


RINGS = (
    ring("large", "62.0", "310", "980"),
    ring("medium", "24.0", "120", "380"),
    ring("small", "9.5", "48", "150"),
    ring("tiny", "4.0", "20", "63"),
)


def fan(serial: str, checked: str, error: str) -> Fan:
    return Fan(
        key="f1",
        description="Duct tester fan",
        serial=serial,
        certificate="C-2211",
        laboratory="Example Calibration Laboratory",
        calibrated_on=day("2025-11-30"),
        due_on=day("2026-11-30"),
        calibration_density=typed("1.2041", Kind.DENSITY),
        field_check_on=day(checked),
        field_check_error=typed(error, Kind.FRACTION),
        rings=RINGS,
    )


def gauge(serial: str) -> Gauge:
    return Gauge(
        key="g1",
        description="Two-channel pressure gauge",
        serial=serial,
        certificate="C-2210",
        laboratory="Example Calibration Laboratory",
        calibrated_on=day("2025-11-30"),
        due_on=day("2026-11-30"),
    )


def leakage_test(key: str, system: str, on: str, rows: tuple[Reading, ...], **setup: object):
    """One test; words such as label, start_time and baseline are taken out of `setup`."""
    record = {
        name: setup.pop(name)
        for name in ("label", "start_time", "end_time", "comments", "witnessed")
        if name in setup
    }
    baseline = str(setup.pop("baseline", "0.0"))
    ambient = setup.pop("ambient", Ambient())
    arranged = {
        "metric": c.Metric.TOTAL,
        "reference": c.Reference.HOUSE_OPEN,
        "target_pressure": pa("25"),
        "gauge": "g1",
        "fan": "f1",
        "fan_attachment": "Central return grille",
        "tap_location": "Supply plenum",
        "averaging_time": typed("10", Kind.TIME),
        "flow_basis": c.FlowBasis.AS_INDICATED,
        "house_openings": "Front door open, other doors and windows closed",
        "filter_removed": c.YesNo.YES,
        "fresh_air_sealed": c.YesNo.YES,
        **setup,
    }
    return LeakageTest(
        key=key,
        system=system,
        tested_on=day(on),
        setup=SetUp(**arranged),
        ambient=ambient,
        baseline_before=pa(baseline),
        baseline_after=pa(baseline),
        readings=rows,
        **record,
    )


def row(identity: str, clause: str, rule: object, **conditions: object) -> LimitRow:
    given = {
        "title": identity.replace("-", " ").capitalize(),
        "metric": c.Metric.TOTAL,
        "pressure_pa": 25.0,
        "status": Verification.CODE_TEXT,
        "source": "Invented for the tests",
        **conditions,
    }
    return LimitRow(id=identity, clause=clause, rule=rule, **given)


def per_area(rate: float) -> PerFloorArea:
    return PerFloorArea(kind="per_floor_area", rate=rate)


SITE = Site(
    address="14 Larkspur Lane",
    lot="Lot 14",
    city="Sampleton",
    region="Example State",
    postcode="00014",
    jurisdiction="City of Sampleton, building department",
    permit_number="PRM-26-0417",
    permit_date=day("2026-01-20"),
    builder="Sample Home Builders",
    builder_license="B-889",
    climate_zone="4A",
)
TESTER = Tester(
    name="Tester A",
    company="Example Duct Works",
    phone="(555) 010-0199",
    certification="EX-1204",
    certification_expires=day("2027-06-30"),
    signed_by="Tester A",
)
