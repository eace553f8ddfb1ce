from __future__ import annotations

from pathlib import Path

import pytest

from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.domain.field_spec import Form
from deskapp.domain.fields import field_at
from deskapp.domain.job import Job
from deskapp.session import usual
from deskapp.session.carry import SET_UP
from deskapp.session.editor import Editor
from deskapp.session.opening import new_job
from deskapp.session.resources import Shelf, load_shelf
from deskapp.session.settings import Preferences

ENTRIES = {
    "tester.name": "Robin Vale",
    "tester.company": "Vale Duct Testing",
    "tester.certification": "L-0042",
    "site.region": "Idaho",
    "tests.0.setup.target_pressure": "25 Pa",
    "tests.0.setup.fan_attachment": "Return grille",
    "tests.0.setup.tap_location": "Supply nearest the air handler",
    "number": "J-1",
    "client.name": "Somebody",
    "tests.0.baseline_before": "0.3",
    "tests.0.readings.0.duct_pressure": "-25",
    "tester.signed_by": "R. Vale",
}
NOT_CARRIED = ("number", "client.name", "tests.0.baseline_before", "tester.signed_by")


@pytest.fixture(scope="module")
def shelf() -> Shelf:
    return load_shelf(resources_folder(), templates_folder())


def entered(shelf: Shelf) -> Editor:
    editor = new_job(shelf, Preferences())
    for path, text in ENTRIES.items():
        editor.enter(path, text)
    editor.choose("tests.0.setup.direction", "depressurize")
    editor.choose("systems.0.air_handler_installed", "no")
    editor.choose_limit("iecc-2018")
    return editor


def test_that_a_new_job_starts_with_what_was_kept_and_nothing_of_one_house(
    shelf: Shelf, tmp_path: Path
):
    assert usual.keep(tmp_path / "new", entered(shelf).job) is None
    held, findings = usual.load(tmp_path / "new")
    assert findings == ()
    new = new_job(shelf, Preferences(), held)
    for path, text in ENTRIES.items():
        if path in NOT_CARRIED or ".readings." in path:
            assert new.value_at(path) in (None, ""), path
        else:
            assert new.entry_text(path) == text
    assert new.value_at("tests.0.setup.direction") == "depressurize"
    assert new.value_at("systems.0.air_handler_installed") == "no"
    assert [limit.edition.id for limit in new.job.compliance.limits] == ["iecc-2018"]
    assert not new.is_dirty
    assert new.row_count("gauges") == new.row_count("fans") == 1


def test_that_an_edition_is_taken_from_the_shelf_as_it_stands_now(shelf: Shelf):
    job = entered(shelf).job
    (limit,) = job.compliance.limits
    older = limit.model_copy(update={"edition": limit.edition.model_copy(update={"rows": ()})})
    compliance = job.compliance.model_copy(update={"limits": (older,)})
    held = job.model_copy(update={"compliance": compliance})
    new = new_job(shelf, Preferences(), held)
    assert new.job.compliance.limits[0].edition == shelf.edition("iecc-2018")


def test_that_without_a_file_new_jobs_are_empty_and_nothing_is_said(tmp_path: Path):
    assert usual.load(tmp_path) == (Job(), ())


def test_that_a_damaged_file_is_named_and_new_jobs_still_open(shelf: Shelf, tmp_path: Path):
    (tmp_path / usual.FILE_NAME).write_bytes(b"no zip")
    held, (finding,) = usual.load(tmp_path)
    assert finding.mend
    assert new_job(shelf, Preferences(), held).job == (new_job(shelf, Preferences()).job)


def test_that_a_folder_in_the_way_is_said(shelf: Shelf, tmp_path: Path):
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    finding = usual.keep(tmp_path / "file", entered(shelf).job)
    assert finding is not None
    assert "not kept" in finding.what


def test_that_the_usual_fields_are_of_the_table_and_point_at_no_row():
    for section in usual.USUAL_SECTIONS:
        for path in section.fields:
            assert field_at(path).form is not Form.REFERENCE
    assert not any("reading" in path or "baseline" in path for path in SET_UP)


def test_that_editing_them_offers_one_system_and_one_test(shelf: Shelf):
    editor = usual.editor_of(Job(), shelf, Preferences())
    assert editor.row_count("systems") == editor.row_count("tests") == 1
    assert not editor.is_dirty


def test_that_an_invented_example_among_the_usual_limits_goes_into_no_new_job(shelf: Shelf):
    editor = entered(shelf)
    editor.choose_limit("sample-retrofit-program")
    kept = usual.usual_of(editor.job)
    assert "sample-retrofit-program" in [one.edition.id for one in kept.compliance.limits]
    new = new_job(shelf, Preferences(), usual=kept)
    assert [limit.edition.id for limit in new.job.compliance.limits] == ["iecc-2018"]
