"""Which editions may bind a job, and why. Jobs are invented; editions are the shipped ones.

Which state has which code is read from the editions themselves; that a model code binds only where
it was adopted is common practice, no source.
"""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from limit_cases import ALTERED, NEW, NO, YES, edition, row, rule, system, trial, typed

from deskapp.domain.choices import BuildingType, CompliancePath, Metric, Stage
from deskapp.domain.job import Compliance, Job
from deskapp.domain.limit import ChosenLimit, Edition, EditionRole, Verification
from deskapp.domain.measured import Day, Measured
from deskapp.domain.site import House, Site
from deskapp.limits.candidates import ASPECT_LABELS, Aspect, Candidate
from deskapp.limits.catalogue import Catalogue
from deskapp.limits.fit import Fit, first_year
from deskapp.limits.guess import why_first
from deskapp.limits.likeliest import candidates
from deskapp.units.display import day_in_words

ANY = rule("absolute", flow=25.0)


def job(
    region: str = "WA",
    permit: date | None = date(2022, 5, 1),
    path: CompliancePath | None = CompliancePath.PRESCRIPTIVE,
    building: BuildingType | None = BuildingType.DETACHED,
    stage: Stage | None = Stage.ROUGH_IN,
    program_id: str = "",
    **facts: Any,
) -> Job:
    return Job(
        site=Site(
            region=region,
            permit_date=None if permit is None else Day(value=permit),
            program_id=program_id,
        ),
        house=House(building_type=building),
        compliance=Compliance(path=path),
        systems=(system(name="System 1", **{"air_handler_installed": YES, **facts}),),
        tests=(trial(stage),),
    )


def one(code: Edition, of: Job) -> Candidate:
    (candidate,) = candidates((code,), of)
    return candidate


def point(code: Edition, aspect: Aspect, of: Job) -> tuple[Fit, str]:
    found = one(code, of).point(aspect)
    assert found is not None
    return found.fits, found.why


def state(**changes: Any) -> Edition:
    return edition(row(ANY)).model_copy(
        update={"country": "US", "region": "Washington", "role": EditionRole.CODE, **changes}
    )


@pytest.mark.parametrize(
    ("changes", "region", "fits"),
    [
        ({}, "Washington", Fit.YES),
        ({}, "wa", Fit.YES),
        ({"region": "WA"}, "Washington", Fit.YES),
        ({"region": "wa"}, "WA", Fit.YES),
        ({}, "Oregon", Fit.NO),
        ({}, "Spain", Fit.NO),
        ({}, "USA", Fit.MAYBE),
        ({}, "", Fit.MAYBE),
        ({}, "Narnia", Fit.MAYBE),
        ({"region": "Narnia", "country": ""}, "Narnia", Fit.YES),
        ({"region": ""}, "Oregon", Fit.YES),
        ({"region": "", "country": "us"}, "Oregon", Fit.YES),
        ({"region": "", "country": "United States"}, "Oregon", Fit.YES),
        ({"region": "", "country": "CA"}, "Ontario", Fit.YES),
        ({"region": "", "country": "CA"}, "California", Fit.NO),
        ({"region": "", "country": "Narnia"}, "Oregon", Fit.NO),
        ({"region": "", "role": EditionRole.MODEL_CODE}, "Oregon", Fit.MAYBE),
        ({"region": ""}, "Spain", Fit.NO),
        ({"region": "", "role": EditionRole.STANDARD}, "Spain", Fit.MAYBE),
        ({"region": "", "country": ""}, "Oregon", Fit.MAYBE),
        ({"region": "Europe", "country": "", "role": EditionRole.STANDARD}, "Spain", Fit.YES),
        ({"region": "Europe", "country": "", "role": EditionRole.STANDARD}, "Oregon", Fit.MAYBE),
        ({"region": "Europe", "country": ""}, "Oregon", Fit.NO),
    ],
)
def test_that_the_place_of_an_edition_is_held_against_the_site(
    changes: dict[str, Any], region: str, fits: Fit
) -> None:
    found, why = point(state(**changes), Aspect.PLACE, job(region))
    assert found is fits
    assert why


