"""Photos that are in two jobs. All jobs, addresses and pictures are invented."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from PIL import Image

from deskapp.archive import job_file
from deskapp.archive.photo_files import take_in
from deskapp.domain.finding import Level
from deskapp.domain.job import Job
from deskapp.domain.leak import Leak
from deskapp.domain.site import Site
from deskapp.session.editor import Editor
from deskapp.session.job_index import CACHE_NAME, JobIndex
from deskapp.session.photo_index import PhotoIndex
from deskapp.session.resources import Shelf
from deskapp.session.settings import Preferences

HERE, THERE = Site(address="1 First Lane", city="Sampleton"), Site(address="2 Second Lane")


def picture(color: str, name: str = "duct.jpg"):
    buffer = io.BytesIO()
    Image.new("RGB", (64, 48), color).save(buffer, "JPEG")
    return take_in(buffer.getvalue(), name)


NAVY, OLIVE = picture("navy"), picture("olive")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "jobs").mkdir()
    return tmp_path / "jobs"


def kept(folder: Path, name: str, job: Job, *pictures) -> Path:
    path = folder / name
    job = job.model_copy(update={"photos": tuple(photo for photo, _data in pictures)})
    job_file.write(path, job, {photo.digest: data for photo, data in pictures})
    return path


def read_index(folder: Path) -> PhotoIndex:
    index = JobIndex(folder.parent / CACHE_NAME, Preferences(), Shelf())
    index.look((folder,))
    while index.read_some(1.0):
        pass
    return PhotoIndex(index.lines)


def told(folder: Path, path: Path) -> list[str]:
    found = read_index(folder).findings(job_file.read(path).job, path)
    assert all(one.level is Level.CHECK and one.code == "photo-in-another-job" for one in found)
    return [f"{one.path}: {one.text}" for one in found]


def test_that_the_other_job_is_named_by_number_name_and_file_at_the_photo(folder: Path) -> None:
    kept(folder, "a.ductjob", Job(number="J-1", title="Aspen", site=HERE), NAVY)
    mine = kept(folder, "b.ductjob", Job(number="J-2", site=THERE), OLIVE, NAVY)
    [words] = told(folder, mine)
    assert words.startswith("photos.1: ")
    assert "J-1 Aspen (file a.ductjob)" in words


def test_that_both_jobs_are_told(folder: Path) -> None:
    one = kept(folder, "a.ductjob", Job(number="J-1", site=HERE), NAVY)
    two = kept(folder, "b.ductjob", Job(number="J-2", site=HERE), NAVY)
    assert "b.ductjob" in told(folder, one)[0]
    assert "a.ductjob" in told(folder, two)[0]


@pytest.mark.parametrize(
    ("number", "site", "is_other"),
    [
        ("J-1", HERE, False),
        (" j-1", Site(address="1 FIRST  Lane", city="Sampleton"), False),
        ("J-1", THERE, True),
        ("J-2", HERE, True),
        ("", HERE, True),
        ("", Site(), True),
    ],
)
def test_that_a_copy_of_the_same_job_is_no_other(
    folder: Path, number: str, site: Site, is_other: bool
) -> None:
    kept(folder, "a.ductjob", Job(number="J-1", site=HERE), NAVY)
    mine = kept(folder, "copy.ductjob", Job(number=number, site=site), NAVY)
    assert bool(told(folder, mine)) is is_other


def test_that_two_jobs_without_number_and_address_are_not_taken_for_one(folder: Path) -> None:
    kept(folder, "a.ductjob", Job(), NAVY)
    assert told(folder, kept(folder, "b.ductjob", Job(), NAVY))


def test_that_a_photo_is_known_by_the_file_as_it_came_too(folder: Path) -> None:
    photo, data = NAVY
    # The same file taken in by a version that stores it otherwise: another stored copy.
    other = photo.model_copy(update={"digest": OLIVE[0].digest})
    kept(folder, "a.ductjob", Job(number="J-1"), (photo, data))
    mine = kept(folder, "b.ductjob", Job(number="J-2"), (other, OLIVE[1]))
    assert len(told(folder, mine)) == 1


def test_that_photos_of_leaks_are_looked_at_and_neither_plan_nor_signature(folder: Path) -> None:
    photo, data = NAVY
    kept(folder, "a.ductjob", Job(number="J-1"), (photo, data))
    job = Job(number="J-2", leaks=(Leak(key="l1", photos=(photo,)),))
    sketch = job.sketch.model_copy(update={"plan": photo})
    tester = job.tester.model_copy(update={"signature": photo})
    shared = job.model_copy(update={"sketch": sketch, "tester": tester})
    found = read_index(folder).findings(shared, None)
    assert [one.path for one in found] == ["leaks.0.photos.0"]


def test_that_a_photo_in_many_jobs_is_told_in_one_sentence(folder: Path) -> None:
    for n in range(6):
        mine = kept(folder, f"{n}.ductjob", Job(number=f"J-{n}"), NAVY)
    [words] = told(folder, mine)
    assert "and 2 more" in words


def test_that_the_index_is_built_anew_where_its_cache_is_gone_or_damaged(folder: Path) -> None:
    kept(folder, "a.ductjob", Job(number="J-1"), NAVY)
    mine = kept(folder, "b.ductjob", Job(number="J-2"), NAVY)
    before = told(folder, mine)
    cache = folder.parent / CACHE_NAME
    cache.write_bytes(b"{")
    assert told(folder, mine) == before
    cache.unlink()
    assert told(folder, mine) == before
    (folder / "a.ductjob").unlink()
    assert told(folder, mine) == []


def test_that_an_open_job_tells_its_listeners_once_the_others_are_known(folder: Path) -> None:
    kept(folder, "a.ductjob", Job(number="J-1"), NAVY)
    path = kept(folder, "b.ductjob", Job(number="J-2"), NAVY)
    editor = Editor(job_file.read(path).job, Shelf(), Preferences(), path=path)
    calls: list[int] = []
    editor.listen(lambda: calls.append(1))

    def codes() -> set[str]:
        return {finding.code for finding in editor.findings}

    assert "photo-in-another-job" not in codes()
    editor.compare_photos(read_index(folder).findings)
    assert "photo-in-another-job" in codes()
    editor.compare_photos(read_index(folder).findings)
    assert calls == [1]
    editor.take(editor.job.model_copy(update={"photos": ()}), "remove photos")
    assert "photo-in-another-job" not in codes()
