from __future__ import annotations

import pytest

from deskapp.domain import paths
from deskapp.domain.job import Job
from deskapp.domain.trial import Reading
from deskapp.session.editor import Editor
from deskapp.session.resources import Shelf
from deskapp.session.settings import Preferences

TEST = "tests.0"


def fresh() -> Editor:
    return Editor(Job(), Shelf(), Preferences())


def test_that_new_systems_are_numbered_and_have_keys_of_their_own():
    editor = fresh()
    assert [editor.add_row("systems") for _row in range(3)] == [f"systems.{n}" for n in range(3)]
    assert [(s.key, s.name) for s in editor.job.systems] == [
        ("s1", "System 1"),
        ("s2", "System 2"),
        ("s3", "System 3"),
    ]


def test_that_a_new_system_copies_no_figure_and_nothing_that_picks_a_limit_by_itself():
    editor = fresh()
    editor.add_row("systems")
    editor.enter("systems.0.area_served", "1,520")
    editor.choose("systems.0.air_handler_installed", "yes")
    editor.choose("systems.0.duct_location", "attic")
    editor.add_row("systems")
    second = editor.job.systems[1]
    assert second.area_served is None
    assert second.air_handler_installed is None
    assert second.duct_location == "attic"


def test_that_a_new_test_copies_set_up_air_and_system_but_never_readings(editor: Editor):
    editor.choose("tests.0.system", "s1")
    editor.choose("tests.0.setup.ring", "r1")
    editor.enter("tests.0.setup.target_pressure", "25")
    editor.enter("tests.0.ambient.indoor_temperature", "72")
    editor.enter("tests.0.baseline_before", "-0.4")
    editor.enter("tests.0.readings.0.fan_signal", "80")
    editor.enter("tests.0.tested_on", "2026-03-11")
    editor.add_row("tests")
    first, second = editor.job.tests
    assert (second.system, second.setup, second.ambient) == ("s1", first.setup, first.ambient)
    assert second.readings == ()
    assert second.baseline_before is None
    assert second.tested_on is None
    assert second.key != first.key


DONE = {
    "fan_attachment": "Return in the hall",
    "tap_location": "Plenum",
    "supplies_sealed": "9",
    "returns_sealed": "1",
}


def done_at(editor: Editor, position: int) -> tuple[str, ...]:
    setup = f"tests.{position}.setup"
    texts = (editor.entry_text(f"{setup}.{name}") for name in DONE)
    return (*texts, str(editor.value_at(f"{setup}.filter_removed") or ""))


def with_first_test_done(editor: Editor) -> None:
    editor.choose("tests.0.system", "s1")
    editor.enter("tests.0.setup.target_pressure", "25")
    for name, text in DONE.items():
        editor.enter(f"tests.0.setup.{name}", text)
    editor.choose("tests.0.setup.filter_removed", "yes")
    editor.enter("tests.0.readings.0.fan_signal", "80")


def test_that_the_next_test_is_of_the_next_system_without_one_and_of_what_was_done_there(
    editor: Editor,
):
    with_first_test_done(editor)
    editor.add_row("tests")
    assert editor.job.tests[1].system == "s1", "there is no other system"
    assert done_at(editor, 1) == (*DONE.values(), "yes"), "a retest finds the same seals"
    editor.undo()
    editor.add_row("systems")
    editor.add_row("tests")
    assert editor.job.tests[1].system == "s2"
    assert done_at(editor, 1) == ("", "", "", "", "")
    assert editor.entry_text("tests.1.setup.target_pressure") == "25"


def test_that_a_test_moved_to_another_system_leaves_behind_what_it_took_over(editor: Editor):
    with_first_test_done(editor)
    editor.add_row("tests")
    editor.add_row("systems")
    editor.choose("tests.1.system", "s2")
    assert done_at(editor, 1) == ("", "", "", "", "")
    editor.undo()
    assert done_at(editor, 1) == (*DONE.values(), "yes"), "one step brings all of it back"
    editor.enter("tests.1.setup.supplies_sealed", "7")
    editor.choose("tests.1.system", "s2")
    assert done_at(editor, 1)[2] == "7", "what was typed for this test stays"


def test_that_a_test_that_was_read_keeps_its_set_up_when_its_system_is_corrected(editor: Editor):
    with_first_test_done(editor)
    editor.add_row("tests")
    editor.add_row("systems")
    editor.add_row("tests.1.readings")
    editor.enter("tests.1.readings.0.fan_signal", "60")
    editor.choose("tests.1.system", "s2")
    assert done_at(editor, 1) == (*DONE.values(), "yes")


def test_that_a_new_reading_copies_nothing(editor: Editor):
    editor.enter("tests.0.readings.0.fan_signal", "80")
    editor.add_row("tests.0.readings")
    assert editor.job.tests[0].readings[1] == Reading()


def test_that_the_first_test_and_leak_take_the_only_system():
    editor = fresh()
    editor.add_row("systems")
    editor.add_row("tests")
    editor.add_row("leaks")
    assert editor.job.tests[0].system == "s1"
    assert editor.job.leaks[0].system == "s1"


