"""How long it takes from a keystroke in a reading to the verdict that follows from it.

Run it by hand: ``python tests/ui/bench_keystroke.py [keystrokes [width height]]``. The job is
invented: four systems, each with a test of ten points. Each keystroke changes one reading. Measured
are, for each:

- the verdict: from the end of the pause that is made while someone types until the new verdict is
  painted. The goal is 4 ms in the middle and 16 ms for 99 of 100, the time of one picture on a
  screen;
- the longest turn of the event loop among those that bring all the rest of the window up to date;
- all of it together.

The window is 1440 by 900 points unless another size is named: in a small one the verdicts stand in
a line above the page, which is fitted anew with each of them.

Then every page is turned to, the first time, when it is built, and once more. All is processor time
of this process, so that a busy machine does not count.
"""

from __future__ import annotations

import os
import sys
import time
from pathlib import Path
from statistics import median, quantiles
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, NamedTuple

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from PySide6.QtCore import QSettings, QSize
from PySide6.QtWidgets import QApplication

from deskapp.app.immortal import keep_alive
from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.session.editor import Editor
from deskapp.session.pages import PAGES
from deskapp.session.resources import load_shelf
from deskapp.session.settings import Preferences
from deskapp.session.warming import warm_up
from deskapp.ui.desk import Desk
from deskapp.ui.furnish import Furniture
from deskapp.ui.main_window import MainWindow
from deskapp.ui.quiet_style import QuietStyle
from deskapp.ui.theme import Appearance, Theme

if TYPE_CHECKING:
    from collections.abc import Callable

    from deskapp.ui.workbench import Workbench

GOAL, GOAL_P99 = 4.0, 16.0
SYSTEMS, POINTS = 4, 10
_SIZE = QSize(1440, 900)
_RING = {
    "flow_low": "20",
    "flow_high": "150",
    "coefficient": "9.5",
    "exponent": "0.5",
    "signal_low": "10",
    "signal_high": "250",
}
_SETUP = {
    "stage": "rough_in",
    "metric": "total",
    "direction": "depressurize",
    "reference": "house_open",
    "flow_basis": "as_indicated",
}


def four_systems(editor: Editor) -> None:
    """Type the invented job: at each system ten points around 25 Pa."""
    editor.enter("house.floor_area", "4,800")
    for name, text in _RING.items():
        editor.enter(f"fans.0.rings.0.{name}", text)
    for at in range(SYSTEMS):
        if at:
            editor.add_row("systems")
            editor.add_row("tests")
        editor.enter(f"systems.{at}.name", f"System {at + 1}")
        editor.enter(f"systems.{at}.area_served", "1,200")
        editor.choose(f"systems.{at}.air_handler_installed", "yes")
        test = f"tests.{at}"
        editor.choose(f"{test}.system", editor.job.systems[at].key)
        editor.choose(f"{test}.setup.ring", editor.job.fans[0].rings[0].key)
        editor.enter(f"{test}.setup.target_pressure", "25 Pa")
        for name, value in _SETUP.items():
            editor.choose(f"{test}.setup.{name}", value)
        for row in range(POINTS):
            if editor.row_count(f"{test}.readings") <= row:
                editor.add_row(f"{test}.readings")
            editor.enter(f"{test}.readings.{row}.duct_pressure", f"-{24.6 + row / 10:.1f}")
            editor.enter(f"{test}.readings.{row}.fan_signal", f"{31.5 + row / 10:.1f}")
    editor.choose_limit("iecc-2018")


class Keystroke(NamedTuple):
    """What one keystroke took, in ms of processor time."""

    verdict: float
    longest_turn: float
    whole: float


def timed(work: Callable[[], object]) -> float:
    """Do `work` and return the ms of processor time it took."""
    begin = time.process_time()
    work()
    return (time.process_time() - begin) * 1000


def page_turns(app: QApplication, bench: Workbench) -> list[tuple[str, float, float]]:
    """Turn to every page twice; return its id and the ms of both."""

    def turn(page_id: str) -> float:
        return timed(lambda: bench.show_page(page_id)) + timed(app.processEvents)

    first = [turn(page.id) for page in PAGES]
    return [(page.id, took, turn(page.id)) for page, took in zip(PAGES, first, strict=True)]


def keystrokes(
    desk: Desk, memory: Path, count: int, size: QSize
) -> tuple[list[Keystroke], list[tuple[str, float, float]]]:
    """Return what each keystroke took, and the turning of each page."""
    app = QApplication.instance() or QApplication(sys.argv[:1])
    assert isinstance(app, QApplication)
    theme = Theme(app, Appearance.LIGHT)
    theme.refine(QuietStyle())
    window = MainWindow(theme, QSettings(str(memory), QSettings.Format.IniFormat))
    furniture = Furniture(window, desk)
    window.get_ready(furniture)
    window.show()
    window.resize(size)
    editor = desk.new_job()
    four_systems(editor)
    furniture.files.show(editor)
    bench = furniture.bench
    assert bench is not None
    bench.show_page("readings")
    app.processEvents()
    waits = bench.waits
    taken: list[Keystroke] = []
    for at in range(count):
        path = f"tests.{at % SYSTEMS}.readings.{at % POINTS}.fan_signal"
        bench.bridge.enter_soon(path, f"{31.5 + at % 17 / 10 + at / 1000:.3f}")
        verdict = timed(bench.bridge.take_pause)
        turns = [timed(app.processEvents)]
        while waits():
            turns.append(timed(app.processEvents))
        taken.append(Keystroke(verdict, max(turns), verdict + sum(turns)))
    pages = page_turns(app, bench)
    window.forget_changes()
    window.close()
    return taken, pages


def main() -> int:
    """Measure and print; return 1 if a goal is missed."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 400
    size = QSize(*map(int, sys.argv[2:4])) if len(sys.argv) > 3 else _SIZE
    keep_alive()
    with TemporaryDirectory() as place:
        warm_up()
        shelf = load_shelf(resources_folder(), templates_folder())
        desk = Desk(shelf, Preferences(jobs_folder=place), Path(place) / "settings")
        taken, pages = keystrokes(desk, Path(place) / "window.ini", count, size)
    verdicts = [one.verdict for one in taken[10:]]
    turns = [one.longest_turn for one in taken[10:]]
    middle, last = median(verdicts), quantiles(verdicts, n=100)[-1]
    print(f"keystroke to verdict, median    {middle:6.1f} ms   (goal: at most {GOAL})")
    print(f"keystroke to verdict, 99 of 100 {last:6.1f} ms   (goal: at most {GOAL_P99})")
    print(f"longest turn after it, median   {median(turns):6.1f} ms")
    print(f"longest turn, 99 of 100         {quantiles(turns, n=100)[-1]:6.1f} ms")
    print(f"all of it, median               {median(one.whole for one in taken[10:]):6.1f} ms")
    for page_id, first, again in pages:
        print(f"turn to {page_id:<23} {first:6.1f} ms, again {again:6.1f} ms")
    return 0 if middle <= GOAL and last <= GOAL_P99 else 1


if __name__ == "__main__":
    sys.exit(main())
