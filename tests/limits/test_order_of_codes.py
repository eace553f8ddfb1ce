"""Until the reason for a test is told, codes are offered before programs and standards."""

from __future__ import annotations

from datetime import date

import pytest
from limit_cases import YES, system, trial

from deskapp.domain.choices import BuildingType, Stage
from deskapp.domain.job import Job
from deskapp.domain.limit import Role
from deskapp.domain.measured import Day
from deskapp.domain.site import House, Site
from deskapp.limits.candidates import candidates
from deskapp.limits.catalogue import Catalogue
from deskapp.limits.fit import Fit
from deskapp.limits.guess import why_first


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
    codes = (Role.CODE, Role.MODEL_CODE)
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
    assert places[Role.PROGRAM] < places[Role.STANDARD]
    shop = job("WA", BuildingType.COMMERCIAL)
    found = candidates(shipped.editions, shop)
    assert "codes come before programs" not in why_first(found, shop)
