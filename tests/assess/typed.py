"""Build jobs the way a tester does: every number as typed text, read by the program itself."""

from __future__ import annotations

from datetime import date

from deskapp.domain.choices import (
    AreaSource,
    Direction,
    FlowBasis,
    Metric,
    Reference,
    Stage,
    YesNo,
)
from deskapp.domain.instrument import Fan, Gauge, Ring
from deskapp.domain.job import Compliance, Job
from deskapp.domain.limit import ChosenLimit, Edition, LimitRow, PerFloorArea, Verification
from deskapp.domain.measured import Day
from deskapp.domain.site import House
from deskapp.domain.system import DuctSystem
from deskapp.domain.trial import LeakageTest, Reading, SetUp
from deskapp.units.kinds import Kind
from tests.typed_text import cfm as cfm
from tests.typed_text import ft2 as ft2
from tests.typed_text import pa as pa
from tests.typed_text import readings as readings
from tests.typed_text import typed as typed


def ring(key: str, coefficient: str) -> Ring:
    """An invented ring: square-root law, calibrated for fan signals of 25 to 250 Pa."""
    return Ring(
        key=key,
        coefficient=typed(coefficient, Kind.COEFFICIENT),
        exponent=typed("0.5", Kind.NUMBER),
        signal_low=pa("25"),
        signal_high=pa("250"),
    )


RINGS = (ring("large", "62"), ring("medium", "24"), ring("small", "9.5"), ring("tiny", "4"))
FAN = Fan(key="f1", serial="FA-01", due_on=Day(value=date(2026, 11, 30)), rings=RINGS)
GAUGE = Gauge(key="g1", serial="GA-01", due_on=Day(value=date(2026, 11, 30)))


def leakage_test(
    key: str,
    system: str,
    ring_key: str,
    rows: tuple[Reading, ...],
    baseline: str,
    *,
    direction: Direction = Direction.DEPRESSURIZE,
    stage: Stage = Stage.ROUGH_IN,
    basis: FlowBasis = FlowBasis.AS_INDICATED,
    target: str = "25",
) -> LeakageTest:
    return LeakageTest(
        key=key,
        system=system,
        tested_on=Day(value=date(2026, 3, 11)),
        setup=SetUp(
            stage=stage,
            metric=Metric.TOTAL,
            direction=direction,
            reference=Reference.HOUSE_OPEN,
            target_pressure=pa(target),
            ring=ring_key,
            flow_basis=basis,
        ),
        baseline_before=pa(baseline),
        baseline_after=pa(baseline),
        readings=rows,
    )


def row(identity: str, rate: float, *, air_handler: bool) -> LimitRow:
    return LimitRow(
        id=identity,
        title=identity,
        clause="invented 1",
        stages=(Stage.ROUGH_IN,),
        metric=Metric.TOTAL,
        pressure_pa=25.0,
        air_handler_installed=air_handler,
        rule=PerFloorArea(kind="per_floor_area", rate=rate),
        status=Verification.USER,
        source="invented for tests",
    )


EDITION = Edition(
    id="invented",
    body="Invented body",
    title="Invented code",
    edition="1",
    unit="cfm",
    rows=(row("with", 4.0, air_handler=True), row("without", 3.0, air_handler=False)),
)


def two_systems(*, retested: bool) -> Job:
    """Two systems at rough-in (invented): one passes, one is above its limit until it is sealed."""
    first = leakage_test(
        "t1", "s1", "small", readings("-25.1 -24.8 -25.0", "32.4 31.9 32.6"), "-0.1"
    )
    second = leakage_test(
        "t2", "s2", "tiny", readings("-25.2 -24.9 -25.0", "96.4 94.8 94.2"), "0.0"
    )
    again = leakage_test(
        "t3", "s2", "tiny", readings("-25.0 -25.1 -24.9", "54.7 55.3 54.1"), "-0.1"
    )
    return Job(
        number="T-1",
        house=House(floor_area=ft2("2,640"), area_source=AreaSource.MEASURED),
        systems=(
            DuctSystem(
                key="s1",
                name="System 1",
                area_served=ft2("1,520"),
                air_handler_installed=YesNo.YES,
            ),
            DuctSystem(
                key="s2",
                name="System 2",
                area_served=ft2("1,120"),
                air_handler_installed=YesNo.NO,
            ),
        ),
        gauges=(GAUGE,),
        fans=(FAN,),
        tests=(first, second, again) if retested else (first, second),
        compliance=Compliance(limits=(ChosenLimit(key="l1", edition=EDITION),)),
    )
