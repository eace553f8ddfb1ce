"""An outcome explained line by line. Jobs are invented, the sums done by hand."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from typed import two_systems, typed

from deskapp.assess.evaluate import evaluate
from deskapp.assess.explain import (
    ExplainLine,
    LinePart,
    explain,
    explain_in,
    unsettled,
    unsettled_aspects,
)
from deskapp.domain.choices import CompliancePath, WorkKind, YesNo
from deskapp.domain.job import Job
from deskapp.domain.limit import ChosenLimit, EditionRole, Verification
from deskapp.domain.measured import Day
from deskapp.domain.paths import put
from deskapp.domain.result import LimitOutcome
from deskapp.limits.candidates import Aspect
from deskapp.limits.catalogue import load
from deskapp.limits.fit import Fit
from deskapp.limits.judge import RULES
from deskapp.limits.likeliest import candidates
from deskapp.units.kinds import Kind

CATALOGUE = load(Path(__file__).parents[2] / "resources" / "limits")


def by(edition_id: str, row: str = "") -> tuple[ChosenLimit, ...]:
    edition = CATALOGUE.edition(edition_id)
    assert edition is not None
    return (ChosenLimit(key="k1", edition=edition, row=row),)


def lines_of(job: Job, system: int = 0, outcome: int = 0) -> tuple[ExplainLine, ...]:
    result = evaluate(job).systems[system]
    return explain_in(job, result.system, result.outcomes[outcome])


def texts(lines: tuple[ExplainLine, ...], part: LinePart) -> list[str]:
    return [line.text for line in lines if line.part is part]


def test_that_the_lines_come_in_order_and_carry_the_arithmetic() -> None:
    lines = lines_of(two_systems(retested=False))
    parts = [line.part for line in lines]
    assert parts == [
        LinePart.EDITION,
        LinePart.ROW,
        LinePart.CLAUSE,
        LinePart.STATUS,
        LinePart.CONDITION,
        LinePart.CONDITION,
        LinePart.CONDITION,
        LinePart.CONDITION,
        LinePart.RULE,
        LinePart.ARITHMETIC,
        LinePart.ARITHMETIC,
        LinePart.ARITHMETIC,
        LinePart.VERDICT,
    ]
    assert (
        texts(lines, LinePart.ARITHMETIC)[0] == "4.0 cfm per 100 ft² × 1,520 ft² ÷ 100 = 60.8 cfm"
    )
    assert texts(lines, LinePart.STATUS) == ["Entered by the user. Source: invented for tests"]
    assert texts(lines, LinePart.VERDICT) == ["Pass, decided in cfm without rounding"]
    assert texts(lines, LinePart.CONDITION) == [
        "What was measured: Total leakage",
        "Stage: Rough-in",
        "Air handler in place during the test: Yes",
        "Target pressure: the limit is for 25 Pa, the test is worked out for 25 Pa",
    ]
    assert all(line.label for line in lines)


def test_that_a_limit_that_is_not_met_says_so() -> None:
    lines = lines_of(two_systems(retested=False), 1)
    assert texts(lines, LinePart.VERDICT)[0].startswith("Fail")
    assert lines[-1].holds is False


def test_that_a_row_from_memory_never_looks_official() -> None:
    job = put(two_systems(retested=False), "compliance.limits", by("iecc-2018"))
    lines = lines_of(job, 1)
    assert "Unverified, from memory: check the code text" in texts(lines, LinePart.STATUS)[0]
    assert "mistaken" in " ".join(texts(lines, LinePart.NOTE))


def test_that_who_verified_a_row_is_told() -> None:
    (limit,) = by("iecc-2018")
    rows = tuple(row.model_copy(update={"verified_by": "A. Tester"}) for row in limit.edition.rows)
    limit = limit.model_copy(update={"edition": limit.edition.model_copy(update={"rows": rows})})
    job = put(two_systems(retested=False), "compliance.limits", (limit,))
    assert "compared with the code text by A. Tester" in texts(lines_of(job), LinePart.STATUS)[0]


def test_that_without_a_row_each_row_is_told_with_its_reason() -> None:
    job = put(two_systems(retested=False), "compliance.limits", by("iecc-2018"))
    job = put(job, "systems.0.air_handler_installed", None)
    lines = lines_of(job)
    considered = [line for line in lines if line.part is LinePart.CONSIDERED]
    assert len(considered) == 3
    assert {line.holds for line in considered} == {None, False}
    assert texts(lines, LinePart.VERDICT) == ["No verdict"]
    assert "Answer that first" in texts(lines, LinePart.REASON)[0]


def test_that_a_row_fixed_by_hand_shows_the_condition_that_speaks_against_it() -> None:
    job = put(
        two_systems(retested=False),
        "compliance.limits",
        by("iecc-2018", "rough-in-without-air-handler"),
    )
    against = [line for line in lines_of(job) if line.holds is False]
    assert any("Air handler in place" in line.text for line in against)


def test_that_another_pressure_is_shown_as_a_condition_not_met() -> None:
    job = put(
        two_systems(retested=False), "tests.0.setup.target_pressure", typed("50", Kind.PRESSURE)
    )
    lines = lines_of(job)
    assert any(line.holds is False and "50 Pa" in line.text for line in lines)
    assert texts(lines, LinePart.REASON)


def test_that_a_waiver_stands_beside_the_verdict() -> None:
    job = put(two_systems(retested=False), "compliance.limits", by("iecc-2018"))
    job = put(job, "systems.0.all_ducts_inside", YesNo.YES)
    lines = lines_of(job)
    assert texts(lines, LinePart.VERDICT)[0].startswith("Pass")
    assert "R403.3.3" in texts(lines, LinePart.WAIVER)[0]


def test_that_a_waived_test_is_no_pass() -> None:
    job = put(two_systems(retested=False), "compliance.limits", by("iecc-2018"))
    job = put(put(job, "systems.0.all_ducts_inside", YesNo.YES), "tests", ())
    lines = lines_of(job)
    verdict = next(line for line in lines if line.part is LinePart.VERDICT)
    assert verdict.text == "Waived, not tested"
    assert verdict.holds is False


def test_that_the_nominal_flow_is_part_of_the_arithmetic() -> None:
    job = put(two_systems(retested=False), "compliance.limits", by("california-2008"))
    job = put(job, "systems.0.work", WorkKind.NEW)
    job = put(job, "systems.0.cooling_capacity", typed("3 tons", Kind.POWER))
    told = texts(lines_of(job), LinePart.ARITHMETIC)
    assert told[0] == "400 cfm per ton × 3 tons = 1,200 cfm"
    assert "6% of 1,200 cfm" in told[2]


def test_that_a_limit_gone_from_the_job_explains_nothing() -> None:
    job = two_systems(retested=False)
    gone = LimitOutcome(limit="k9", edition="", body="")
    assert explain_in(job, "s1", gone) == ()
    assert explain_in(job, "s9", evaluate(job).systems[0].outcomes[0]) == ()


@pytest.mark.parametrize("edition", CATALOGUE.editions, ids=lambda edition: edition.id)
def test_that_every_shipped_row_can_be_explained_with_its_status(edition) -> None:
    job = two_systems(retested=False)
    kinds: set[str] = set()
    for row in edition.rows:
        outcome = LimitOutcome(limit="k1", edition=edition.name, body=edition.body, row=row.id)
        lines = explain(outcome, edition, row, job.systems[0], job.tests[0])
        (status,) = texts(lines, LinePart.STATUS)
        assert row.source in status
        assert ("Unverified" in status) is (row.status is Verification.MEMORY)
        assert texts(lines, LinePart.CLAUSE) == [row.clause]
        kinds.add(row.rule.kind)
    assert kinds <= {*RULES, "either_of"}


def test_that_what_leaves_open_whether_an_edition_binds_is_told_as_in_the_list_of_limits() -> None:
    job = put(two_systems(retested=False), "compliance.limits", by("iecc-2021"))
    job = put(job, "site.region", "Texas")
    [outcome] = evaluate(job).systems[0].outcomes
    [offered] = (
        one for one in candidates(CATALOGUE.editions, job) if one.edition.id == "iecc-2021"
    )
    told = unsettled(job, outcome)
    assert offered.fits is Fit.MAYBE
    assert any("ask whether Texas adopted this edition" in text for text in told)
    assert {text.split(": ")[0] for text in told} == set(unsettled_aspects(job, outcome))
    place = offered.point(Aspect.PLACE)
    assert place is not None
    assert any(text.endswith(place.why) for text in told)


def test_that_nothing_is_left_open_where_all_that_is_known_of_an_edition_fits() -> None:
    job = put(two_systems(retested=False), "compliance.limits", by("iecc-2021"))
    [outcome] = evaluate(job).systems[0].outcomes
    [limit] = job.compliance.limits
    told = {"in_force_from": date(2020, 1, 1), "role": EditionRole.CODE, "country": "United States"}
    edition = limit.edition.model_copy(update=told)
    job = put(job, "compliance.limits", (limit.model_copy(update={"edition": edition}),))
    job = put(job, "site.region", "Texas")
    job = put(job, "site.permit_date", Day(value=date(2025, 6, 1)))
    job = put(job, "compliance.path", CompliancePath.PRESCRIPTIVE)
    assert unsettled(job, outcome) == ()
    assert unsettled_aspects(job, outcome) == ()
