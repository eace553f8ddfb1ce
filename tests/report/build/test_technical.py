"""The technical record states what was measured, worked out, and left open."""

from __future__ import annotations

import re

import pytest
from report_jobs import IP, SI, report_input, retrofit, rough_in, sample
from report_parts import pa
from report_text import texts_in

from deskapp.domain import choices as c
from deskapp.domain import paths
from deskapp.domain.checks import missing
from deskapp.domain.field_spec import Form
from deskapp.domain.fields import FIELDS
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.limit import Verification
from deskapp.domain.result import Verdict
from deskapp.domain.result_parts import CurveResult
from deskapp.report import blocks as b
from deskapp.report.build.document import build
from deskapp.ui.levels import verdict_of
from deskapp.units.kinds import Kind


def of_type(document: b.Document, kind: type) -> list:
    return [block for block in document.blocks if isinstance(block, kind)]


def words(document: b.Document) -> str:
    return " ".join(texts_in(document.blocks)).replace("\N{NO-BREAK SPACE}", " ")


def plain(text: str) -> str:
    return text.replace("\N{NO-BREAK SPACE}", " ")


def test_that_each_system_has_its_verdict_with_measured_limit_and_margin(technical):
    cards = of_type(build(technical, report_input(rough_in())), b.VerdictCard)
    # The figures are those of the invented rough-in, worked out by hand: 9.5 * sqrt(32.4) = 54.07,
    # 4.0 * 15.20 = 60.8 and 3.0 * 11.20 = 33.6 cfm.
    shown = [
        (card.sign, *(f.value.replace("\N{NO-BREAK SPACE}", " ") for f in card.figures))
        for card in cards
    ]
    assert shown == [
        (b.Sign.PASS, "54.2 cfm", "60.8 cfm", "6.6 cfm"),
        (b.Sign.FAIL, "39.0 cfm", "33.6 cfm", "5.4 cfm"),
    ]
    assert [card.figures[2].label for card in cards] == ["To spare", "Over by"]


def test_that_the_verdicts_come_before_anything_else(technical):
    document = build(technical, report_input(rough_in()))
    assert isinstance(document.blocks[0], b.Letterhead)
    assert isinstance(document.blocks[1], b.VerdictCard)


def test_that_a_limit_from_memory_is_called_unverified(technical):
    document = build(technical, report_input(rough_in()))
    cards = of_type(document, b.VerdictCard)
    assert [card.warning for card in cards] == ["", "Unverified: check the code text"]
    panels = [panel.word for panel in of_type(document, b.Banner)]
    assert "Unverified: check the code text" in panels


@pytest.mark.parametrize("status", list(Verification))
def test_that_only_memory_is_called_unverified(technical, status):
    source = report_input(rough_in())
    systems = tuple(
        system.model_copy(
            update={
                "outcomes": tuple(
                    outcome.model_copy(update={"status": status}) for outcome in system.outcomes
                )
            }
        )
        for system in source.assessment.systems
    )
    changed = source.assessment.model_copy(update={"systems": systems})
    document = build(technical, report_input(source.job, assessment=changed))
    told = "Unverified: check the code text" in words(document)
    assert told is (status is Verification.MEMORY)


def test_that_every_line_of_limit_arithmetic_is_printed(technical):
    for job in (rough_in(), retrofit()[0]):
        source = report_input(job)
        lines = [
            line for block in of_type(build(technical, source), b.Lines) for line in block.rows
        ]
        outcomes = [one for system in source.assessment.systems for one in system.outcomes]
        assert lines == [line for outcome in outcomes for line in outcome.lines]
        assert lines