FIRST, LAST = date(2020, 7, 1), date(2023, 6, 30)


@pytest.mark.parametrize(
    ("changes", "permit", "fits"),
    [
        ({"in_force_from": FIRST, "in_force_to": LAST}, FIRST, Fit.YES),
        ({"in_force_from": FIRST, "in_force_to": LAST}, LAST, Fit.YES),
        ({"in_force_from": FIRST, "in_force_to": LAST}, date(2020, 6, 30), Fit.NO),
        ({"in_force_from": FIRST, "in_force_to": LAST}, date(2023, 7, 1), Fit.NO),
        ({"in_force_from": FIRST}, date(2030, 1, 1), Fit.YES),
        ({"in_force_to": LAST}, LAST, Fit.MAYBE),
        ({"in_force_to": LAST}, date(2023, 7, 1), Fit.NO),
        ({"edition": "2021"}, date(2020, 12, 31), Fit.NO),
        ({"edition": "2021"}, date(2021, 1, 1), Fit.MAYBE),
        ({"edition": "2022 and 2025"}, date(2021, 1, 1), Fit.NO),
        ({"edition": "2022 and 2025"}, date(2024, 1, 1), Fit.MAYBE),
        ({"edition": "2021", "role": EditionRole.STANDARD}, date(2020, 1, 1), Fit.MAYBE),
        ({"edition": "before 2018"}, date(2015, 1, 1), Fit.MAYBE),
        ({"edition": "3 and 3.1, Rev 08"}, date(2015, 1, 1), Fit.MAYBE),
        ({"in_force_from": FIRST}, None, Fit.MAYBE),
    ],
)
def test_that_the_permit_date_is_held_against_the_time_in_force(
    changes: dict[str, Any], permit: date | None, fits: Fit
) -> None:
    found, why = point(state(**changes), Aspect.DATE, job(permit=permit))
    assert found is fits
    if permit is None:
        assert "is not answered" in why
    else:
        assert day_in_words(permit) in why


def test_that_the_permit_of_early_homes_decides_between_revisions(shipped: Catalogue) -> None:
    # Source: ENERGY STAR Rater Field Checklist, Rev 08: the older figure to 2013-12-31.
    early = shipped.edition("energy-star-homes-3-to-2013")
    assert early is not None
    assert point(early, Aspect.DATE, job(permit=date(2013, 12, 31)))[0] is Fit.MAYBE
    assert point(early, Aspect.DATE, job(permit=date(2014, 1, 1)))[0] is Fit.NO


@pytest.mark.parametrize("path", [*CompliancePath, None])
def test_that_every_reason_for_a_test_meets_every_kind_of_edition(
    path: CompliancePath | None,
) -> None:
    for role in (*EditionRole, None):
        _fits, why = point(state(role=role), Aspect.PURPOSE, job(path=path))
        assert why


@pytest.mark.parametrize(
    ("role", "path", "fits"),
    [
        (EditionRole.CODE, CompliancePath.PRESCRIPTIVE, Fit.YES),
        (EditionRole.CODE, CompliancePath.PERFORMANCE, Fit.MAYBE),
        (EditionRole.CODE, CompliancePath.PROGRAM, Fit.MAYBE),
        (EditionRole.PROGRAM, CompliancePath.PROGRAM, Fit.YES),
        (EditionRole.PROGRAM, CompliancePath.PRESCRIPTIVE, Fit.NO),
        (EditionRole.PROGRAM, CompliancePath.CONTRACT, Fit.NO),
        (EditionRole.STANDARD, CompliancePath.CONTRACT, Fit.YES),
        (EditionRole.CODE, CompliancePath.DIAGNOSIS, Fit.MAYBE),
        (EditionRole.CODE, None, Fit.MAYBE),
        (None, CompliancePath.PRESCRIPTIVE, Fit.MAYBE),
    ],
)
def test_that_the_reason_for_the_test_tells_codes_from_programs(
    role: EditionRole | None, path: CompliancePath | None, fits: Fit
) -> None:
    assert point(state(role=role), Aspect.PURPOSE, job(path=path))[0] is fits


