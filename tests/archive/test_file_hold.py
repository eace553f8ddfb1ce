from __future__ import annotations

import json
import os
import platform
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from deskapp.archive.file_hold import InUse, hold, lock_path_of

ROOT = Path(__file__).resolve().parents[2]
HOLDING = """
import sys, time
from pathlib import Path
from deskapp.archive.file_hold import hold
held = hold(Path(sys.argv[1]))
print("held", flush=True)
time.sleep(600)
"""


@pytest.fixture
def lock_path(tmp_path: Path) -> Path:
    return lock_path_of(tmp_path / "a.ductjob")


def test_that_a_second_holder_learns_who_was_first(lock_path: Path) -> None:
    held = hold(lock_path)
    with pytest.raises(InUse) as caught:
        hold(lock_path)
    assert caught.value.is_certain
    holder = caught.value.holder
    assert holder is not None
    assert (holder.host, holder.process) == (platform.node(), os.getpid())
    held.release()


def test_that_a_file_let_go_is_free_and_nothing_is_left_beside_it(lock_path: Path) -> None:
    held = hold(lock_path)
    held.release()
    held.release()
    assert not lock_path.exists()
    hold(lock_path).release()


@pytest.mark.parametrize("how", ["killed", "alive"])
def test_that_a_lock_of_a_dead_process_is_cleared_and_that_of_a_running_one_is_not(
    lock_path: Path, how: str
) -> None:
    command = [sys.executable, "-c", HOLDING, str(lock_path)]
    variables = {**os.environ, "PYTHONPATH": str(ROOT)}
    with subprocess.Popen(command, env=variables, stdout=subprocess.PIPE, text=True) as other:
        assert other.stdout is not None
        assert other.stdout.readline() == "held\n"
        try:
            if how == "killed":
                other.send_signal(signal.SIGKILL if sys.platform != "win32" else signal.SIGTERM)
                other.wait()
                assert lock_path.exists()
                hold(lock_path).release()
                assert not lock_path.exists()
            else:
                with pytest.raises(InUse) as caught:
                    hold(lock_path, take_over=True)
                assert caught.value.is_certain
                assert caught.value.holder is not None
                assert caught.value.holder.process == other.pid
        finally:
            other.kill()


def _left_by(host: str) -> str:
    data = {"host": host, "user": "sam", "process": 1, "since": "2026-03-11T08:40:00"}
    return json.dumps(data)


def test_that_a_lock_of_another_computer_is_only_taken_over_when_told_to(lock_path: Path) -> None:
    lock_path.write_text(_left_by("another-computer"), encoding="utf-8")
    with pytest.raises(InUse) as caught:
        hold(lock_path)
    assert not caught.value.is_certain
    assert caught.value.holder is not None
    assert caught.value.holder.user == "sam"
    assert lock_path.exists(), "looking does not clear it"
    hold(lock_path, take_over=True).release()
    assert not lock_path.exists()


@pytest.mark.parametrize("text", ["", "no json", "[1, 2]", '{"host": "x"}', "null"])
def test_that_a_lock_file_that_says_nothing_holds_nothing(lock_path: Path, text: str) -> None:
    lock_path.write_text(text, encoding="utf-8")
    hold(lock_path).release()


def test_that_a_link_and_its_file_have_one_lock(tmp_path: Path) -> None:
    real = tmp_path / "real.ductjob"
    real.touch()
    link = tmp_path / "link.ductjob"
    link.symlink_to(real)
    assert lock_path_of(link) == lock_path_of(real)


def test_that_a_folder_that_is_not_there_is_an_error(tmp_path: Path) -> None:
    with pytest.raises(OSError, match="No such file"):
        hold(tmp_path / "no" / ".a.lock")
