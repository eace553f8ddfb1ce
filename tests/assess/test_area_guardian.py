"""The floor area, guarded: figures side by side, band per ton, a total that hides a system.

Jobs are invented and the sums done by hand. Usual bands: common practice, no source.
"""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from typed import EDITION, ft2, row, two_systems, typed

from deskapp.assess.area_guardian import figures
from deskapp.assess.evaluate import evaluate
from deskapp.domain.choices import AreaSource
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.limit import (
    Absolute,
    ChosenLimit,
    EitherOf,
    PercentOfFanFlow,
    PerFloorArea,
    Rule,
)
from deskapp.domain.measured import Measured
from deskapp.domain.paths import put
from deskapp.domain.result import AreaOutcome, Verdict
from deskapp.units.convert import to_unit
from deskapp.units.kinds import Kind


def with_areas(job: Job, system: int = 0, **areas: Any) -> Job:
    for name, text in areas.items():
        job = put(job, f"systems.{system}.{name}", None if text is None else ft2(text))
    return job


def shown(job: Job, system: int = 0) -> tuple[AreaOutcome, ...]:
    return evaluate(job).systems[system].areas


def found(job: Job, code: str) -> list[Finding]:
    return [finding for finding in evaluate(job).findings if finding.code == code]


# System 1 leaks 54.2 cfm under a limit of 4 cfm per 100 ft2: it needs 1,354 ft2 or more.
JOB = two_systems(retested=False)


def test_that_one_figure_alone_shows_nothing_beside_it() -> None:
    assert shown(JOB) == ()
    assert shown(with_areas(JOB, area_measured="1,520")) == ()


def test_that_each_figure_has_its_own_limit_and_verdict() -> None:
    job = with_areas(JOB, area_from_plans="1,520", area_estimated="1,600", area_measured="1,300")
    entries = shown(job)
    told = [
        (entry.source, entry.decides, entry.limit_value, entry.verdict, entry.row)
        for entry in entries
    ]
    assert told == [
        (AreaSource.PLANS, True, 60.8, Verdict.PASS, "with"),
        (AreaSource.ESTIMATED, False, 64.0, Verdict.PASS, "with"),
        (AreaSource.MEASURED, False, 52.0, Verdict.FAIL, "with"),
    ]
    rates = [to_unit(entry.flow_per_area or 0.0, "cfm/100ft2") for entry in entries]
    assert rates == pytest.approx([54.2 / 15.2, 54.2 / 16.0, 54.2 / 13.0], abs=0.01)


def test_that_the_area_served_decides_and_stands_first_when_it_is_a_figure_of_its_own() -> None:
    job = with_areas(JOB, area_measured="1,300")
    entries = shown(job)
    assert [(entry.source, entry.decides) for entry in entries] == [
        (None, True),
        (AreaSource.MEASURED, False),
    ]
    assert evaluate(job).systems[0].verdict is Verdict.PASS
    (finding,) = found(job, "area_decides")
    assert finding.level is Level.CHECK
    assert finding.path == "systems.0.area_served"
    assert "Area served, 1,520" in finding.what
    assert "does not meet the limit" in finding.what


def test_that_agreeing_verdicts_earn_no_finding() -> None:
    assert found(with_areas(JOB, area_measured="1,400"), "area_decides") == []


def test_that_a_limit_that_does_not_ask_for_the_area_shows_nothing() -> None:
    only = row("flat", 4.0, air_handler=True).model_copy(
        update={"rule": Absolute(kind="absolute", flow=60.0), "air_handler_installed": None}
    )
    flat = EDITION.model_copy(update={"rows": (only,)})
    job = put(JOB, "compliance.limits", (ChosenLimit(key="l1", edition=flat),))
    assert shown(with_areas(job, area_measured="1,300")) == ()


def test_that_another_area_may_ask_for_another_row() -> None:
    wide = row("wide", 4.0, air_handler=True).model_copy(update={"area_above_ft2": 1000.0})
    small = row("small", 6.0, air_handler=True).model_copy(update={"area_up_to_ft2": 1000.0})
    code = EDITION.model_copy(update={"rows": (wide, small)})
    job = put(JOB, "compliance.limits", (ChosenLimit(key="l1", edition=code),))
    entries = shown(with_areas(job, area_estimated="1,000"))
    assert [entry.row for entry in entries] == ["wide", "small"]
    assert [entry.limit_value for entry in entries] == [60.8, 60.0]


def test_that_figures_are_shown_although_the_area_served_is_missing() -> None:
    job = with_areas(JOB, area_served=None, area_from_plans="1,520", area_measured="1,300")
    entries = shown(job)
    assert [entry.verdict for entry in entries] == [Verdict.PASS, Verdict.FAIL]
    assert not any(entry.decides for entry in entries)
    assert evaluate(job).systems[0].verdict is Verdict.NONE


