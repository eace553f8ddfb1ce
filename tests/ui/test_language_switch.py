"""Another language while the program runs: everything is told in it, and nothing else changes."""

from __future__ import annotations

import errno
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QSettings, QSize
from PySide6.QtGui import QAction
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QComboBox,
    QLabel,
    QLineEdit,
    QMenu,
    QWidget,
)
from pytestqt.qtbot import QtBot

from deskapp.app.window import Opening
from deskapp.archive.safe_write import write_problem
from deskapp.i18n import ENGLISH, LANGUAGES, _, language, use_language
from deskapp.session.editor import Editor
from deskapp.session.first_look import LANGUAGE_VARIABLE
from deskapp.session.pages import PAGES
from deskapp.session.resources import Shelf
from deskapp.session.settings import Language, Preferences
from deskapp.ui.company.preferring import show_preferences
from deskapp.ui.desk import Desk
from deskapp.ui.fields.chosen_fields import Choices
from deskapp.ui.fold import FoldButton
from deskapp.ui.furnish import Furniture
from deskapp.ui.main_window import MainWindow
from deskapp.ui.places import path_of
from deskapp.ui.progress import Undertaking
from deskapp.ui.theme import Theme
from deskapp.ui.workbench import Workbench
from tests.ui.conftest import fill

Opener = Callable[[str, str], tuple[MainWindow, Furniture]]
OTHERS = [spoken for spoken in LANGUAGES if spoken != ENGLISH]


@pytest.fixture(autouse=True)
def _english_again(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.delenv(LANGUAGE_VARIABLE, raising=False)
    yield
    use_language(ENGLISH)


def let_go() -> None:
    """Let widgets go that were to be deleted."""
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)


def texts_of(root: QWidget) -> list[str]:
    """Everything that widgets and commands below `root` show or say, in an order of its own."""
    found: list[str] = [root.windowTitle()]
    for widget in [root, *root.findChildren(QWidget)]:
        kind = type(widget).__name__
        found += (f"{kind} {text}" for text in said_by(widget) if text)
    for action in root.findChildren(QAction):
        found += (action.text(), action.toolTip(), action.statusTip())
    return sorted(found)


def differing(one: QWidget, other: QWidget) -> tuple[list[str], list[str]]:
    """Return what only one of two windows says."""
    said, heard = Counter(texts_of(one)), Counter(texts_of(other))
    return sorted((said - heard).elements()), sorted((heard - said).elements())


def said_by(widget: QWidget) -> Iterator[str]:
    yield from (widget.accessibleName(), widget.accessibleDescription(), widget.toolTip())
    if isinstance(widget, QLabel | QAbstractButton):
        yield widget.text()
    elif isinstance(widget, QLineEdit):
        yield from (widget.text(), widget.placeholderText())
    elif isinstance(widget, QMenu):
        yield widget.title()
    elif isinstance(widget, QComboBox):
        yield from (widget.itemText(at) for at in range(widget.count()))
    elif isinstance(widget, QAbstractItemView):
        model = widget.model()
        for row in range(model.rowCount()):
            for column in range(20):
                yield str(model.index(row, column).data() or "")


def prefer(furniture: Furniture, spoken: str) -> None:
    wanted = furniture.desk.preferences.model_copy(update={"language": Language(spoken)})
    assert furniture.prefer(wanted) is None
    let_go()


@pytest.fixture
def opened(qtbot: QtBot, theme: Theme, shelf: Shelf, tmp_path: Path) -> Opener:
    """Return a way to open a window in a language, with the invented job and three steps."""

    def open_in(spoken: str, place: str) -> tuple[MainWindow, Furniture]:
        use_language(spoken)
        preferences = Preferences(jobs_folder=str(tmp_path / "jobs"), language=Language(spoken))
        desk = Desk(shelf, preferences, tmp_path / place)
        memory = QSettings(str(tmp_path / f"{place}.ini"), QSettings.Format.IniFormat)
        window = MainWindow(theme, memory)
        window.resize(QSize(1280, 800))
        qtbot.addWidget(window, before_close_func=MainWindow.forget_changes)
        window.start.add_pictures()
        furniture = Furniture(window, desk)
        window.get_ready(furniture)
        with qtbot.waitActive(window):
            window.show()
            window.activateWindow()
        return window, furniture

    return open_in


def bench_of(furniture: Furniture) -> Workbench:
    assert furniture.bench is not None
    return furniture.bench


def work_in(furniture: Furniture, shelf: Shelf) -> Workbench:
    """Open the invented job and take three steps, the last one back."""
    sketch = Editor(furniture.desk.new_job().job, shelf, furniture.desk.preferences)
    fill(sketch)
    furniture.files.show(Editor(sketch.job, shelf, furniture.desk.preferences))
    bench = bench_of(furniture)
    bench.bridge.enter("house.floor_area", "2,700 ft2")
    bench.bridge.add_row("leaks")
    bench.bridge.choose("systems.0.air_handler_installed", "no")
    bench.bridge.undo()
    return bench