@pytest.mark.parametrize("formatter", [IP, SI])
def test_that_every_reading_is_printed_as_the_formatter_writes_it(technical, formatter):
    source = report_input(rough_in(retested=True), formatter=formatter)
    tables = [
        table
        for table in of_type(build(technical, source), b.Table)
        if table.columns[1].title == "Duct pressure"
    ]
    tests = sorted(source.job.tests, key=lambda test: test.system)
    assert len(tables) == len(tests)
    for table, test in zip(tables, tests, strict=True):
        result = source.assessment.test(test.key)
        assert len(table.rows) == len(test.readings) + 1
        for row, reading, worked in zip(table.rows, test.readings, result.readings, strict=False):
            assert row == (
                str(worked.index + 1),
                formatter.show(Kind.PRESSURE, reading.duct_pressure.si, "Pa", 1),
                formatter.show(
                    Kind.PRESSURE, reading.duct_pressure.si - worked.induced_pressure, "Pa", 1
                ),
                formatter.show(Kind.PRESSURE, worked.induced_pressure, "Pa", 1),
                formatter.show(Kind.PRESSURE, reading.fan_signal.si, "Pa", 1),
                formatter.show(Kind.FLOW, worked.indicated_flow, digits=2),
                formatter.show(Kind.FLOW, worked.actual_flow, digits=2),
                formatter.number(worked.target_factor, 4),
                formatter.show(Kind.FLOW, worked.flow_at_target, digits=2),
            )
        assert table.total
        assert table.rows[-1][-1] == formatter.show(Kind.FLOW, result.flow)


def test_that_every_step_of_arithmetic_is_printed(technical):
    source = report_input(retrofit()[0])
    document = build(technical, source)
    printed = [row for block in of_type(document, b.Steps) for row in block.rows]
    steps = [step for result in source.assessment.tests for step in result.steps]
    assert [row.label for row in printed] == [step.label for step in steps]
    assert [row.formula for row in printed] == [step.formula for step in steps]
    assert [plain(row.numbers) for row in printed] == [plain(step.numbers_in(IP)) for step in steps]
    large = [i for i, step in enumerate(steps) if step.kind is not Kind.AREA]
    assert [printed[i].result for i in large] == [
        IP.to_go_on_with(steps[i].kind, steps[i].value) for i in large
    ]
    holes = [row for row, step in zip(printed, steps, strict=True) if step.kind is Kind.AREA]
    assert holes
    assert all(row.result.endswith("in²)") for row in holes)


def test_that_an_extrapolated_result_says_so_with_its_range(technical):
    source = report_input(retrofit()[0])
    result = source.assessment.test("t1")
    text = words(build(technical, source))
    assert "Extrapolated. The readings averaged 18.7 Pa" in text.replace("  ", " ")
    low, high = (IP.show(Kind.FLOW, f) for f in (result.flow_low, result.flow_high))
    assert f"between {low} and {high}".replace("\N{NO-BREAK SPACE}", " ") in text


def test_that_before_and_after_stand_side_by_side_with_the_change(technical):
    source = report_input(retrofit()[0])
    table = next(
        table
        for table in of_type(build(technical, source), b.Table)
        if table.columns[-1].title == "Change"
    )
    before, after = (source.assessment.test(key).flow for key in ("t1", "t2"))
    assert [row[3] for row in table.rows] == [IP.show(Kind.FLOW, before), IP.show(Kind.FLOW, after)]
    assert table.rows[0][-1] == "–"
    assert table.rows[1][-1] == IP.show(Kind.FRACTION, (after - before) / before)


def test_that_tests_of_another_kind_are_not_compared(technical):
    job, _photos = retrofit()
    after = job.tests[1]
    setup = after.setup.model_copy(update={"metric": c.Metric.OUTSIDE})
    other = after.model_copy(update={"setup": setup})
    document = build(
        technical, report_input(job.model_copy(update={"tests": (job.tests[0], other)}))
    )
    table = next(t for t in of_type(document, b.Table) if t.columns[-1].title == "Change")
    assert table.rows[1][-1] == "–"


