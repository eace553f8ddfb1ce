"""Page 1 of the homeowner's report answers, and says no more than is known."""

from __future__ import annotations

import re
from io import BytesIO

import pytest
from report_jobs import IP, SI, report_input, retrofit, rough_in, sample, with_leaks
from report_parts import ROOT, ft2, readings
from report_text import texts_in

from deskapp.assess.evaluate import evaluate
from deskapp.domain import choices as c
from deskapp.domain.finding import Level
from deskapp.domain.job import Job
from deskapp.domain.measured import Measured
from deskapp.domain.paths import put
from deskapp.domain.result import Verdict
from deskapp.i18n import speaking
from deskapp.report import blocks as b
from deskapp.report.build.document import build
from deskapp.report.pdf.draw import draw
from deskapp.report.template import Template, in_words_of_the_language
from deskapp.units.convert import to_unit
from deskapp.units.kinds import Kind


def of_type(document: b.Document, kind: type) -> list:
    return [block for block in document.blocks if isinstance(block, kind)]


def words(document: b.Document) -> str:
    return " ".join(texts_in(document.blocks)).replace("\N{NO-BREAK SPACE}", " ")


def steps(document: b.Document) -> list[str]:
    return [
        "".join(span.text for span in item)
        for block in of_type(document, b.Numbered)
        for item in block.items
    ]


def test_that_a_danger_stands_before_the_answer(homeowner):
    document = build(homeowner, report_input(retrofit()[0]))
    signs = [block.sign for block in of_type(document, b.Banner)]
    assert signs == [b.Sign.DANGER, b.Sign.PASS]
    assert steps(document)[0].startswith("Read the danger note")


def test_that_no_danger_panel_stands_where_none_is_called_for(homeowner):
    document = build(homeowner, report_input(retrofit(dangers=False)[0]))
    assert [block.sign for block in of_type(document, b.Banner)] == [b.Sign.PASS]
    assert not any("danger" in step for step in steps(document))


@pytest.mark.parametrize(
    ("retested", "sign", "word"),
    [
        (False, b.Sign.FAIL, "Not all duct systems pass yet"),
        (True, b.Sign.PASS, "Both duct systems pass"),
    ],
)
def test_that_the_answer_is_the_verdict_of_the_whole_job(homeowner, retested, sign, word):
    document = build(homeowner, report_input(rough_in(retested=retested)))
    [answer] = of_type(document, b.Banner)
    assert (answer.sign, answer.word) == (sign, word)
    assert answer.large


def test_that_a_job_without_a_verdict_gives_the_reason(homeowner):
    source = report_input(Job())
    [answer] = of_type(build(homeowner, source), b.Banner)
    assert answer.sign is b.Sign.NONE
    assert answer.texts[0][0].text == source.assessment.reason


@pytest.mark.parametrize(("formatter", "unit"), [(IP, "cfm"), (SI, "L/s")])
def test_that_the_scale_shows_measured_and_limit_of_each_system(homeowner, formatter, unit):
    source = report_input(rough_in(), formatter=formatter)
    scales = of_type(build(homeowner, source), b.Scale)
    assert [scale.sign for scale in scales] == [b.Sign.PASS, b.Sign.FAIL]
    for scale, system in zip(scales, source.assessment.systems, strict=True):
        measured = to_unit(source.assessment.test(system.test).flow, unit)
        limit = to_unit(system.outcomes[0].limit_flow, unit)
        assert scale.measured.at == pytest.approx(measured)
        assert scale.limit.at == pytest.approx(limit)
        assert scale.measured.label == f"Your system: {formatter.number(measured, 0)}"
        assert scale.limit.label == f"Limit {formatter.number(limit, 0)}"
        assert [zone.label for zone in scale.zones] == ["meets the limit", "does not meet it"]
        assert scale.zones[0].end == scale.zones[1].start == scale.limit.at
        assert all(mark.at <= scale.maximum for mark in (scale.measured, scale.limit, *scale.marks))


def test_that_a_scale_without_a_limit_speaks_of_none(homeowner):
    job = rough_in()
    compliance = job.compliance.model_copy(update={"limits": ()})
    document = build(homeowner, report_input(job.model_copy(update={"compliance": compliance})))
    found = of_type(document, b.Scale)
    assert found
    for scale in found:
        assert scale.limit is None
        assert scale.description.startswith("A bar that starts at zero. ")
        assert "limit" not in scale.description.casefold()


def test_that_numbers_that_round_alike_get_the_digits_that_tell_them_apart(homeowner):
    job = rough_in()
    # 54.16 cfm against 4.0 * 13.53 = 54.12 cfm: over, though both are 54 when rounded.
    systems = (job.systems[0].model_copy(update={"area_served": ft2("1,353")}), job.systems[1])
    document = build(homeowner, report_input(job.model_copy(update={"systems": systems})))
    scale = of_type(document, b.Scale)[0]
    assert scale.sign is b.Sign.FAIL
    assert scale.measured.label == "Your system: 54.2"
    assert scale.limit.label == "Limit 54.1"


