"""The homeowner's report tells in plain words how sure it is and what the leaks mean.

All jobs, bills and readings are invented; what is printed is held against what was worked out.
"""

from __future__ import annotations

import pytest
from report_jobs import report_input, sample
from report_text import texts_in

from deskapp.domain.later import Later
from deskapp.domain.result import LimitOutcome, Verdict
from deskapp.report import blocks as b
from deskapp.report.build.document import build


def of_type(document: b.Document, kind: type) -> list:
    return [block for block in document.blocks if isinstance(block, kind)]


def words(document: b.Document) -> str:
    return " ".join(texts_in(document.blocks)).replace("\N{NO-BREAK SPACE}", " ")


def plain(text: b.Text) -> str:
    return "".join(span.text for span in text)


def with_outcome(source, **update: object):
    """The assessment of a job of one system whose only outcome is changed."""
    [system] = source.assessment.systems
    [outcome] = system.outcomes
    changed: LimitOutcome = outcome.model_copy(update=update)
    system = system.model_copy(update={"outcomes": (changed,)})
    return source.assessment.model_copy(update={"systems": (system,)})


@pytest.mark.parametrize("too_close", [True, False])
def test_that_a_close_result_is_remarked_and_the_answer_stays(homeowner, too_close):
    source = report_input(sample("maple"))
    changed = with_outcome(source, too_close=too_close, probability=0.71)
    document = build(homeowner, report_input(source.job, assessment=changed))
    [before] = [one for one in of_type(build(homeowner, source), b.Banner) if one.large]
    [answer] = [one for one in of_type(document, b.Banner) if one.large]
    assert answer == before
    lines = [line for block in of_type(document, b.SignedLines) for line in block.lines]
    told = [line for line in lines if line.word == "Too close to call"]
    assert bool(told) is too_close
    if told:
        assert told[0].sign is b.Sign.NOTE
        assert "The answer above stays as measured" in plain(told[0].text)


def test_that_the_shares_delivered_stand_before_now_and_without_leaks(homeowner):
    source = report_input(sample("maple"))
    owner = source.assessment.systems[0].owner
    [table] = of_type(build(homeowner, source), b.Table)
    assert [column.title for column in table.columns][1:] == [
        "Before the work",
        "Now",
        "With no leaks",
    ]
    assert [
        tuple(cell.replace("\N{NO-BREAK SPACE}", "") for cell in row[1:]) for row in table.rows
    ] == [
        tuple(
            f"{100 * share:.0f}%"
            for share in (
                getattr(owner.before, season),
                getattr(owner.now, season),
                getattr(owner.now, f"{season}_tight"),
            )
        )
        for season in ("heating", "cooling")
    ]


@pytest.mark.parametrize("kind", ["homeowner", "technical"])
def test_that_the_cost_is_a_range(kind, request):
    source = report_input(sample("maple"))
    owner = source.assessment.systems[0].owner
    document = build(request.getfixturevalue(kind), source)
    low, high = (10 * round(x / 10) for x in (owner.cost_low, owner.cost_high))
    assert f"about ${low} to ${high} a year" in " ".join(words(document).split())


@pytest.mark.parametrize(
    ("low", "high", "printed"),
    [
        (59.56, 158.81, "about $60 to $160 a year"),
        (412.3, 1234.5, "about $400 to $1,200 a year"),
        (123456.0, 345678.0, "about $120,000 to $350,000 a year"),
        (3.2, 7.9, "about $3 to $8 a year"),
    ],
)
def test_that_money_is_printed_with_two_digits_at_most(homeowner, low, high, printed):
    # An estimate; figures with more digits look like a bill. Common practice, no source.
    source = report_input(sample("maple"))
    [system] = source.assessment.systems
    owner = system.owner.model_copy(update={"cost_low": low, "cost_high": high})
    system = system.model_copy(update={"estimate": Later(lambda: owner)})
    assessment = source.assessment.model_copy(update={"systems": (system,)})
    document = build(homeowner, report_input(source.job, assessment=assessment))
    assert printed in " ".join(words(document).split())