@pytest.mark.parametrize(
    ("program_id", "fits"),
    [("", Fit.MAYBE), ("EX-77", Fit.MAYBE), ("energy star 3.1, lot 7", Fit.YES)],
)
def test_that_the_program_id_may_name_the_program(
    shipped: Catalogue, program_id: str, fits: Fit
) -> None:
    program = shipped.edition("energy-star-homes-3-2")
    assert program is not None
    assert point(program, Aspect.PROGRAM, job(program_id=program_id))[0] is fits


def test_that_only_programs_are_asked_about_the_program() -> None:
    assert one(state(), job()).point(Aspect.PROGRAM) is None


@pytest.mark.parametrize(
    ("building", "fits"),
    [(BuildingType.DETACHED, Fit.NO), (BuildingType.MULTIFAMILY, Fit.YES), (None, Fit.MAYBE)],
)
def test_that_the_kind_of_building_counts(
    shipped: Catalogue, building: BuildingType | None, fits: Fit
) -> None:
    code = shipped.edition("california-2022-multifamily")
    assert code is not None
    assert point(code, Aspect.BUILDING, job("CA", building=building))[0] is fits


@pytest.mark.parametrize(
    ("stage", "fits"),
    [(Stage.FINAL, Fit.YES), (Stage.BEFORE_REPAIR, Fit.NO), (None, Fit.MAYBE)],
)
def test_that_the_stage_must_have_a_row(stage: Stage | None, fits: Fit) -> None:
    code = state(rows=(row(ANY, stages=[Stage.FINAL]),))
    assert point(code, Aspect.STAGE, job(stage=stage))[0] is fits


@pytest.mark.parametrize(("answer", "fits"), [(YES, Fit.YES), (NO, Fit.NO), (None, Fit.MAYBE)])
def test_that_the_air_handler_must_have_a_row(answer: str | None, fits: Fit) -> None:
    code = state(rows=(row(ANY, air_handler_installed=True),))
    assert point(code, Aspect.AIR_HANDLER, job(air_handler_installed=answer))[0] is fits


def test_that_the_row_that_would_apply_is_named(shipped: Catalogue) -> None:
    code = shipped.edition("washington-2021")
    assert code is not None
    fits, why = point(code, Aspect.ROW, job(all_ducts_inside=NO))
    assert (fits, why) == (Fit.YES, "System 1: Rough-in, air handler installed")
    assert point(code, Aspect.ROW, job())[0] is Fit.MAYBE
    assert point(code, Aspect.ROW, job(stage=Stage.BEFORE_REPAIR))[0] is Fit.NO


def test_that_systems_that_differ_leave_an_edition_possible() -> None:
    code = state(rows=(row(ANY, works=[NEW]),))
    both = job(work=NEW).model_copy(
        update={
            "systems": (
                system(name="System 1", work=NEW),
                system(key="s2", name="System 2", work=ALTERED),
            ),
            "tests": (trial(), trial().model_copy(update={"key": "t2", "system": "s2"})),
        }
    )
    fits, why = point(code, Aspect.ROW, both)
    assert fits is Fit.MAYBE
    assert "System 1" in why
    assert "System 2" in why


def test_that_without_a_test_the_stage_stays_open() -> None:
    untested = job().model_copy(update={"tests": ()})
    assert point(state(), Aspect.STAGE, untested)[0] is Fit.MAYBE
    assert one(state(), untested).point(Aspect.ROW) is None


