"""What a tester does about safety, with undo. Names and answers are invented."""

from __future__ import annotations

from datetime import datetime

import pytest

from deskapp.archive.envelope import job_from_text, text_of
from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.domain.finding import Level
from deskapp.domain.job import Job
from deskapp.session import safety_desk as desk
from deskapp.session.editor import Editor
from deskapp.session.job_status import dangers
from deskapp.session.reports import ReportKind, stops_against
from deskapp.session.resources import load_shelf
from deskapp.session.settings import Preferences

NOW = datetime(2026, 3, 11, 8, 40, 12)


@pytest.fixture
def editor() -> Editor:
    return Editor(Job(), load_shelf(resources_folder(), templates_folder()), Preferences())


def codes(editor: Editor) -> list[str]:
    return [finding.code for finding in stops_against(ReportKind.COMPLIANCE, editor.findings)]


def test_that_a_stop_keeps_the_compliance_report_back_until_it_is_acknowledged(editor: Editor):
    editor.choose("safety.gas_smell", "yes")
    assert desk.is_held(editor)
    assert codes(editor) == ["safety_stop"]
    assert stops_against(ReportKind.HOMEOWNER, editor.findings) == ()
    assert desk.acknowledge(editor, "gas_smell", "Kim Example", "Gas company was here", NOW) == ()
    assert not desk.is_held(editor)
    assert codes(editor) == []
    (state,) = desk.stop_states(editor)
    assert state.acknowledged == (
        "Acknowledged by Kim Example, Mar\N{NO-BREAK SPACE}11, 2026, 08:40: Gas company was here"
    )
    assert state.answer == "Smell of gas: Yes"
    assert editor.undo_label == "Undo acknowledge a stop"
    editor.undo()
    assert desk.is_held(editor)
    editor.redo()
    desk.take_back(editor, "gas_smell")
    assert desk.is_held(editor)


def test_that_an_acknowledgment_falls_with_its_answer_in_one_step(editor: Editor):
    editor.enter("safety.ambient_co", "40 ppm")
    desk.acknowledge(editor, "co_stop", "Kim Example", "Doors and windows open", NOW)
    editor.enter("safety.ambient_co", "41 ppm")
    assert editor.job.acknowledgments == ()
    editor.enter("safety.ambient_co", "40 ppm")
    assert desk.is_held(editor), "the old acknowledgment does not come back with the old answer"
    editor.choose("safety.gas_smell", "no")
    desk.acknowledge(editor, "co_stop", "Kim Example", "Doors and windows open", NOW)
    editor.choose("safety.mold_suspected", "yes")
    assert not desk.is_held(editor), "another answer leaves it alone"
    editor.undo()
    editor.undo()
    assert desk.is_held(editor)


@pytest.mark.parametrize("blank", ["", "   ", "\t\n"])
def test_that_a_missing_name_or_reason_is_named_and_nothing_recorded(editor: Editor, blank: str):
    editor.choose("safety.gas_smell", "yes")
    for name, reason, wanted in (
        (blank, "Because of rain", ["name"]),
        ("Kim", blank, ["reason"]),
        (blank, blank, ["name", "reason"]),
    ):
        found = desk.acknowledge(editor, "gas_smell", name, reason, NOW)
        assert [finding.path for finding in found] == wanted
        assert all(finding.what and finding.mend for finding in found)
    assert editor.job.acknowledgments == ()


@pytest.mark.parametrize("reason", ["x", "ok", "none needed", "1 2 3 4 5 6 7 8", ". . . . . . ."])
def test_that_a_reason_that_says_nothing_is_not_taken_and_told_why(editor: Editor, reason: str):
    editor.choose("safety.gas_smell", "yes")
    (found,) = desk.acknowledge(editor, "gas_smell", "Kim Example", reason, NOW)
    assert found.path == "reason"
    assert f"“{reason}” does not say why" in found.what
    assert "3 words or 12 characters" in found.mend
    assert editor.job.acknowledgments == ()
    assert desk.is_held(editor)


@pytest.mark.parametrize("reason", ["gas was off", "Ventilated it", "Aéré la pièce"])
def test_that_a_short_reason_with_words_is_taken(editor: Editor, reason: str):
    editor.choose("safety.gas_smell", "yes")
    assert desk.acknowledge(editor, "gas_smell", "Kim Example", reason, NOW) == ()


