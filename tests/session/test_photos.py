"""Pictures in a job: taken in many at once, put in order, drawn on, listed. Invented pictures."""

from __future__ import annotations

from hashlib import sha256
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from deskapp.archive import job_file
from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.domain.drawing import Item, Shape
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.i18n import LANGUAGES, speaking
from deskapp.session import drawing, photos, signature
from deskapp.session.editor import Editor
from deskapp.session.pages import page_of
from deskapp.session.photo_checklist import checklist
from deskapp.session.photo_intake import offered_file, take_in_all
from deskapp.session.resources import Shelf, load_shelf
from deskapp.session.settings import Preferences

KEEP_ALL = Preferences(keep_original_photos=True, keep_photo_place=True)
ARROW = Item(shape=Shape.ARROW, x=0.1, y=0.2, to_x=0.5, to_y=0.6)


@pytest.fixture
def picture(tmp_path: Path) -> Path:
    return saved(tmp_path / "boot.png", "gray")


@pytest.fixture(scope="module")
def shelf() -> Shelf:
    return load_shelf(resources_folder(), templates_folder())


def saved(path: Path, color: str) -> Path:
    Image.new("RGB", (64, 48), color).save(path)
    return path


def attach(editor: Editor, list_path: str, *files: Path) -> tuple[str, ...]:
    taken = take_in_all([offered_file(file) for file in files], editor.preferences)
    photos.add(editor, list_path, taken)
    return taken.refused


# Taking in


def test_that_a_picture_is_copied_into_the_job_and_can_be_undone(editor: Editor, picture: Path):
    before, original = editor.job, picture.read_bytes()
    assert attach(editor, "leaks.0.photos", picture) == ()
    (photo,) = editor.job.leaks[0].photos
    assert (photo.name, photo.width, photo.height) == ("boot.png", 64, 48)
    assert photo.original == sha256(original).hexdigest()
    with Image.open(BytesIO(editor.photos[photo.digest])) as stored:
        assert stored.size == (64, 48)
    assert picture.read_bytes() == original
    assert editor.undo_label == "Undo add photo 1 (leak 1)"
    editor.undo()
    assert editor.job == before
    assert editor.photos == {}
    editor.redo()
    assert photo.digest in editor.photos


def test_that_thirty_pictures_at_once_are_one_step_and_keep_their_order(
    editor: Editor, tmp_path: Path
):
    files = [saved(tmp_path / f"p{n:02}.png", f"#{n:02x}8040") for n in range(30)]
    attach(editor, "photos", *files)
    assert [photo.name for photo in editor.job.photos] == [file.name for file in files]
    assert editor.undo_label == "Undo add 30 photos"
    editor.undo()
    assert editor.job.photos == ()


def test_that_what_is_no_picture_is_named_with_the_reason_and_changes_nothing(
    editor: Editor, tmp_path: Path
):
    text, empty = tmp_path / "notes.jpg", tmp_path / "empty.png"
    text.write_text("not a picture")
    empty.touch()
    before = editor.job
    refused = attach(editor, "leaks.0.photos", text, empty, tmp_path / "gone.jpg", tmp_path)
    assert [
        name in words
        for name, words in zip(
            ("notes.jpg", "empty.png", "gone.jpg", tmp_path.name), refused, strict=True
        )
    ] == [True] * 4
    assert "No such file" in refused[2]
    assert "is a folder" in refused[3]
    assert editor.job is before
    assert editor.undo_label == ""


def test_that_the_work_can_be_ended_and_tells_how_many_are_left(tmp_path: Path):
    files = [saved(tmp_path / f"q{n}.png", "navy") for n in range(5)]
    told: list[tuple[int, str]] = []

    def tell(number: int, name: str) -> None:
        told.append((number, name))

    offers = [offered_file(file) for file in files]
    taken = take_in_all(offers, Preferences(), tell, lambda: len(told) < 3)
    assert told == [(1, "q0.png"), (2, "q1.png"), (3, "q2.png")]
    assert (len(taken.photos), taken.left) == (2, 3)


def test_that_the_original_is_kept_only_where_asked_and_comes_back_from_the_file(
    filled_job: Job, picture: Path, tmp_path: Path
):
    for preferences, kept in ((Preferences(), False), (KEEP_ALL, True)):
        editor = Editor(filled_job, Shelf(), preferences)
        attach(editor, "photos", picture)
        (photo,) = editor.job.photos
        assert photo.original_kept is kept
        job_file.write(tmp_path / "a.ductjob", editor.job, editor.photos)
        again = job_file.read(tmp_path / "a.ductjob")
        assert again.job == editor.job
        assert again.notices == ()
        assert again.photos.get(photo.original) == (picture.read_bytes() if kept else None)


