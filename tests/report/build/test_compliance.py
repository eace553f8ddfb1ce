"""The compliance report is a certificate of one or two pages, then a clearly parted annex."""

from __future__ import annotations

from datetime import date
from io import BytesIO

import pytest
from pypdf import PdfReader
from report_jobs import report_input, rough_in, sample
from report_text import drawn, pages_of, squashed, texts_in

from deskapp.domain.checks import check
from deskapp.domain.checks_length import room_for
from deskapp.domain.fields import FIELDS
from deskapp.domain.finding import Level
from deskapp.domain.measured import Day
from deskapp.domain.paths import expand, put
from deskapp.limits.fit import Fit
from deskapp.limits.likeliest import candidates
from deskapp.report import blocks as b
from deskapp.report.blocks import Paper
from deskapp.report.build.document import build
from deskapp.session.messages import together, unread_findings
from deskapp.session.settings import Preferences
from deskapp.session.verdict_words import heard_once

ANNEX = "Annex to the certificate"
SAMPLES = ["larkspur", "maple", "crossover", "clinic"]


def of_type(document: b.Document, kind: type) -> list:
    return [block for block in document.blocks if isinstance(block, kind)]


def words(blocks: tuple[b.Block, ...]) -> str:
    return " ".join(texts_in(blocks)).replace("\N{NO-BREAK SPACE}", " ")


def parted(document: b.Document) -> tuple[str, str]:
    """The words of the certificate and those of its annex."""
    at = next(n for n, block in enumerate(document.blocks) if isinstance(block, b.PartStart))
    return words(document.blocks[:at]), words(document.blocks[at:])


@pytest.mark.parametrize("paper", list(Paper))
@pytest.mark.parametrize("name", SAMPLES)
def test_that_the_certificate_is_at_most_two_pages_and_the_annex_starts_a_page(
    compliance, name, paper
):
    document = build(compliance, report_input(sample(name), paper=paper))
    pages = [squashed(page) for page in pages_of(drawn(document))]
    first = next(n for n, page in enumerate(pages) if squashed(ANNEX) in page)
    assert 1 <= first <= 2
    assert all("Statementandsignature" not in page for page in pages[first:])
    assert len(pages) <= 6, "one for the safety record where stops were acknowledged"


def test_that_an_official_finds_what_public_forms_ask_for_on_the_certificate(compliance):
    # The entries are those that forms of several states and programs have in common.
    certificate, _annex = parted(build(compliance, report_input(sample("larkspur"))))
    for entry in (
        "PRM-26-0417",
        "Permit number",
        "Floor area served",
        "Air handler in place during the test",
        "Stage",
        "What was measured",
        "Pressure tap at",
        "Fan attached at",
        "Ring fitted",
        "Valid until",
        "Date of signing",
        "Certification or license number",
        "60.8 cfm",
        "29.7 cfm",
    ):
        assert entry in certificate, entry


def test_that_the_certificate_speaks_of_the_test_each_verdict_rests_on(compliance):
    source = report_input(sample("maple"))
    certificate, _annex = parted(build(compliance, source))
    assert "Existing, after repair" in certificate
    assert "Existing, before repair" not in certificate
    assert "120 to 379 cfm" in certificate


def test_that_budgets_and_arithmetic_are_left_to_the_technical_record(compliance, technical):
    source = report_input(sample("maple"))
    slim, full = build(compliance, source), build(technical, source)
    assert not of_type(slim, b.Bars)
    assert not of_type(slim, b.Steps)
    assert of_type(full, b.Bars)
    assert of_type(full, b.Steps)
    assert not of_type(full, b.Signature)


def test_that_the_annex_tells_every_remark_of_the_checks_that_weighs(compliance):
    source = report_input(sample("maple"))
    _certificate, annex = parted(build(compliance, source))
    weighty = [f for f in source.assessment.findings if f.level.value in ("stop", "check")]
    assert weighty
    for finding in weighty:
        assert squashed(finding.text) in squashed(annex)


def test_that_no_heading_stands_over_remarks_where_there_are_none(compliance):
    document = build(compliance, report_input(sample("crossover")))
    found = report_input(sample("crossover")).assessment.findings
    assert not [one for one in found if one.level.value in ("stop", "check")]
    assert "Remarks of the checks" not in words(document.blocks)


def test_that_the_given_statement_takes_the_place_of_ours(compliance):
    job = rough_in()
    tester = job.tester.model_copy(update={"statement": "I certify {this} under code 12."})
    given = build(compliance, report_input(job.model_copy(update={"tester": tester})))
    [block] = of_type(given, b.Signature)
    assert block.statement == "I certify {this} under code 12."
    [ours] = of_type(build(compliance, report_input(job)), b.Signature)
    assert "the instruments and the set-up stated in it" in ours.statement
    assert [line.label for line in ours.lines][:2] == ["Signature", "Date of signing"]
    assert [line.value for line in ours.lines] == ["", "", "Tester A", "EX-1204"]


