"""An invented retrofit: one system before and after sealing, eight leaks with photographs."""

from __future__ import annotations

import hashlib
from io import BytesIO

from PIL import Image, ImageDraw
from report_parts import (
    TESTER,
    cfm,
    count,
    degrees,
    fan,
    ft2,
    gauge,
    leakage_test,
    pa,
    readings,
    row,
    typed,
)

from deskapp.domain import choices as c
from deskapp.domain.job import Compliance, Job
from deskapp.domain.leak import Leak, Photo
from deskapp.domain.limit import (
    ChosenLimit,
    Edition,
    EitherOf,
    PercentOfFanFlow,
    PercentReduction,
    Verification,
)
from deskapp.domain.safety import Acknowledgment, Safety
from deskapp.domain.site import Client, House, Site
from deskapp.domain.system import DuctSystem
from deskapp.domain.trial import Ambient, LeakageTest
from deskapp.units.kinds import Kind

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


def retrofit(*, dangers: bool = True) -> tuple[Job, dict[str, bytes]]:
    """One system before and after sealing, eight leaks with photographs."""
    leaks, photos = _retrofit_leaks()
    job = Job(
        number="J-0002",
        title="Maple ranch",
        client=Client(name="Owner B", utility_account="UA-5521"),
        site=Site(
            address="7 Maple Street",
            city="Sampleton",
            region="Example State",
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
        tests=_retrofit_tests(),
        leaks=leaks,
        safety=_retrofit_safety(dangers=dangers),
        acknowledgments=(_WENT_ON, _WENT_ON_TOO) if dangers else (),
        tester=TESTER.model_copy(update={"name": "Tester B", "signed_by": "Tester B"}),
        comments="Owner was shown the sealed joints in the crawl space.",
    )
    return job, photos


def _retrofit_tests() -> tuple[LeakageTest, ...]:
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
    shared["ambient"] = shared["ambient"].model_copy(update={"wind": typed("5", Kind.SPEED)})
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
    return before, after.model_copy(update={"retest_of": "t1"})


_WENT_ON = Acknowledgment(
    stop="spillage",
    cause=("safety.spillage_time=180",),
    text="Fumes from a vent spilled into the room for more than 60 s.",
    answer="Flue gas spilled for: 180 s",
    name="Sam Example",
    reason="Water heater off and tagged, owner told",
    at="2026-03-12T08:40",
)


_WENT_ON_TOO = Acknowledgment(
    stop="zone_pressure",
    cause=(
        "safety.zone_pressure=-3.6",
        "safety.zone_pressure_after=",
        "safety.zone_limit=-2",
    ),
    text="With fans running, air was pulled out of the appliance room harder than the limit "
    "recorded for it.",
    answer="Worst pressure in the appliance zone: −3.6 Pa; Limit for that pressure: −2 Pa",
    name="Sam Example",
    reason="Water heater off and tagged, owner told",
    at="2026-03-12T08:42",
)


def _retrofit_safety(*, dangers: bool) -> Safety:
    return Safety(
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
        spillage_time_after=None if dangers else typed("0", Kind.TIME),
        asbestos_suspected=c.YesNo.NO,
        equipment_restored=c.YesNo.YES,
    )


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
