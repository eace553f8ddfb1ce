"""The window with an invented job of two systems in it, on the offscreen platform."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
sys.path.insert(0, str(Path(__file__).parent))  # helpers of these tests

import pytest
from PySide6.QtCore import QSettings, QSize
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from shiboken6 import delete

from deskapp.app.immortal import keep_alive
from deskapp.app.whole_errors import keep_errors_whole
from deskapp.app.window import Opening
from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.session.editor import Editor
from deskapp.session.opening import new_job
from deskapp.session.resources import Shelf, load_shelf
from deskapp.session.settings import Preferences
from deskapp.ui.desk import Desk
from deskapp.ui.furnish import Furniture
from deskapp.ui.main_window import MainWindow
from deskapp.ui.quiet_style import QuietStyle
from deskapp.ui.sweeper import Sweeper
from deskapp.ui.theme import Appearance, Theme
from deskapp.ui.workbench import Workbench

keep_alive()
keep_errors_whole()

TEXTS = {
    "number": "J-0001",
    "title": "Larkspur Lot 14",
    "site.address": "14 Larkspur Lane",
    "house.floor_area": "2,640",
    "systems.0.name": "Ground floor",
    "systems.0.area_served": "1,520",
    "systems.1.name": "Upper floor",
    "systems.1.area_served": "1,120",
    "fans.0.rings.0.flow_low": "20",
    "fans.0.rings.0.flow_high": "150",
    "fans.0.rings.0.coefficient": "9.5",
    "fans.0.rings.0.exponent": "0.5",
    "fans.0.rings.0.signal_low": "25",
    "fans.0.rings.0.signal_high": "250",
}
CHOICES = {"systems.0.air_handler_installed": "yes", "systems.1.air_handler_installed": "no"}
SETUP = {
    "stage": "rough_in",
    "metric": "total",
    "direction": "depressurize",
    "reference": "house_open",
    "flow_basis": "as_indicated",
}
READINGS = (
    (("-25.0", "32.4"), ("-24.8", "31.9"), ("-25.0", "32.6")),
    (("-25.2", "30.0"), ("-24.9", "29.5"), ("-25.0", "29.3")),
)


def fill(editor: Editor) -> None:
    """Type an invented job: the first system passes, the second does not."""
    editor.add_row("systems")
    for path, text in TEXTS.items():
        editor.enter(path, text)
    for path, value in CHOICES.items():
        editor.choose(path, value)
    for at, readings in enumerate(READINGS):
        if at:
            editor.add_row("tests")
        test = f"tests.{at}"
        editor.choose(f"{test}.system", editor.job.systems[at].key)
        editor.choose(f"{test}.setup.ring", editor.job.fans[0].rings[0].key)
        editor.enter(f"{test}.setup.target_pressure", "25 Pa")
        for name, value in SETUP.items():
            editor.choose(f"{test}.setup.{name}", value)
        for row, (pressure, signal) in enumerate(readings):
            if editor.row_count(f"{test}.readings") <= row:
                editor.add_row(f"{test}.readings")
            editor.enter(f"{test}.readings.{row}.duct_pressure", pressure)
            editor.enter(f"{test}.readings.{row}.fan_signal", signal)
    editor.choose_limit("iecc-2018")


@pytest.fixture(scope="session")
def shelf() -> Shelf:
    return load_shelf(resources_folder(), templates_folder())


@pytest.fixture
def new_editor(shelf: Shelf) -> Editor:
    """A new job with one empty row in each list."""
    return new_job(shelf, Preferences())


@pytest.fixture
def editor(shelf: Shelf) -> Editor:
    """The invented job, as if just opened."""
    sketch = new_job(shelf, Preferences())
    fill(sketch)
    return Editor(sketch.job, shelf, Preferences())


@pytest.fixture(scope="session")
def theme(qapp: QApplication) -> Theme:
    theme = Theme(qapp, Appearance.LIGHT)
    theme.refine(QuietStyle())
    return theme


@pytest.fixture(scope="session")
def sweeper(qapp: QApplication) -> Iterator[Sweeper]:
    """What looks for unused memory, as in the program, in this thread alone."""
    yield Sweeper(qapp)
    gc.enable()


@pytest.fixture(autouse=True)
def _swept(sweeper: Sweeper) -> Iterator[None]:
    yield
    sweeper.look()


@pytest.fixture(autouse=True)
def _hook_kept() -> Iterator[None]:
    before = sys.excepthook
    yield
    sys.excepthook = before


@pytest.fixture
def desk(shelf: Shelf, tmp_path: Path) -> Desk:
    preferences = Preferences(jobs_folder=str(tmp_path / "jobs"))
    return Desk(shelf, preferences, tmp_path / "settings")


@pytest.fixture
def window(qtbot: QtBot, theme: Theme, desk: Desk, tmp_path: Path) -> Iterator[MainWindow]:
    """The window, furnished, with its start page."""
    memory = QSettings(str(tmp_path / "window.ini"), QSettings.Format.IniFormat)
    window = MainWindow(theme, memory)
    window.resize(QSize(1280, 800))
    qtbot.addWidget(window, before_close_func=MainWindow.forget_changes)
    window.get_ready(Furniture(window, desk))
    with qtbot.waitActive(window):
        window.show()
        window.activateWindow()
    yield window
    theme.choose(Appearance.LIGHT)


@pytest.fixture
def started(qtbot: QtBot, qapp: QApplication, theme: Theme) -> Iterator[Callable[[Path], Opening]]:
    """Starts the program with a folder for all it keeps; at the end nothing of it stays.

    Its theme above all: one that stays goes on to dress the application.
    """
    made: list[Opening] = []

    def start(folder: Path) -> Opening:
        opening = Opening(qapp, folder)
        qtbot.addWidget(opening.window, before_close_func=MainWindow.forget_changes)
        made.append(opening)
        return opening

    yield start
    for opening in made:
        opening.window.forget_changes()
        opening.window.close()
        delete(opening.theme)
        delete(opening)
    theme.choose(Appearance.LIGHT)


@pytest.fixture
def furniture(window: MainWindow) -> Furniture:
    assert isinstance(window.furniture, Furniture)
    return window.furniture


@pytest.fixture
def read_whole(furniture: Furniture, qtbot: QtBot) -> Callable[[], None]:
    """Waits until the job asked for is read, and shown or refused."""
    return lambda: qtbot.waitUntil(lambda: not furniture.files.reading.is_busy, timeout=10_000)


@pytest.fixture
def bench(furniture: Furniture, editor: Editor) -> Workbench:
    """The workbench with the invented job."""
    furniture.files.show(editor)
    assert furniture.bench is not None
    return furniture.bench


@pytest.fixture
def new_bench(furniture: Furniture) -> Workbench:
    """The workbench with a new job."""
    furniture.files.new_now()
    assert furniture.bench is not None
    return furniture.bench