@pytest.mark.parametrize(
    "path",
    [
        *("fans.0.serial", "systems.0.name", "site.address", "tester.signed_by"),
        *("tester.statement", "systems.0.visual_notes", "leaks.0.place"),
    ],
)
def test_that_a_text_without_end_leaves_the_certificate_at_two_pages_and_is_kept(compliance, path):
    text = "Lorem ipsum dolor sit amet. " * 357  # a usual filler, 9,996 characters
    job = put(sample("larkspur"), path, text)
    pages = [squashed(page) for page in pages_of(drawn(build(compliance, report_input(job))))]
    assert next(n for n, page in enumerate(pages) if squashed(ANNEX) in page) == 2
    cut = next(n for n, page in enumerate(pages) if squashed("Texts cut above, in full") in page)
    assert cut >= 2
    document = build(compliance, report_input(job))
    assert squashed(text) in squashed(" ".join(texts_in(document.blocks)))


@pytest.mark.parametrize(
    ("expires", "remark"),
    [
        ("2026-03-10", "ran out before the test"),
        ("2026-03-11", "held on the day"),
        ("2026-03-12", ""),
    ],
)
def test_that_a_certification_in_the_past_has_a_remark(compliance, expires, remark):
    """Tested on March 11, issued on March 12; an authority looks for both (common practice)."""
    source = report_input(rough_in())
    job = put(source.job, "tester.certification_expires", Day(value=date.fromisoformat(expires)))
    document = build(compliance, report_input(job))
    facts = [fact for block in of_type(document, b.Facts) for fact in block.rows]
    [fact] = [one for one in facts if one.path == "tester.certification_expires"]
    assert (remark in fact.value) if remark else fact.value.endswith("2026")


def test_that_a_time_nobody_can_read_is_printed_as_such_and_told_as_in_the_window(compliance):
    job = put(sample("larkspur"), "tests.0.start_time", "25:70")
    told = [one for one in unread_findings(job, Preferences()) if one.path.endswith("start_time")]
    [checked] = [one for one in check(job) if one.path == "tests.0.start_time"]
    assert [one.level for one in (*told, checked)] == [Level.STOP, Level.STOP]
    assert len(together(tuple(told), (checked,))) == 1
    assert len(heard_once(told, (checked,))) == 1
    certificate, annex = parted(build(compliance, report_input(job)))
    assert "“25:70” (could not be read)" in certificate
    assert "25:70" not in certificate.replace("“25:70” (could not be read)", "")
    assert annex.count("Must be mended") == 1


PLACES = ("site.jurisdiction", "site.builder", "site.city", "client.name")


@pytest.mark.parametrize(
    ("value", "lines"),
    [
        ("A name of a place: Little Hill in Illinois, till it is Tilliville", 2),
        ("A name of a place that is rather long, as some are, with all that belongs to it", 4),
    ],
)
def test_that_values_stand_two_in_a_row_or_fill_a_line_beside_their_label(compliance, value, lines):
    """Sixty-odd narrow letters fill half a line, eighty a line: no line is left half empty."""
    job = rough_in()
    for path in PLACES:
        job = put(job, path, value)
    heights: list[int] = []

    def look(text: str, _space: object, matrix: list[float], *_font: object) -> None:
        if text.strip().startswith("A name of a place"):
            heights.append(round(matrix[5]))

    for page in PdfReader(BytesIO(drawn(build(compliance, report_input(job))))).pages:
        page.extract_text(visitor_text=look)
    assert (len(heights), len(set(heights))) == (4, lines)


def test_that_no_value_is_lost_beside_one_long_one(compliance):
    job = sample("larkspur")
    said = {
        "compliance.exemption_reason": "Reason " * 60,
        "site.jurisdiction": "Jurisdiction of a name that fills more than half a line, as some do",
        "client.name": "Owner of a name that fills half a line, as some names do it",
        "site.builder": "Builder of a name that fills half a line, as many do it too",
    }
    for path, text in said.items():
        job = put(job, path, text)
    printed = squashed("".join(pages_of(drawn(build(compliance, report_input(job))))))
    assert [path for path, text in said.items() if squashed(text) not in printed] == []


@pytest.mark.parametrize("name", ["crossover", "clinic"])
def test_that_a_certificate_with_each_text_half_full_keeps_to_two_pages(compliance, name):
    """Every text that stands in a place of its own has half the characters it has room for."""
    job, words = sample(name), "some plain words that tell what was found there and how it was "
    for spec in FIELDS:
        most = room_for(spec)
        for path, value in expand(job, spec.path) if most else ():
            if isinstance(value, str):
                job = put(job, path, (words * 10)[: (most or 0) // 2].strip())
    pages = [squashed(page) for page in pages_of(drawn(build(compliance, report_input(job))))]
    assert next(n for n, page in enumerate(pages) if squashed(ANNEX) in page) == 2


@pytest.mark.parametrize("name", ["larkspur", "maple", "crossover", "clinic"])
def test_that_a_limit_that_only_may_fit_is_not_called_binding(compliance, name):
    """The list of limits says "may fit" of each of these; so does the paper, on the card too."""
    job = sample(name)
    [limit] = job.compliance.limits
    [offered] = candidates((limit.edition,), job)
    assert offered.fits is Fit.MAYBE
    document = build(compliance, report_input(job))
    cards = [block for block in document.blocks if isinstance(block, b.VerdictCard)]
    assert cards
    assert all("whether this limit binds here" in words((card,)) for card in cards)
    said = " ".join(words(document.blocks).split())
    assert "Not settled: whether it binds here. Place: " in said
    assert "Why this limit binds" not in said