def test_that_a_lost_original_is_told_and_the_picture_stays(picture: Path, tmp_path: Path):
    editor = Editor(Job(), Shelf(), KEEP_ALL)
    attach(editor, "photos", picture)
    (photo,) = editor.job.photos
    only = {photo.digest: editor.photos[photo.digest]}
    job_file.write(tmp_path / "b.ductjob", editor.job, only)
    read = job_file.read(tmp_path / "b.ductjob")
    assert [notice.code for notice in read.notices] == ["original-missing"]
    again = Editor(read.job, Shelf(), Preferences(), read.photos, notices=read.notices)
    assert [f.path for f in again.findings if f.code == "original-missing"] == ["photos.0"]
    assert photo.digest in again.photos


def test_that_a_picture_can_be_removed(editor: Editor, picture: Path):
    attach(editor, "leaks.0.photos", picture)
    with_photo = editor.job
    photos.remove(editor, "leaks.0.photos.0")
    assert editor.job.leaks[0].photos == ()
    assert editor.photos == {}
    editor.undo()
    assert editor.job == with_photo


def test_that_a_caption_can_be_typed_and_undone(editor: Editor, picture: Path):
    attach(editor, "leaks.0.photos", picture)
    editor.enter("leaks.0.photos.0.caption", "Boot in the hall")
    assert editor.entry_text("leaks.0.photos.0.caption") == "Boot in the hall"
    assert editor.undo_label == "Undo caption, photo 1 (leak 1)"
    editor.undo()
    assert editor.job.leaks[0].photos[0].caption == ""


def test_that_the_same_picture_twice_is_kept_once(editor: Editor, picture: Path):
    attach(editor, "leaks.0.photos", picture, picture)
    assert len(editor.job.leaks[0].photos) == 2
    assert len(editor.photos) == 1


def test_that_pictures_change_places_and_no_further_than_the_ends(editor: Editor, tmp_path: Path):
    files = [saved(tmp_path / f"{name}.png", "teal") for name in "abc"]
    attach(editor, "photos", *files)

    def order() -> str:
        return "".join(photo.name[0] for photo in editor.job.photos)

    assert photos.move(editor, "photos.0", 1) == "photos.1"
    assert order() == "bac"
    assert photos.move(editor, "photos.0", -1) == "photos.0"
    assert order() == "bac"
    assert editor.undo_label == "Undo move photo 1"
    editor.undo()
    assert order() == "abc"


def test_that_a_remark_about_a_lost_picture_follows_its_row_and_ends_with_it(
    editor: Editor, picture: Path
):
    editor.add_row("leaks")
    attach(editor, "leaks.1.photos", picture)
    notice = Finding(level=Level.CHECK, code="photo-missing", path="leaks.1.photos.0", what="Lost.")
    again = Editor(editor.job, Shelf(), Preferences(), notices=(notice,))
    assert [f.path for f in again.findings if f.code == "photo-missing"] == ["leaks.1.photos.0"]
    again.remove_row("leaks.0")
    assert [f.path for f in again.findings if f.code == "photo-missing"] == ["leaks.0.photos.0"]
    attach(again, "leaks.0.photos", picture)
    assert [f for f in again.findings if f.code == "photo-missing"] == []


def test_that_a_remark_about_a_lost_picture_follows_the_language(editor: Editor, picture: Path):
    attach(editor, "photos", picture)
    notice = Finding(level=Level.CHECK, code="photo-missing", path="photos.0", what="Lost.")
    again = Editor(editor.job, Shelf(), Preferences(), notices=(notice,))
    told: set[str] = set()
    for spoken in LANGUAGES:
        with speaking(spoken):
            told |= {f.what for f in again.findings if f.code == "photo-missing"}
    assert len(told) == len(LANGUAGES)


# Marks and the sketch


def test_that_marks_are_drawn_undone_and_saved(editor: Editor, picture: Path, tmp_path: Path):
    attach(editor, "leaks.0.photos", picture)
    drawing.draw_on_photo(editor, "leaks.0.photos.0", (ARROW,), "draw arrow")
    assert editor.undo_label == "Undo draw arrow (photo 1 (leak 1))"
    job_file.write(tmp_path / "c.ductjob", editor.job, editor.photos)
    assert job_file.read(tmp_path / "c.ductjob").job.leaks[0].photos[0].marks == (ARROW,)
    editor.undo()
    assert editor.job.leaks[0].photos[0].marks == ()


def test_that_moves_of_one_mark_by_keys_are_one_step(editor: Editor, picture: Path):
    attach(editor, "photos", picture)
    drawing.draw_on_photo(editor, "photos.0", (ARROW,), "draw")
    for n in (1, 2, 3):
        there = ARROW.model_copy(update={"x": 0.1 + n / 100})
        drawing.draw_on_photo(editor, "photos.0", (there,), "move", "move.0")
    editor.undo()
    assert editor.job.photos[0].marks == (ARROW,)