def test_that_a_danger_to_people_stays_in_view_until_its_answer_changes(editor: Editor):
    editor.choose("safety.gas_smell", "yes")
    desk.acknowledge(editor, "gas_smell", "Kim Example", "Gas company was here", NOW)
    (found,) = (one for one in editor.findings if one.code == "acknowledged_stop")
    assert found.what == "Gas was smelled. Acknowledged by Kim Example, not cleared."
    assert (found.level, found.path) == (Level.CHECK, "safety.gas_smell")
    assert dangers(editor.findings) == (found.what.rstrip("."),)
    editor.choose("safety.gas_smell", "no")
    assert "acknowledged_stop" not in {one.code for one in editor.findings}


def test_that_what_was_measured_as_mended_after_the_work_is_no_lasting_danger(editor: Editor):
    editor.enter("safety.spillage_time", "90 s")
    desk.acknowledge(editor, "spillage", "Kim Example", "The vent was mended", NOW)
    assert "acknowledged_stop" in {one.code for one in editor.findings}
    editor.enter("safety.spillage_time_after", "0 s")
    assert "acknowledged_stop" not in {one.code for one in editor.findings}
    assert not desk.is_held(editor)


@pytest.mark.parametrize(
    "text", ["x" * 5000, "a\nb\x00c", "half \ud83d", "<b>&{name}**", "Łukasz Ø"]
)
def test_that_whatever_is_typed_is_kept_on_one_line_and_survives_a_file(editor: Editor, text: str):
    editor.choose("safety.gas_smell", "yes")
    reason = f"{text} and went on"
    assert desk.acknowledge(editor, "gas_smell", text, reason, NOW) == ()
    desk.start_list(editor)
    desk.rest_unchanged(editor)
    assert desk.close_list(editor, text, NOW) == ()
    assert "\n" not in editor.job.acknowledgments[0].reason
    assert job_from_text(text_of(editor.job), "a job") == editor.job


def test_that_a_stop_nobody_called_for_cannot_be_acknowledged(editor: Editor):
    assert desk.acknowledge(editor, "gas_smell", "Kim", "Because of rain", NOW) == ()
    assert desk.acknowledge(editor, "no such stop", "Kim", "Because of rain", NOW) == ()
    assert editor.job == Job()


def test_that_the_list_begins_once_and_free_rows_stay(editor: Editor):
    editor.add_row("arrival")
    editor.enter("arrival.0.what", "Attic ladder")
    desk.start_list(editor)
    once = editor.job.arrival
    assert [row.item for row in once[1:]] == [thing.id for thing in editor.shelf.arrival]
    assert len({row.key for row in once}) == len(once)
    desk.start_list(editor)
    assert editor.job.arrival == once
    editor.undo()
    assert [row.what for row in editor.job.arrival] == ["Attic ladder"]


def test_that_the_list_cannot_be_closed_until_each_row_is_put_back_or_explained(editor: Editor):
    assert [one.path for one in desk.close_list(editor, "Kim", NOW)] == ["arrival"]
    desk.start_list(editor)
    at = {row.item: f"arrival.{n}" for n, row in enumerate(editor.job.arrival)}
    editor.enter(f"{at['registers']}.seals_on", "12")
    editor.choose(f"{at['burners']}.changed", "yes")
    desk.rest_unchanged(editor)
    assert [one.path for one in desk.close_list(editor, " ", NOW)] == [
        "name",
        f"{at['burners']}.undone",
        f"{at['registers']}.undone",
    ]
    editor.choose(f"{at['registers']}.undone", "yes")
    editor.enter(f"{at['registers']}.seals_off", "11")
    editor.enter(f"{at['burners']}.explained", "Off until the technician comes")
    (problem,) = desk.close_list(editor, "Kim", NOW)
    assert "12 seals put on, 11 taken off" in problem.what
    editor.enter(f"{at['registers']}.seals_off", "12")
    assert desk.close_list(editor, "Kim  Example", NOW) == ()
    assert (
        desk.closing_words(editor)
        == "Confirmed by Kim Example, Mar\N{NO-BREAK SPACE}11, 2026, 08:40."
    )
    assert editor.job.safety.equipment_restored == "no"
    editor.enter(f"{at['registers']}.seals_off", "10")
    assert desk.closing_words(editor) == ""
    editor.undo()
    assert desk.closing_words(editor)
    desk.reopen_list(editor)
    assert editor.job.leaving.closed_by == ""


@pytest.mark.parametrize("text", ["a dozen", "-3", "1e9", "twelve seals"])
def test_that_seals_that_are_no_count_are_kept_and_asked_about(editor: Editor, text: str):
    desk.start_list(editor)
    editor.enter("arrival.0.seals_on", text)
    found = editor.finding_at("arrival.0.seals_on")
    assert editor.entry_text("arrival.0.seals_on") == text
    assert found is not None
    assert found.level == "stop"


