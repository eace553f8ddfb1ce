"""Whatever is done to a job can be taken back, and brought back again, to an equal job."""

from __future__ import annotations

from datetime import datetime
from io import BytesIO
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import Image

from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.domain.drawing import Item, Shape
from deskapp.domain.job import Job
from deskapp.session import drawing, photos, safety_desk
from deskapp.session.editor import Editor
from deskapp.session.live.paste import parse_pasted
from deskapp.session.live.placing import place_readings
from deskapp.session.opening import new_job
from deskapp.session.pages import page_of
from deskapp.session.photo_intake import offered_file, take_in_all
from deskapp.session.resources import Shelf, load_shelf
from deskapp.session.settings import Preferences
from tests.job_lists import LISTS

READINGS = "tests.0.readings"
TEXTS = ("", "12", "1,520 ft2", "soon", "2026-03-11", "-25.1 Pa")
TYPED = ("number", "systems.0.area_served", "tests.0.tested_on", f"{READINGS}.0.fan_signal")


@pytest.fixture(scope="module")
def shelf() -> Shelf:
    return load_shelf(resources_folder(), templates_folder())


@pytest.fixture(scope="module")
def picture(tmp_path_factory: pytest.TempPathFactory) -> Path:
    buffer = BytesIO()
    Image.new("RGB", (64, 48), "gray").save(buffer, "PNG")
    path = tmp_path_factory.mktemp("pictures") / "boot.png"
    path.write_bytes(buffer.getvalue())
    return path


def _act(editor: Editor, kind: str, number: int, text: str, picture: Path) -> None:
    """Do one of the things a person can do, if the job has the place for it as it stands."""
    if kind == "enter":
        editor.enter(TYPED[number % len(TYPED)], text)
    elif kind == "choose":
        editor.choose("tests.0.setup.direction", ("pressurize", "depressurize", None)[number % 3])
    elif kind == "add row":
        list_path = LISTS[number % len(LISTS)].replace("*", "0")
        editor.add_row(list_path)
    elif kind == "remove row" and editor.row_count("leaks"):
        editor.remove_row(f"leaks.{number % editor.row_count('leaks')}")
    elif kind == "photo":
        taken = take_in_all([offered_file(picture)], editor.preferences)
        assert taken.refused == ()
        photos.add(editor, "photos", taken)
    elif kind == "no photo" and editor.row_count("photos"):
        photos.remove(editor, "photos.0")
    elif kind == "caption" and editor.row_count("photos"):
        editor.enter("photos.0.caption", text)
    elif kind == "move photo" and editor.row_count("photos"):
        photos.move(editor, "photos.0", number % 3 - 1)
    elif kind == "mark" and editor.row_count("photos"):
        arrow = Item(shape=Shape.ARROW, x=0.2, y=0.4, to_x=0.5, to_y=number / 50)
        drawing.draw_on_photo(editor, "photos.0", (arrow,), "draw arrow")
    elif kind == "sketch":
        items = (Item(shape=Shape.WALL, x=0.1, y=0.1, to_x=0.9, to_y=number / 50),)
        drawing.draw_sketch(editor, items, "draw line")
    elif kind == "list":
        safety_desk.start_list(editor)
    elif kind == "limit":
        editions = editor.shelf.editions
        editor.choose_limit(editions[number % len(editions)].id)
    elif kind == "no limit" and editor.job.compliance.limits:
        editor.drop_limit(editor.job.compliance.limits[0].key)
    elif kind == "paste":
        rows = parse_pasted(f"-25.1\t60\n-25.{number}\t{text}", "duct_pressure").rows
        place_readings(editor, READINGS, rows, 0)
    elif kind == "live":
        place_readings(editor, READINGS, [{"duct_pressure": f"-{number} Pa", "note": text}])


KINDS = (
    *("enter", "choose", "add row", "remove row", "photo", "no photo"),
    *("limit", "no limit", "paste", "live", "caption", "move photo", "mark", "sketch", "list"),
)
ACTS = st.tuples(st.sampled_from(KINDS), st.integers(0, 40), st.sampled_from(TEXTS))


@given(acts=st.lists(ACTS, min_size=1, max_size=14))
@settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
def test_that_every_edit_undoes_and_redoes_to_an_equal_job(
    acts: list[tuple[str, int, str]], filled_job: Job, shelf: Shelf, picture: Path
) -> None:
    editor = Editor(filled_job, shelf, Preferences())
    for kind, number, text in acts:
        _act(editor, kind, number, text, picture)
    after, pictures = editor.job, editor.photos
    words: list[str] = []
    states = [after]
    while editor.undo_label:
        words.append(editor.undo_label.removeprefix("Undo "))
        editor.undo()
        states.append(editor.job)
    assert editor.job == filled_job
    assert not editor.is_dirty, "undone back to the saved state"
    assert all(words)
    for expected, what in zip(reversed(states[:-1]), reversed(words), strict=True):
        assert editor.redo_label == f"Redo {what}"
        editor.redo()
        assert editor.job == expected
    assert editor.job == after
    assert editor.photos == pictures


@pytest.mark.parametrize("size", [1, 3])
def test_that_saving_keeps_what_can_be_undone(editor: Editor, size: int) -> None:
    before = editor.job
    place_readings(editor, READINGS, [{"duct_pressure": f"-2{n}"} for n in range(size)])
    editor.mark_saved(Path("a.ductjob"))
    assert not editor.is_dirty
    editor.undo()
    assert editor.job == before
    assert editor.is_dirty
    editor.redo()
    assert not editor.is_dirty


def test_that_undo_and_redo_tell_what_they_changed_and_where(shelf: Shelf) -> None:
    editor = new_job(shelf, Preferences())
    assert editor.undo() is None
    editor.choose("safety.gas_smell", "yes")
    assert (
        safety_desk.acknowledge(
            editor, "gas_smell", "Kim Example", "Valve shut by gas company", datetime(2026, 3, 11)
        )
        == ()
    )
    editor.enter("house.floor_area", "2,640 ft2")
    area, acknowledged = editor.undo(), editor.undo()
    assert area is not None
    assert (area.page, area.path, area.is_about_safety) == ("house", "house.floor_area", False)
    assert area.text(shelf) == "Undone: conditioned floor area (page “House and systems”)."
    assert acknowledged is not None
    assert (acknowledged.page, acknowledged.is_about_names) == ("safety", True)
    assert acknowledged.opened == ("gas_smell",)
    answer = editor.undo()
    assert answer is not None
    assert answer.opened == (), "a stop that is no longer called for is not open"
    assert editor.redo() is not None
    again = editor.redo()
    assert again is not None
    assert (again.is_back, again.answered) == (False, ("gas_smell",))


def test_that_every_list_of_a_job_stands_on_a_page_undo_can_turn_to() -> None:
    # No undo touches the reports that were issued.
    lists = [name for name, value in Job() if isinstance(value, tuple) and name != "issued"]
    assert "acknowledgments" in lists
    assert [name for name in lists if not page_of(f"{name}.0")] == []
