"""Nothing is cut, nothing lies on top of something else, and no page scrolls sideways.

Each page and each dialog is measured with a full job, in languages with longer words, with a font
six points larger, in a small and in a large window. A covering part of all combinations is tried
each time; ``DUCTFOLIO_ALL_LOOKS=1`` tries every one of them.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from itertools import product
from typing import NamedTuple

import pytest
from PySide6.QtCore import QSettings, QSize
from PySide6.QtWidgets import QApplication, QDialog, QLabel, QLineEdit, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot
from whole import make_whole

from deskapp.catalog.files import PSEUDO
from deskapp.i18n import ENGLISH, use_language
from deskapp.session.editor import Editor
from deskapp.session.live.import_log import TextLog, log_of_lines
from deskapp.session.pages import PAGES
from deskapp.session.resources import Shelf
from deskapp.session.samples import open_sample
from deskapp.session.settings import Preferences
from deskapp.ui.desk import Desk
from deskapp.ui.dialogs import room
from deskapp.ui.fold import FoldButton
from deskapp.ui.furnish import Furniture
from deskapp.ui.instruments.earlier_card import EarlierCard
from deskapp.ui.instruments.instruments_dialog import InstrumentsDialog
from deskapp.ui.instruments.own_card import OwnCard
from deskapp.ui.live.columns_dialog import ColumnsDialog
from deskapp.ui.live.gauge_card import GaugeCard
from deskapp.ui.main_window import MainWindow
from deskapp.ui.photos.boards import SketchBoard
from deskapp.ui.photos.drawing_dialog import DrawingDialog
from deskapp.ui.photos.signature_dialog import SignatureDialog
from deskapp.ui.theme import Theme
from tests.ui.measuring import FRAME, LARGEST, troubles
from tests.ui.resting import settle

pytestmark = pytest.mark.usefixtures("qtbot")

SIZES = (LARGEST, QSize(1440, 900))


class Case(NamedTuple):
    """A language, and by how many points the font is larger than usual."""

    language: str
    larger: int


ALL = tuple(Case(*both) for both in product((ENGLISH, "es", "fr_CA", PSEUDO), (0, 6)))
COVERING = (Case(ENGLISH, 0), Case("es", 6), Case("fr_CA", 6), Case(PSEUDO, 0), Case(PSEUDO, 6))
CASES = ALL if os.environ.get("DUCTFOLIO_ALL_LOOKS") else COVERING


class Stage(NamedTuple):
    """A window with a full job in it."""

    case: Case
    window: MainWindow
    furniture: Furniture

    def troubles(self, root: QWidget) -> list[str]:
        """Return what does not fit; wide tables may scroll with longer words or a larger font."""
        is_usual = self.case.larger == 0 and self.case.language != PSEUDO
        return troubles(root, tables_may_scroll=not is_usual)


def full_job(shelf: Shelf) -> Editor:
    """Return a sample with three systems, long names, and a matter of safety that is open."""
    editor = open_sample("maple", shelf, Preferences())
    for name in ("Bonus room above the garage", "Sun room"):
        path = editor.add_row("systems")
        editor.enter(f"{path}.name", name)
        editor.enter(f"{path}.area_served", "400")
    editor.choose("safety.gas_smell", "yes")
    return Editor(editor.job, shelf, Preferences())


@pytest.fixture(scope="module", params=CASES, ids=lambda case: f"{case.language}+{case.larger}")
def stage(
    request: pytest.FixtureRequest,
    qapp: QApplication,
    theme: Theme,
    shelf: Shelf,
    tmp_path_factory: pytest.TempPathFactory,
) -> Iterator[Stage]:
    case: Case = request.param
    usual, font = qapp.font(), qapp.font()
    patch = pytest.MonkeyPatch()
    patch.setattr(room, "room_on_screen", room_of_a_small_screen)
    font.setPointSizeF(usual.pointSizeF() + case.larger)
    use_language(case.language)
    qapp.setFont(font)
    folder = tmp_path_factory.mktemp("looks")
    desk = Desk(shelf, Preferences(jobs_folder=str(folder / "jobs")), folder / "settings")
    memory = QSettings(str(folder / "window.ini"), QSettings.Format.IniFormat)
    window = MainWindow(theme, memory)
    window.start.add_pictures()
    furniture = Furniture(window, desk)
    window.get_ready(furniture)
    furniture.files.show(full_job(shelf))
    window.show()
    yield Stage(case, window, furniture)
    window.forget_changes()
    window.close()
    window.deleteLater()
    settle()
    qapp.setFont(usual)
    use_language(ENGLISH)
    patch.undo()


def room_of_a_small_screen(_dialog: QWidget) -> QSize:
    return LARGEST - FRAME


def unfold(root: QWidget) -> None:
    for button in root.findChildren(FoldButton):
        if not button.is_open and button.isVisibleTo(root):
            button.turn()


@pytest.mark.parametrize("page_id", [page.id for page in PAGES])
def test_that_a_page_fits(stage: Stage, page_id: str) -> None:
    bench = stage.furniture.bench
    assert bench is not None
    bench.show_page(page_id)
    unfold(bench.page)
    for size in SIZES:
        stage.window.resize(size)
        settle()
        assert stage.window.size() == size
        assert stage.troubles(stage.window) == []


def test_that_a_page_fits_beside_help(stage: Stage) -> None:
    bench = stage.furniture.bench
    assert bench is not None
    bench.show_page("client")
    stage.window.resize(SIZES[1])
    stage.window.commands.help.trigger()
    settle()
    found = stage.troubles(bench)
    panel = stage.furniture.guide.panel
    assert panel is not None
    found += stage.troubles(panel)
    panel.close()
    assert found == []


def test_that_the_start_page_fits(stage: Stage) -> None:
    window, bench = stage.window, stage.furniture.bench
    assert bench is not None
    window.stack.setCurrentWidget(window.start)
    window.start.show_due([("a.ductjob", "J-0004 Clinic fit-out: Calibration overdue")])
    window.resize(LARGEST)
    settle()
    assert stage.troubles(window) == []
    window.stack.setCurrentWidget(bench)


def command(name: str) -> Callable[[Stage], None]:
    return lambda stage: getattr(stage.window.commands, name).trigger()


def on_page(page_id: str, kind: type[QWidget], act: str) -> Callable[[Stage], None]:
    """Return what presses a button of a card on a page."""

    def press(stage: Stage) -> None:
        assert stage.furniture.bench is not None
        stage.furniture.bench.show_page(page_id)
        getattr(stage.furniture.bench.page.findChild(kind), act)()

    return press


def register_a_fan(stage: Stage) -> None:
    stage.furniture.show_instruments()
    dialog = stage.window.findChildren(InstrumentsDialog)[-1]
    dialog.add("gauges")
    dialog.add("fans")


def check_a_fan(stage: Stage) -> None:
    register_a_fan(stage)
    stage.window.findChildren(InstrumentsDialog)[-1].check_fan("fans.0")


def fit_a_ring(stage: Stage) -> None:
    register_a_fan(stage)
    dialog = stage.window.findChildren(InstrumentsDialog)[-1]
    dialog.fit_ring("fans.0.rings.0")


def sketch(stage: Stage) -> None:
    assert stage.furniture.bench is not None
    DrawingDialog(SketchBoard(stage.furniture.bench.bridge), stage.window).open()


def change_a_template(stage: Stage) -> None:
    assert stage.furniture.bench is not None
    stage.furniture.bench.show_page("report")
    kind = next(iter(stage.furniture.bench.report_page.papers.rows))
    stage.furniture.bench.report_page.papers.change_template(kind)


def import_a_log(stage: Stage) -> None:
    assert stage.furniture.bench is not None
    log = stage.furniture.desk.folder / "log.csv"
    log.parent.mkdir(parents=True, exist_ok=True)
    log.write_text("time [s],duct pressure [Pa],fan signal [Pa]\n1,-25.1,31\n2,-25,32\n")
    stage.furniture.bench.show_page("readings")
    card = stage.furniture.bench.page.findChild(GaugeCard)
    assert isinstance(card, GaugeCard)
    card.import_log(log)


def name_columns(stage: Stage) -> None:
    log = log_of_lines(("1,-25.1,31", "2,-25,32"), "lines")
    assert isinstance(log, TextLog)
    ColumnsDialog(log, stage.furniture.desk.preferences.formatter, stage.window).open()


DIALOGS: dict[str, Callable[[Stage], None]] = {
    "preferences": command("preferences"),
    "instruments": register_a_fan,
    "field check": check_a_fan,
    "ring": fit_a_ring,
    "limits": command("choose_limit"),
    "own limits": command("own_limits"),
    "sampling": command("sampling"),
    "jobs": command("jobs"),
    "branding": command("branding"),
    "key": command("signing_key"),
    "usual": command("usual"),
    "about": command("about"),
    "check": command("check_report"),
    "mail": command("mail"),
    "print": command("print"),
    "issue": lambda stage: stage.furniture.bench.issue_report("homeowner"),
    "earlier": on_page("setup", EarlierCard, "ask_which"),
    "take": on_page("setup", OwnCard, "ask_what_to_take"),
    "live": on_page("readings", GaugeCard, "read_live"),
    "import": import_a_log,
    "columns": name_columns,
    "sketch": sketch,
    "signature": lambda stage: SignatureDialog(stage.window).open(),
    "template": change_a_template,
}


@pytest.mark.parametrize("name", DIALOGS)
def test_that_a_dialog_fits(stage: Stage, name: str) -> None:
    DIALOGS[name](stage)
    make_whole()
    settle()
    opened = [one for one in QApplication.topLevelWidgets() if isinstance(one, QDialog)]
    shown = [dialog for dialog in opened if dialog.isVisible()]
    dialog = next(one for one in shown if not one.findChildren(QDialog))
    try:
        assert dialog.size().boundedTo(LARGEST - FRAME) == dialog.size()
        assert stage.troubles(dialog) == []
    finally:
        for one in reversed(shown):
            one.close()
        settle()


def test_that_what_does_not_fit_is_found(qtbot: QtBot) -> None:
    box = QWidget()
    qtbot.addWidget(box)
    column = QVBoxLayout(box)
    label, line = QLabel("much longer than there is room for"), QLineEdit("cut without a tip")
    for widget in (label, line):
        column.addWidget(widget)
    box.show()
    settle()
    label.resize(20, 20)
    line.setGeometry(label.x(), label.y(), 30, 20)
    found = " ".join(troubles(box))
    assert "much longer" in found
    assert "cut without a tip" in found
    assert "overlap" in found