def test_that_with_two_systems_nobody_guesses_which_one_was_tested():
    editor = fresh()
    editor.add_row("systems")
    editor.add_row("systems")
    editor.add_row("tests")
    assert editor.job.tests[0].system == ""


def test_that_a_new_leak_copies_its_system_and_how_it_was_found(editor: Editor):
    editor.choose("leaks.0.found_by", "smoke")
    editor.enter("leaks.0.place", "Return drop")
    editor.add_row("leaks")
    leak = editor.job.leaks[1]
    assert (leak.system, leak.found_by, leak.place) == ("s1", "smoke", "")


def test_that_rings_of_different_fans_have_different_keys(editor: Editor):
    editor.add_row("fans")
    editor.add_row("fans.1.rings")
    keys = [ring.key for fan in editor.job.fans for ring in fan.rings]
    assert len(set(keys)) == len(keys) == 2


def test_that_removing_a_row_empties_what_pointed_at_it_in_one_step(editor: Editor):
    editor.choose("tests.0.setup.fan", "f1")
    editor.choose("tests.0.setup.ring", "r1")
    editor.choose("tests.0.setup.gauge", "g1")
    before = editor.job
    editor.remove_row("fans.0")
    setup = editor.job.tests[0].setup
    assert (setup.fan, setup.ring, setup.gauge) == ("", "", "g1")
    editor.undo()
    assert editor.job == before
    editor.remove_row("gauges.0")
    editor.remove_row("systems.0")
    assert editor.job.tests[0].setup.gauge == ""
    assert editor.job.tests[0].system == ""
    assert editor.job.leaks[0].system == ""


def test_that_removing_one_ring_leaves_tests_with_another_one(editor: Editor):
    editor.add_row("fans.0.rings")
    editor.choose("tests.0.setup.ring", "r2")
    editor.remove_row("fans.0.rings.0")
    assert editor.job.tests[0].setup.ring == "r2"


def test_that_a_key_that_something_still_points_at_is_not_given_again():
    job = Job.model_validate({"tests": [{"key": "t1", "system": "s1"}]})
    editor = Editor(job, Shelf(), Preferences())
    editor.add_row("systems")
    assert editor.job.systems[0].key == "s2"


@pytest.mark.parametrize(
    ("list_path", "label"),
    [
        ("systems", "system 2"),
        ("gauges", "gauge 2"),
        ("fans", "fan 2"),
        ("fans.0.rings", "ring 2 (fan 1)"),
        ("tests", "test 2"),
        ("tests.0.readings", "reading 2 (test 1)"),
        ("leaks", "leak 2"),
    ],
)
def test_that_adding_and_removing_any_row_is_undone_to_an_equal_job(
    list_path: str, label: str, editor: Editor
):
    before = editor.job
    path = editor.add_row(list_path)
    assert path == f"{list_path}.1"
    assert editor.row_count(list_path) == 2
    assert editor.undo_label == f"Undo add {label}"
    after = editor.job
    editor.remove_row(path)
    assert editor.undo_label == f"Undo remove {label}"
    assert editor.job == before
    editor.undo()
    assert editor.job == after
    editor.undo()
    assert editor.job == before
    assert editor.redo_label == f"Redo add {label}"


@pytest.mark.parametrize("list_path", ["compliance.limits", "photos", "leaks.0.photos"])
def test_that_a_list_without_blank_rows_takes_none(list_path: str, editor: Editor):
    with pytest.raises(KeyError):
        editor.add_row(list_path)


@pytest.mark.parametrize("path", ["systems.5", "systems", "fans.0.rings.x", "tests.9.readings.0"])
def test_that_a_row_that_is_not_there_cannot_be_removed(path: str, editor: Editor):
    before = editor.job
    with pytest.raises(KeyError):
        editor.remove_row(path)
    assert editor.job is before


def test_that_a_pasted_column_fills_downwards_as_one_step(editor: Editor):
    before = editor.job
    column = ("80.1", "80,3", "", "81 Pa")
    editor.enter_block("tests.0.readings", 0, [{"fan_signal": text} for text in column])
    readings = editor.job.tests[0].readings
    assert [paths.get(r, "fan_signal.typed") if r.fan_signal else None for r in readings] == [
        "80.1",
        "80,3",
        None,
        "81 Pa",
    ]
    assert [r.fan_signal.si if r.fan_signal else None for r in readings] == [80.1, None, None, 81]
    found = editor.finding_at("tests.0.readings.1.fan_signal")
    assert found is not None
    assert "reading 2" in found.what
    editor.undo()
    assert editor.job == before


def test_that_pasting_what_already_stands_there_is_no_step(editor: Editor):
    editor.enter_block("tests.0.readings", 0, [])
    editor.enter_block("tests.0.readings", 0, [{"fan_signal": " "}])
    assert editor.undo_label == ""
