"""The process is ended at random moments, while it edits, copies and saves: 200 times."""

from __future__ import annotations

import heapq
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from random import Random

import pytest

from deskapp.archive import job_file
from deskapp.domain.data_files import resources_folder
from deskapp.session.holding import let_go
from deskapp.session.opening import open_to_edit
from deskapp.session.recovery import find_offers
from deskapp.session.resources import Shelf
from deskapp.session.settings import Preferences

ROOT = Path(__file__).resolve().parents[2]
TIMES = 200
AT_ONCE = 25
LONGEST_LIFE = 3.5
MOST_LOST = 2.0
FIRST_NUMBER = 20260311  # of the random numbers: the same moments are tried at every run

pytestmark = [
    pytest.mark.alone,
    pytest.mark.skipif(sys.platform == "win32", reason="SIGKILL and fork are of Unix"),
]


@pytest.fixture
def nursery() -> Iterator[subprocess.Popen[str]]:
    """A process that has everything loaded and starts others quickly."""
    command = [sys.executable, str(Path(__file__).with_name("edit_until_killed.py"))]
    variables = {**os.environ, "PYTHONPATH": str(ROOT)}
    with subprocess.Popen(
        command, env=variables, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == "ready\n"
        yield process
        process.kill()


def start(nursery: subprocess.Popen[str], folder: Path, number: int) -> int:
    """Start to edit the job in `folder`; return the number of the process."""
    assert nursery.stdin is not None
    assert nursery.stdout is not None
    nursery.stdin.write(f"{folder} {number}\n")
    nursery.stdin.flush()
    return int(nursery.stdout.readline())


def kill(process: int) -> float:
    """End a process without a warning; return when it was told to."""
    moment = time.monotonic()
    os.kill(process, signal.SIGKILL)
    while True:
        try:
            os.kill(process, 0)
        except ProcessLookupError:
            return moment
        time.sleep(0.001)


def lost_seconds(folder: Path, killed: float) -> float:
    """Return how old the oldest edit is that is neither in the file nor in the copy.

    Opens everything there is: what cannot be read fails here.
    """
    path = folder / "a.ductjob"
    newest = int(job_file.read(path).job.number or 0)
    offers, findings = find_offers(folder / "recovery")
    assert findings == ()
    assert len(offers) <= 1
    for offer in offers:
        assert offer.path == path
        newest = max(newest, int(offer.copy.read().job.number))
        offer.copy.let_go()
    let_go(open_to_edit(path, Shelf(), Preferences()))
    log = folder / "edits"
    lines = log.read_text(encoding="utf-8").splitlines() if log.exists() else []
    edits = [line.split() for line in lines if line.count(" ") == 1]
    lost = [float(moment) for number, moment in edits if int(number) > newest]
    return killed - min(lost, default=killed)


def test_that_a_killed_program_leaves_every_job_whole_and_loses_two_seconds_at_most(
    nursery: subprocess.Popen[str], tmp_path: Path
) -> None:
    chance = Random(FIRST_NUMBER)
    sample = job_file.read(resources_folder() / "sample_jobs" / "larkspur")
    job = sample.job.model_copy(update={"number": "0"})
    lost: list[float] = []
    edited = copied = 0
    for batch in range(0, TIMES, AT_ONCE):
        deaths: list[tuple[float, int, Path]] = []
        for number in range(batch, batch + AT_ONCE):
            folder = tmp_path / str(number)
            folder.mkdir()
            job_file.write(folder / "a.ductjob", job, sample.photos)
            process = start(nursery, folder, FIRST_NUMBER + number)
            moment = time.monotonic() + chance.random() * LONGEST_LIFE
            heapq.heappush(deaths, (moment, process, folder))
        while deaths:
            moment, process, folder = heapq.heappop(deaths)
            time.sleep(max(0.0, moment - time.monotonic()))
            killed = kill(process)
            edited += (folder / "edits").exists()
            copied += any(folder.glob("recovery/*/job.json"))
            lost.append(lost_seconds(folder, killed))
    assert len(lost) == TIMES
    assert edited > TIMES * 0.9
    assert copied > TIMES * 0.2
    assert max(lost) <= MOST_LOST
