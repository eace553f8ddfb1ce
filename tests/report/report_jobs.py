"""Invented jobs for the report tests: names, places, rings and readings are made up."""

from __future__ import annotations

import hashlib
import tomllib
from datetime import date
from io import BytesIO
from pathlib import Path

from PIL import Image, ImageDraw

from deskapp.assess.evaluate import evaluate
from deskapp.domain import choices as c
from deskapp.domain.branding import Branding
from deskapp.domain.field_spec import Form
from deskapp.domain.fields import FIELDS
from deskapp.domain.instrument import Fan, Gauge, Ring
from deskapp.domain.job import Compliance, Job
from deskapp.domain.leak import Leak, Photo
from deskapp.domain.limit import (
    ChosenLimit,
    Edition,
    EitherOf,
    LimitRow,
    PercentOfFanFlow,
    PercentReduction,
    PerFloorArea,
    Verification,
)
from deskapp.domain.measured import Day, Measured
from deskapp.domain.people import Tester
from deskapp.domain.safety import Safety
from deskapp.domain.site import Client, House, Site
from deskapp.domain.system import DuctSystem
from deskapp.domain.trial import Ambient, LeakageTest, Reading, SetUp
from deskapp.domain.vocabulary import Caution, LeakLocation
from deskapp.report.build.report_input import ReportInput
from deskapp.units.display import Formatter, UnitSystem
from deskapp.units.entry import Quantity, parse
from deskapp.units.kinds import Kind
from deskapp.units.numbers import NumberStyle

ROOT = Path(__file__).parents[2]
IP = Formatter(UnitSystem.IP, NumberStyle.POINT)
SI = Formatter(UnitSystem.SI, NumberStyle.COMMA)
ISSUED = date(2026, 3, 12)
BRANDING = Branding(
    company="Example Duct Works",
    license="License EX-1204",
    address="12 Sample Road, Sampleton",
    phone="(555) 010-0199",
    email="office@example.com",
)


def typed(text: str, kind: Kind) -> Measured:
    """Read one typed text with the default unit of its kind."""
    default = next(
        f.units.ip for f in FIELDS if f.form is Form.QUANTITY and f.kind is kind and f.units
    )
    read = parse(text, kind, default, NumberStyle.POINT)
    assert isinstance(read, Quantity), read
    return Measured(si=read.si, unit=read.unit, typed=text)


def pa(text: str) -> Measured:
    return typed(text, Kind.PRESSURE)


def cfm(text: str) -> Measured:
    return typed(text, Kind.FLOW)


def ft2(text: str) -> Measured:
    return typed(text, Kind.AREA)


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


