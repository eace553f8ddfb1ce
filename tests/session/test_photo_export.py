"""Photos handed to others; all jobs and pictures here are invented."""

from __future__ import annotations

import csv
import errno
import hashlib
import os
from datetime import date
from io import BytesIO, StringIO
from pathlib import Path

import pytest
from PIL import Image, ImageChops

from deskapp.archive import safe_write
from deskapp.archive.photo_files import take_in
from deskapp.domain.drawing import Item, Shape
from deskapp.domain.job import Job
from deskapp.domain.leak import Leak, Photo
from deskapp.domain.limit import Verification
from deskapp.domain.photo_subject import PhotoSubject
from deskapp.domain.system import DuctSystem
from deskapp.session.editor import Editor
from deskapp.session.long_work import GivenUp, LongWork
from deskapp.session.photo_export import (
    PhotoExportProblem,
    export_photos,
    order_photos,
)
from deskapp.session.resources import Shelf
from deskapp.session.settings import Language, Preferences

TODAY = date(2026, 3, 12)
TAKEN = "2026-03-05T09:31:12"
ARROW = Item(shape=Shape.ARROW, x=0.2, y=0.2, to_x=0.7, to_y=0.6)
NAMES = ["J-7 photo 01.jpg", "J-7 photo 02 leak 1.jpg", "J-7 photos.csv"]


def camera_file(color: str) -> bytes:
    target = BytesIO()
    Image.new("RGB", (800, 600), color).save(target, "JPEG")
    return target.getvalue()


def with_photos(*, slate: bool = False, language: Language = Language.DEFAULT) -> Editor:
    """A job with a photo of its own and one of a leak, which has an arrow on it."""
    house, house_data = take_in(camera_file("teal"), "house.jpg")
    seam, seam_data = take_in(camera_file("olive"), "seam.jpg")
    house = house.model_copy(update={"caption": "Front, from the street"})
    seam = seam.model_copy(update={"taken": TAKEN, "shows": "seam", "marks": (ARROW,)})
    job = Job(
        number="J-7",
        systems=(DuctSystem(key="s1", name="Upper floor"),),
        photos=(house,),
        leaks=(Leak(key="l1", system="s1", place="Attic", photos=(seam,)),),
    )
    subject = PhotoSubject(
        id="seam", label="Open seam", source="invented", status=Verification.USER
    )
    preferences = Preferences(photo_slate=slate, report_language=language)
    files = {house.digest: house_data, seam.digest: seam_data}
    return Editor(job, Shelf(photo_subjects=(subject,)), preferences, files)


def opened(path: Path) -> Image.Image:
    return Image.open(BytesIO(path.read_bytes())).convert("RGB")


def rows_of(folder: Path) -> list[list[str]]:
    text = (folder / NAMES[-1]).read_bytes().decode("utf-8-sig")
    return list(csv.reader(StringIO(text, newline="")))


def test_that_the_list_names_each_file_with_the_digests_that_other_programs_find(tmp_path):
    editor = with_photos()
    made = export_photos(order_photos(editor, TODAY), tmp_path / "new" / "photos")
    assert [path.name for path in made.files] == NAMES
    assert made.left_out == ()
    _head, first, second = rows_of(made.folder)
    assert [first[0], *first[1:4]] == [NAMES[0], "Front, from the street", "", ""]
    assert [second[0], *second[1:4]] == [NAMES[1], "Open seam", "1", TAKEN]
    for row, color in ((first, "teal"), (second, "olive")):
        assert row[4] == hashlib.sha256(camera_file(color)).hexdigest()
        assert hashlib.sha256(editor.photos[row[5]]).hexdigest() == row[5]


def test_that_marks_are_drawn_where_they_stand_and_nowhere_else(tmp_path):
    editor = with_photos()
    made = export_photos(order_photos(editor, TODAY), tmp_path)
    plain, marked = (opened(path) for path in made.files[:2])
    assert plain.size == marked.size == (800, 600)
    near = [abs(a - b) for a, b in zip(plain.getpixel((400, 300)), (0, 128, 128), strict=True)]
    assert max(near) < 6
    drawn = ImageChops.difference(marked, Image.new("RGB", marked.size, "olive")).convert("L")
    box = drawn.point(lambda level: 255 if level > 60 else 0).getbbox()
    assert box is not None
    letter = 800 / 26
    # The arrow leads from (160, 120), with its number there, to its tip at (560, 360).
    assert (box[0], box[1]) == pytest.approx((160 - letter, 120 - letter), abs=6)
    assert (box[2], box[3]) == pytest.approx((560, 360), abs=8)
    shaft, badge = marked.getpixel((360, 240)), marked.getpixel((160 - 20, 120))
    assert max(shaft) < 60
    assert max(badge) < 60