def test_that_certificates_and_rings_are_printed(technical):
    source = report_input(rough_in())
    document = build(technical, source)
    text = words(document)
    for part in ("GA-01", "FA-01", "C-2210", "C-2211", "Nov 30, 2026", "Mar 2, 2026", "1.2%"):
        assert part in text
    rings = next(t for t in of_type(document, b.Table) if t.columns[0].title == "Ring")
    assert [row[0] for row in rings.rows] == [
        "310 to 980\N{NO-BREAK SPACE}cfm",
        "120 to 380\N{NO-BREAK SPACE}cfm",
        "48 to 150\N{NO-BREAK SPACE}cfm",
        "20 to 63\N{NO-BREAK SPACE}cfm",
    ]
    assert [row[1] for row in rings.rows] == [
        IP.show(Kind.COEFFICIENT, ring.coefficient.si) for ring in source.job.fans[0].rings
    ]
    assert [bool(row[4]) for row in rings.rows] == [False, False, True, True]


def test_that_findings_are_printed_word_for_word(technical):
    source = report_input(rough_in())
    finding = Finding(
        level=Level.CHECK, code="x", what="The <b>fan</b> reads high.", mend="Check it."
    )
    told = source.assessment.model_copy(update={"findings": (finding,)})
    document = build(technical, report_input(source.job, assessment=told))
    assert "The <b>fan</b> reads high. Check it." in words(document)


def test_that_no_findings_are_said_too(technical):
    source = report_input(rough_in())
    told = source.assessment.model_copy(update={"findings": ()})
    text = words(build(technical, report_input(source.job, assessment=told)))
    assert "found nothing to remark" in text


def test_that_an_estimated_area_earns_a_warning(technical):
    job = rough_in()
    house = job.house.model_copy(update={"area_source": c.AreaSource.ESTIMATED})
    document = build(technical, report_input(job.model_copy(update={"house": house})))
    assert any("is an estimate" in panel.word for panel in of_type(document, b.Banner))
    assert "is an estimate" not in words(build(technical, report_input(job)))


def test_that_a_house_total_that_hides_a_system_is_remarked(technical):
    # Invented: 93.1 cfm for the whole house stays within 94.4 cfm, yet one system is over its own.
    text = words(build(technical, report_input(rough_in())))
    assert "each system is judged by itself" in text
    assert "each system is judged by itself" not in words(
        build(technical, report_input(rough_in(retested=True)))
    )


def test_that_a_job_with_nothing_in_it_says_what_is_missing(technical):
    document = build(technical, report_input(Job()))
    [panel] = [p for p in of_type(document, b.Banner) if "not recorded" in p.word]
    count = len(missing(Job())) + 4
    assert panel.word == f"{count} needed entries are not recorded"
    told = panel.texts[0][0].text
    for part in ("Permit number", "a duct system", "a gauge", "a fan", "a test"):
        assert part in told
    assert of_type(document, b.Banner)[0].word == "No verdict"


NEEDED = [spec.path for spec in FIELDS if spec.needed]


@pytest.mark.parametrize("path", NEEDED)
def test_that_a_needed_entry_is_printed_as_not_recorded_and_counted(technical, path):
    """Each field that public forms ask for, emptied in a job that is complete otherwise."""
    full = rough_in()
    assert "All needed entries are recorded" in words(build(technical, report_input(full)))
    emptied = _without(full, path)
    document = build(technical, report_input(emptied, assessment=report_input(full).assessment))
    label = next(spec.label for spec in FIELDS if spec.path == path)
    facts = [fact for block in of_type(document, b.Facts) for fact in block.rows]
    assert any(fact.label == label and fact.missing for fact in facts)
    [panel] = [p for p in of_type(document, b.Banner) if "not recorded" in p.word]
    assert label in panel.texts[0][0].text
    assert int(panel.word.split()[0]) >= 1


def test_that_a_test_of_no_system_is_not_lost(technical):
    job = rough_in()
    tests = (job.tests[0].model_copy(update={"system": "gone"}), job.tests[1])
    source = report_input(job.model_copy(update={"tests": tests}))
    document = build(technical, source)
    assert "System not stated" in [heading.text for heading in of_type(document, b.Heading)]
    tables = [t for t in of_type(document, b.Table) if t.columns[1].title == "Duct pressure"]
    assert len(tables) == 2


