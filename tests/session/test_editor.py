from __future__ import annotations

from pathlib import Path

import pytest

from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.domain.finding import Level
from deskapp.domain.job import Job
from deskapp.limits import catalogue
from deskapp.session.editor import Editor
from deskapp.session.resources import Shelf, load_shelf
from deskapp.session.samples import open_sample
from deskapp.session.settings import Preferences


@pytest.fixture(scope="module")
def shelf() -> Shelf:
    return Shelf(catalogue=catalogue.load(resources_folder() / "limits"))


# Findings


def test_that_findings_come_stops_first(editor: Editor):
    editor.enter("tests.0.start_time", "after lunch")
    editor.enter("house.year_built", "1720")
    editor.enter("tests.0.setup.target_pressure", "300")
    editor.enter("systems.0.area_served", "much")
    levels = [finding.level for finding in editor.findings]
    assert set(levels) >= {Level.STOP, Level.CHECK}
    order = [Level.STOP, Level.CHECK, Level.NOTE]
    assert levels == sorted(levels, key=order.index)


def test_that_a_range_finding_of_the_checks_is_found_at_its_field(editor: Editor):
    editor.enter("systems.0.area_served", "-5 ft2")
    found = editor.finding_at("systems.0.area_served")
    assert found is not None
    assert found.level is Level.STOP
    assert editor.value_at("systems.0.area_served").si < 0
    editor.enter("systems.0.area_served", "1,520 ft2")
    assert editor.finding_at("systems.0.area_served") is None


def test_that_the_assessment_always_belongs_to_the_job_as_it_stands(editor: Editor):
    editor.enter("number", "A-1")
    first = editor.assessment
    assert first.job_number == "A-1"
    assert editor.assessment is first
    editor.enter("number", "A-2")
    assert editor.assessment.job_number == "A-2"
    editor.undo()
    assert editor.assessment.job_number == ""


# History and listeners


def test_that_the_undo_words_name_the_field_and_its_row(editor: Editor):
    editor.enter("systems.0.area_served", "1520")
    assert editor.undo_label == "Undo floor area served (system 1)"
    editor.undo()
    assert editor.redo_label == "Redo floor area served (system 1)"
    assert editor.undo_label == ""


def test_that_keystrokes_in_one_field_are_one_step(editor: Editor):
    before = editor.job
    for text in ("1", "15", "152", "1520"):
        editor.enter("systems.0.area_served", text)
    editor.undo()
    assert editor.job == before


def test_that_entering_what_already_stands_there_is_no_step(editor: Editor):
    editor.enter("number", "A-1")
    editor.undo()
    editor.enter("number", "")
    editor.choose("tests.0.witnessed", None)
    assert editor.redo_label == "Redo job number"


def test_that_undoing_back_to_the_saved_job_clears_the_unsaved_mark(editor: Editor):
    assert not editor.is_dirty
    editor.enter("number", "A-1")
    assert editor.is_dirty
    editor.mark_saved(Path("a.ductjob"))
    assert not editor.is_dirty
    assert editor.path == Path("a.ductjob")
    editor.enter("title", "x")
    assert editor.is_dirty
    editor.undo()
    assert not editor.is_dirty
    editor.undo()
    assert editor.is_dirty


def test_that_listeners_hear_of_every_change_until_they_stop(editor: Editor):
    heard: list[str] = []
    stop = editor.listen(lambda: heard.append(editor.job.number))
    editor.enter("number", "A-1")
    editor.enter("number", "A-1")
    editor.undo()
    editor.redo()
    editor.prefer(Preferences())
    assert heard == ["A-1", "", "A-1", "A-1"]
    stop()
    stop()
    editor.enter("number", "A-2")
    assert len(heard) == 4


def test_that_undo_without_history_changes_nothing(editor: Editor):
    before = editor.job
    editor.undo()
    editor.redo()
    assert editor.job is before


# Limits


def test_that_choosing_a_limit_copies_the_whole_edition_into_the_job(shelf: Shelf):
    editor = Editor(Job(), shelf, Preferences())
    edition = shelf.editions[0]
    key = editor.choose_limit(edition.id)
    (limit,) = editor.job.compliance.limits
    assert (limit.key, limit.edition, limit.row) == (key, edition, "")
    assert edition.name in editor.undo_label
    assert Job.model_validate_json(editor.job.model_dump_json()) == editor.job
    editor.undo()
    assert editor.job == Job()


def test_that_choosing_an_edition_again_with_a_row_replaces_it(shelf: Shelf):
    editor = Editor(Job(), shelf, Preferences())
    first, second = shelf.editions[:2]
    key = editor.choose_limit(first.id)
    other = editor.choose_limit(second.id)
    assert editor.choose_limit(first.id, first.rows[0].id) == key != other
    assert [limit.row for limit in editor.job.compliance.limits] == [first.rows[0].id, ""]


