"""A chosen limit that is not for the job's place, date or building. The jobs are invented.

That the California code binds in California, and where Georgia is, are facts of public law; what
the editions hold in place, dates and buildings is read from the shipped files.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

from deskapp.assess.evaluate import evaluate
from deskapp.domain.choices import BuildingType
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Compliance, Job
from deskapp.domain.limit import ChosenLimit, Edition
from deskapp.domain.measured import Day
from deskapp.domain.site import House, Site
from deskapp.limits.catalogue import load

CATALOGUE = load(Path(__file__).parents[2] / "resources" / "limits")


def california(**changes: object) -> Edition:
    edition = CATALOGUE.edition("california-2022-single-family")
    assert edition is not None
    return edition.model_copy(update=changes)


def job(
    edition: Edition,
    region: str = "",
    permit: date | None = None,
    building: BuildingType | None = None,
) -> Job:
    return Job(
        site=Site(region=region, permit_date=None if permit is None else Day(value=permit)),
        house=House(building_type=building),
        compliance=Compliance(limits=(ChosenLimit(key="k1", edition=edition),)),
    )


def misfits(of: Job) -> list[Finding]:
    return [found for found in evaluate(of).findings if found.code == "limit_misfit"]


def test_that_a_limit_of_another_state_earns_a_check_at_the_state() -> None:
    [found] = misfits(job(california(), "GA"))
    assert (found.level, found.path) == (Level.CHECK, "site.region")
    assert "California" in found.what
    assert "the site is in Georgia" in found.what
    assert "State or province" in found.mend


def test_that_nothing_is_said_where_the_place_fits_or_is_not_known() -> None:
    for region in ("CA", "California", "", "Narnia"):
        assert misfits(job(california(), region)) == []


def test_that_a_limit_for_other_buildings_earns_a_check_at_the_building() -> None:
    edition = california(buildings=(BuildingType.DETACHED,))
    [found] = misfits(job(edition, building=BuildingType.MULTIFAMILY))
    assert (found.level, found.path) == (Level.CHECK, "house.building_type")
    assert misfits(job(edition, building=BuildingType.DETACHED)) == []
    assert misfits(job(edition)) == []


def test_that_a_permit_from_before_an_edition_earns_a_check_at_its_date() -> None:
    edition = california(in_force_from=date(2023, 1, 1))
    [found] = misfits(job(edition, permit=date(2020, 5, 1)))
    assert (found.level, found.path) == (Level.CHECK, "site.permit_date")
    assert misfits(job(edition, permit=date(2024, 5, 1))) == []


def test_that_an_alike_name_of_a_model_code_is_left_open_and_not_contradicted() -> None:
    edition = CATALOGUE.edition("iecc-2021")
    assert edition is not None
    assert misfits(job(edition, "GA")) == []
