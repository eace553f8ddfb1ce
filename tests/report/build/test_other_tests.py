"""Both directions, both sides, the house itself: each test made is printed with what it tells.

All readings are invented; what is printed is held against what was worked out from them.
"""

from __future__ import annotations

from report_jobs import IP, report_input, sample
from report_text import drawn, pages_of, squashed, texts_in

from deskapp.domain import choices as c
from deskapp.domain.job import Job
from deskapp.domain.measured import Measured
from deskapp.domain.trial import LeakageTest
from deskapp.report import blocks as b
from deskapp.report.build.document import build
from deskapp.units.kinds import Kind


def of_type(document: b.Document, kind: type) -> list:
    return [block for block in document.blocks if isinstance(block, kind)]


def table_of(document: b.Document, title: str) -> b.Table:
    [table] = [one for one in of_type(document, b.Table) if one.columns[0].title == title]
    return table


def all_on_paper(document: b.Document) -> bool:
    printed = squashed("".join(pages_of(drawn(document))))
    texts = [text for block in of_type(document, b.Table) for text in texts_in(block)]
    return all(squashed(text) in printed for text in texts)


def scaled(test: LeakageTest, factor: float, **update: object) -> LeakageTest:
    """The test with its fan signals times a factor."""
    readings = tuple(
        reading.model_copy(
            update={
                "fan_signal": Measured(
                    si=reading.fan_signal.si * factor,
                    unit="Pa",
                    typed=f"{reading.fan_signal.si * factor:.12g}",
                )
            }
        )
        for reading in test.readings
    )
    return test.model_copy(update={"readings": readings, **update})


def both_directions() -> Job:
    job = sample("larkspur")
    first = job.tests[0]
    turned = tuple(
        reading.model_copy(
            update={
                "duct_pressure": Measured(
                    si=-reading.duct_pressure.si, unit="Pa", typed=f"{-reading.duct_pressure.si}"
                )
            }
        )
        for reading in first.readings
    )
    setup = first.setup.model_copy(update={"direction": c.Direction.BOTH})
    both = scaled(first, 1.0, setup=setup).model_copy(
        update={"readings": (*first.readings, *turned)}
    )
    return job.model_copy(update={"tests": (both, *job.tests[1:])})


def test_that_both_directions_stand_with_their_mean(technical):
    source = report_input(both_directions())
    result = source.assessment.tests[0]
    assert len(result.directions) == 2
    document = build(technical, source)
    table = table_of(document, "Direction")
    assert [row[-1] for row in table.rows] == [
        *(IP.show(Kind.FLOW, one.flow) for one in result.directions),
        IP.show(Kind.FLOW, result.flow),
    ]
    assert all_on_paper(document)


def split_job() -> Job:
    """The ground floor of the sample, its supply and return tested apart as well."""
    job = sample("larkspur")
    whole = scaled(job.tests[0], 6.0)
    sides = tuple(
        scaled(
            whole,
            factor,
            key=key,
            label=part.value,
            setup=whole.setup.model_copy(update={"part": part}),
        )
        # Flows go with the root of the signal: 0.36 and 0.16 make 60 and 40 % of the whole.
        for part, key, factor in ((c.Part.SUPPLY, "ts", 0.36), (c.Part.RETURN, "tr", 0.16))
    )
    return job.model_copy(update={"tests": (*sides, whole, *job.tests[1:])})


def test_that_supply_and_return_stand_with_their_sum_against_the_whole(technical):
    source = report_input(split_job())
    [sides] = source.assessment.systems[0].sides
    document = build(technical, source)
    table = table_of(document, "Supply")
    [row] = table.rows
    assert row[:4] == tuple(
        IP.show(Kind.FLOW, flow) for flow in (sides.supply, sides.returns, sides.sum, sides.total)
    )
    assert sides.agrees is True
    assert row[-1] == "Agrees"
    assert all_on_paper(document)


def house_job() -> Job:
    """The curve of the sample taken as a test of the house itself."""
    job = sample("crossover")
    curve = next(one for one in job.tests if one.setup.method is c.Method.SEVERAL_PRESSURES)
    setup = curve.setup.model_copy(update={"metric": c.Metric.ENVELOPE})
    house = curve.model_copy(update={"key": "th", "setup": setup, "label": "House"})
    return job.model_copy(update={"tests": (*job.tests, house)})


def test_that_the_air_tightness_of_the_house_is_printed_by_itself(technical):
    source = report_input(house_job())
    envelope = source.assessment.test("th").envelope
    document = build(technical, source)
    facts = {fact.label: fact.value for one in of_type(document, b.Facts) for fact in one.rows}
    assert facts["Air changes per hour at 50 Pa"] == IP.number(envelope.air_changes_50, 2)
    assert facts["Exponent n"] == IP.number(envelope.exponent, 3)
    assert facts["Leakage area at 4 Pa"] == IP.show(Kind.AREA, envelope.leakage_area_4, "in2")
    plots = of_type(document, b.Plot)
    assert len(plots) == 2
    assert all_on_paper(document)


def test_that_a_waived_test_is_called_waived_with_clause_and_status(technical):
    source = report_input(sample("maple"))
    [system] = source.assessment.systems
    [outcome] = system.outcomes
    waived = outcome.model_copy(
        update={"test": "", "waiver": "Ducts wholly inside need no test.", "measured": None}
    )
    system = system.model_copy(update={"outcomes": (waived,)})
    changed = source.assessment.model_copy(update={"systems": (system,)})
    document = build(technical, report_input(source.job, assessment=changed))
    [card] = of_type(document, b.VerdictCard)
    told = "".join(span.text for span in card.text)
    assert card.word == "Waived, not tested"
    assert told.startswith("Ducts wholly inside need no test.")
    assert waived.clause in told
    assert "An invented example that binds nobody." in told