def test_that_a_limit_can_be_dropped_by_its_key(shelf: Shelf):
    editor = Editor(Job(), shelf, Preferences())
    keys = [editor.choose_limit(edition.id) for edition in shelf.editions[:3]]
    editor.drop_limit(keys[1])
    assert [limit.key for limit in editor.job.compliance.limits] == [keys[0], keys[2]]
    with pytest.raises(KeyError):
        editor.drop_limit(keys[1])
    assert editor.choose_limit(shelf.editions[3].id) == keys[1]


def test_that_a_limit_the_shelf_does_not_have_cannot_be_chosen(shelf: Shelf):
    editor = Editor(Job(), shelf, Preferences())
    with pytest.raises(KeyError):
        editor.choose_limit("none such")
    with pytest.raises(KeyError):
        editor.choose_limit(shelf.editions[0].id, "none such")
    assert editor.job == Job()


def test_that_a_note_can_be_typed_to_a_reading(editor: Editor):
    editor.enter("tests.0.readings.0.note", "gust")
    assert editor.job.tests[0].readings[0].note == "gust"


# Options


def test_that_a_ring_is_named_by_its_flow_range_in_the_preferred_units(editor: Editor):
    gap = "\N{NO-BREAK SPACE}"
    assert editor.options_at("tests.0.setup.ring")[0].label == f"50 to 180{gap}cfm"
    editor.add_row("fans.0.rings")
    assert editor.options_at("tests.0.setup.ring")[1].label == "Ring 2 (fan 1)"


def test_that_with_two_fans_only_rings_of_the_fan_in_use_are_offered(editor: Editor):
    editor.add_row("fans")
    editor.add_row("fans.1.rings")
    assert editor.options_at("tests.0.setup.ring") == ()
    editor.choose("tests.0.setup.fan", "f2")
    assert [option.value for option in editor.options_at("tests.0.setup.ring")] == ["r2"]


def test_that_the_kinds_of_leak_places_come_from_the_shelf(editor: Editor):
    shelf = load_shelf(resources_folder(), templates_folder())
    again = Editor(editor.job, shelf, Preferences())
    options = again.options_at("leaks.0.location")
    assert [option.value for option in options] == [place.id for place in shelf.leak_locations]
    again.choose("leaks.0.location", options[3].value)
    assert again.shown_text("leaks.0.location") == options[3].label


def test_that_a_typed_field_offers_no_answers(editor: Editor):
    with pytest.raises(ValueError, match="typed"):
        editor.options_at("number")


def test_that_instruments_are_named_by_description_and_serial_number(editor: Editor):
    assert editor.options_at("tests.0.setup.gauge")[0].label == "Gauge 1"
    editor.enter("gauges.0.description", "Two-channel gauge")
    editor.enter("gauges.0.serial", "0001")
    assert editor.options_at("tests.0.setup.gauge")[0].label == "Two-channel gauge, 0001"
    assert editor.options_at("tests.0.setup.fan")[0].label == "Fan 1"


def test_that_a_reference_to_a_row_that_is_gone_still_shows_something():
    job = Job.model_validate({"tests": [{"key": "t1", "system": "s9"}]})
    assert Editor(job, Shelf(), Preferences()).shown_text("tests.0.system") == "s9"


def test_that_a_job_made_elsewhere_is_one_step_to_undo(editor: Editor):
    before = editor.job
    editor.take(before.model_copy(update={"number": "J-7", "title": "Retest"}), "Copy of the job")
    assert (editor.job.number, editor.job.title) == ("J-7", "Retest")
    assert editor.undo_label == "Undo copy of the job"
    editor.take(editor.job, "Nothing")
    editor.undo()
    assert editor.job == before
    assert editor.undo_label == ""


@pytest.mark.parametrize(
    ("coefficient", "is_told"), [("24", False), ("2.4", True), ("240", True), ("20", False)]
)
def test_that_a_ring_that_gives_flows_far_outside_its_range_is_remarked_on(
    coefficient: str, is_told: bool
) -> None:
    """The invented ring of the sample is for 120 to 379 cfm; 24 · 48.8^0.5 = 168 cfm."""
    whole = load_shelf(resources_folder(), templates_folder())
    editor = open_sample("maple", whole, Preferences())
    editor.enter("fans.0.rings.1.coefficient", coefficient)
    codes = {
        finding.code for finding in editor.findings if finding.path.startswith("tests.1.readings")
    }
    assert ("unlike_its_ring" in codes) is is_told
