"""How long the longest turn of the event loop is for whatever people do in the window.

Run it by hand: ``python tests/ui/bench_slots.py [rounds] [part ...]``; the parts are the functions
in `slot_actions.PARTS`, all by default. Measured are the sample job and the invented job of
`bench_keystroke`, four systems of ten points. Each round is a process of its own that has just
started, in which everything is done twice: so the first time of each thing counts as well.

Printed is the processor time of the longest turn of the event loop in the thread of the window,
the first time and the second, the least of all rounds, since what else the machine does only adds
to it. The goal is 16 ms, the time of one picture on a screen.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from bench_keystroke import four_systems
from PySide6.QtCore import QSettings, QThreadPool
from PySide6.QtWidgets import QApplication
from slot_actions import PARTS, big_jobs_folder, pages

from deskapp.app.immortal import keep_alive
from deskapp.app.window import load_desk, load_rest
from deskapp.ui.building import InTurns
from deskapp.ui.furnish import Furniture
from deskapp.ui.main_window import MainWindow
from deskapp.ui.quiet_style import QuietStyle
from deskapp.ui.sweeper import Sweeper
from deskapp.ui.theme import Appearance, Theme

if TYPE_CHECKING:
    from collections.abc import Callable

    from slot_actions import Part

    from deskapp.session.editor import Editor
    from deskapp.ui.desk import Desk

GOAL = 16.0
JOBS = ("four systems of ten points", "the sample")
_CALM = 4
"""Turns in which nothing is due before a page counts as turned to."""
_QUIET = 0.3
"""Seconds in which next to nothing is done before any other step counts as over."""
_NOTHING = 0.2
"""Milliseconds that a turn takes in which next to nothing is done."""

Times = dict[str, list[float]]


def timed(work: Callable[[], object]) -> float:
    """Do `work` and return the ms of processor time it took in this thread."""
    begin = time.thread_time()
    work()
    return (time.thread_time() - begin) * 1000


class Watch:
    """Measures turns of the event loop until everything that was begun is over."""

    def __init__(self, app: QApplication, furniture: Furniture) -> None:
        self._app = app
        self._furniture = furniture

    def is_due(self) -> bool:
        """Say whether something is begun and not over."""
        bench, pool = self._furniture.bench, QThreadPool.globalInstance()
        windows = self._app.topLevelWidgets()
        return (
            (bench is not None and (bench.waits() or bench.builds()))
            or pool.activeThreadCount() > 0
            or any(not one.is_over for top in windows for one in top.findChildren(InTurns))
        )

    def longest(self, step: Callable[[], object], *, is_page: bool = False) -> float:
        """Do a step and all that follows from it; return the ms of the longest turn.

        After turning to a page the quiet moment in which other pages are built is not waited for.
        """
        turns = [timed(step)]
        turns.extend(self._turns_of_a_page() if is_page else self._turns_until_quiet())
        return max(turns)

    def _turns_of_a_page(self) -> list[float]:
        turns: list[float] = []
        calm = 0
        while calm < _CALM:
            calm = 0 if self.is_due() else calm + 1
            turns.append(timed(self._app.processEvents))
        return turns

    def _turns_until_quiet(self) -> list[float]:
        turns: list[float] = []
        quiet_since = time.monotonic()
        while time.monotonic() - quiet_since < _QUIET:
            turns.append(timed(self._app.processEvents))
            if turns[-1] > _NOTHING or self.is_due():
                quiet_since = time.monotonic()
            time.sleep(0.002)
        return turns


def opened(desk: Desk, job: str) -> Editor:
    """Return the job to be measured."""
    if job == JOBS[1]:
        return desk.open_sample()
    editor = desk.new_job()
    four_systems(editor)
    return editor


def do_all(watch: Watch, furniture: Furniture, parts: list[Part]) -> Times:
    """Do everything twice; return the longest turn of each step, the first time and the second."""
    found: Times = {}
    for part in (pages, *parts, *parts) if pages not in parts else (*parts, *parts):
        for step in part(furniture):
            step.before()
            watch.longest(lambda: None)
            took = watch.longest(step.act, is_page=step.is_page)
            found.setdefault(step.name, []).append(took)
    return found


def one_round(job: str, parts: list[Part]) -> Times:
    """Open the window as the program does, and do everything in it."""
    keep_alive()
    app = QApplication(sys.argv[:1])
    theme = Theme(app, Appearance.LIGHT)
    theme.refine(QuietStyle())
    with TemporaryDirectory() as place:
        sweeper = Sweeper(app)
        desk = load_desk(Path(place) / "settings", Path(place) / "settings")
        jobs = {"jobs_folder": str(Path(place) / "jobs")}
        desk.preferences = desk.preferences.model_copy(update=jobs)
        sweeper.keep_loaded()
        load_rest(desk)
        memory = QSettings(str(Path(place) / "window.ini"), QSettings.Format.IniFormat)
        window = MainWindow(theme, memory)
        furniture = Furniture(window, desk)
        window.get_ready(furniture)
        window.show()
        furniture.files.show(opened(desk, job))
        big_jobs_folder(furniture)
        watch = Watch(app, furniture)
        watch.longest(lambda: None, is_page=True)
        found = do_all(watch, furniture, parts)
        window.forget_changes()
        window.close()
        QThreadPool.globalInstance().waitForDone()
    return found


def rounds_of(job: str, rounds: int, names: list[str]) -> list[Times]:
    """Have rounds done, each in a process of its own."""
    command = [sys.executable, __file__, "--round", job, *names]
    found: list[Times] = []
    for _round in range(rounds):
        run = subprocess.run(command, stdout=subprocess.PIPE, text=True, check=False)
        found.append(json.loads(run.stdout.splitlines()[-1]))
    return found


def main() -> int:
    """Measure and print; return 1 if a turn takes longer than the goal."""
    by_name = {part.__name__: part for part in PARTS}
    if sys.argv[1:2] == ["--round"]:
        found = one_round(sys.argv[2], [by_name[name] for name in sys.argv[3:]])
        print(json.dumps(found), flush=True)
        os._exit(0)
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 3
    names = sys.argv[2:] or list(by_name)
    worst = 0.0
    for job in JOBS:
        taken = rounds_of(job, rounds, names)
        print(f"\n{job}   (goal: at most {GOAL:.0f} ms in a turn)")
        for name in taken[0]:
            first = min(one[name][0] for one in taken)
            again = min(min(one[name][1:], default=one[name][0]) for one in taken)
            worst = max(worst, first, again)
            remark = "" if max(first, again) <= GOAL else "   longer"
            print(f"  {name:<34} {first:6.1f} ms, again {again:6.1f} ms{remark}")
    return 0 if worst <= GOAL else 1


if __name__ == "__main__":
    sys.exit(main())