def test_that_the_technical_record_lists_every_assumption_and_the_owner_is_sent_there(
    homeowner, technical
):
    source = report_input(sample("maple"))
    assumed = source.assessment.systems[0].owner.assumptions
    assert len(assumed) > 15
    [table] = [
        one
        for one in of_type(build(technical, source), b.Table)
        if one.columns[-1].title == "Where it comes from"
    ]
    assert [(row[0], row[2]) for row in table.rows] == [(one.label, one.source) for one in assumed]
    assert all(row[1] for row in table.rows)
    short = words(build(homeowner, source))
    assert "The technical record lists each one" in short
    assert "return plenum pressure" not in short.lower()


def test_that_no_cost_is_told_without_a_bill(homeowner):
    job = sample("maple")
    house = job.house.model_copy(update={"bill_low": None, "bill_high": None})
    said = words(build(homeowner, report_input(job.model_copy(update={"house": house}))))
    assert "a year." not in said.replace("usual year.", "")
    assert "$" not in said


def test_that_registers_are_told_by_words_and_shapes_that_gray_paper_keeps(homeowner):
    job = sample("maple")
    unmended = tuple(one.model_copy(update={"pan_after": None}) for one in job.registers)
    for registers, word, sign in (
        (job.registers, "No sign of a leak", b.Sign.PASS),
        (unmended, "Seal it", b.Sign.FAIL),
    ):
        changed = job.model_copy(update={"registers": registers})
        document = build(homeowner, report_input(changed))
        lines = [
            line
            for block in of_type(document, b.SignedLines)
            for line in block.lines
            if line.word in ("Seal it", "Look at it", "Leave it")
        ]
        # The worst readings of the invented job: 12.4, 8.5, 6.2, 3.8 and 2.2 Pa of 10 registers.
        worst = [
            "Laundry",
            "Front bedroom",
            "Living room, hall wall",
            "Living room, window wall",
            "Middle bedroom",
        ]
        [walk] = of_type(document, b.RegisterWalk)
        assert [row.label for row in walk.rows] == worst
        assert {row.sign for row in walk.rows} == {sign}
        assert [row.before for row in walk.rows] == pytest.approx(
            [size / 12.4 for size in (12.4, 8.5, 6.2, 3.8, 2.2)]
        )
        assert walk.more == "And 5 more."
        if registers is job.registers:
            assert {row.word for row in walk.rows} == {word}
            assert "Laundry: before the work 12.4 Pa, after the work 0.9 Pa" in (
                walk.description.replace("\N{NO-BREAK SPACE}", " ")
            )
            assert not lines
            continue
        assert [plain(line.text).split(".")[0] for line in lines] == worst[:3]
        assert {(line.word, line.sign) for line in lines} == {(word, sign)}
        assert not any(mark in plain(line.text) for line in lines for mark in ("cfm", "L/s", "Pa"))


def test_that_a_vent_left_open_is_a_next_step_even_where_the_limit_is_met(homeowner):
    job = sample("maple")
    unmended = tuple(one.model_copy(update={"pan_after": None}) for one in job.registers)
    for registers, is_open in ((job.registers, False), (unmended, True)):
        document = build(homeowner, report_input(job.model_copy(update={"registers": registers})))
        told = " ".join(
            span.text
            for block in of_type(document, b.Numbered)
            for item in block.items
            for span in item
        )
        assert ("marked “Seal it”" in told) is is_open
        assert ("No more sealing is needed" in told) is not is_open


def test_that_nothing_is_told_of_registers_or_rooms_where_nothing_is_known(homeowner):
    document = build(homeowner, report_input(sample("clinic")))
    said = words(document)
    assert "Leaks near your vents" not in said
    assert "What the leaks mean for your rooms" not in said
    assert document.blocks


def test_that_neither_sample_calls_the_test_flow_air_lost(homeowner):
    for name in ("larkspur", "maple", "crossover", "clinic"):
        said = words(build(homeowner, report_input(sample(name)))).lower()
        assert "air lost" not in said
        assert "lost air" not in said
        assert "is safe" not in said


def test_that_two_systems_are_called_both(homeowner):
    source = report_input(sample("larkspur"))
    assert source.assessment.verdict is Verdict.PASS
    [answer] = [one for one in of_type(build(homeowner, source), b.Banner) if one.large]
    assert answer.word == "Both duct systems pass"
