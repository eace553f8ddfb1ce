"""Words beside results: pan readings as screening, and what to try short of the target."""

from __future__ import annotations

import pytest

from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.domain.job import Job
from deskapp.session.advice import pan_bands, pan_words, what_to_try
from deskapp.session.editor import Editor
from deskapp.session.resources import Shelf, load_shelf
from deskapp.session.settings import Preferences


@pytest.fixture(scope="module")
def shelf() -> Shelf:
    return load_shelf(resources_folder(), templates_folder())


def with_registers(shelf: Shelf, *readings: tuple[str, str]) -> Editor:
    editor = Editor(Job(), shelf, Preferences())
    for number, (before, after) in enumerate(readings):
        editor.add_row("registers")
        editor.enter(f"registers.{number}.name", f"Room {number + 1}")
        editor.enter(f"registers.{number}.pan_before", before)
        editor.enter(f"registers.{number}.pan_after", after)
    return editor


def test_that_the_latest_pan_reading_of_each_register_is_put_in_words(shelf: Shelf):
    editor = with_registers(shelf, ("0.4", ""), ("8.5", "0.9"), ("12.4", ""), ("", ""))
    words = pan_words(editor)
    assert [one.register for one in words] == ["Room 1", "Room 2", "Room 3"]
    assert [one.is_after for one in words] == [False, True, False]
    assert words[1].urgency == words[0].urgency == 0
    assert words[2].urgency > 1
    assert "12.4" in words[2].reading
    assert not any("cfm" in one.text for one in words)


def test_that_without_registers_there_is_nothing_to_say(shelf: Shelf):
    assert pan_words(Editor(Job(), shelf, Preferences())) == ()
    assert pan_bands(Editor(Job(), shelf, Preferences())) == ()


def test_that_what_several_registers_tell_is_said_once_with_all_of_them(shelf: Shelf):
    editor = with_registers(shelf, ("0.4", ""), ("8.5", "0.9"), ("12.4", ""), ("6.0", ""))
    worst, calm = pan_bands(editor)
    assert worst.urgency > calm.urgency
    assert worst.before == ("Room 3 12.4\xa0Pa", "Room 4 6.0\xa0Pa")
    assert (calm.before, calm.after) == (("Room 1 0.4\xa0Pa",), ("Room 2 0.9\xa0Pa",))
    assert {worst.text, calm.text} == {one.text for one in pan_words(editor)}


def test_that_what_to_try_comes_in_the_order_of_the_file_and_only_when_called_for(shelf: Shelf):
    editor = Editor(Job(), shelf, Preferences())
    assert what_to_try(editor) == ()
    editor.add_row("tests")
    if not editor.row_count("tests.0.readings"):
        editor.add_row("tests.0.readings")
    editor.enter("tests.0.setup.target_pressure", "25")
    editor.enter("tests.0.readings.0.duct_pressure", "8")
    editor.enter("tests.0.readings.0.indicated_flow", "600 cfm")
    steps = what_to_try(editor)
    assert steps
    assert [step.id for step in steps] == [
        step.id for step in shelf.guidance if "pressure_too_low" in step.codes
    ]


def test_that_a_step_recorded_as_done_is_not_said_again(shelf: Shelf):
    editor = Editor(Job(), shelf, Preferences())
    editor.add_row("tests")
    if not editor.row_count("tests.0.readings"):
        editor.add_row("tests.0.readings")
    editor.enter("tests.0.setup.target_pressure", "25")
    editor.enter("tests.0.readings.0.duct_pressure", "8")
    editor.enter("tests.0.readings.0.indicated_flow", "600 cfm")
    before = [step.id for step in what_to_try(editor)]
    assert {"filter", "dampers"} <= set(before)
    editor.choose("tests.0.setup.filter_removed", "yes")
    editor.choose("tests.0.setup.fresh_air_sealed", "no")
    assert [step.id for step in what_to_try(editor)] == [one for one in before if one != "filter"]
