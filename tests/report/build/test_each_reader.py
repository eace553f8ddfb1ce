"""What each reader is told of an early test, of one reading, and of two uncertainties. Invented."""

from __future__ import annotations

import pytest
from report_jobs import ROOT, SI, report_input, rough_in, sample
from report_text import texts_in

from deskapp.domain import choices as c
from deskapp.domain.job import Job
from deskapp.domain.limit import ChosenLimit
from deskapp.domain.result_parts import BudgetOf
from deskapp.domain.system import DuctSystem
from deskapp.limits.catalogue import load
from deskapp.report import blocks as b
from deskapp.report.build.document import build


def words(blocks: tuple[b.Block, ...]) -> str:
    return " ".join(" ".join(texts_in(blocks)).split())


def at_stage(stage: c.Stage) -> Job:
    job = rough_in()
    tests = tuple(
        test.model_copy(update={"setup": test.setup.model_copy(update={"stage": stage})})
        for test in job.tests
    )
    return job.model_copy(update={"tests": tests})


def with_readings(count: int) -> Job:
    job = rough_in()
    tests = tuple(test.model_copy(update={"readings": test.readings[:count]}) for test in job.tests)
    return job.model_copy(update={"tests": tests})


def cards(document: b.Document) -> list[b.VerdictCard]:
    return [block for block in document.blocks if isinstance(block, b.VerdictCard)]


def test_that_a_homeowner_is_told_on_page_one_that_a_test_was_early(homeowner):
    document = build(homeowner, report_input(at_stage(c.Stage.ROUGH_IN)))
    end = next(n for n, block in enumerate(document.blocks) if isinstance(block, b.PageBreak))
    assert "This was an early test." in words(document.blocks[:end])
    assert "may have to be tested again" in words(document.blocks[:end])
    final = build(homeowner, report_input(at_stage(c.Stage.FINAL)))
    assert "early test" not in words(final.blocks)


def test_that_an_early_test_followed_by_a_final_one_is_not_called_early(homeowner):
    job = at_stage(c.Stage.ROUGH_IN)
    final = tuple(
        test.model_copy(
            update={
                "key": f"{test.key}-final",
                "setup": test.setup.model_copy(update={"stage": c.Stage.FINAL}),
            }
        )
        for test in job.tests
    )
    both = job.model_copy(update={"tests": (*job.tests, *final)})
    assert "early test" not in words(build(homeowner, report_input(both)).blocks)


@pytest.mark.parametrize("kind", ["compliance", "technical"])
def test_that_one_reading_alone_is_remarked_beside_verdict_and_readings(kind, request):
    template = request.getfixturevalue(kind)
    document = build(template, report_input(with_readings(1)))
    assert all("One reading only" in words((card,)) for card in cards(document))
    said = words(document.blocks)
    assert said.count("rests on the exponent 0.60") == 1
    assert said.count("no exponent had a part") == 1
    more = build(template, report_input(with_readings(2)))
    assert "One reading only" not in words(more.blocks)


@pytest.mark.parametrize("kind", ["compliance", "technical"])
def test_that_no_exponent_is_named_where_the_target_was_held(kind, request):
    # (50 / 50)^n is 1 for any n, and 25 Pa over 18.7 Pa is not: by the law of powers alone.
    template = request.getfixturevalue(kind)
    held = words(build(template, report_input(sample("crossover"))).blocks)
    assert "It was held at 50.0 Pa, so no exponent had a part in it." in held
    assert "rests on the exponent" not in held
    carried = words(build(template, report_input(sample("maple"))).blocks)
    assert "rests on the exponent 0.60" in carried
    assert "no exponent had a part" not in carried


def test_that_a_second_uncertainty_is_explained_where_it_shows(compliance):
    # Worked outside with the `uncertainties` library: 3.258 and 3.198 cfm, 1.781 and 1.746 cfm;
    # they differ by the uncertainty of the floor area that only one of each two counts.
    source = report_input(sample("larkspur"))
    ground, upper = (words((card,)) for card in cards(build(compliance, source)))
    outcomes = [one for system in source.assessment.systems for one in system.outcomes]
    assert {one.uncertainty_of for one in outcomes} == {BudgetOf.PER_AREA}
    assert "± 3.3 cfm (k = 2). The ± counts the floor area too" in ground
    assert "for the flow alone it is ± 3.2 cfm" in ground
    assert "± 1.8 cfm (k = 2). The ± counts the floor area too" in upper
    assert "for the flow alone it is ± 1.7 cfm" in upper
    annex = words(build(compliance, source).blocks)
    assert "29.7 ± 1.7 cfm" in annex
    # A nominal air handler flow is exact: the limit adds nothing, and one uncertainty is told.
    [card] = (words((card,)) for card in cards(build(compliance, report_input(sample("maple")))))
    assert "± 9.8 cfm (k = 2)" in card
    assert "counts" not in card