def test_that_the_status_informs_and_never_decides() -> None:
    only = row(ANY, status=Verification.MEMORY)
    code = state(rows=(only,), in_force_from=FIRST)
    candidate = one(code, job())
    status = candidate.point(Aspect.STATUS)
    assert status is not None
    assert (status.fits, status.decides) == (Fit.MAYBE, False)
    assert "Unverified" in status.why
    assert candidate.fits is Fit.YES


def test_that_every_edition_but_the_invented_stays_in_the_list(shipped: Catalogue) -> None:
    for of in (Job(), job(), job("Narnia", None, None, None, None)):
        found = candidates(shipped.editions, of)
        real = {code.id for code in shipped.editions if not code.id.startswith("sample-")}
        assert {entry.edition.id for entry in found} == real
        ranks = [list(Fit).index(entry.fits) for entry in found]
        assert ranks == sorted(ranks)
        assert all(entry.points for entry in found)


@pytest.mark.parametrize(
    ("of", "first"),
    [
        (job("WA", date(2022, 5, 1), all_ducts_inside=NO), "washington-2021"),
        (job("wa", date(2016, 5, 1), all_ducts_inside=NO), "washington-2012"),
        (
            job("CA", date(2023, 5, 1), work=NEW, all_ducts_inside=NO),
            "california-2022-single-family",
        ),
        (
            job(
                "California",
                date(2018, 5, 1),
                building=BuildingType.MULTIFAMILY,
                work=NEW,
                stage=Stage.FINAL,
                all_ducts_inside=NO,
            ),
            "california-2016-multifamily",
        ),
        (job("TX", date(2017, 5, 1), all_ducts_inside=NO), "texas-2015"),
        (job("Estonia", date(2020, 5, 1)), "estonia"),
    ],
)
def test_that_the_code_of_the_place_and_time_comes_first(
    shipped: Catalogue, of: Job, first: str
) -> None:
    assert candidates(shipped.editions, of)[0].edition.id == first


def test_that_a_place_not_known_here_leaves_the_codes_of_states_behind(shipped: Catalogue) -> None:
    found = candidates(shipped.editions, job("Narnia", all_ducts_inside=NO))
    assert found[0].edition.id == "iecc-2021"


def test_that_a_program_comes_first_for_a_program(shipped: Catalogue) -> None:
    of = job("OR", path=CompliancePath.PROGRAM, program_id="Energy Star", returns=typed(2, "1"))
    first = candidates(shipped.editions, of)[0].edition
    assert first.id.startswith("energy-star-homes-3")


def test_that_a_chosen_edition_is_marked(shipped: Catalogue) -> None:
    code = shipped.editions[0]
    limits = (ChosenLimit(key="k1", edition=code),)
    of = job().model_copy(update={"compliance": Compliance(limits=limits)})
    marked = [entry.edition.id for entry in candidates(shipped.editions, of) if entry.is_chosen]
    assert marked == [code.id]


def test_that_every_aspect_has_its_words() -> None:
    assert set(ASPECT_LABELS) == set(Aspect)


def test_that_every_shipped_edition_says_what_gives_it_force(shipped: Catalogue) -> None:
    for code in shipped.editions:
        assert code.role is not None, code.id
        if code.role is EditionRole.CODE:
            assert code.country, code.id
    assert {code.id for code in shipped.editions if code.role is EditionRole.MODEL_CODE} >= {
        f"iecc-{year}" for year in (2009, 2012, 2015, 2018, 2021, 2024)
    }
    assert {first_year(code) for code in shipped.editions if code.id.startswith("iecc")} == {
        2009,
        2012,
        2015,
        2018,
        2021,
        2024,
    }


FACTS: dict[str, st.SearchStrategy[Any]] = {
    "region": st.sampled_from(["WA", "Oregon", "Spain", "US"]),
    "permit": st.dates(date(2010, 1, 1), date(2030, 1, 1)),
    "path": st.sampled_from(list(CompliancePath)),
    "building": st.sampled_from(list(BuildingType)),
    "stage": st.sampled_from(list(Stage)),
    "air_handler_installed": st.sampled_from([YES, NO]),
}