def test_that_a_sketch_with_a_plan_is_saved_and_its_picture_with_it(
    editor: Editor, picture: Path, tmp_path: Path
):
    wall = Item(shape=Shape.WALL, x=0.1, y=0.1, to_x=0.9, to_y=0.1)
    leak = Item(shape=Shape.LEAK, x=0.5, y=0.5, refers=editor.job.leaks[0].key)
    drawing.draw_sketch(editor, (wall, leak), "draw")
    drawing.lay_plan(editor, take_in_all([offered_file(picture)], Preferences()))
    assert editor.job.sketch.sides == (64, 48)
    job_file.write(tmp_path / "d.ductjob", editor.job, editor.photos)
    again = job_file.read(tmp_path / "d.ductjob")
    assert again.job.sketch == editor.job.sketch
    assert again.job.sketch.plan is not None
    assert again.job.sketch.plan.digest in again.photos
    drawing.take_plan_away(editor)
    assert editor.job.sketch.items == (wall, leak)
    assert editor.photos == {}


def test_that_a_picture_of_a_signature_is_kept_in_the_file_and_undone(
    editor: Editor, picture: Path, tmp_path: Path
):
    signature.put(editor, take_in_all([offered_file(picture)], Preferences()))
    taken = editor.job.tester.signature
    assert taken is not None
    assert dict(editor.job.pictures())[signature.PATH] == taken
    job_file.write(tmp_path / "e.ductjob", editor.job, editor.photos)
    again = job_file.read(tmp_path / "e.ductjob")
    assert again.job.tester == editor.job.tester
    assert list(again.photos) == [taken.digest]
    signature.remove(editor)
    assert editor.undo_label == "Undo remove the picture of the signature"
    assert editor.photos == {}
    editor.undo()
    assert list(editor.photos) == [taken.digest]


def test_that_a_missing_picture_of_a_signature_is_told_on_the_page_that_mends_it(
    editor: Editor, picture: Path, tmp_path: Path
):
    signature.put(editor, take_in_all([offered_file(picture)], Preferences()))
    job_file.write(tmp_path / "f.ductjob", editor.job, {})
    again = job_file.read(tmp_path / "f.ductjob")
    assert [notice.path for notice in again.notices] == [signature.PATH]
    assert page_of(signature.PATH) == "report"


def test_that_a_marker_shows_the_number_of_the_list_and_goes_with_its_leak(editor: Editor):
    editor.enter("leaks.0.place", "Boot")
    editor.add_row("leaks")
    editor.enter("leaks.1.place", "Plenum")
    first, second = (leak.key for leak in editor.job.leaks)
    items = tuple(
        Item(shape=Shape.LEAK, x=0.1 * n, y=0.5, refers=key)
        for n, key in enumerate((second, first))
    )
    register = Item(shape=Shape.REGISTER, x=0.9, y=0.5, refers=editor.job.registers[0].key)
    drawing.draw_sketch(editor, (*items, register), "draw")
    assert [one.label for one in drawing.inked_sketch(editor.job)] == ["2", "1", "1"]
    editor.remove_row("leaks.0")
    assert [one.label for one in drawing.inked_sketch(editor.job)] == ["1", "1"]
    editor.remove_row("registers.0")
    assert [item.refers for item in editor.job.sketch.items] == [second]
    editor.undo()
    assert editor.job.sketch.items == (items[0], register)


def test_that_markers_are_offered_by_the_numbers_and_names_of_the_lists(editor: Editor):
    editor.enter("leaks.0.place", "Boot in  the hall")
    editor.enter("registers.0.name", "Kitchen")
    labels = [option.label for option in drawing.wanted_markers(editor.job)]
    assert labels == ["Leak 1: Boot in the hall", "Register 1: Kitchen"]


# The checklist


def test_that_the_checklist_names_what_is_missing_until_a_photo_shows_it(
    shelf: Shelf, filled_job: Job, picture: Path
):
    editor = Editor(filled_job, shelf, Preferences())
    editor.enter("leaks.0.place", "Boot")

    def missing(report: str) -> list[str]:
        rows = checklist(editor.job, shelf.photo_subjects, report)
        return [row.label for row in rows if not row.is_there]

    assert "Leak as found, leak 1" in missing("homeowner")
    assert "Gauge with the reading" in missing("compliance")
    assert "Gauge with the reading" not in missing("homeowner")
    attach(editor, "leaks.0.photos", picture)
    attach(editor, "photos", picture)
    editor.choose("leaks.0.photos.0.shows", "leak_before")
    editor.choose("photos.0.shows", "gauge_reading")
    assert not [label for label in missing("homeowner") if label.startswith("Leak as found")]
    assert "Gauge with the reading" not in missing("compliance")
    assert not [label for label in missing("homeowner") if "repair" in label]
    editor.choose("leaks.0.repaired", "yes")
    assert "Leak after the repair, leak 1" in missing("homeowner")


def test_that_a_photo_of_a_leak_is_offered_what_leaks_show_first(
    shelf: Shelf, filled_job: Job, picture: Path
):
    editor = Editor(filled_job, shelf, Preferences())
    attach(editor, "leaks.0.photos", picture)
    attach(editor, "photos", picture)
    of_leak = [option.value for option in editor.options_at("leaks.0.photos.0.shows")]
    of_job = [option.value for option in editor.options_at("photos.0.shows")]
    assert of_leak[:2] == ["leak_before", "leak_after"]
    assert of_job[0] == "house_front"
    assert sorted(of_leak) == sorted(of_job)
