from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from deskapp.domain.job import Job
from deskapp.session.editor import Editor
from deskapp.session.opening import JobFileProblem, new_job, open_job
from deskapp.session.resources import Shelf
from deskapp.session.samples import list_samples, open_sample
from deskapp.session.saving import save, save_as
from deskapp.session.settings import Preferences

PREFERENCES = Preferences()


def as_text(title: str) -> str:
    return json.dumps({"format": "ductfolio-job", "version": 1, "job": {"title": title}})


@pytest.fixture
def shelf(tmp_path: Path) -> Shelf:
    """A shelf with three invented samples and some things that are none."""
    folder = tmp_path / "sample_jobs"
    (folder / "a_house").mkdir(parents=True)
    (folder / "a_house" / "job.json").write_text(as_text("A house"))
    (folder / "larkspur.json").write_text(as_text("Two systems"))
    (folder / "untitled.json").write_text(as_text(""))
    (folder / "damaged.json").write_text("{")
    (folder / "README.md").write_text("no job")
    (folder / "empty").mkdir()
    return Shelf(sample_jobs=folder)


def test_that_a_new_job_has_a_row_in_each_list_and_nothing_to_undo_or_save():
    editor = new_job(Shelf(), PREFERENCES)
    job = editor.job
    assert [len(rows) for rows in (job.systems, job.gauges, job.fans, job.tests)] == [1, 1, 1, 1]
    assert job.tests[0].system == job.systems[0].key
    assert not editor.is_dirty
    assert editor.undo_label == ""
    assert editor.path is None


def test_that_a_saved_job_opens_as_it_was(tmp_path: Path, editor: Editor):
    editor.enter("title", "Half done")
    editor.enter("systems.0.area_served", "not yet known")
    path = save_as(editor, tmp_path / "half.ductjob")
    assert not editor.is_dirty
    assert editor.path == path
    again = open_job(path, Shelf(), PREFERENCES)
    assert again.job == editor.job
    assert again.path == path
    assert again.findings == editor.findings


def test_that_saving_again_needs_no_name(tmp_path: Path, editor: Editor):
    path = save_as(editor, tmp_path / "job.ductjob")
    editor.enter("title", "Changed")
    assert save(editor) == path
    assert open_job(path, Shelf(), PREFERENCES).job.title == "Changed"


def test_that_a_job_without_a_file_asks_for_a_name(editor: Editor):
    with pytest.raises(JobFileProblem) as caught:
        save(editor)
    assert caught.value.code == "no-name"


@pytest.mark.parametrize("name", ["Smith", "Smith.v2", "Smith.DUCTJOB", "Smith.ductjob"])
def test_that_the_ending_of_job_files_is_added_if_missing(
    tmp_path: Path, name: str, editor: Editor
):
    path = save_as(editor, tmp_path / name)
    assert path.suffix.lower() == ".ductjob"
    assert path.name.lower().startswith(name.lower().removesuffix(".ductjob"))
    assert path.is_file()


def test_that_a_save_that_does_not_work_leaves_the_job_unsaved(tmp_path: Path, editor: Editor):
    editor.enter("title", "Changed")
    with pytest.raises(JobFileProblem):
        save_as(editor, tmp_path / "no such folder" / "job.ductjob")
    assert editor.is_dirty
    assert editor.path is None


def test_that_a_job_made_by_hand_opens_as_a_copy_without_a_file(tmp_path: Path):
    path = tmp_path / "job.json"
    path.write_text(as_text("By hand"))
    for opened in (open_job(path, Shelf(), PREFERENCES), open_job(tmp_path, Shelf(), PREFERENCES)):
        assert opened.job == Job(title="By hand")
        assert opened.path is None


def test_that_what_is_no_job_file_is_told_in_words(tmp_path: Path):
    for content in (b"", b"\x00" * 100, b"PK\x03\x04 cut off"):
        path = tmp_path / "job.ductjob"
        path.write_bytes(content)
        with pytest.raises(JobFileProblem) as caught:
            open_job(path, Shelf(), PREFERENCES)
        assert "job.ductjob" in caught.value.text


def test_that_samples_are_listed_with_the_default_first_and_no_damaged_ones(shelf: Shelf):
    assert [(sample.id, sample.title) for sample in list_samples(shelf)] == [
        ("larkspur", "Two systems"),
        ("a_house", "A house"),
        ("untitled", "untitled"),
    ]
    assert list_samples(Shelf()) == ()


def test_that_a_sample_opens_as_a_copy_without_a_file(shelf: Shelf):
    default, other = (open_sample(name, shelf, PREFERENCES) for name in ("", "a_house"))
    assert default.job.title == "Two systems"
    assert other.job.title == "A house"
    assert default.path is None
    assert not default.is_dirty


def test_that_an_unknown_sample_names_the_known_ones(shelf: Shelf):
    with pytest.raises(JobFileProblem) as caught:
        open_sample("castle", shelf, PREFERENCES)
    assert "castle" in caught.value.text
    assert "a_house" in caught.value.text


def test_that_opening_and_saving_load_neither_the_drawing_nor_the_unit_library():
    code = (
        "import sys, deskapp.session.opening, deskapp.session.saving, deskapp.session.settings; "
        "big = {'pint', 'reportlab', 'PIL', 'numpy', 'scipy', 'PySide6'}; "
        "print(sorted(big & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