@given(facts=st.fixed_dictionaries(FACTS), left_out=st.sampled_from(sorted(FACTS)))
def test_that_a_fact_left_out_never_rules_an_edition_out(
    facts: dict[str, Any], left_out: str
) -> None:
    code = state(
        edition="2015",
        buildings=(BuildingType.DETACHED,),
        rows=(row(ANY, stages=[Stage.FINAL], air_handler_installed=True, metric=Metric.TOTAL),),
    )
    less: dict[str, Any] = {**facts, left_out: "" if left_out == "region" else None}
    with_it, without = one(code, job(**facts)), one(code, job(**less))
    if with_it.fits is not Fit.NO:
        assert without.fits is Fit.MAYBE
    for entry in without.points:
        before = with_it.point(entry.aspect)
        if entry.fits is Fit.NO:
            assert before is not None
            assert before.fits is Fit.NO


def test_that_feet_tell_of_north_america_where_the_place_is_not_known(shipped: Catalogue) -> None:
    # Common practice, no source: floor areas are told in square feet in the US and in Canada.
    def offered(unit: str, region: str = "") -> list[str]:
        house = House(floor_area=Measured(si=150.0, unit=unit, typed="an area"))
        found = candidates(shipped.editions, Job(house=house, site=Site(region=region)))
        return [one.edition.id for one in found if one.fits is not Fit.NO]

    home = {one.id for one in shipped.editions if one.country in ("", "US", "CA")}
    by_feet = [name in home for name in offered("ft2")]
    assert by_feet == sorted(by_feet, reverse=True)
    assert not all(by_feet)
    by_meters = [name in home for name in offered("m2")]
    assert by_meters != sorted(by_meters, reverse=True)
    assert offered("ft2", "Estonia") == offered("m2", "Estonia")


@pytest.mark.parametrize("home", ["US", "CA", "ES", "EE"])
def test_that_the_country_of_the_computer_tells_where_nothing_else_does(
    shipped: Catalogue, home: str
) -> None:
    # That nobody tests where the computer is not is common practice, no source.
    def offered(**given: Any) -> list[Edition]:
        found = candidates(shipped.editions, Job(**given), home)
        return [one.edition for one in found if one.fits is not Fit.NO]

    first = offered()[0]
    assert first.country in ("", home) or first.region == "Europe"
    assert offered()[0].id != "spain-rite-2007" or home == "ES"
    # A place that is named, and areas in feet, go before what the computer says.
    named = Site(region="Washington")
    by_place = [one.edition.id for one in candidates(shipped.editions, Job(site=named), "ES")]
    assert by_place == [one.edition.id for one in candidates(shipped.editions, Job(site=named))]
    feet = House(floor_area=Measured(si=150.0, unit="ft2", typed="1,600 ft2"))
    assert offered(house=feet)[0].country in ("", "US", "CA")


def test_that_an_order_that_is_a_guess_says_so_and_why(shipped: Catalogue) -> None:
    def told(of: Job, home: str = "") -> str:
        return why_first(candidates(shipped.editions, of, home), of, home)

    assert "not entered" in told(Job())
    assert "set to Spain" in told(Job(), "ES")
    assert "“Narnia”" in told(Job(site=Site(region="Narnia")))
    feet = House(floor_area=Measured(si=150.0, unit="ft2", typed="1,600 ft2"))
    assert "square feet" in told(Job(house=feet), "ES")
    guessed = told(job("WA", permit=None))
    assert "guess" in guessed
    assert "Permit date" in guessed
    code = edition(row(ANY))
    sure = Job()
    assert why_first((), sure) == ""
    fitting = candidates((code,), job())
    assert (why_first(fitting, job()) == "") is (fitting[0].fits is Fit.YES)