def test_that_a_test_of_the_house_is_printed_but_no_system_is_judged_by_it(technical):
    job = rough_in()
    setup = job.tests[0].setup.model_copy(update={"metric": c.Metric.ENVELOPE})
    house = job.tests[0].model_copy(update={"key": "h1", "setup": setup, "label": "House test"})
    source = report_input(job.model_copy(update={"tests": (*job.tests, house)}))
    document = build(technical, source)
    assert "The house itself" in [heading.text for heading in of_type(document, b.Heading)]
    assert len(of_type(document, b.VerdictCard)) == 2


def test_that_a_remark_on_an_outcome_is_printed_and_changes_no_verdict(technical):
    source = report_input(rough_in())
    first, second = source.assessment.systems
    [outcome] = first.outcomes
    told = outcome.model_copy(update={"too_close": True, "remark": "Too close to call {x}."})
    changed = source.assessment.model_copy(
        update={"systems": (first.model_copy(update={"outcomes": (told,)}), second)}
    )
    card = of_type(build(technical, report_input(source.job, assessment=changed)), b.VerdictCard)[0]
    assert card.sign is b.Sign.PASS
    told = [span.text for span in card.text]
    at = told.index("Too close to call {x}.")
    assert told[at + 2].startswith("The ± counts the floor area too")


def test_that_a_waiver_is_told_where_no_test_was_made(technical):
    source = report_input(rough_in())
    first, second = source.assessment.systems
    [outcome] = first.outcomes
    waived = outcome.model_copy(
        update={"test": "", "verdict": Verdict.NONE, "reason": "", "waiver": "Waived by clause 9."}
    )
    changed = source.assessment.model_copy(
        update={"systems": (first.model_copy(update={"outcomes": (waived,)}), second)}
    )
    document = build(technical, report_input(source.job, assessment=changed))
    card = of_type(document, b.VerdictCard)[0]
    assert card.sign is b.Sign.NONE
    assert "Waived by clause 9." in "".join(span.text for span in card.text)


def test_that_a_result_read_from_a_curve_is_called_so(technical):
    source = report_input(rough_in())
    curve = CurveResult(coefficient=0.005, exponent=0.6)
    tests = tuple(
        test.model_copy(update={"curve": curve, "mean_induced_pressure": None})
        for test in source.assessment.tests
    )
    changed = source.assessment.model_copy(update={"tests": tests})
    document = build(technical, report_input(source.job, assessment=changed))
    assert "read from the curve through the readings" in words(document)
    tables = [t for t in of_type(document, b.Table) if t.columns[1].title == "Duct pressure"]
    assert [table.rows[-1][0] for table in tables] == ["Curve", "Curve"]


def _without(job: Job, path: str) -> Job:
    blank = "" if _form(path) in (Form.TEXT, Form.PARAGRAPH, Form.CLOCK, Form.REFERENCE) else None
    if path == "site.address":
        job = paths.put(job, "site.lot", "")
    if path.endswith((".system", ".ring")):
        blank = ""
    return paths.put(job, path.replace("*", "0"), blank)


def _form(path: str) -> Form:
    return next(spec.form for spec in FIELDS if spec.path == path)


def test_that_a_program_asks_for_more(technical):
    job, photos = retrofit()
    document = build(technical, report_input(job, photos=photos))
    [panel] = [p for p in of_type(document, b.Banner) if "not recorded" in p.word]
    # Photographs, and three readings that were not taken again after sealing.
    assert panel.word == "4 needed entries are not recorded"
    assert panel.texts[0][0].text.endswith("; photographs")
    assert panel.texts[0][0].text.count(", after the work") == 3
    client = job.client.model_copy(update={"utility_account": ""})
    safety = job.safety.model_copy(update={"ambient_co": None})
    less = job.model_copy(update={"client": client, "safety": safety})
    [panel] = [
        p
        for p in of_type(build(technical, report_input(less)), b.Banner)
        if "not recorded" in p.word
    ]
    # Account and carbon monoxide more; what was not measured before is not asked for after.
    assert panel.word == "5 needed entries are not recorded"