def readings(pressures: str, signals: str) -> tuple[Reading, ...]:
    return tuple(
        Reading(duct_pressure=pa(p), fan_signal=pa(s))
        for p, s in zip(pressures.split(), signals.split(), strict=True)
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
RETROFIT_RULE = Edition(
    id="example-rebate",
    body="Example Utility",
    title="Example duct sealing rebate",
    edition="2026",
    unit="cfm",
    rows=(
        row(
            "altered",
            "rule 7",
            EitherOf(
                kind="either_of",
                rules=(
                    PercentOfFanFlow(kind="percent_of_fan_flow", percent=15.0),
                    PercentReduction(kind="percent_reduction", percent=60.0),
                ),
            ),
            status=Verification.SECONDARY,
            note="Either part is enough.",
        ),
    ),
)

SITE = Site(
    address="14 Larkspur Lane",
    lot="Lot 14",
    city="Sampleton",
    region="EX",
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


def rough_in(*, retested: bool = False) -> Job:
    """Two systems at rough-in: one passes, one is above its limit until it is sealed."""
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
        tests=(first, second, again) if retested else (first, second),
        leaks=_rough_in_leaks(sealed=retested),
        safety=Safety(
            combustion_appliances=c.YesNo.NO,
            gas_smell=c.YesNo.NO,
            equipment_restored=c.YesNo.YES,
        ),
        tester=TESTER,
    )


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


def retrofit(*, dangers: bool = True) -> tuple[Job, dict[str, bytes]]:
    """One system before and after sealing, eight leaks with photographs."""
    shared = {
        "direction": c.Direction.PRESSURIZE,
        "supplies_sealed": count("10"),
        "returns_sealed": count("2"),
        "ambient": Ambient(
            indoor_temperature=degrees("68"),
            outdoor_temperature=degrees("48"),
            wind=typed("6", Kind.SPEED),
        ),
    }
    before = leakage_test(
        "t1",
        "s1",
        "2026-04-02",
        readings("18.4", "70.0"),
        ring="large",
        baseline="-0.3",
        label="Before",
        start_time="09:00",
        stage=c.Stage.BEFORE_REPAIR,
        comments="Fan at full speed; the target was out of reach.",
        **shared,
    )
    after = leakage_test(
        "t2",
        "s1",
        "2026-04-09",
        readings("24.8 25.0 24.6", "48.8 49.6 48.5"),
        ring="medium",
        baseline="-0.2",
        label="After",
        start_time="14:30",
        stage=c.Stage.AFTER_REPAIR,
        **shared,
    )
    leaks, photos = _retrofit_leaks()
    job = Job(
        number="J-0002",
        title="Maple ranch",
        client=Client(name="Owner B", utility_account="UA-5521"),
        site=Site(
            address="7 Maple Street",
            city="Sampleton",
            region="EX",
            postcode="00027",
            jurisdiction="Example Utility",
            permit_number="none needed",
            program_id="RB-5521",
        ),
        house=House(
            building_type=c.BuildingType.DETACHED,
            floor_area=ft2("1,860"),
            area_source=c.AreaSource.MEASURED,
            stories=count("1"),
            year_built=count("1978"),
            elevation=typed("1,150", Kind.LENGTH),
        ),
        compliance=Compliance(
            path=c.CompliancePath.PROGRAM,
            exemption_claimed=c.YesNo.NO,
            limits=(ChosenLimit(key="l1", edition=RETROFIT_RULE),),
        ),
        systems=(_retrofit_system(),),
        gauges=(gauge("GA-02"),),
        fans=(fan("FA-02", "2026-03-30", "-0.8"),),
        tests=(before, after),
        leaks=leaks,
        safety=Safety(
            combustion_appliances=c.YesNo.YES,
            natural_draft_appliance=c.YesNo.YES,
            appliances="Induced-draft furnace and natural-draft water heater, hall closet",
            burners_off=c.YesNo.YES,
            gas_smell=c.YesNo.NO,
            ambient_co=typed("0", Kind.CONCENTRATION),
            co_alarm=c.YesNo.YES,
            zone_pressure=pa("-3.6" if dangers else "-1.4"),
            zone_limit=pa("-2"),
            spillage_time=typed("180" if dangers else "0", Kind.TIME),
            asbestos_suspected=c.YesNo.NO,
            equipment_restored=c.YesNo.YES,
        ),
        tester=TESTER.model_copy(update={"name": "Tester B", "signed_by": "Tester B"}),
        comments="Owner was shown the sealed joints in the crawl space.",
    )
    return job, photos


def _retrofit_system() -> DuctSystem:
    return DuctSystem(
        key="s1",
        name="Main system",
        serves="whole house",
        area_served=ft2("1,860"),
        work=c.WorkKind.ALTERED,
        equipment="Furnace 80 kBtu/h with 3-ton air conditioner, hall closet",
        cooling_capacity=typed("3 tons", Kind.POWER),
        heating_output=typed("80 kBtu/h", Kind.POWER),
        fan_flow=cfm("1,200"),
        fan_flow_method=c.FanFlowMethod.NOMINAL_COOLING,
        supplies=count("10"),
        returns=count("2"),
        air_handler_installed=c.YesNo.YES,
        air_handler_inside=c.YesNo.YES,
        all_ducts_inside=c.YesNo.NO,
        duct_location=c.DuctLocation.SEVERAL,
        accessible_fraction=typed("80", Kind.FRACTION),
        return_location="Hall ceiling and hall closet",
        cloth_tape_found=c.YesNo.YES,
        visual_notes="Old cloth tape on most collars.",
    )


_RETROFIT_LEAKS = (
    ("takeoff", "Three take-offs in the crawl space", "supply", "major", "hand"),
    ("return_plenum", "Joint under the furnace", "return", "major", "smoke"),
    ("flex_tear", "Torn flexible duct, north bedroom", "supply", "major", "light"),
    ("flex_tear", "Torn flexible duct, kitchen", "supply", "moderate", "light"),
    ("return_near_burner", "Gap at the closet platform", "return", "critical", "smoke"),
    ("boot_gap", "Boots at six ceiling registers", "supply", "moderate", "pressure_pan"),
    ("filter_slot", "Filter slot without a cover", "return", "major", "hand"),
    ("cabinet", "Cabinet seam above the blower", "equipment", "minor", "smoke"),
)


def _retrofit_leaks() -> tuple[tuple[Leak, ...], dict[str, bytes]]:
    leaks: list[Leak] = []
    photos: dict[str, bytes] = {}
    for number, (location, place, side, size, found) in enumerate(_RETROFIT_LEAKS, 1):
        pictures: list[Photo] = []
        for name in ("before", "after") if number in (1, 5) else ("before",):
            data = picture(number, name)
            digest = hashlib.sha256(data).hexdigest()
            photos[digest] = data
            caption = f"{name.capitalize()} sealing"
            pictures.append(Photo(digest=digest, name=f"{name}-{number}.jpg", caption=caption))
        last = number == len(_RETROFIT_LEAKS)
        leaks.append(
            Leak(
                key=f"k{number}",
                system="s1",
                location=location,
                place=place,
                side=c.DuctSide(side),
                size=c.LeakSize(size),
                found_by=c.FoundBy(found),
                repaired=c.YesNo.NO if last else c.YesNo.YES,
                repair="Left for the furnace service." if last else "Fastened, mastic and mesh.",
                photos=tuple(pictures),
            )
        )
    return tuple(leaks), photos


def picture(number: int, name: str, size: tuple[int, int] = (800, 600)) -> bytes:
    """A drawn stand-in for a photograph: a pipe with a gap, in JPEG."""
    image = Image.new("RGB", size, (96 + 12 * (number % 6), 100, 104))
    draw = ImageDraw.Draw(image)
    width, height = size
    draw.rectangle((0, height * 0.35, width, height * 0.68), fill=(178, 182, 186))
    for x in range(0, width, 40):
        draw.line((x, height * 0.35, x, height * 0.68), fill=(150, 154, 158), width=3)
    gap = (30, 26, 24) if name == "before" else (214, 206, 190)
    draw.rectangle((width * 0.46, height * 0.33, width * 0.54, height * 0.70), fill=gap)
    draw.rectangle((0, height * 0.8, width, height), fill=(92, 74, 58))
    out = BytesIO()
    image.save(out, "JPEG", quality=80)
    return out.getvalue()


def shelf_parts() -> dict[str, object]:
    """Leak places and cautions as the program ships them, for `ReportInput`."""

    def rows(path: str, name: str) -> list[dict[str, object]]:
        return tomllib.loads((ROOT / "resources" / path).read_text(encoding="utf-8"))[name]

    return {
        "leak_locations": tuple(
            LeakLocation.model_validate(item) for item in rows("leaks/locations.toml", "locations")
        ),
        "cautions": tuple(
            Caution.model_validate(item) for item in rows("safety/cautions.toml", "cautions")
        ),
    }


def report_input(job: Job, **given: object) -> ReportInput:
    """Everything a report of `job` is made from, with what was worked out by the program."""
    made = {
        "assessment": evaluate(job),
        "branding": BRANDING,
        "formatter": IP,
        "issued_on": ISSUED,
        **shelf_parts(),
        **given,
    }
    return ReportInput(job=job, **made)


LONG_NAME = "Łukasz-Maximilian Нгуен <b>O’Brien & Søns</b> " * 6
LONG_WORD = "Wassermannsdorferstraßenbahnhaltestelle" * 5


def with_leaks(count_of_leaks: int) -> Job:
    """The retrofit with as many leaks as wanted and no photographs."""
    job, _photos = retrofit()
    leaks = tuple(
        job.leaks[number % len(job.leaks)].model_copy(
            update={"key": f"m{number}", "place": f"Place number {number + 1}", "photos": ()}
        )
        for number in range(count_of_leaks)
    )
    return job.model_copy(update={"leaks": leaks})


def long_names() -> Job:
    """A job whose texts are far longer than usual and full of markup characters."""
    job = rough_in()
    return job.model_copy(
        update={
            "number": "J-" + "9" * 60,
            "client": Client(name=LONG_NAME),
            "site": SITE.model_copy(update={"address": LONG_WORD, "city": LONG_NAME}),
            "systems": tuple(
                system.model_copy(
                    update={"name": LONG_NAME, "serves": LONG_WORD, "visual_notes": "note " * 2500}
                )
                for system in job.systems
            ),
            "comments": "A long comment. " * 400,
        }
    )
