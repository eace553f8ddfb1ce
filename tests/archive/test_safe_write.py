from __future__ import annotations

import errno
import os
import stat
import sys
from pathlib import Path

import pytest

from deskapp.archive import job_file
from deskapp.archive.job_file import JobFileProblem
from deskapp.domain.job import Job

UNIX_ONLY = pytest.mark.skipif(sys.platform == "win32", reason="file modes and limits of Unix")


def problem_of_writing(path: Path, job: Job | None = None) -> JobFileProblem:
    with pytest.raises(JobFileProblem) as caught:
        job_file.write(path, job or Job(), {})
    return caught.value


@UNIX_ONLY
def test_that_the_mode_of_an_older_file_is_kept(tmp_path: Path) -> None:
    path = tmp_path / "a.ductjob"
    path.write_bytes(b"old")
    path.chmod(0o640)
    job_file.write(path, Job(), {})
    assert stat.S_IMODE(path.stat().st_mode) == 0o640


@UNIX_ONLY
def test_that_a_new_file_gets_the_mode_any_new_file_gets(tmp_path: Path) -> None:
    before = os.umask(0o027)
    try:
        job_file.write(tmp_path / "a.ductjob", Job(), {})
    finally:
        os.umask(before)
    assert stat.S_IMODE((tmp_path / "a.ductjob").stat().st_mode) == 0o640


@UNIX_ONLY
def test_that_a_link_stays_a_link(tmp_path: Path) -> None:
    real = tmp_path / "real.ductjob"
    real.write_bytes(b"old")
    link = tmp_path / "link.ductjob"
    link.symlink_to(real)
    job_file.write(link, Job(number="J-9"), {})
    assert link.is_symlink()
    assert job_file.read(real).job.number == "J-9"


@pytest.mark.parametrize(
    ("number", "code", "words"),
    [
        (errno.ENOSPC, "disk-full", "The disk is full"),
        (errno.EROFS, "read-only", "read-only"),
        (errno.EACCES, "read-only", "You may not write there"),
        (errno.EIO, "write", "could not be written"),
    ],
)
def test_that_an_error_of_the_disk_keeps_the_old_file_and_leaves_no_litter(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int, code: str, words: str
) -> None:
    path = tmp_path / "a.ductjob"
    path.write_bytes(b"old")

    def refuse(_handle: int) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(os, "fsync", refuse)
    problem = problem_of_writing(path)
    assert problem.code == code
    assert words in problem.text
    assert str(path) in problem.text
    assert path.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [path]


@UNIX_ONLY
def test_that_a_disk_that_really_takes_no_more_keeps_the_old_file(tmp_path: Path) -> None:
    import resource

    path = tmp_path / "a.ductjob"
    path.write_bytes(b"old")
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (200, hard))
    try:
        problem = problem_of_writing(path, Job(comments="word " * 10_000))
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    assert problem.code == "disk-full"
    assert path.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.skipif(
    sys.platform == "win32" or os.geteuid() == 0, reason="the superuser may write anywhere"
)
def test_that_a_folder_that_may_not_be_written_is_named(tmp_path: Path) -> None:
    tmp_path.chmod(0o555)
    try:
        assert problem_of_writing(tmp_path / "a.ductjob").code == "read-only"
    finally:
        tmp_path.chmod(0o755)


def test_that_a_protected_file_is_not_replaced(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "a.ductjob"
    path.write_bytes(b"old")
    monkeypatch.setattr(os, "access", lambda _path, _mode: False)
    problem = problem_of_writing(path)
    assert problem.code == "read-only"
    assert "protected" in problem.text
    assert path.read_bytes() == b"old"


def test_that_a_folder_that_is_not_there_is_named(tmp_path: Path) -> None:
    problem = problem_of_writing(tmp_path / "no" / "a.ductjob")
    assert problem.code == "no-folder"
    assert "does not exist" in problem.text


def test_that_a_folder_is_never_replaced_by_a_file(tmp_path: Path) -> None:
    folder = tmp_path / "a.ductjob"
    folder.mkdir()
    assert problem_of_writing(folder).code == "is-folder"


@UNIX_ONLY
def test_that_a_name_that_is_too_long_is_told(tmp_path: Path) -> None:
    assert problem_of_writing(tmp_path / ("x" * 300)).code == "name"


STEPS = ("fsync", "chmod", "replace")


@pytest.mark.parametrize("step", STEPS)
@pytest.mark.parametrize("there_before", [True, False])
def test_that_an_interruption_at_any_step_leaves_the_old_file_or_the_new_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str, there_before: bool
) -> None:
    path = tmp_path / "a.ductjob"
    if there_before:
        job_file.write(path, Job(number="old"), {})

    def stop(*_arguments: object, **_options: object) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as patched:
        patched.setattr(*((os, step) if step == "fsync" else (Path, step)), stop)
        if step == "chmod" and not there_before:
            job_file.write(path, Job(number="new"), {})
        else:
            with pytest.raises(KeyboardInterrupt):
                job_file.write(path, Job(number="new"), {})
    number = job_file.read(path).job.number if path.exists() else None
    expected = "old" if there_before else ("new" if step == "chmod" else None)
    assert number == expected
    assert [entry.name for entry in tmp_path.iterdir()] == ([path.name] if number else [])


def test_that_what_an_ended_program_left_is_taken_away_later_and_nothing_else(
    tmp_path: Path,
) -> None:
    old, fresh = tmp_path / f".{'0' * 16}.part", tmp_path / f".{'1' * 16}.part"
    foreign = tmp_path / "film.part"
    for path in (old, fresh, foreign):
        path.write_bytes(b"half")
    for path in (old, foreign):
        os.utime(path, (1.0, 1.0))
    job_file.write(tmp_path / "a.ductjob", Job(), {})
    names = {entry.name for entry in tmp_path.iterdir()}
    assert names == {"a.ductjob", fresh.name, foreign.name}


@pytest.mark.skipif(
    not Path("/proc/self").is_dir(), reason="only where the system has such a folder"
)
def test_that_a_folder_of_the_system_itself_is_not_called_missing() -> None:
    path = Path("/proc/a.ductjob")
    problem = problem_of_writing(path)
    assert str(path) in problem.text
    assert "does not exist" not in problem.text
    assert "No file can be made in that folder" in problem.text or "may not write" in problem.text