def test_that_the_flow_alone_is_told_in_the_unit_of_the_limit(compliance):
    source = report_input(sample("clinic"), formatter=SI)
    [card] = cards(build(compliance, source))
    result = source.assessment.tests[0]
    measured = source.assessment.systems[0].outcomes[0].measured
    alone = measured * result.budget.expanded / result.budget.value
    assert f"± {SI.number(alone, 3)} L/(s·m²)" in words((card,))


def test_that_systems_stand_side_by_side_where_they_differ(compliance):
    document = build(compliance, report_input(rough_in()))
    at = next(n for n, one in enumerate(document.blocks) if isinstance(one, b.FactColumns))
    alike, columns = document.blocks[at - 1], document.blocks[at]
    assert isinstance(alike, b.Facts)
    assert columns.heads == ("System 1 · ground floor", "System 2 · upper floor")
    rows = {row.label: [fact.value for fact in row.facts] for row in columns.rows}
    assert [value.replace("\xa0", " ") for value in rows["Floor area served"]] == [
        "1,520 ft²",
        "1,120 ft²",
    ]
    assert rows["Air handler in place during the test"] == ["Yes", "No"]
    assert "Stage" not in rows
    assert ("Stage", "Rough-in") in [(fact.label, fact.value) for fact in alike.rows]


def test_that_five_systems_are_listed_in_two_tables_and_one_in_none(compliance):
    job = rough_in()
    more = tuple(
        job.systems[0].model_copy(update={"key": f"s{n}", "name": f"System {n}"})
        for n in range(3, 6)
    )
    five = job.model_copy(update={"systems": (*job.systems, *more)})
    tables = [
        block
        for block in build(compliance, report_input(five)).blocks
        if isinstance(block, b.FactColumns)
    ]
    assert [len(one.heads) for one in tables] == [4, 1]
    one = job.model_copy(update={"systems": job.systems[:1], "tests": job.tests[:1]})
    blocks = build(compliance, report_input(one)).blocks
    assert not any(isinstance(block, b.FactColumns) for block in blocks)
    assert "1,520 ft²" in words(blocks)


def test_that_an_invented_limit_is_called_so_on_page_one_of_every_reader(homeowner, compliance):
    """Nobody is bound by the rule of a program that does not exist: common sense, no source."""
    for job in (sample("maple"), sample("crossover")):
        document = build(homeowner, report_input(job))
        end = next(n for n, block in enumerate(document.blocks) if isinstance(block, b.PageBreak))
        assert "The limit is an invented example." in words(document.blocks[:end])
        for card in cards(build(compliance, report_input(job))):
            assert "program (invented) , Sample rule" in words((card,))
    real = build(homeowner, report_input(rough_in()))
    assert "invented" not in words(real.blocks)


def test_that_a_limit_of_another_state_is_not_for_this_place_on_paper(homeowner, compliance):
    """Title 24, Part 6 is the energy code of California: public law, its own title says so."""
    shelf = load(ROOT / "resources" / "limits")
    edition = shelf.edition("california-2022-single-family")
    assert edition is not None
    job = rough_in()
    limits = (ChosenLimit(key="k1", edition=edition),)
    job = job.model_copy(
        update={"compliance": job.compliance.model_copy(update={"limits": limits})}
    )

    def told_in(region: str) -> tuple[str, str]:
        there = job.model_copy(
            update={"site": job.site.model_copy(update={"region": region, "permit_date": None})}
        )
        source = report_input(there)
        on_cards = words(tuple(cards(build(compliance, source))))
        return on_cards, words(build(homeowner, source).blocks)

    card, plain = told_in("GA")
    assert "Not for this place: it is for California" in card
    assert "the site is in Georgia" in card
    assert "Not settled" not in card
    assert "The limit may be the wrong one." in plain
    for region in ("CA", ""):
        card, plain = told_in(region)
        assert "Not for this place" not in card
        assert "may be the wrong one" not in plain


def test_that_an_estimated_area_is_a_step_only_where_the_limit_goes_by_it(homeowner, compliance):
    """A share of the fan flow has no area in it: arithmetic."""
    for job, said in ((sample("larkspur"), True), (sample("maple"), False)):
        house = job.house.model_copy(update={"area_source": c.AreaSource.ESTIMATED})
        source = report_input(job.model_copy(update={"house": house}))
        step = "The floor area is only an estimate, and the limit depends on it."
        assert (step in words(build(homeowner, source).blocks)) is said
        fact = "The floor area is an estimate. The limit rests on it"
        assert (fact in words(build(compliance, source).blocks)) is said


def test_that_a_system_without_a_test_lacks_the_test_and_not_the_limit(compliance, technical):
    job = rough_in()
    bare = DuctSystem(key="studio", name="Studio")
    with_studio = job.model_copy(update={"systems": (*job.systems, bare)})
    for template in (compliance, technical):
        text = words(build(template, report_input(with_studio)).blocks)
        assert "Studio : no verdict. No test of this system is recorded." in text
        assert "no limit is chosen" not in text
        unjudged = with_studio.compliance.model_copy(update={"limits": ()})
        source = report_input(with_studio.model_copy(update={"compliance": unjudged}))
        assert "Studio : no limit is chosen" in words(build(template, source).blocks)
