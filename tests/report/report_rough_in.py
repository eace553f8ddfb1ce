"""An invented rough-in with two systems, one of them above its limit until it is sealed."""

from __future__ import annotations

from report_parts import (
    SITE,
    TESTER,
    cfm,
    count,
    degrees,
    fan,
    ft2,
    gauge,
    leakage_test,
    per_area,
    readings,
    row,
    typed,
)

from deskapp.domain import choices as c
from deskapp.domain.job import Compliance, Job
from deskapp.domain.leak import Leak
from deskapp.domain.limit import (
    ChosenLimit,
    Edition,
    Verification,
)
from deskapp.domain.safety import Safety
from deskapp.domain.site import Client, House
from deskapp.domain.system import DuctSystem
from deskapp.domain.trial import Ambient, LeakageTest
from deskapp.units.kinds import Kind

ROUGH_IN_CODE = Edition(
    id="example-code",
    body="Example Code Council",
    title="Example Energy Code",
    edition="2024",
    unit="cfm",
    rows=(
        row("with-air-handler", "section 3.5", per_area(4.0), air_handler_installed=True),
        row(
            "without-air-handler",
            "section 3.5",
            per_area(3.0),
            air_handler_installed=False,
            status=Verification.MEMORY,
            source="Invented; written down from memory",
        ),
    ),
)


def rough_in(*, retested: bool = False) -> Job:
    """Two systems at rough-in: one passes, one is above its limit until it is sealed."""
    return Job(
        number="J-0001",
        title="Larkspur Lot 14",
        client=Client(name="Sample Home Builders"),
        site=SITE,
        house=House(
            building_type=c.BuildingType.DETACHED,
            floor_area=ft2("2,640"),
            area_source=c.AreaSource.MEASURED,
            volume=typed("23,760", Kind.VOLUME),
            stories=count("2"),
            year_built=count("2026"),
            elevation=typed("420", Kind.LENGTH),
            foundation="Vented crawl space",
        ),
        compliance=Compliance(
            path=c.CompliancePath.PRESCRIPTIVE,
            exemption_claimed=c.YesNo.NO,
            limits=(ChosenLimit(key="l1", edition=ROUGH_IN_CODE),),
        ),
        systems=_rough_in_systems(),
        gauges=(gauge("GA-01"),),
        fans=(fan("FA-01", "2026-03-02", "1.2"),),
        tests=_rough_in_tests(retested=retested),
        leaks=_rough_in_leaks(sealed=retested),
        safety=Safety(
            combustion_appliances=c.YesNo.NO,
            gas_smell=c.YesNo.NO,
            asbestos_suspected=c.YesNo.NO,
            equipment_restored=c.YesNo.YES,
        ),
        tester=TESTER,
    )


def _rough_in_tests(*, retested: bool) -> tuple[LeakageTest, ...]:
    air = Ambient(
        indoor_temperature=degrees("64"),
        outdoor_temperature=degrees("61"),
        wind=typed("4", Kind.SPEED),
        weather="Dry, calm",
    )
    shared = {"direction": c.Direction.DEPRESSURIZE, "stage": c.Stage.ROUGH_IN, "ambient": air}
    first = leakage_test(
        "t1",
        "s1",
        "2026-03-11",
        readings("-25.1 -24.8 -25.0", "32.4 31.9 32.6"),
        ring="small",
        baseline="-0.1",
        label="System 1, first test",
        start_time="08:40",
        end_time="09:20",
        supplies_sealed=count("9"),
        returns_sealed=count("1"),
        **shared,
    )
    second = leakage_test(
        "t2",
        "s2",
        "2026-03-11",
        readings("-25.2 -24.9 -25.0", "96.4 94.8 94.2"),
        ring="tiny",
        label="System 2, first test",
        start_time="09:40",
        end_time="10:25",
        supplies_sealed=count("7"),
        returns_sealed=count("1"),
        **shared,
    )
    again = leakage_test(
        "t3",
        "s2",
        "2026-03-11",
        readings("-25.0 -25.1 -24.9", "54.7 55.3 54.1"),
        ring="tiny",
        baseline="-0.1",
        label="System 2, after sealing",
        start_time="13:10",
        end_time="13:40",
        supplies_sealed=count("7"),
        returns_sealed=count("1"),
        **shared,
    )
    again = again.model_copy(update={"retest_of": "t2"})
    return (first, second, again) if retested else (first, second)


def _rough_in_systems() -> tuple[DuctSystem, ...]:
    shared = {
        "work": c.WorkKind.NEW,
        "air_handler_inside": c.YesNo.NO,
        "all_ducts_inside": c.YesNo.NO,
        "returns": count("1"),
        "cloth_tape_found": c.YesNo.NO,
        "visual_notes": "Joints fastened and sealed with mastic; flexible runs supported.",
        "fan_flow_method": c.FanFlowMethod.NOMINAL_COOLING,
    }
    return (
        DuctSystem(
            key="s1",
            name="System 1",
            serves="ground floor",
            area_served=ft2("1,520"),
            air_handler_installed=c.YesNo.YES,
            duct_location=c.DuctLocation.CRAWLSPACE,
            supplies=count("9"),
            equipment="Heat pump, split",
            cooling_capacity=typed("3 tons", Kind.POWER),
            fan_flow=cfm("1,200"),
            **shared,
        ),
        DuctSystem(
            key="s2",
            name="System 2",
            serves="upper floor",
            area_served=ft2("1,120"),
            air_handler_installed=c.YesNo.NO,
            duct_location=c.DuctLocation.ATTIC,
            supplies=count("7"),
            equipment="Heat pump, split",
            cooling_capacity=typed("2 tons", Kind.POWER),
            fan_flow=cfm("800"),
            **shared,
        ),
    )


def _rough_in_leaks(*, sealed: bool) -> tuple[Leak, ...]:
    done = c.YesNo.YES if sealed else c.YesNo.NO
    shared = {"system": "s2", "found_by": c.FoundBy.SMOKE, "repaired": done}
    words = "Fastened and sealed with mastic." if sealed else ""
    return (
        Leak(
            key="k1",
            location="takeoff",
            place="Two collars at the supply plenum",
            side=c.DuctSide.SUPPLY,
            size=c.LeakSize.MAJOR,
            repair=words,
            **shared,
        ),
        Leak(
            key="k2",
            location="return_box",
            place="Return box in the hall ceiling",
            side=c.DuctSide.RETURN,
            size=c.LeakSize.MAJOR,
            repair=words,
            **shared,
        ),
    )