@pytest.mark.parametrize("spoken", LANGUAGES)
def test_that_a_window_says_the_same_as_one_started_in_the_language(
    opened: Opener, shelf: Shelf, qtbot: QtBot, spoken: str
) -> None:
    """From each of the other languages, at the start and with a job, on all pages."""
    one, two = (other for other in LANGUAGES if other != spoken)
    fresh, other = opened(spoken, "fresh")
    window, furniture = opened(one, "switched")
    prefer(furniture, spoken)
    assert language() == spoken
    assert differing(window, fresh) == ([], [])
    assert window.stack.currentWidget() is window.start
    turn_pages(work_in(other, shelf), qtbot)
    prefer(furniture, one)
    turn_pages(work_in(furniture, shelf), qtbot)
    for before in (one, two):
        prefer(furniture, before)
        prefer(furniture, spoken)
        turn_pages(bench_of(furniture), qtbot)
        assert differing(window, fresh) == ([], []), before


def turn_pages(bench: Workbench, qtbot: QtBot) -> None:
    """Look at each page, the last one until it shows the report."""
    for page in PAGES:
        bench.show_page(page.id)
        assert bench.page.is_whole
    preview = bench.report_page.preview
    qtbot.waitUntil(lambda: preview.drawn is not None and preview.page_count > 0, timeout=20_000)
    bench.show_page(PAGES[0].id)


@pytest.mark.parametrize("spoken", OTHERS)
def test_that_nothing_of_the_job_changes(
    bench: Workbench, furniture: Furniture, window: MainWindow, spoken: str
) -> None:
    bench.bridge.enter("title", "Another name")
    editor = bench.bridge.editor
    hold, job, path = editor.hold, editor.job, editor.path
    assert furniture.keep_copy()
    copies = list(furniture.desk.recovery_folder.iterdir())
    prefer(furniture, spoken)
    after = bench_of(furniture)
    assert after is not bench
    assert after.bridge.editor is editor is furniture.files.editor
    assert (editor.hold, editor.path) == (hold, path)
    assert editor.job is job
    assert editor.is_dirty
    assert window.isWindowModified()
    assert list(furniture.desk.recovery_folder.iterdir()) == copies != []
    prefer(furniture, ENGLISH)
    furniture.bench.undo()
    assert editor.job.title == "Larkspur Lot 14"


def test_that_undo_and_redo_are_named_in_the_language(
    bench: Workbench, furniture: Furniture, window: MainWindow
) -> None:
    steps = (
        lambda: bench.bridge.enter("house.floor_area", "2,700 ft2"),
        lambda: bench.bridge.add_row("leaks"),
        lambda: bench.bridge.remove_row("leaks.0"),
        lambda: bench.bridge.enter_block("tests.0.readings", 3, [{"fan_signal": "30"}]),
        lambda: bench.bridge.choose_limit("iecc-2021"),
    )
    for step in steps:
        step()
    told: dict[str, list[str]] = {}
    for spoken in (ENGLISH, *OTHERS):
        prefer(furniture, spoken)
        told[spoken] = []
        for _step in steps:
            furniture.bench.show_rest()
            told[spoken].append(window.commands.undo.text())
            furniture.bench.undo()
        for _step in steps:
            furniture.bench.redo()
    starts = {ENGLISH: "Undo ", "es": "Deshacer", "fr_CA": "Annuler"}
    for spoken, start in starts.items():
        assert [words for words in told[spoken] if not words.startswith(start)] == []
    for one, two, three in zip(*told.values(), strict=True):
        assert len({one, two, three}) == 3


def test_that_page_row_fold_scroll_and_cursor_stay(
    bench: Workbench, furniture: Furniture, window: MainWindow, qtbot: QtBot
) -> None:
    bench.go_to("systems.1.area_served")
    qtbot.wait(50)
    line = window.focusWidget()
    assert isinstance(line, QLineEdit)
    QTest.keyClicks(line, "98 wonky")
    line.setCursorPosition(3)
    folds = [fold for fold in bench.page.findChildren(FoldButton) if fold.isVisible()]
    folds[-1].turn()
    qtbot.wait(50)
    assert bench.page.verticalScrollBar().value() > 0
    prefer(furniture, "es")
    qtbot.wait(50)
    after = bench_of(furniture)
    assert after.page.page.id == bench_page("systems.1.area_served")
    held = window.focusWidget()
    assert held is not line
    assert isinstance(held, QLineEdit)
    assert path_of(held) == "systems.1.area_served"
    assert (held.text(), held.cursorPosition()) == ("98 wonky", 3)
    others = [fold for fold in after.page.findChildren(FoldButton) if fold.isVisible()]
    assert [fold.is_open for fold in others][-1]
    assert after.page.verticalScrollBar().value() > 0
    assert not held.visibleRegion().isEmpty()