def test_that_the_test_before_repair_is_marked_instead_of_a_rule_of_thumb(homeowner):
    source = report_input(retrofit()[0])
    [scale] = of_type(build(homeowner, source), b.Scale)
    before = to_unit(source.assessment.test("t1").flow, "cfm")
    assert scale.before == b.ScaleMark(
        pytest.approx(before), f"Before the work: {IP.number(before, 0)}"
    )
    assert not scale.marks
    assert f"Before the work it was {IP.number(before, 0)}." in scale.description


def test_that_an_earlier_test_is_not_called_before_the_work_unless_it_is_repeated(homeowner):
    job = retrofit()[0]
    job = put(job, "tests.1.retest_of", "")
    document = build(homeowner, report_input(job))
    [scale] = of_type(document, b.Scale)
    assert scale.before is None
    assert "before the work and is" not in words(document)


@pytest.mark.parametrize(
    ("signal", "told"),
    [
        # By hand: 62 * (25 / 18.7) ** 0.6 * (sqrt(70) - sqrt(30)) = 213.3 cfm.
        ("30", "That is about 213 cfm less, give or take"),
        ("71", "The change is too small to be sure of."),
        # By hand: 62 * (25 / 18.7) ** 0.6 * (sqrt(99) - sqrt(70)) = 116.8 cfm.
        ("99", "That is about 117 cfm more, give or take"),
    ],
)
def test_that_a_change_is_told_only_where_it_is_more_than_its_uncertainty(homeowner, signal, told):
    """The retest was read at 18.4 Pa through the ring of the first test; readings invented."""
    job = retrofit()[0]
    first = job.tests[0]
    again = first.model_copy(
        update={"key": "t2", "retest_of": "t1", "readings": readings("18.4", signal)}
    )
    document = build(homeowner, report_input(job.model_copy(update={"tests": (first, again)})))
    said = words(document)
    assert told in said
    assert "set up the same way" not in said
    [scale] = of_type(document, b.Scale)
    assert scale.told_apart is ("too small" not in told)
    assert scale.before


def test_that_a_retest_that_was_set_up_otherwise_is_told_in_plain_words(homeowner):
    job = put(retrofit()[0], "tests.1.setup.tap_location", "Far register")
    assert "were not set up the same way" in words(build(homeowner, report_input(job)))


def test_that_a_rule_of_thumb_is_marked_as_one(homeowner):
    document = build(homeowner, report_input(rough_in()))
    labels = [mark.label for scale in of_type(document, b.Scale) for mark in scale.marks]
    # 10 cfm per 100 ft² of 1,520 and 1,120 ft².
    assert labels == ["Many older homes: 152 or more*", "Many older homes: 112 or more*"]
    assert "no published source" in words(document)


@pytest.mark.parametrize("kind", [c.BuildingType.COMMERCIAL, c.BuildingType.MANUFACTURED])
def test_that_no_rule_of_thumb_is_drawn_for_other_buildings(homeowner, kind):
    job = rough_in()
    house = job.house.model_copy(update={"building_type": kind})
    document = build(homeowner, report_input(job.model_copy(update={"house": house})))
    assert all(not scale.marks for scale in of_type(document, b.Scale))


def test_that_a_number_worked_out_from_lower_pressure_shows_its_range(homeowner):
    job, _photos = retrofit()
    source = report_input(job.model_copy(update={"tests": job.tests[:1]}))
    [scale] = of_type(build(homeowner, source), b.Scale)
    result = source.assessment.test("t1")
    assert scale.low == pytest.approx(to_unit(result.flow_low, "cfm"))
    assert scale.high == pytest.approx(to_unit(result.flow_high, "cfm"))
    assert "It lies between 600 and 636." in scale.note


def test_that_a_verdict_the_flow_does_not_show_is_drawn_in_the_numbers_of_the_code(homeowner):
    source = report_input(retrofit()[0])
    system = source.assessment.systems[0]
    reduction = system.outcomes[0].model_copy(
        update={
            "measured": 72.8,
            "limit_value": 60.0,
            "margin": 12.8,
            "unit": "percent",
            "limit_flow": None,
        }
    )
    changed = source.assessment.model_copy(
        update={"systems": (system.model_copy(update={"outcomes": (reduction,)}),)}
    )
    [scale] = of_type(build(homeowner, report_input(source.job, assessment=changed)), b.Scale)
    assert (scale.measured.at, scale.limit.at) == (72.8, 60.0)
    assert scale.limit.label == "At least 60"
    assert [(zone.label, zone.clear) for zone in scale.zones] == [
        ("does not meet it", False),
        ("meets the limit", True),
    ]