def test_that_all_about_tracers_can_be_asked_for_and_none_has_a_source_it_lacks(editor: Editor):
    every = desk.about_tracers(editor)
    told = " ".join(one.text for one in every)
    for word in ("glycol", "theatrical fog", "incense", "feather", "gloves", "fresh air", "gauges"):
        assert word in told
    assert desk.tracers_called_for(editor) == ()
    editor.add_row("leaks")
    editor.choose("leaks.0.found_by", "smoke")
    ids = {one.id for one in desk.tracers_called_for(editor)}
    assert {"smoke_corrosive", "smoke_storage", "smoke_milder", "smoke_people"} <= ids
    editor.choose("safety.tracer", "glycol")
    ids = {one.id for one in desk.tracers_called_for(editor)}
    assert not ids & {"smoke_corrosive", "smoke_storage"}
    assert all(one.audience == "compliance" for one in every), "in technical papers only"


@pytest.mark.parametrize("field", ["safety.ambient_co", "safety.ambient_co_after"])
@pytest.mark.parametrize(
    ("typed", "level"),
    # From 9 ppm on care begins (ANSI/BPI-1200-S, from memory); above 35 ppm work stops (BPI, 2005).
    [("8", None), ("9", Level.CHECK), ("20", Level.CHECK), ("35", Level.CHECK), ("36", Level.STOP)],
)
def test_that_raised_carbon_monoxide_is_told_at_its_field(
    editor: Editor, field: str, typed: str, level: Level | None
):
    editor.enter(field, f"{typed} ppm")
    found = editor.finding_at(field)
    assert (found.level if found else None) is level
    if level is Level.CHECK:
        assert found is not None
        assert "9 ppm or more" in found.text
        assert "licensed technician" in found.text


def test_that_the_list_cannot_be_closed_while_registers_are_sealed_that_it_does_not_tell_of(
    editor: Editor,
):
    desk.start_list(editor)
    desk.rest_unchanged(editor)
    editor.add_row("tests")
    editor.enter("tests.0.setup.supplies_sealed", "11")
    editor.enter("tests.0.setup.returns_sealed", "1")
    (problem,) = desk.close_list(editor, "Kim Example", NOW)
    at = next(n for n, row in enumerate(editor.job.arrival) if row.item == "registers")
    assert problem.path == f"arrival.{at}.changed"
    assert "12 were sealed for the tests" in problem.what
    assert desk.closing_words(editor) == ""
    editor.choose(f"arrival.{at}.changed", "yes")
    editor.enter(f"arrival.{at}.seals_on", "12")
    editor.choose(f"arrival.{at}.undone", "yes")
    editor.enter(f"arrival.{at}.seals_off", "12")
    assert desk.close_list(editor, "Kim Example", NOW) == ()


def test_that_the_list_begins_with_what_the_tests_tell_of(editor: Editor):
    editor.add_row("tests")
    assert desk.changed_unlisted(editor) == ""
    editor.enter("tests.0.setup.supplies_sealed", "11")
    editor.enter("tests.0.setup.returns_sealed", "1")
    editor.choose("tests.0.setup.filter_removed", "yes")
    told = desk.changed_unlisted(editor)
    assert told == "Filter; Registers and grilles sealed (12)"
    desk.start_list(editor)
    assert desk.changed_unlisted(editor) == "", "it is listed now"
    at = {row.item: f"arrival.{n}" for n, row in enumerate(editor.job.arrival)}
    assert editor.entry_text(f"{at['registers']}.seals_on") == "12"
    assert {one.item for one in editor.job.arrival if one.is_changed} == {"filter", "registers"}
    desk.rest_unchanged(editor)
    paths = [one.path for one in desk.close_list(editor, "Kim Example", NOW)]
    assert paths == [f"{at['filter']}.undone", f"{at['registers']}.undone"]
    assert job_from_text(text_of(editor.job), "a job") == editor.job


def test_that_what_nobody_answered_is_told_in_one_with_the_way_to_it(editor: Editor):
    desk.start_list(editor)
    at = {row.item: n for n, row in enumerate(editor.job.arrival)}
    editor.choose(f"arrival.{at['filter']}.changed", "yes")
    changed, unsaid = desk.close_list(editor, "Kim Example", NOW)
    assert changed.path == f"arrival.{at['filter']}.undone"
    assert unsaid.what.startswith("Not said whether it was changed: Alarms off")
    assert "Thermostat; " in unsaid.what
    assert "The rest was not changed" in unsaid.mend