def test_that_a_strip_ties_each_photo_to_its_job_only_where_preferred(tmp_path):
    order = order_photos(with_photos(slate=True), TODAY)
    words = [one.slate.replace("\N{NO-BREAK SPACE}", " ") for one in order.photos]
    assert words[0] == "Job J-7"
    assert words[1] == "Job J-7 · Mar 5, 2026, 09:31 · Upper floor · Open seam · Leak 1"
    made = export_photos(order, tmp_path)
    low = opened(made.files[1])
    assert low.width == 800
    assert low.height > 600
    strip = low.crop((0, 604, 800, low.height)).convert("L")
    assert strip.getextrema()[1] > 200
    assert sum(strip.histogram()[:60]) > 0.6 * strip.width * strip.height
    assert [one.slate for one in order_photos(with_photos(), TODAY).photos] == ["", ""]


def test_that_words_of_any_length_and_script_stay_within_the_strip(tmp_path):
    editor = with_photos(slate=True)
    editor.enter("number", "N" * 120)
    editor.enter("systems.0.name", "上层 системы\n" + "word " * 60)
    made = export_photos(order_photos(editor, TODAY), tmp_path)
    edge = opened(made.files[1]).crop((798, 604, 800, 700)).convert("L")
    assert edge.getextrema()[1] < 60


def test_that_list_and_strip_speak_the_language_of_the_reports():
    order = order_photos(with_photos(slate=True, language=Language.SPANISH), TODAY)
    assert order.head[0] == "Archivo"
    assert order.photos[1].slate.endswith("Fuga 1")
    assert order_photos(with_photos(), TODAY).head[0] == "File"


def test_that_files_of_the_same_names_are_told_and_only_written_over_if_asked(tmp_path):
    order = order_photos(with_photos(), TODAY)
    (tmp_path / NAMES[1]).write_bytes(b"mine")
    with pytest.raises(PhotoExportProblem, match=r"J-7 photo 02 leak 1\.jpg") as caught:
        export_photos(order, tmp_path)
    assert caught.value.code == "exists"
    assert [path.name for path in tmp_path.iterdir()] == [NAMES[1]]
    assert (tmp_path / NAMES[1]).read_bytes() == b"mine"
    export_photos(order, tmp_path, over=True)
    assert opened(tmp_path / NAMES[1]).size == (800, 600)


def test_that_a_disk_that_fills_up_leaves_no_half_of_an_export(tmp_path, monkeypatch):
    real, count = safe_write.os.fsync, 0

    def full(handle: int) -> None:
        nonlocal count
        count += 1
        if count > 3:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        real(handle)

    monkeypatch.setattr(safe_write.os, "fsync", full)
    with pytest.raises(PhotoExportProblem, match="The disk is full") as caught:
        export_photos(order_photos(with_photos(), TODAY), tmp_path)
    assert caught.value.code == "write"
    assert list(tmp_path.iterdir()) == []


def test_that_a_folder_that_takes_no_files_is_told(tmp_path, monkeypatch):
    file = tmp_path / "file"
    file.write_bytes(b"")
    with pytest.raises(PhotoExportProblem, match="is a file, not a folder"):
        export_photos(order_photos(with_photos(), TODAY), file)

    def read_only(self: Path, *_given: object, **_named: object) -> None:
        raise OSError(errno.EROFS, os.strerror(errno.EROFS), str(self))

    monkeypatch.setattr(Path, "mkdir", read_only)
    with pytest.raises(PhotoExportProblem, match="That disk is read-only"):
        export_photos(order_photos(with_photos(), TODAY), tmp_path / "new")


def test_that_work_given_up_leaves_no_file_and_steps_are_named(tmp_path):
    told: list[tuple[int, int, str]] = []

    def tell(number: int, count: int, name: str) -> None:
        told.append((number, count, name))
        work.give_up()

    work = LongWork(tell)
    with pytest.raises(GivenUp):
        export_photos(order_photos(with_photos(), TODAY), tmp_path / "new", work)
    assert told == [(1, 2, NAMES[0])]
    assert not (tmp_path / "new").exists()


def test_that_a_photo_that_is_lost_or_damaged_is_left_out_and_told(tmp_path):
    editor = with_photos()
    seam = editor.job.leaks[0].photos[0]
    lost = {**editor.photos, seam.digest: editor.photos[seam.digest][:200]}
    broken = Editor(editor.job, Shelf(), Preferences(), lost)
    made = export_photos(order_photos(broken, TODAY), tmp_path)
    assert [path.name for path in made.files] == [NAMES[0], NAMES[2]]
    assert made.left_out == ("seam.jpg",)
    assert [row[0] for row in rows_of(tmp_path)[1:]] == [NAMES[0], ""]


def test_that_a_job_without_photos_is_told(tmp_path):
    plan = Photo(digest="d1")
    job = Job()
    job = job.model_copy(update={"sketch": job.sketch.model_copy(update={"plan": plan})})
    with pytest.raises(PhotoExportProblem, match="no photos") as caught:
        export_photos(order_photos(Editor(job, Shelf(), Preferences()), TODAY), tmp_path)
    assert caught.value.code == "none"
