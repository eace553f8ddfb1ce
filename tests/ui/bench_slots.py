"""How long the longest turn of the event loop is while pages are turned to, and other big steps.

Run it by hand: ``python tests/ui/bench_slots.py [rounds]``. Measured are the sample jobs and the
invented job of `bench_keystroke`, four systems of ten points. Every page is turned to for the first
time, when it is built, and once more; then a big step is undone on the page of the result, and the
appearance is changed. Printed is the processor time of the longest turn of the event loop in the
thread of the window, the least of all rounds, since what else the machine does only adds to it. The
goal is 16 ms, the time of one picture on a screen.
"""

from __future__ import annotations

import os
import sys
import time
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from bench_keystroke import four_systems
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication

from deskapp.app.immortal import keep_alive
from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.session import use_cases
from deskapp.session.pages import PAGES
from deskapp.session.resources import load_shelf
from deskapp.session.settings import Preferences
from deskapp.ui import page_maker
from deskapp.ui.desk import Desk
from deskapp.ui.furnish import Furniture
from deskapp.ui.main_window import MainWindow
from deskapp.ui.quiet_style import QuietStyle
from deskapp.ui.sweeper import Sweeper
from deskapp.ui.theme import Appearance, Theme

if TYPE_CHECKING:
    from collections.abc import Callable

    from deskapp.session.editor import Editor
    from deskapp.ui.workbench import Workbench

GOAL = 16.0
_CALM = 4
"""Turns in which nothing is due before a step counts as over."""


def timed(work: Callable[[], object]) -> float:
    """Do `work` and return the ms of processor time it took in this thread."""
    begin = time.thread_time()
    work()
    return (time.thread_time() - begin) * 1000


def longest_turn(app: QApplication, bench: Workbench, step: Callable[[], object]) -> float:
    """Do a step and all that follows from it; return the ms of the longest turn."""
    turns = [timed(step)]
    calm = 0
    while calm < _CALM:
        calm = 0 if bench.waits() or bench.builds() else calm + 1
        turns.append(timed(app.processEvents))
    return max(turns)


def big_step(editor: Editor) -> None:
    """Take all tests but the first out, as one step."""
    job = editor.job
    editor.take(job.model_copy(update={"tests": job.tests[:1]}), "big step")


def one_round(app: QApplication, theme: Theme, desk: Desk, editor: Editor) -> dict[str, float]:
    """Return the longest turn of each step, by its name."""
    memory = desk.folder / "window.ini"
    window = MainWindow(theme, QSettings(str(memory), QSettings.Format.IniFormat))
    furniture = Furniture(window, desk)
    window.get_ready(furniture)
    window.show()
    furniture.files.show(editor)
    bench = furniture.bench
    assert bench is not None
    longest_turn(app, bench, lambda: None)
    found: dict[str, float] = {}
    for name in ("first turn to", "return to"):
        for page in PAGES:
            took = longest_turn(app, bench, lambda page=page: bench.show_page(page.id))
            found[f"{name} {page.id}"] = took
    longest_turn(app, bench, lambda: bench.show_page("result"))
    longest_turn(app, bench, lambda: big_step(editor))
    found["undo of a big step"] = longest_turn(app, bench, bench.bridge.undo)
    for appearance in (Appearance.DARK, Appearance.LIGHT):
        took = longest_turn(app, bench, lambda to=appearance: theme.choose(to))
        found[f"appearance: {appearance.value}"] = took
    window.forget_changes()
    window.close()
    window.deleteLater()
    app.processEvents()
    return found


def main() -> int:
    """Measure and print; return 1 if a turn takes longer than the goal."""
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 3
    keep_alive()
    app = QApplication(sys.argv[:1])
    theme = Theme(app, Appearance.LIGHT)
    theme.refine(QuietStyle())
    shelf = load_shelf(resources_folder(), templates_folder())
    page_maker.load()
    use_cases.load_reports()
    use_cases.warm_up()
    Sweeper(app).keep_loaded()
    worst = 0.0
    with TemporaryDirectory() as place:
        desk = Desk(shelf, Preferences(jobs_folder=place), Path(place) / "settings")

        def four() -> Editor:
            editor = desk.new_job()
            four_systems(editor)
            return editor

        jobs: dict[str, Callable[[], Editor]] = {"four systems of ten points": four}
        for sample in use_cases.list_samples(shelf):
            jobs[sample.title] = partial(desk.open_sample, sample.id)
        for title, job in jobs.items():
            taken = [one_round(app, theme, desk, job()) for _round in range(rounds)]
            print(f"\n{title}   (goal: at most {GOAL:.0f} ms in a turn)")
            for name in taken[0]:
                least = min(one[name] for one in taken)
                worst = max(worst, least)
                print(f"  {name:<24} {least:6.1f} ms{'' if least <= GOAL else '   longer'}")
    return 0 if worst <= GOAL else 1


if __name__ == "__main__":
    sys.exit(main())
