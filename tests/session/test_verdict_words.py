"""The verdict in words and as data, on an invented job of two systems."""

from __future__ import annotations

import json

import pytest

from deskapp.domain.data_files import resources_folder
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.limits import catalogue
from deskapp.session.editor import Editor
from deskapp.session.limit_words import STATUS_WORDS, edition_text, editions_text, row_words
from deskapp.session.resources import Shelf
from deskapp.session.settings import Preferences
from deskapp.session.verdict_words import VERDICT_WORDS, verdict_json, verdict_text


@pytest.fixture(scope="module")
def shelf() -> Shelf:
    return Shelf(catalogue=catalogue.load(resources_folder() / "limits"))


@pytest.fixture
def judged(shelf: Shelf) -> Editor:
    """Rough-in with the air handler in place: 48.0 cfm for 1,520 ft² and 48.0 cfm for 1,120 ft²."""
    editor = Editor(Job(), shelf, Preferences())
    for list_path in ("fans", "fans.0.rings"):
        editor.add_row(list_path)
    editor.enter("number", "A-1")
    editor.enter("fans.0.rings.0.coefficient", "24 cfm")
    editor.enter("fans.0.rings.0.exponent", "0.5")
    editor.enter("house.floor_area", "2,640 ft2")
    for system, area in enumerate(("1,520 ft2", "1,120 ft2")):
        editor.add_row("systems")
        editor.enter(f"systems.{system}.area_served", area)
        editor.choose(f"systems.{system}.air_handler_installed", "yes")
        editor.choose(f"systems.{system}.all_ducts_inside", "no")
        editor.add_row("tests")
        test = f"tests.{system}"
        editor.choose(f"{test}.system", f"s{system + 1}")
        for name, value in (
            ("stage", "rough_in"),
            ("metric", "total"),
            ("direction", "pressurize"),
            ("reference", "house_open"),
            ("flow_basis", "as_indicated"),
            ("ring", "r1"),
        ):
            editor.choose(f"{test}.setup.{name}", value)
        editor.enter(f"{test}.setup.target_pressure", "25 Pa")
        editor.enter(f"{test}.baseline_before", "0 Pa")
        editor.enter(f"{test}.baseline_after", "0 Pa")
        editor.add_row(f"{test}.readings")
        editor.enter(f"{test}.readings.0.duct_pressure", "25 Pa")
        editor.enter(f"{test}.readings.0.fan_signal", "4 Pa")
    editor.choose_limit("iecc-2021")
    return editor


def test_that_the_words_give_each_system_its_verdict_and_the_arithmetic(judged: Editor):
    # 24 cfm at 1 Pa, exponent 0.5, 4 Pa: 48 cfm. At 4 cfm per 100 ft² the limits are 60.8 cfm and
    # 44.8 cfm (International Energy Conservation Code 2021, R403.3.6, from a secondary source).
    text = verdict_text(judged.assessment, judged.preferences.formatter, judged.findings)
    lines = text.splitlines()
    assert lines[0] == "Job A-1: does not meet the limit"
    assert "System 1: meets the limit" in lines
    assert "System 2: does not meet the limit" in lines
    assert "60.8 cfm" in text
    assert "44.8 cfm" in text
    assert text.count("48.0\N{NO-BREAK SPACE}cfm (22.7\N{NO-BREAK SPACE}L/s)") == 2
    assert "R403.3.6" in text
    assert STATUS_WORDS["secondary"] in text
    assert "codes judge each system by itself" in text
    # Together 96 cfm against 105.6 cfm: what a look at the whole house alone would hide.
    assert "Taken together they would meet the limit" in text


