"""Making the reports of the shipped sample jobs and of an empty one."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from datetime import date
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from deskapp.archive.job_file import read
from deskapp.domain.branding import Branding
from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.domain.finding import Level
from deskapp.domain.job import Job
from deskapp.session.branding import BrandingFile
from deskapp.session.editor import Editor
from deskapp.session.opening import new_job
from deskapp.session.report_names import report_file_name
from deskapp.session.reports import (
    ReportKind,
    ReportOrder,
    ReportProblem,
    drawn_report,
    gaps_for,
    kinds_possible,
    make_report,
    make_reports,
    offered,
    order_reports,
    stops_against,
)
from deskapp.session.resources import Shelf, load_shelf
from deskapp.session.samples import DEFAULT_SAMPLE, list_samples, open_sample
from deskapp.session.settings import Preferences

TODAY = date(2026, 3, 12)
HOMEOWNER, COMPLIANCE = ReportKind.HOMEOWNER, ReportKind.COMPLIANCE
# An invented company.
OURS = BrandingFile(Branding(company="Brookside Air Sealing", accent="#204060"))


@pytest.fixture(scope="module")
def shelf() -> Shelf:
    return load_shelf(resources_folder(), templates_folder())


@pytest.fixture
def sample(shelf: Shelf) -> Editor:
    return open_sample("", shelf, Preferences())


def ordered(editor: Editor) -> ReportOrder:
    return order_reports(editor, OURS, TODAY)


def text_of(pdf: bytes | Path) -> str:
    reader = PdfReader(BytesIO(pdf) if isinstance(pdf, bytes) else pdf)
    return "\n".join(page.extract_text() for page in reader.pages)


# What keeps a report back


def test_that_only_a_stop_keeps_back_only_the_compliance_report(editor: Editor):
    editor.enter("systems.0.area_served", "much")
    stops = stops_against(COMPLIANCE, editor.findings)
    assert stops
    assert {stop.level for stop in stops} == {Level.STOP}
    assert stops_against(HOMEOWNER, editor.findings) == ()
    assert {f.level for f in editor.findings} > {Level.STOP} or len(stops) == len(editor.findings)


def test_that_stops_are_told_when_the_report_is_asked_for(sample: Editor, tmp_path: Path):
    sample.enter("systems.0.area_served", "150 ft")
    target = tmp_path / "report.pdf"
    with pytest.raises(ReportProblem) as caught:
        make_report(ordered(sample), COMPLIANCE, target)
    assert caught.value.code == "stops"
    assert "That is a length (150 ft)." in caught.value.text
    assert caught.value.findings[0].path == "systems.0.area_served"
    assert not target.exists()
    assert make_report(ordered(sample), HOMEOWNER, target).pages >= 1


def test_that_empty_fields_are_named_but_keep_nothing_back(shelf: Shelf):
    order = ordered(new_job(shelf, Preferences()))
    gaps = gaps_for(COMPLIANCE, order)
    assert "site.permit_number" in {gap.path for gap in gaps}
    assert {gap.level for gap in gaps} == {Level.NOTE}
    assert gaps_for(HOMEOWNER, order) == ()


def test_that_the_window_and_the_paper_count_the_same_gaps(sample: Editor):
    sample.enter("systems.0.visual_notes", "")
    sample.choose("systems.0.cloth_tape_found", None)
    gaps = gaps_for(COMPLIANCE, ordered(sample))
    printed = text_of(drawn_report(ordered(sample), COMPLIANCE).data)
    assert f"{len(gaps)} needed entr" in " ".join(printed.split())


# File names


@pytest.mark.parametrize(
    ("job", "name"),
    [
        (Job(number="J-1"), "J-1 compliance.pdf"),
        (Job(title="Lot 14"), "Lot 14 compliance.pdf"),
        (Job(number='../a\\b:c*"<|>?\n'), "a b c compliance.pdf"),
        (Job(number="..."), "compliance.pdf"),
        (Job(), "compliance.pdf"),
        (Job(number="x" * 300), "x" * 80 + " compliance.pdf"),
    ],
)
def test_that_a_file_name_suits_every_system(job: Job, name: str):
    assert report_file_name(job, COMPLIANCE) == name


# The files


def test_that_the_default_sample_has_no_stop(shelf: Shelf, sample: Editor):
    assert list_samples(shelf)[0].id == DEFAULT_SAMPLE
    assert stops_against(COMPLIANCE, sample.findings) == ()


@pytest.mark.parametrize("sample_id", ["larkspur", "maple", "crossover", "clinic"])
def test_that_the_reports_of_a_sample_are_made_unless_a_stop_is_left(
    shelf: Shelf, sample_id: str, tmp_path: Path
):
    editor = open_sample(sample_id, shelf, Preferences())
    stops = stops_against(COMPLIANCE, editor.findings)
    kinds = [HOMEOWNER] if stops else offered(editor.assessment)
    for made in make_reports(ordered(editor), kinds, tmp_path / "new" / sample_id):
        assert made.path is not None
        assert made.path.name == report_file_name(editor.job, made.kind)
        assert len(PdfReader(made.path).pages) == made.pages
        assert made.findings == ()
        text = text_of(made.path)
        assert OURS.branding.company in text
        assert editor.job.number in text
    if stops:
        with pytest.raises(ReportProblem):
            drawn_report(ordered(editor), COMPLIANCE)


def test_that_the_same_order_gives_the_same_bytes(sample: Editor, tmp_path: Path):
    order = ordered(sample)
    made = make_report(order, HOMEOWNER, tmp_path / "a.pdf")
    assert made.path is not None
    assert made.path.read_bytes() == drawn_report(order, HOMEOWNER).data


def test_that_an_order_keeps_what_stood_in_the_job_when_it_was_placed(sample: Editor):
    order = ordered(sample)
    before = drawn_report(order, COMPLIANCE).data
    sample.enter("number", "changed meanwhile")
    assert drawn_report(order, COMPLIANCE).data == before
    assert drawn_report(ordered(sample), COMPLIANCE).data != before


def test_that_the_homeowner_report_of_an_empty_job_can_be_made(shelf: Shelf):
    for job in (Job(), new_job(shelf, Preferences()).job):
        order = ordered(Editor(job, shelf, Preferences()))
        assert drawn_report(order, HOMEOWNER).data.startswith(b"%PDF")


def test_that_a_report_that_cannot_be_written_is_told_in_words(sample: Editor, tmp_path: Path):
    blocked = tmp_path / "file"
    blocked.write_text("in the way")
    order = ordered(sample)
    with pytest.raises(ReportProblem) as caught:
        make_report(order, HOMEOWNER, tmp_path / "no folder" / "a.pdf")
    assert caught.value.code == "write"
    with pytest.raises(ReportProblem) as caught:
        make_reports(order, [HOMEOWNER], blocked / "inner")
    assert caught.value.code == "write"
    assert "inner" in caught.value.text


def test_that_a_missing_or_damaged_template_is_told_in_words(sample: Editor, tmp_path: Path):
    damaged = tmp_path / "homeowner.toml"
    damaged.write_text("title = 3")
    source = ordered(sample).source
    for templates in ({}, {"homeowner": damaged}):
        with pytest.raises(ReportProblem) as caught:
            drawn_report(ReportOrder(source, templates, ()), HOMEOWNER)
        assert caught.value.code == "template"


def test_that_a_logo_that_went_away_is_left_out(sample: Editor, tmp_path: Path):
    gone = BrandingFile(OURS.branding, tmp_path / "logo.png")
    order = order_reports(sample, gone, TODAY)
    assert order.source.logo is None


# What a report carries


def test_that_a_report_carries_the_job_and_how_it_was_printed(
    sample: Editor, tmp_path: Path
) -> None:
    carried = PdfReader(BytesIO(drawn_report(ordered(sample), HOMEOWNER).data)).attachments
    [job] = carried["job.json"]
    [printed] = carried["report.json"]
    (tmp_path / "job.json").write_bytes(job)
    assert read(tmp_path / "job.json").job == sample.job
    told = json.loads(printed)
    assert told["kind"] == "homeowner"
    assert told["issued_on"] == "2026-03-12"
    assert told["language"] == "en"
    assert (told["units"], told["numbers"], told["paper"]) == ("ip", "point", "letter")


def test_that_a_comparison_is_offered_only_where_a_test_repeats_another(shelf: Shelf):
    with_one = open_sample("maple", shelf, Preferences())
    assert offered(with_one.assessment) == tuple(ReportKind)
    without = open_sample("clinic", shelf, Preferences())
    assert ReportKind.RETEST not in offered(without.assessment)
    with pytest.raises(ReportProblem, match="repeats an earlier one") as caught:
        drawn_report(ordered(without), ReportKind.RETEST)
    assert caught.value.code == "no-retest"


def words_of(data: bytes) -> str:
    return " ".join(page.extract_text() for page in PdfReader(BytesIO(data)).pages)


def test_that_the_numbers_of_a_report_follow_its_language(shelf: Shelf) -> None:
    # CLDR: French of Canada writes a decimal comma, English and Spanish of the Americas a point.
    editor = open_sample("", shelf, Preferences())
    for spoken, rate, wrong in (
        ("fr_CA", "4,0 cfm", "4.0 cfm"),
        ("es", "4.0 cfm", "4,0 cfm"),
        ("en", "4.0 cfm", "4,0 cfm"),
    ):
        order = order_reports(editor, OURS, TODAY, spoken)
        text = words_of(drawn_report(order, COMPLIANCE).data)
        assert rate in text.replace("\N{NO-BREAK SPACE}", " "), spoken
        assert wrong not in text.replace("\N{NO-BREAK SPACE}", " "), spoken


def typed_in(value: object) -> Iterator[str]:
    """Yield each text of records."""
    if isinstance(value, dict):
        for inside in value.values():
            yield from typed_in(inside)
    elif isinstance(value, list | tuple):
        for inside in value:
            yield from typed_in(inside)
    elif isinstance(value, str):
        yield value


POINTED = re.compile(r"(?<![\w.])\d+\.\d+(?![\w.])")
"""A number with a decimal point, and no number of a clause or a version."""


@pytest.mark.parametrize("sample", ["larkspur", "maple", "clinic", "crossover"])
def test_that_every_number_of_a_french_report_has_its_comma(shelf: Shelf, sample: str) -> None:
    # CLDR: French of Canada writes a decimal comma. What a person or a code wrote stays as it is.
    editor = open_sample(sample, shelf, Preferences())
    order = order_reports(editor, OURS, TODAY, "fr_CA")
    written = " ".join(typed_in(editor.job.model_dump()))
    texts = [words_of(drawn_report(order, kind).data) for kind in kinds_possible(order)]
    points = {number for text in texts for number in POINTED.findall(text)}
    assert {number for number in points if number not in written} == set()
    assert [text for text in texts if re.search(r"\^\d+\.", text)] == [], "exponents too"
