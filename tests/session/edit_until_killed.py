"""Edits, copies and saves jobs, each in a process of its own, until somebody ends that process.

Reads lines ``folder number`` and answers each with the number of the process it started. The
process writes down every edit with the time it was made, before it goes on.
"""

from __future__ import annotations

import os
import signal
import sys
import time
from concurrent.futures import Future, ThreadPoolExecutor
from pathlib import Path
from random import Random

from deskapp.archive.recovery import RecoveryCopy
from deskapp.domain.data_files import resources_folder
from deskapp.session.autosave import Autosave, CopyOrder
from deskapp.session.live.placing import place_readings
from deskapp.session.opening import open_job, open_to_edit
from deskapp.session.resources import Shelf
from deskapp.session.saving import save
from deskapp.session.settings import Preferences

LONGEST_PAUSE = 0.08
READINGS = "tests.0.readings"


def edit(folder: Path, number: int) -> None:
    """Edit the job in `folder` for ever, as a person at a window does; now and then save it."""
    chance = Random(number)
    saves = chance.choice((0.0, 0.0, 0.005, 0.05))
    editor = open_to_edit(folder / "a.ductjob", Shelf(), Preferences())
    saver = Autosave(folder / "recovery")
    saver.follow(editor)
    pool = ThreadPoolExecutor(1)
    running: tuple[CopyOrder, Future[RecoveryCopy | None]] | None = None
    with (folder / "edits").open("w", encoding="utf-8", buffering=1) as log:
        for turn in range(1, 1_000_000):
            if chance.random() < 0.2:
                rows = [{"duct_pressure": f"-2{turn % 10}.{n}", "note": "x" * 40} for n in range(5)]
                first = min(turn % 50, editor.row_count(READINGS))
                place_readings(editor, READINGS, rows, first)
            editor.enter("number", str(turn))
            log.write(f"{turn} {time.monotonic()}\n")
            if running is not None and running[1].done():
                saver.done(running[0], running[1].result())
                running = None
            if running is None and saver.due_in() == 0.0:
                order = saver.order()
                assert order is not None
                running = (order, pool.submit(order.run))
            if chance.random() < saves:
                save(editor)
            time.sleep(chance.random() * LONGEST_PAUSE)


def main() -> None:
    """Start a process for each line."""
    signal.signal(signal.SIGCHLD, signal.SIG_IGN)
    sample = resources_folder() / "sample_jobs" / "larkspur"
    # Looked at once here, so that no process has to load what works a job out.
    assert open_job(sample, Shelf(), Preferences()).findings is not None
    print("ready", flush=True)
    for line in sys.stdin:
        folder, number = line.rsplit(maxsplit=1)
        process = os.fork()
        if process == 0:
            edit(Path(folder), int(number))
        print(process, flush=True)


if __name__ == "__main__":
    main()
