from __future__ import annotations

import errno
import os
from datetime import datetime
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from deskapp.archive import recovery
from deskapp.archive.photo_files import take_in
from deskapp.archive.problems import JobFileProblem
from deskapp.archive.recovery import About, begin_copy, left_behind
from deskapp.domain.job import Job

ABOUT = About(path="/jobs/a.ductjob", name="J-1 Larkspur", written=datetime(2026, 3, 11, 8, 40))


@pytest.fixture
def pictured() -> tuple[Job, dict[str, bytes]]:
    buffer = BytesIO()
    Image.new("RGB", (64, 48), "gray").save(buffer, "PNG")
    photo, data = take_in(buffer.getvalue(), "boot.png")
    return Job(number="J-1", photos=(photo,)), {photo.digest: data}


def test_that_a_copy_left_behind_is_found_with_what_it_is_of(
    tmp_path: Path, pictured: tuple[Job, dict[str, bytes]]
) -> None:
    job, photos = pictured
    copy = begin_copy(tmp_path)
    copy.write(job, photos, ABOUT)
    assert left_behind(tmp_path) == (), "it is held by its writer"
    copy.let_go()
    (found,) = left_behind(tmp_path)
    assert found.about == ABOUT
    read = found.read()
    assert (read.job, dict(read.photos), read.notices) == (job, photos, ())


def test_that_a_picture_is_written_once(
    tmp_path: Path, pictured: tuple[Job, dict[str, bytes]]
) -> None:
    job, photos = pictured
    copy = begin_copy(tmp_path)
    copy.write(job, photos, ABOUT)
    (picture,) = (copy.folder / "photos").iterdir()
    before = picture.stat().st_mtime_ns, picture.stat().st_ino
    copy.write(job.model_copy(update={"number": "J-2"}), photos, ABOUT)
    assert (picture.stat().st_mtime_ns, picture.stat().st_ino) == before
    assert copy.read().job.number == "J-2"


def test_that_a_removed_copy_is_gone_and_is_not_written_again(tmp_path: Path) -> None:
    copy = begin_copy(tmp_path)
    copy.write(Job(), {}, ABOUT)
    copy.remove()
    copy.write(Job(), {}, ABOUT)
    assert list(tmp_path.iterdir()) == []
    assert left_behind(tmp_path) == ()


def test_that_a_copy_set_aside_is_kept_but_not_found(tmp_path: Path) -> None:
    copy = begin_copy(tmp_path)
    copy.write(Job(number="J-1"), {}, ABOUT)
    copy.set_aside()
    assert left_behind(tmp_path) == ()
    kept = tmp_path / recovery.ASIDE / copy.folder.name
    assert (kept / "job.json").is_file()
    old = kept.stat().st_mtime - (recovery.KEPT_ASIDE_DAYS + 1) * 86_400
    os.utime(kept, (old, old))
    left_behind(tmp_path)
    assert not kept.exists()


def test_that_a_folder_without_a_job_is_taken_away(tmp_path: Path) -> None:
    begin_copy(tmp_path).let_go()
    assert left_behind(tmp_path) == ()
    assert list(tmp_path.iterdir()) == []


def test_that_a_full_disk_keeps_the_copy_written_before(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    copy = begin_copy(tmp_path)
    copy.write(Job(number="J-1"), {}, ABOUT)

    def refuse(_handle: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    with monkeypatch.context() as patched:
        patched.setattr(os, "fsync", refuse)
        with pytest.raises(JobFileProblem) as caught:
            copy.write(Job(number="J-2"), {}, ABOUT)
    assert caught.value.code == "disk-full"
    assert copy.read().job.number == "J-1"
    assert not list(copy.folder.glob("*.part"))


def test_that_a_place_for_copies_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(JobFileProblem) as caught:
        begin_copy(tmp_path / "file" / "below")
    assert caught.value.code == "no-folder"


def test_that_a_damaged_note_does_not_keep_the_copy_from_being_found(tmp_path: Path) -> None:
    copy = begin_copy(tmp_path)
    copy.write(Job(number="J-1"), {}, ABOUT)
    copy.let_go()
    (copy.folder / "about.json").write_text("{", encoding="utf-8")
    (found,) = left_behind(tmp_path)
    assert found.about == About()
    assert found.read().job.number == "J-1"