def test_that_of_many_systems_the_worst_is_drawn_and_all_are_listed(homeowner):
    job = rough_in()
    more = tuple(
        job.systems[0].model_copy(update={"key": f"s{n}", "name": f"System {n}"})
        for n in range(3, 6)
    )
    tests = tuple(
        job.tests[0].model_copy(update={"key": f"x{n}", "system": f"s{n}"}) for n in range(3, 6)
    )
    many = job.model_copy(update={"systems": (*job.systems, *more), "tests": (*job.tests, *tests)})
    document = build(homeowner, report_input(many))
    [scale] = of_type(document, b.Scale)
    assert scale.title.startswith("System 2")
    [lines] = of_type(document, b.SignedLines)
    assert len(lines.lines) == 5
    assert [line.sign for line in lines.lines].count(b.Sign.FAIL) == 1


@pytest.mark.parametrize(
    ("count", "expected"),
    [(0, "No leak was written down"), (8, "Each leak has a number")],
)
def test_that_leaks_are_listed_or_their_absence_is_said(homeowner, count, expected):
    assert expected in words(build(homeowner, report_input(with_leaks(count))))


def test_that_leaks_are_numbered_in_order_with_their_state(homeowner):
    [entries] = of_type(build(homeowner, report_input(retrofit()[0])), b.LeakEntries)
    assert [entry.number for entry in entries.entries] == [str(n) for n in range(1, 9)]
    assert [entry.sign for entry in entries.entries] == [b.Sign.PASS] * 7 + [b.Sign.WARNING]
    assert [len(entry.pictures) for entry in entries.entries] == [2, 1, 1, 1, 2, 1, 1, 1]


def test_that_an_open_leak_without_words_tells_the_usual_repair(homeowner, parts):
    [entries] = of_type(build(homeowner, report_input(rough_in())), b.LeakEntries)
    usual = {place.id: place.repair for place in parts["leak_locations"]}
    assert entries.entries[0].text == f"Usual repair: {usual['takeoff']}"


@pytest.mark.parametrize(("formatter", "area", "diameter"), [(IP, "in²", "in."), (SI, "cm²", "cm")])
def test_that_the_hole_is_that_of_the_result(homeowner, formatter, area, diameter):
    source = report_input(retrofit()[0], formatter=formatter)
    result = source.assessment.test("t2")
    text = words(build(homeowner, source))
    unit = "in2" if formatter is IP else "cm2"
    size = formatter.show(Kind.AREA, result.hole_area, unit, 0).replace("\N{NO-BREAK SPACE}", " ")
    assert size.endswith(area)
    assert size in text
    assert re.search(rf"A round hole of that size is [\d.,]+ {re.escape(diameter)} across", text)


# Invented hole areas; the things and their areas stand in the template.
@pytest.mark.parametrize(
    ("area_in2", "thing"),
    [(0.7, "quarter"), (7.4, "bank card"), (18.0, "compact disc"), (60.0, "soccer ball")],
)
def test_that_the_hole_is_likened_to_a_thing_of_nearly_its_size(homeowner, area_in2, thing):
    source = report_input(retrofit()[0])
    tests = tuple(
        test.model_copy(update={"hole_area": area_in2 * 0.0254**2})
        for test in source.assessment.tests
    )
    changed = source.assessment.model_copy(update={"tests": tests})
    assert thing in words(build(homeowner, report_input(source.job, assessment=changed)))


@pytest.mark.parametrize("area_in2", [0.2, 400.0])
def test_that_a_hole_like_no_thing_is_likened_to_none(homeowner, area_in2):
    source = report_input(retrofit()[0])
    tests = tuple(
        test.model_copy(update={"hole_area": area_in2 * 0.0254**2})
        for test in source.assessment.tests
    )
    changed = source.assessment.model_copy(update={"tests": tests})
    text = words(build(homeowner, report_input(source.job, assessment=changed)))
    assert "That is about as big as" not in text


def test_that_what_to_do_next_follows_verdict_and_leaks(homeowner):
    failing = steps(build(homeowner, report_input(rough_in())))
    assert failing[0].startswith("Have the open leaks")
    assert failing[1].startswith("Then have the test done again")
    passing = steps(build(homeowner, report_input(rough_in(retested=True))))
    assert passing[0].startswith("All leaks on our list are sealed")
    unlisted = steps(build(homeowner, report_input(with_leaks(0))))
    assert any(step.startswith("Nothing has to be sealed") for step in unlisted)


