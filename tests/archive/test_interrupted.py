"""A process that ends at any line of a write leaves the old file or the new one, and it whole.

The write is followed line by line in a process of its own, which ends there without cleaning up,
as at a power cut seen from the file system.
"""

from __future__ import annotations

import os
import stat
import sys
from collections.abc import Callable
from pathlib import Path
from types import FrameType
from typing import Any

import pytest

from deskapp.archive import job_file, safe_write
from deskapp.domain.job import Job

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs processes as on Unix")

FILE = safe_write.__file__
ENDED = 9


def ending_at(line: int) -> Callable[[FrameType, str, Any], Any]:
    """Follow the lines of the writing module and end the process at the given one of them."""
    seen = 0

    def follow(frame: FrameType, event: str, _value: object) -> Any:
        nonlocal seen
        if frame.f_code.co_filename != FILE:
            return None
        if event == "line":
            seen += 1
            if seen == line:
                os._exit(ENDED)
        return follow

    return follow


def ends(line: int, work: Callable[[], object]) -> bool:
    """Do `work` in another process that ends at `line`; return False where it came to its end."""
    process = os.fork()
    if not process:
        sys.settrace(ending_at(line))
        try:
            work()
        finally:
            os._exit(0)
    _process, status = os.waitpid(process, 0)
    code = os.waitstatus_to_exitcode(status)
    assert code in (0, ENDED)
    return code == ENDED


@pytest.mark.parametrize("there_before", [True, False])
def test_that_an_end_at_any_line_of_a_write_leaves_the_old_file_or_the_new_one(
    tmp_path: Path, there_before: bool
) -> None:
    outcomes: list[str | None] = []
    line = 1
    while True:
        folder = tmp_path / str(line)
        folder.mkdir()
        path = folder / "a.ductjob"
        if there_before:
            job_file.write(path, Job(number="old"), {})
        ended = ends(line, lambda path=path: job_file.write(path, Job(number="new"), {}))
        outcomes.append(job_file.read(path).job.number if path.exists() else None)
        job_file.write(path, Job(number="later"), {})
        assert job_file.read(path).job.number == "later"
        if not ended:
            break
        line += 1
    before = "old" if there_before else None
    assert set(outcomes) == {before, "new"}
    assert outcomes == sorted(outcomes, key=lambda number: number == "new"), "never back again"
    assert len(outcomes) > 15


@pytest.mark.skipif(sys.platform != "linux", reason="asks which file a handle is of")
def test_that_all_bytes_are_on_the_disk_before_the_name_and_the_name_before_the_end(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A power cut takes what was not forced to the disk; no test can cut the power."""
    path, data = tmp_path / "a.ductjob", b"new " * 1000
    path.write_bytes(b"old")
    forced: list[tuple[str, bytes]] = []

    def force(handle: int) -> None:
        what = str(Path(f"/proc/self/fd/{handle}").readlink())
        is_folder = stat.S_ISDIR(os.fstat(handle).st_mode)
        forced.append(("folder" if is_folder else what, path.read_bytes()))
        if not is_folder:
            assert Path(what).parent == tmp_path, "the same file system"
            assert Path(what).read_bytes() == data, "nothing waits in the program"

    monkeypatch.setattr(os, "fsync", force)
    safe_write.write_whole(path, data)
    assert [there for _what, there in forced] == [b"old", data]
    assert forced[1][0] == "folder"


def test_that_a_private_file_is_never_open_to_others(tmp_path: Path) -> None:
    line, ended, path = 0, True, tmp_path
    while ended:
        line += 1
        path = tmp_path / str(line) / "key.p12"
        path.parent.mkdir()
        ended = ends(line, lambda path=path: safe_write.write_whole(path, b"key", private=True))
        modes = {one.name: one.stat().st_mode & 0o777 for one in path.parent.iterdir()}
        assert set(modes.values()) <= {0o600}, modes
    assert line > 10
    assert path.read_bytes() == b"key"
