"""Days in what people read are written the way usual in the language, never in digits alone.

Digits alone (ISO 8601, 2026-03-11) stay where days are typed, in data for other programs, and in
names of files.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from io import BytesIO

import pytest
from pypdf import PdfReader

from deskapp.domain.branding import Branding
from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.i18n import LANGUAGES, speaking
from deskapp.limits.likeliest import candidates
from deskapp.session.branding import BrandingFile
from deskapp.session.editor import Editor
from deskapp.session.limit_words import edition_text, editions_text
from deskapp.session.reports import ReportProblem, drawn_report, offered, order_reports
from deskapp.session.resources import Shelf, load_shelf
from deskapp.session.samples import open_sample
from deskapp.session.settings import Preferences
from deskapp.session.verdict_words import verdict_text
from deskapp.units.display import UnitSystem, day_in_words
from deskapp.units.numbers import NumberStyle
from deskapp.units.when import read_day

ISO = re.compile(r"\b[0-9]{4}-[0-9]{2}-[0-9]{2}\b")
SAMPLES = ("larkspur", "maple", "crossover", "clinic")
TODAY = date(2026, 3, 11)
# Days in an order that cannot be, so that all there is to remark about days is remarked.
OUT_OF_ORDER = {
    "site.permit_date": "2027-01-02",
    "gauges.0.calibrated_on": "2026-12-01",
    "gauges.0.due_on": "2025-01-01",
    "fans.0.due_on": "2025-01-01",
    "tester.certification_expires": "2025-02-01",
    "tester.signed_on": "2025-03-01",
    "leaks.0.repaired_on": "2026-12-24",
}
REMARKED = {
    "days_out_of_order",
    "calibration_overdue",
    "test_before_permit",
    "certification_expired",
    "signed_before_test",
}


@pytest.fixture(scope="module")
def shelf() -> Shelf:
    return load_shelf(resources_folder(), templates_folder())


@pytest.fixture(params=LANGUAGES)
def spoken(request: pytest.FixtureRequest) -> Iterator[str]:
    language = str(request.param)
    with speaking(language):
        yield language


def disordered(shelf: Shelf) -> Editor:
    editor = open_sample("larkspur", shelf, Preferences())
    for path, day in OUT_OF_ORDER.items():
        editor.enter(path, day)
    return editor


def told(editor: Editor, shelf: Shelf) -> Iterator[str]:
    """Everything that is said of a job beside its reports."""
    yield from (finding.text for finding in editor.findings)
    yield verdict_text(editor.assessment, editor.preferences.formatter, editor.findings)
    for candidate in candidates(shelf.editions, editor.job):
        yield from (point.why for point in candidate.points)


def in_digits(texts: Iterator[str]) -> list[str]:
    return [text for text in texts if ISO.search(text)]


@pytest.mark.usefixtures("spoken")
@pytest.mark.parametrize("sample", SAMPLES)
def test_that_what_is_said_of_a_sample_has_no_day_in_digits(shelf: Shelf, sample: str) -> None:
    editor = open_sample(sample, shelf, Preferences())
    assert in_digits(told(editor, shelf)) == []


def test_that_remarks_about_days_write_them_in_words(shelf: Shelf, spoken: str) -> None:
    editor = disordered(shelf)
    found = [finding for finding in editor.findings if finding.code in REMARKED]
    assert {finding.code for finding in found} == REMARKED
    assert in_digits(told(editor, shelf)) == []
    # Medium dates of the Unicode locale data (CLDR 48), as Babel carries them.
    permit = {"en": "Jan 2, 2027", "es": "2 ene 2027", "fr_CA": "2 janv. 2027"}[spoken]
    assert any(permit in finding.text.replace("\N{NO-BREAK SPACE}", " ") for finding in found)


@pytest.mark.usefixtures("spoken")
def test_that_the_list_of_limits_has_no_day_in_digits(shelf: Shelf) -> None:
    texts = (editions_text(shelf.editions), *map(edition_text, shelf.editions))
    assert in_digits(iter(texts)) == []


@pytest.mark.parametrize("spoken", LANGUAGES, indirect=True)
@pytest.mark.parametrize("sample", SAMPLES)
def test_that_no_report_prints_a_day_in_digits(shelf: Shelf, sample: str, spoken: str) -> None:
    preferences = Preferences(unit_system=UnitSystem.SI)
    editor = open_sample(sample, shelf, preferences)
    order = order_reports(editor, BrandingFile(Branding()), TODAY, spoken)
    for kind in offered(editor.assessment):
        try:
            data = drawn_report(order, kind).data
        except ReportProblem as problem:
            assert problem.code == "stops"
            assert in_digits(iter([problem.text])) == []
            continue
        pages = (page.extract_text() for page in PdfReader(BytesIO(data)).pages)
        assert in_digits(pages) == [], kind


@pytest.mark.usefixtures("spoken")
@pytest.mark.parametrize("month", range(1, 13))
def test_that_a_day_in_words_can_be_typed_as_it_is_told(month: int) -> None:
    day = date(2026, month, 9)
    for style in NumberStyle:
        assert read_day(day_in_words(day), style) == day