@pytest.mark.parametrize("retested", [False, True])
def test_that_nothing_is_called_safe_or_air_lost(homeowner, retested):
    for job in (rough_in(retested=retested), retrofit()[0], Job()):
        text = words(build(homeowner, report_input(job))).lower()
        assert not re.search(r"\b(is|are) safe\b", text)
        assert "air lost" not in text
        assert "this test does not check air quality, insulation or the furnace itself" in text


def test_that_the_verdict_of_the_whole_job_is_never_better_than_that_of_a_system(homeowner):
    source = report_input(rough_in())
    assert Verdict.FAIL in {system.verdict for system in source.assessment.systems}
    [answer] = of_type(build(homeowner, source), b.Banner)
    assert answer.sign is b.Sign.FAIL


@pytest.mark.parametrize("paper", b.Paper)
@pytest.mark.parametrize("name", ["maple", "larkspur", "clinic", "crossover"])
def test_that_the_report_of_a_sample_is_four_pages_at_most(homeowner, name, paper):
    folder = ROOT / "resources" / "sample_jobs" / name / "photos"
    photos = {path.stem: path.read_bytes() for path in folder.glob("*.jpg")}
    document = build(homeowner, report_input(sample(name), paper=paper))
    assert draw(document, photos, BytesIO()).pages <= 4


@pytest.mark.parametrize("spoken", ["", "es", "fr_CA"])
def test_that_the_paper_for_a_clinic_speaks_of_no_house(homeowner: Template, spoken: str):
    foreign = {"": r"\b(houses?|homes?)\b", "es": r"\b(casas?|hogar)\b", "fr_CA": r"\bmaisons?\b"}
    with speaking(spoken):
        template = in_words_of_the_language(homeowner)
        clinic = report_input(sample("clinic"))
        told = words(build(template, clinic))
        assert not re.search(foreign[spoken], told, re.IGNORECASE)
        house = words(build(template, report_input(sample("larkspur"))))
    assert re.search(foreign[spoken], house, re.IGNORECASE)


def test_that_an_early_test_of_an_office_speaks_of_the_building(homeowner: Template):
    job = put(rough_in(), "house.building_type", c.BuildingType.COMMERCIAL)
    assert "The building was not done yet." in words(build(homeowner, report_input(job)))
    home = put(rough_in(), "house.building_type", None)
    assert "The house was not done yet." in words(build(homeowner, report_input(home)))


def test_that_no_pass_stands_large_above_what_is_still_to_be_put_right(homeowner):
    """The clinic of the samples has one thing left to mend; mended, the page says pass."""
    document = build(homeowner, report_input(sample("clinic")))
    [answer] = [one for one in of_type(document, b.Banner) if one.large]
    assert (answer.sign, answer.word) == (b.Sign.WARNING, "Not final yet")
    assert "under the limit of 174 cfm" in " ".join(words(document).split())
    assert steps(document)[0].startswith("Ask Example Duct Works what is left")
    rough = build(homeowner, report_input(sample("larkspur")))
    [answer] = [one for one in of_type(rough, b.Banner) if one.large]
    assert answer.sign is b.Sign.PASS
    assert not any("what is left" in step for step in steps(rough))


def test_that_several_systems_that_pass_are_not_final_either(homeowner):
    job = sample("larkspur")
    stop = evaluate(sample("clinic")).findings
    told = evaluate(job).model_copy(
        update={"findings": tuple(one for one in stop if one.level is Level.STOP)}
    )
    document = build(homeowner, report_input(job, assessment=told))
    [answer] = [one for one in of_type(document, b.Banner) if one.large]
    assert (answer.sign, answer.word) == (b.Sign.WARNING, "Not final yet")
    assert "Each duct system measured under its own limit" in words(document)


@pytest.mark.parametrize(
    ("before", "after", "opening"),
    [
        (180.0, 45.0, "Before the work, fumes came"),
        (30.0, 0.0, ""),  # no caution of any paper tells of it
        (180.0, 90.0, "Fumes came"),
        (30.0, 20.0, "Fumes came"),
        (180.0, None, "Fumes came"),
        (None, 20.0, "Fumes came"),
    ],
)
def test_that_fumes_that_ended_with_the_work_are_told_as_before_it(
    homeowner, before, after, opening
):
    job = sample("maple")
    entry = job.safety.spillage_time
    assert entry is not None

    def lasting(seconds: float | None) -> Measured | None:
        told = {"si": seconds, "typed": f"{seconds} s"}
        return None if seconds is None else entry.model_copy(update=told)

    told = {"spillage_time": lasting(before), "spillage_time_after": lasting(after)}
    changed = job.model_copy(update={"safety": job.safety.model_copy(update=told)})
    fumes = [
        one for one in steps(build(homeowner, report_input(changed))) if "umes came into" in one
    ]
    assert [one.startswith(opening) for one in fumes] == ([True] if opening else [])
