"""What a test is for, and for which building, orders the limits that are offered."""

from __future__ import annotations

from datetime import date

import pytest
from limit_cases import YES, system, trial

from deskapp.domain.choices import BuildingType, CompliancePath, Stage, YesNo
from deskapp.domain.job import Compliance, Job
from deskapp.domain.limit import EditionRole
from deskapp.domain.measured import Day
from deskapp.domain.site import House, Site
from deskapp.limits.catalogue import Catalogue
from deskapp.limits.fit import Fit
from deskapp.limits.guess import why_first
from deskapp.limits.likeliest import candidates


def job(region: str, building: BuildingType, program_id: str = "") -> Job:
    permit = Day(value=date(2022, 5, 1))
    return Job(
        site=Site(region=region, permit_date=permit, program_id=program_id),
        house=House(building_type=building),
        systems=(system(name="System 1", air_handler_installed=YES),),
        tests=(trial(Stage.ROUGH_IN),),
    )


@pytest.mark.parametrize("region", ["", "WA", "Nowhere"])
@pytest.mark.parametrize("home", ["", "US"])
def test_that_codes_come_first_until_the_reason_for_the_test_is_answered(
    region: str, home: str, shipped: Catalogue
) -> None:
    """Most tests of homes are made for a permit: common practice, no source."""
    codes = (EditionRole.CODE, EditionRole.MODEL_CODE)
    asked = job(region, BuildingType.DETACHED)
    found = candidates(shipped.editions, asked, home)
    of_here = ("", "US", "United States")
    possible = [e for e in found if e.fits is Fit.MAYBE and e.edition.country in of_here]
    are_codes = [entry.edition.role in codes for entry in possible]
    assert are_codes == sorted(are_codes, reverse=True)
    assert are_codes[0] and not are_codes[-1]
    assert "codes come before programs" in why_first(found, asked, home)


def test_that_a_program_that_is_named_or_another_building_goes_before_that(
    shipped: Catalogue,
) -> None:
    program = next(e for e in shipped.editions if e.title.startswith("ENERGY STAR"))
    start = " ".join(program.title.split()[:2])
    named = candidates(shipped.editions, job("WA", BuildingType.DETACHED, start))
    places = {entry.edition.role: n for n, entry in reversed(list(enumerate(named)))}
    assert places[EditionRole.PROGRAM] < places[EditionRole.STANDARD]
    shop = job("WA", BuildingType.COMMERCIAL)
    found = candidates(shipped.editions, shop)
    assert "codes come before programs" not in why_first(found, shop)


@pytest.mark.parametrize("path", [None, *CompliancePath])
@pytest.mark.parametrize("ducts_inside", [YesNo.NO, None])
@pytest.mark.parametrize(
    ("region", "code"),
    [("CA", "california-2022-single-family"), ("OR", "oregon-2021"), ("GA", "georgia-2020")],
)
def test_that_the_code_of_the_state_stands_before_others_and_duct_classes_last_for_a_house(
    path: CompliancePath | None,
    ducts_inside: YesNo | None,
    region: str,
    code: str,
    shipped: Catalogue,
) -> None:
    """Leakage classes by duct surface are for larger buildings: common practice, no source.

    That they are told by surface: EN 1507 and EN 12237, classes A to D.
    """
    asked = job(region, BuildingType.DETACHED)
    systems = (asked.systems[0].model_copy(update={"all_ducts_inside": ducts_inside}),)
    asked = asked.model_copy(update={"systems": systems, "compliance": Compliance(path=path)})
    found = [one for one in candidates(shipped.editions, asked) if one.fits is not Fit.NO]
    codes = [
        e.edition.id for e in found if e.edition.role in (EditionRole.CODE, EditionRole.MODEL_CODE)
    ]
    assert codes[0] == code
    of_sheet_metal = {"en-1507", "en-12237", "eurovent-2-2", "dw-144", "smacna-1985", "smacna-2012"}
    names = [one.edition.id for one in found]
    classes = [name for name in names if name in of_sheet_metal]
    assert classes
    others = names[: names.index(classes[0])]
    assert {"iecc-2021", "resnet-310"} <= set(others)
    if path not in (CompliancePath.PROGRAM, CompliancePath.CONTRACT):
        assert names[0] == code
    if path is CompliancePath.PROGRAM:
        assert found[0].edition.role is EditionRole.PROGRAM


def test_that_duct_classes_stand_among_the_others_for_a_commercial_building(
    shipped: Catalogue,
) -> None:
    shop = job("OH", BuildingType.COMMERCIAL)
    shop = shop.model_copy(update={"compliance": Compliance(path=CompliancePath.CONTRACT)})
    names = [one.edition.id for one in candidates(shipped.editions, shop)]
    assert names.index("smacna-2012") < names.index("iecc-2021")