def test_that_leakage_to_outside_asks_for_the_house_fan(technical):
    job = rough_in()
    setup = job.tests[0].setup.model_copy(update={"metric": c.Metric.OUTSIDE})
    tests = (job.tests[0].model_copy(update={"setup": setup}), job.tests[1])
    outside = job.model_copy(update={"tests": tests})
    [panel] = [
        p
        for p in of_type(build(technical, report_input(outside)), b.Banner)
        if "not recorded" in p.word
    ]
    told = panel.texts[0][0].text
    assert "House pressure (test 1)" in told
    assert "House pressure (test 2)" not in told


def test_that_text_that_could_not_be_read_is_printed_as_typed(technical):
    job = rough_in()
    reading = (
        job.tests[0]
        .readings[0]
        .model_copy(
            update={"duct_pressure": pa("25").model_copy(update={"si": None, "typed": "about 25"})}
        )
    )
    readings = (reading, *job.tests[0].readings[1:])
    tests = (job.tests[0].model_copy(update={"readings": readings}), *job.tests[1:])
    text = words(build(technical, report_input(job.model_copy(update={"tests": tests}))))
    assert "“about 25”" in text


def test_that_a_figure_per_area_tells_how_sure_the_area_is(technical):
    """The quotient rule of ISO/IEC Guide 98-3, 5.1.6, by hand from what is printed."""
    source = report_input(rough_in())
    result = source.assessment.test("t1")
    assert result.area_budget is not None
    area = result.area_budget.rows[-1]
    share = (
        (2 * result.budget.combined / result.budget.value) ** 2
        + (2 * area.standard_uncertainty / area.value) ** 2
    ) ** 0.5
    assert result.area_budget.expanded / result.area_budget.value == pytest.approx(share)
    expanded = IP.show(Kind.AREA, 2 * area.standard_uncertainty, digits=0)
    text = words(build(technical, source)).replace("\N{NO-BREAK SPACE}", " ")
    expected = f"(floor area served {area.value / 0.09290304:,.0f} ± {expanded}"
    assert expected.replace("\N{NO-BREAK SPACE}", " ") in text


def test_that_a_flow_that_is_not_corrected_says_so_below_its_readings(technical, compliance):
    job = rough_in()
    setup = job.tests[0].setup.model_copy(update={"flow_basis": c.FlowBasis.ACTUAL_AIR})
    air = job.tests[0].ambient.model_copy(update={"indoor_temperature": None})
    first = job.tests[0].model_copy(update={"setup": setup, "ambient": air})
    source = report_input(job.model_copy(update={"tests": (first, *job.tests[1:])}))
    for template in (technical, compliance):
        banners = of_type(build(template, source), b.Banner)
        told = [one for one in banners if one.texts and "Not corrected for air" in str(one.texts)]
        assert [one.sign for one in told] == [b.Sign.WARNING]
        cards = of_type(build(template, source), b.VerdictCard)
        assert ["Not corrected" in str(card.text) for card in cards] == [True, False]


def test_that_one_word_stands_for_one_outcome_on_card_and_in_the_arithmetic_as_in_the_window(
    technical, compliance, retest
):
    word = {one: verdict_of(one)[1] for one in (Verdict.PASS, Verdict.FAIL)}
    for job in (sample("larkspur"), rough_in()):
        source = report_input(job)
        told = {one.verdict for one in source.assessment.systems}
        for paper in (technical, compliance, retest):
            document = build(paper, source)
            cards = of_type(document, b.VerdictCard)
            assert {card.word for card in cards} == {word[one] for one in told}
        lines = [
            line for block in of_type(build(technical, source), b.Lines) for line in block.rows
        ]
        ends = [line for line in lines if "to spare" in line or "too much" in line]
        assert {re.search(r": (\w+),", line)[1].capitalize() for line in ends} == {
            word[one] for one in told
        }