@pytest.mark.parametrize("typed_text", ["-4 ft2", "0 ft2", "a lot"])
def test_that_a_figure_of_no_use_is_left_out(typed_text: str) -> None:
    si = None if typed_text == "a lot" else float(typed_text.split()[0])
    job = put(JOB, "systems.0.area_measured", Measured(si=si, unit="ft2", typed=typed_text))
    assert shown(job) == ()


def test_that_the_named_source_must_be_the_figure_served() -> None:
    # the house says: measured
    job = with_areas(JOB, area_measured="1,500")
    (finding,) = found(job, "area_not_from_source")
    assert "Measured on site" in finding.what
    assert found(with_areas(JOB, area_measured="1,520"), "area_not_from_source") == []
    assert found(with_areas(JOB, area_from_plans="1,300"), "area_not_from_source") == []
    rounded = put(JOB, "systems.0.area_measured", typed("141.2 m2", Kind.AREA))
    assert found(rounded, "area_not_from_source") == []


def test_that_a_total_that_hides_a_system_is_told() -> None:
    # 54.2 + 39.0 = 93.1 cfm stays within 60.8 + 33.6 = 94.4 cfm; system 2 is above 33.6.
    (finding,) = found(JOB, "house_hides")
    assert finding.level is Level.CHECK
    assert "System 2" in finding.what
    assert finding.path == "systems.1.area_served"
    assert found(two_systems(retested=True), "house_hides") == []


def test_that_areas_of_house_and_systems_stand_beside_each_other() -> None:
    job = put(JOB, "systems.0.cooling_capacity", typed("3 tons", Kind.POWER))
    house = evaluate(job).house
    assert house.area_source is AreaSource.MEASURED
    assert house.area_gap == pytest.approx(0.0, abs=1e-12)
    first, second = house.area_checks
    assert first.house_share == pytest.approx(1520 / 2640)
    assert to_unit(first.area_per_ton or 0.0, "ft2") == pytest.approx(1520 / 3)
    assert first.per_ton_usual is True
    assert (second.area_per_ton, second.per_ton_usual) == (None, None)


@pytest.mark.parametrize(
    ("tons", "usual"), [("5.1 tons", False), ("5 tons", True), ("1 ton", False), ("1.1 tons", True)]
)
def test_that_the_band_per_ton_is_300_to_1500_square_feet(tons: str, usual: bool) -> None:
    job = put(JOB, "systems.0.cooling_capacity", typed(tons, Kind.POWER))
    assert evaluate(job).house.area_checks[0].per_ton_usual is usual


def test_that_a_system_without_area_leaves_the_gap_open() -> None:
    house = evaluate(with_areas(JOB, 1, area_served=None)).house
    assert (house.system_area, house.area_gap) == (None, None)
    gap = evaluate(with_areas(JOB, 1, area_served="1,000")).house.area_gap
    assert gap == pytest.approx(-120 / 2640)


def test_that_an_empty_job_has_nothing_to_guard() -> None:
    house = evaluate(Job()).house
    assert (house.area, house.area_checks) == (None, ())


@settings(deadline=None)
@given(area=st.integers(min_value=101, max_value=20_000))
def test_that_a_smaller_figure_never_looks_better(area: int) -> None:
    large = put(JOB, "house.floor_area", ft2("21,000"))
    entries = shown(with_areas(large, area_measured=str(area), area_estimated=str(area + 50)))
    by_size = sorted(entries, key=lambda entry: entry.area)
    passes = [entry.verdict is Verdict.PASS for entry in by_size]
    assert passes == sorted(passes)
    assert len(figures(with_areas(JOB, area_measured=str(area)).systems[0])) == 1


SHARE = PercentOfFanFlow(kind="percent_of_fan_flow", percent=5.0)
BY_AREA = PerFloorArea(kind="per_floor_area", rate=4.0)


@pytest.mark.parametrize(
    ("rule", "said"),
    [
        (BY_AREA, True),
        (SHARE, False),
        (Absolute(kind="absolute", flow=60.0), False),
        (EitherOf(kind="either_of", rules=(SHARE, BY_AREA)), True),
    ],
)
def test_that_an_estimated_area_is_remarked_where_a_limit_goes_by_it(
    rule: Rule, said: bool
) -> None:
    """A share of the fan flow has no area in it: arithmetic."""
    rows = tuple(one.model_copy(update={"rule": rule}) for one in EDITION.rows)
    edition = EDITION.model_copy(update={"rows": rows})
    job = put(JOB, "compliance.limits", (ChosenLimit(key="k1", edition=edition),))
    job = put(job, "house.area_source", AreaSource.ESTIMATED)
    assert [one.path for one in found(job, "area_estimated")] == ["house.area_source"] * said
    measured = put(job, "house.area_source", AreaSource.MEASURED)
    assert found(measured, "area_estimated") == []