def test_that_the_data_says_the_same_without_rounding(judged: Editor):
    data = json.loads(json.dumps(verdict_json(judged.assessment, judged.findings)))
    assert (data["job"], data["verdict"]) == ("A-1", "fail")
    first, second = data["systems"]
    assert (first["verdict"], second["verdict"]) == ("pass", "fail")
    assert first["test"]["flow"]["cfm"] == pytest.approx(48, rel=1e-12)
    # 1 cfm = 0.3048³/60 m³/s exactly (international foot, NIST Special Publication 811).
    assert first["test"]["flow"]["m3/s"] == pytest.approx(48 * 0.3048**3 / 60, rel=1e-12)
    assert first["test"]["flow"]["L/s"] == pytest.approx(1e3 * first["test"]["flow"]["m3/s"])
    assert first["test"]["flow"]["m3/h"] == pytest.approx(3600 * first["test"]["flow"]["m3/s"])
    (limit,) = second["limits"]
    assert (limit["measured"], limit["limit_value"]) == pytest.approx((48, 44.8), rel=1e-12)
    assert limit["margin"] == pytest.approx(-3.2)
    assert limit["unit"] == "cfm"


def test_that_stops_and_checks_are_told_once_and_notes_are_left_out(judged: Editor):
    judged.enter("systems.0.area_served", "150 ft")
    note = Finding(level=Level.NOTE, code="n", what="Only a note.")
    findings = (*judged.findings, note)
    text = verdict_text(judged.assessment, judged.preferences.formatter, findings)
    assert text.count("That is a length (150 ft).") == 1
    assert "Must be mended: Floor area served (system 1)" in text
    assert "Only a note." not in text
    codes = [f["code"] for f in verdict_json(judged.assessment, findings)["findings"]]
    assert "n" in codes
    assert "wrong-kind" in codes


def test_that_an_empty_job_has_no_verdict_and_a_reason(shelf: Shelf):
    editor = Editor(Job(), shelf, Preferences())
    text = verdict_text(editor.assessment, editor.preferences.formatter)
    assert text.splitlines()[0] == "Job without a number: no verdict"
    assert len(text.splitlines()) >= 2
    assert verdict_json(editor.assessment)["verdict"] == "none"


def test_that_systems_without_a_result_are_told_apart_from_those_that_do_not_pass(shelf: Shelf):
    editor = Editor(Job(), shelf, Preferences())
    editor.add_row("systems")
    editor.add_row("systems")
    editor.choose_limit("iecc-2021")
    text = verdict_text(editor.assessment, editor.preferences.formatter)
    assert "System 1: no verdict" in text
    assert "System 2: no verdict" in text
    assert "All systems together" not in text
    assert verdict_json(editor.assessment)["systems"][0]["test"] is None


def test_that_a_test_without_a_floor_area_is_told_without_a_rate(judged: Editor):
    judged.enter("systems.1.area_served", "")
    text = verdict_text(judged.assessment, judged.preferences.formatter)
    assert "System 2: no verdict" in text
    assert text.count("cfm (22.7\N{NO-BREAK SPACE}L/s)") == 2
    second = verdict_json(judged.assessment)["systems"][1]
    assert second["test"]["flow_per_area_cfm_per_100_ft2"] is None
    assert second["limits"][0]["verdict"] == "none"


def test_that_no_verdict_word_calls_anything_safe():
    assert not [words for words in VERDICT_WORDS.values() if "safe" in words.lower()]


def test_that_the_list_of_limits_has_one_line_for_each_edition(shelf: Shelf):
    lines = editions_text(shelf.editions).splitlines()
    assert [line.split()[0] for line in lines] == [edition.id for edition in shelf.editions]
    assert editions_text(()) == ""


def test_that_an_edition_in_words_names_every_row_with_rule_clause_and_source(shelf: Shelf):
    for edition in shelf.editions:
        text = edition_text(edition)
        assert edition.name in text
        for row in edition.rows:
            words = row_words(row)
            for part in (words.id, words.title, words.rule, words.clause, words.status):
                assert part in text
            assert row.source in text


def test_that_a_row_in_words_gives_the_pressure_it_is_written_for(shelf: Shelf):
    edition = shelf.edition("iecc-2021")
    assert edition is not None
    words = row_words(edition.rows[0])
    assert words.rule == "at most 4.0 cfm per 100 ft² of floor area served, at 25 Pa"
