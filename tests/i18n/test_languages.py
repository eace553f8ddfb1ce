"""Words in another language: for the program, and for one piece of work beside it."""

from __future__ import annotations

import threading
from contextvars import copy_context
from datetime import date
from io import BytesIO

import pytest
from pypdf import PdfReader

from deskapp.catalog.files import PSEUDO
from deskapp.domain.branding import Branding
from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.domain.fields import field_at
from deskapp.domain.measured import Day
from deskapp.i18n import ENGLISH, _, closest, language, language_tag, ngettext, speaking
from deskapp.session.branding import BrandingFile
from deskapp.session.reports import ReportKind, drawn_report, order_reports
from deskapp.session.resources import load_shelf
from deskapp.session.samples import open_sample
from deskapp.session.settings import Language, Preferences
from deskapp.session.typed import problem_in, read, text_to_edit
from deskapp.units.numbers import NumberStyle
from deskapp.units.problems import Problem
from deskapp.units.when import read_day

TODAY = date(2026, 3, 11)


def test_that_the_words_of_a_block_come_in_its_language_and_only_there():
    assert _("Paper") == "Paper"
    with speaking(PSEUDO):
        assert language() == PSEUDO
        assert _("Paper").startswith("⟦")
        assert ngettext("{n} page", "{n} pages", 2) != "{n} pages"
        with speaking(ENGLISH):
            assert _("Paper") == "Paper"
        assert _("Paper") != "Paper"
    assert (_("Paper"), language()) == ("Paper", ENGLISH)


def test_that_no_words_stay_no_words():
    with speaking(PSEUDO):
        assert _("") == ""


def test_that_a_language_without_catalog_is_english():
    with speaking("tlh"):
        assert (_("Paper"), language(), language_tag()) == ("Paper", ENGLISH, ENGLISH)


def test_that_work_in_another_thread_takes_the_language_along_in_a_copy_of_the_context():
    heard: list[str] = []
    with speaking(PSEUDO):
        context = copy_context()
        plain = threading.Thread(target=copy_context().run, args=(heard.append, language()))
        thread = threading.Thread(target=context.run, args=(lambda: heard.append(_("Paper")),))
        thread.start()
        thread.join()
        plain.start()
        plain.join()
    assert heard[0].startswith("⟦")
    assert heard[1] == PSEUDO


# Locale names as systems give them (common practice, no source).
@pytest.mark.parametrize(
    ("locale_name", "expected"),
    [
        ("es_MX.UTF-8", "es"),
        ("es", "es"),
        ("es-Latn-US", "es"),
        ("fr_CA.UTF-8", "fr_CA"),
        ("fr-CA", "fr_CA"),
        ("fr_FR", "fr_CA"),
        ("en_CA", "en"),
        ("de_DE", "en"),
        ("C", "en"),
        ("C.UTF-8", "en"),
        ("", "en"),
    ],
)
def test_that_the_language_closest_to_the_system_is_found(locale_name: str, expected: str):
    assert closest(locale_name) == expected


@pytest.fixture(scope="module")
def editor():
    shelf = load_shelf(resources_folder(), templates_folder())
    return open_sample("maple", shelf, Preferences())


def pages(data: bytes) -> str:
    return "\n".join(page.extract_text() for page in PdfReader(BytesIO(data)).pages)


@pytest.mark.parametrize("kind", list(ReportKind))
def test_that_a_report_is_made_in_its_own_language_with_the_same_numbers(editor, kind):
    look = BrandingFile(Branding())
    english = drawn_report(order_reports(editor, look, TODAY), kind).data
    other = drawn_report(order_reports(editor, look, TODAY, PSEUDO), kind).data
    assert "⟦" not in pages(english)
    assert "⟦" in pages(other)
    assert language() == ENGLISH
    source = order_reports(editor, look, TODAY, PSEUDO)
    with speaking(PSEUDO):
        again = source.in_its_language().assessment
    assert [one.flow for one in again.tests] == [one.flow for one in editor.assessment.tests]
    assert [one.code for one in again.findings] == [one.code for one in editor.assessment.findings]


def test_that_the_preference_decides_where_nothing_is_asked_for(editor):
    look = BrandingFile(Branding())
    before = editor.preferences
    editor.prefer(before.model_copy(update={"report_language": Language.ENGLISH}))
    assert order_reports(editor, look, TODAY).language == ""
    with speaking(PSEUDO):
        assert order_reports(editor, look, TODAY).language == "en"
    editor.prefer(before)


# Medium dates of the Unicode locale data (CLDR 48), as Babel carries them.
@pytest.mark.parametrize(
    ("spoken", "written"), [("es", "5 mar 2026"), ("fr_CA", "5 mars 2026"), ("en", "Mar 5, 2026")]
)
def test_that_days_are_written_in_the_language_in_use(spoken: str, written: str):
    formatter = Preferences().formatter
    with speaking(spoken):
        assert formatter.day(date(2026, 3, 5)).replace("\N{NO-BREAK SPACE}", " ") == written


@pytest.mark.parametrize(
    ("spoken", "typed"),
    [
        ("es", "5 de marzo de 2026"),
        ("es", "5 mar 2026"),
        ("fr_CA", "5 mars 2026"),
        ("fr_CA", "5 March 2026"),
    ],
)
def test_that_months_are_read_in_the_language_in_use(spoken: str, typed: str):
    with speaking(spoken):
        assert read_day(typed, NumberStyle.COMMA) == date(2026, 3, 5)


def test_that_months_of_another_language_are_asked_about():
    assert isinstance(read_day("5 de marzo de 2026", NumberStyle.COMMA), Problem)


# The usual order of short dates in the Unicode locale data (CLDR 48): es d/M/yy, fr_CA yy-MM-dd,
# en M/d/yy. Where it is not month first, numbers that can mean two days are asked about.
@pytest.mark.parametrize("spoken", ["es", "fr_CA"])
@pytest.mark.parametrize("style", NumberStyle)
@pytest.mark.parametrize("typed", ["03/04/2026", "3/4/2026", "03.04.2026", "03-04-2026"])
def test_that_numbers_for_two_days_are_asked_about_in_other_languages(
    spoken: str, style: NumberStyle, typed: str
):
    with speaking(spoken):
        problem = read_day(typed, style)
        assert isinstance(problem, Problem)
        assert problem.code == "day-unclear"
        for day in (date(2026, 3, 4), date(2026, 4, 3)):
            words = Preferences().formatter.day(day)
            assert words in problem.mend
            assert read_day(words, style) == day


@pytest.mark.parametrize("spoken", ["es", "fr_CA"])
@pytest.mark.parametrize("style", NumberStyle)
@pytest.mark.parametrize("typed", ["25/03/2026", "25.03.2026", "03/25/2026", "2026-03-25"])
def test_that_numbers_for_one_day_are_read_in_other_languages(
    spoken: str, style: NumberStyle, typed: str
):
    with speaking(spoken):
        assert read_day(typed, style) == date(2026, 3, 25)
        assert read_day("04/04/2026", style) == date(2026, 4, 4)
        assert isinstance(read_day("25/03/1826", style), Problem)


def test_that_a_day_typed_in_english_keeps_its_value_in_another_language():
    spec, preferences = field_at("tests.*.tested_on"), Preferences()
    day = read(spec, "03/04/2026", preferences)
    with speaking("es"):
        assert day == Day(value=date(2026, 3, 4), typed="03/04/2026")
        assert problem_in(spec, day, preferences) is None
        shown = text_to_edit(spec, day, preferences)
        assert read(spec, shown, preferences) == Day(value=date(2026, 3, 4), typed=shown)
