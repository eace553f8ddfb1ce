from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.session.resources import (
    CAUTIONS,
    GUIDANCE,
    LEAK_LOCATIONS,
    MATERIALS,
    PAN_BANDS,
    PHOTO_CHECKLIST,
    load_shelf,
)


@pytest.fixture
def copied(tmp_path: Path) -> Path:
    """The folders of the program's data, to be damaged at will, and a template."""
    for name in ("limits", "leaks", "safety", "screening", "guidance", "photos"):
        shutil.copytree(resources_folder() / name, tmp_path / name)
    (tmp_path / "plain.toml").touch()
    return tmp_path


def test_that_the_shelf_of_the_program_is_whole():
    shelf = load_shelf(resources_folder(), templates_folder())
    assert shelf.problems == ()
    assert shelf.templates.keys() == {"homeowner", "compliance", "technical", "retest"}
    assert len(shelf.editions) > 20
    assert len({location.id for location in shelf.leak_locations}) == len(shelf.leak_locations) > 20
    assert len({one.id for one in shelf.materials}) == len(shelf.materials) > 5
    assert len({caution.id for caution in shelf.cautions}) == len(shelf.cautions) > 20
    assert len({band.id for band in shelf.pan_bands}) == len(shelf.pan_bands) > 2
    assert len({step.id for step in shelf.guidance}) == len(shelf.guidance) > 5
    assert len({subject.id for subject in shelf.photo_subjects}) == len(shelf.photo_subjects) > 5


def test_that_an_edition_is_found_by_its_id():
    shelf = load_shelf(resources_folder(), templates_folder())
    first = shelf.editions[0]
    assert shelf.edition(first.id) is first
    assert shelf.edition("none such") is None


def test_that_the_users_own_limits_are_added(copied: Path, tmp_path: Path):
    own = tmp_path / "own"
    own.mkdir()
    text = (copied / "limits" / "iecc_2021.toml").read_text(encoding="utf-8")
    before, mark, after = text.partition('id = "')
    _old_id, _quote, rest = after.partition('"')
    (own / "ours.toml").write_text(f'{before}{mark}ours"{rest}', encoding="utf-8")
    shelf = load_shelf(copied, copied, own)
    assert shelf.edition("ours") is not None
    assert len(shelf.editions) == len(load_shelf(copied, copied).editions) + 1


@pytest.mark.parametrize(
    "name", [LEAK_LOCATIONS, MATERIALS, CAUTIONS, PAN_BANDS, GUIDANCE, PHOTO_CHECKLIST]
)
@pytest.mark.parametrize("text", ["not = toml =", "other = 1", None])
def test_that_a_data_file_that_cannot_be_read_is_named_and_the_rest_stays(
    copied: Path, name: str, text: str | None
):
    path = copied / name
    if text is None:
        path.unlink()
    else:
        path.write_text(text, encoding="utf-8")
    shelf = load_shelf(copied, copied)
    assert [path.name in problem.what for problem in shelf.problems] == [True]
    parts = (
        shelf.cautions,
        shelf.leak_locations,
        shelf.materials,
        shelf.pan_bands,
        shelf.guidance,
        shelf.photo_subjects,
    )
    assert sum(not part for part in parts) == 1
    assert shelf.editions


def test_that_one_row_that_cannot_be_read_is_named_by_number_and_left_out(copied: Path):
    whole = load_shelf(copied, copied)
    path = copied / LEAK_LOCATIONS
    text = path.read_text(encoding="utf-8").replace('severity = "major"', 'severity = "huge"', 1)
    path.write_text(text, encoding="utf-8")
    shelf = load_shelf(copied, copied)
    assert len(shelf.leak_locations) == len(whole.leak_locations) - 1
    (problem,) = shelf.problems
    assert "row " in problem.what
    assert "severity" in problem.what


def test_that_a_folder_without_templates_is_reported(copied: Path, tmp_path: Path):
    shelf = load_shelf(copied, tmp_path / "nowhere")
    assert [problem.code for problem in shelf.problems] == ["no-templates"]