def bench_page(path: str) -> str:
    from deskapp.session.pages import page_of

    return page_of(path)


def test_that_what_is_typed_beside_the_job_stays(bench: Workbench, furniture: Furniture) -> None:
    bench.show_page("leave")
    name = next(line for line in bench.page.findChildren(QLineEdit) if not path_of(line))
    name.setText("R. Invented")
    prefer(furniture, "fr_CA")
    lines = bench_of(furniture).page.findChildren(QLineEdit)
    assert "R. Invented" in [line.text() for line in lines]


def test_that_a_standing_notice_is_told_anew(bench: Workbench, furniture: Furniture) -> None:
    furniture.files.not_copied.emit("12345")
    before = bench.notice.text
    prefer(furniture, "es")
    after = bench_of(furniture).notice
    assert after.text != before
    assert after.text.endswith("12345")
    assert [button.text() for button in after.buttons] == [_("Save"), _("Close")]
    after.buttons[0].clicked.disconnect()


def test_that_a_standing_notice_gives_its_reason_in_the_new_language(
    bench: Workbench, furniture: Furniture
) -> None:
    full = write_problem(Path("/away/job.ductjob"), OSError(errno.ENOSPC, "full"))
    told = {"en": full.text}
    furniture.files.not_copied.emit(lambda: full.text)
    assert bench.notice.text.endswith(told["en"])
    for spoken in ("es", "fr_CA"):
        prefer(furniture, spoken)
        told[spoken] = full.text
        assert bench_of(furniture).notice.text.endswith(told[spoken])
    assert len(set(told.values())) == 3


def test_that_help_and_the_way_around_go_on_in_the_language(
    furniture: Furniture,
) -> None:
    furniture.show_around()
    tour = furniture.guide.tour
    assert tour is not None
    tour.next.click()
    words = tour.words.text()
    furniture.help()
    panel = furniture.guide.panel
    assert panel is not None
    assert panel.view.topic is not None
    topic = panel.view.topic.id
    prefer(furniture, "fr_CA")
    after, lead = furniture.guide.panel, furniture.guide.tour
    assert after is not None
    assert after is not panel
    assert after.windowTitle() == "Aide"
    assert after.view.topic is not None
    assert after.view.topic.id == topic
    assert after.isVisible()
    assert lead is not None
    assert lead.at == 1
    assert lead.isVisible()
    assert lead.words.text() != words


def test_that_the_dialog_itself_turns_and_keeps_its_place(
    furniture: Furniture, window: MainWindow
) -> None:
    dialog = show_preferences(window, furniture.desk, furniture)
    box = dialog.rows["language"].input
    assert isinstance(box, Choices)
    box.setFocus()
    box.setCurrentIndex(box.findData("es"))
    box.activated.emit(box.currentIndex())
    let_go()
    assert dialog.isVisible()
    assert dialog.windowTitle() == _("Preferences") != "Preferences"
    after = dialog.rows["language"].input
    assert after is not box
    assert isinstance(after, Choices)
    assert after.currentData() == "es"
    assert dialog.focusWidget() is after
    dialog.close()
    let_go()
    prefer(furniture, ENGLISH)
    assert language() == ENGLISH


def test_that_work_on_a_page_is_waited_for(
    bench: Workbench, furniture: Furniture, qtbot: QtBot
) -> None:
    from threading import Event

    may_end = Event()
    done: list[object] = []
    work = Undertaking("invented work", bench)
    work.done.connect(done.append)
    work.start(lambda _work: may_end.wait(10))
    prefer(furniture, "es")
    assert language() == ENGLISH
    assert furniture.bench is bench
    may_end.set()
    qtbot.waitUntil(lambda: language() == "es")
    assert done == [True]
    assert furniture.bench is not bench


def test_that_the_words_of_qt_follow(
    started: Callable[[Path], Opening], qtbot: QtBot, tmp_path: Path
) -> None:
    opening = started(tmp_path)
    opening.window.show()
    qtbot.waitUntil(lambda: opening.window.furniture is not None, timeout=20_000)
    furniture = opening.window.furniture
    assert isinstance(furniture, Furniture)
    assert QCoreApplication.translate("QPlatformTheme", "Cancel") == "Cancel"
    prefer(furniture, "es")
    assert QCoreApplication.translate("QPlatformTheme", "Cancel") == "Cancelar"
    prefer(furniture, "fr_CA")
    assert QCoreApplication.translate("QPlatformTheme", "Cancel") == "Annuler"
    prefer(furniture, ENGLISH)
    assert QCoreApplication.translate("QPlatformTheme", "Cancel") == "Cancel"
