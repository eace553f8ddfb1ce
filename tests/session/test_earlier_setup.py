from __future__ import annotations

from pathlib import Path

import pytest

from deskapp.archive import job_file
from deskapp.domain.job import Job
from deskapp.session.earlier_setup import EarlierSetUp, copy_setup, setups_in, setups_of_files
from deskapp.session.editor import Editor
from deskapp.session.opening import new_job
from deskapp.session.resources import Shelf
from deskapp.session.settings import Preferences


def earlier(job: Job, position: int = 0) -> EarlierSetUp:
    return setups_in(job, "Earlier", Preferences())[position]


def new() -> Editor:
    return new_job(Shelf(), Preferences())


@pytest.fixture
def done() -> Editor:
    """An invented job with one test that was read."""
    editor = new()
    for path, text in {
        "gauges.0.description": "Gauge A",
        "gauges.0.serial": "G-1",
        "fans.0.description": "Fan A",
        "fans.0.serial": "F-1",
        "fans.0.rings.0.flow_low": "20 cfm",
        "fans.0.rings.0.flow_high": "150 cfm",
        "tests.0.label": "First test",
        "tests.0.setup.target_pressure": "25 Pa",
        "tests.0.setup.fan_attachment": "Return grille",
        "tests.0.setup.tap_location": "Supply boot",
        "tests.0.baseline_before": "0.4 Pa",
        "tests.0.ambient.indoor_temperature": "70 °F",
        "tests.0.readings.0.duct_pressure": "-25 Pa",
    }.items():
        editor.enter(path, text)
    editor.choose("tests.0.setup.direction", "depressurize")
    editor.choose("tests.0.setup.gauge", editor.job.gauges[0].key)
    editor.choose("tests.0.setup.fan", editor.job.fans[0].key)
    editor.choose("tests.0.setup.ring", editor.job.fans[0].rings[0].key)
    return editor


def test_that_a_set_up_comes_with_its_instruments_and_ring_as_one_step(done: Editor):
    editor = new()
    before = editor.job
    lines = copy_setup(editor, 0, earlier(done.job))
    job = editor.job
    setup = job.tests[0].setup
    gauge, fan = job.gauge(setup.gauge), job.fan(setup.fan)
    assert gauge is not None
    assert gauge.serial == "G-1"
    assert fan is not None
    assert fan.serial == "F-1"
    assert setup.ring == fan.rings[0].key
    assert len(job.gauges) == len(job.fans) == 1, "the empty rows of a new job were used"
    assert "Direction: Depressurized" in lines
    assert any(line.startswith("Ring fitted: 20") for line in lines)
    assert lines == tuple(dict.fromkeys(lines))
    assert editor.undo_label == "Undo set-up of Earlier: First test"
    editor.undo()
    assert editor.job == before


OF_THAT_HOUSE = {
    "fan_attachment": "Return grille",
    "tap_location": "Supply boot",
    "supplies_sealed": "8",
    "returns_sealed": "2",
    "house_openings": "All closed",
    "exponent": "0.65",
}


def test_that_nothing_of_the_other_house_and_day_comes_out_of_another_job(done: Editor):
    for name, text in OF_THAT_HOUSE.items():
        done.enter(f"tests.0.setup.{name}", text)
    for name in ("filter_removed", "fresh_air_sealed"):
        done.choose(f"tests.0.setup.{name}", "yes")
    done.choose("tests.0.setup.stage", "final")
    done.choose("tests.0.setup.part", "supply")
    editor = new()
    copy_setup(editor, 0, earlier(done.job))
    setup, there = editor.job.tests[0].setup, done.job.tests[0].setup
    bare = type(setup)()
    kept = {
        name for name in type(setup).model_fields if getattr(there, name) != getattr(bare, name)
    }
    assert {*OF_THAT_HOUSE, "filter_removed", "fresh_air_sealed", "stage", "part"} < kept
    came = {
        name for name in type(setup).model_fields if getattr(setup, name) != getattr(bare, name)
    }
    assert came == {"direction", "target_pressure", "gauge", "fan", "ring"}
    done.add_row("tests")
    done.enter("tests.1.setup.supplies_sealed", "3")
    copy_setup(done, 1, earlier(done.job))
    assert done.job.tests[1].setup == there, "within one job it is the same house"


def test_that_readings_baseline_air_and_label_stay_behind(done: Editor):
    editor = new()
    before = editor.job.tests[0]
    copy_setup(editor, 0, earlier(done.job))
    after = editor.job.tests[0]
    assert after.model_copy(update={"setup": before.setup}) == before


def test_that_an_instrument_the_job_has_already_is_pointed_at(done: Editor):
    editor = new()
    editor.enter("gauges.0.description", "Another")
    editor.add_row("gauges")
    editor.enter("gauges.1.serial", "g-1")
    copy_setup(editor, 0, earlier(done.job))
    assert editor.row_count("gauges") == 2
    assert editor.job.tests[0].setup.gauge == editor.job.gauges[1].key


def test_that_a_test_of_the_same_job_takes_over_the_set_up_as_before(done: Editor):
    done.add_row("tests")
    done.enter("tests.1.setup.fan_attachment", "Elsewhere")
    before = done.job
    copy_setup(done, 1, earlier(done.job))
    assert done.job.tests[1].setup == done.job.tests[0].setup
    assert done.job.gauges == before.gauges
    assert done.job.fans == before.fans


def test_that_what_was_left_empty_changes_nothing(done: Editor):
    editor = new()
    editor.enter("tests.0.setup.house_openings", "All closed")
    copy_setup(editor, 0, earlier(done.job))
    assert editor.value_at("tests.0.setup.house_openings") == "All closed"
    with pytest.raises(KeyError):
        copy_setup(editor, 7, earlier(done.job))


def test_that_set_ups_are_listed_from_files_and_an_unreadable_one_is_told(
    done: Editor, tmp_path: Path
):
    done.enter("number", "J-9")
    job_file.write(tmp_path / "a.ductjob", done.job, {})
    (tmp_path / "b.ductjob").write_bytes(b"no zip")
    found, why = setups_of_files((tmp_path / "a.ductjob", tmp_path / "b.ductjob"), Preferences())
    assert [one.title for one in found] == ["J-9: First test"]
    assert found[0].detail == "System 1, Return grille, Supply boot"
    assert "b.ductjob" in why
    assert setups_of_files((), Preferences()) == ((), "")
