"""Pages are built in pieces, and come out as if they were built at once."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import pytest
from PySide6.QtCore import QCoreApplication, QSize, Qt, QThreadPool
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QWidget
from pytestqt.qtbot import QtBot
from resting import rest

from deskapp.catalog.files import PSEUDO
from deskapp.i18n import ENGLISH, use_language
from deskapp.session.pages import PAGES
from deskapp.ui.desk import Desk
from deskapp.ui.field_sheet import FieldSheet
from deskapp.ui.furnish import Furniture
from deskapp.ui.main_window import MainWindow
from deskapp.ui.page_builder import PageBuilder
from deskapp.ui.pages.form_page import FormPage
from deskapp.ui.pages.page import PageView
from deskapp.ui.pages.result_page import ResultPage
from deskapp.ui.preview import PreviewCard
from deskapp.ui.workbench import Workbench

MOST_WIDGETS = 160
"""In one piece; a page has up to a thousand. One field has about six, a row of a grid about ten."""

IDS = [page.id for page in PAGES]


def stops_of_the_tab_key(page: QWidget) -> list[str]:
    """What the Tab key comes to on a page, in order."""
    found: list[str] = []
    here = page.nextInFocusChain()
    while here is not None and here is not page:
        if page.isAncestorOf(here) and here.focusPolicy() & Qt.FocusPolicy.TabFocus:
            found.append(f"{type(here).__name__} {here.accessibleName()}")
        here = here.nextInFocusChain()
    return found


def seen_on(page: QWidget) -> list[tuple[bool, str]]:
    """Each text of a page, and whether it is in sight; the preview has a time of its own."""
    return [
        (label.isVisible(), label.text().replace("&", ""))
        for label in page.findChildren(QLabel)
        if not any(card.isAncestorOf(label) for card in page.findChildren(PreviewCard))
    ]


def keys_of(page: FormPage, qtbot: QtBot) -> list[list[str]]:
    """The labels of each section with its access keys, as they are while the cursor is in it."""
    found: list[list[str]] = []
    with qtbot.waitActive(page.window()):
        page.window().activateWindow()
    for sheet in page.findChildren(FieldSheet):
        seen = [field for field in sheet.fields if field.label.isVisible()]
        if seen:
            seen[0].take_focus()
            found.append([field.label.text() for field in seen])
    return found


def made_of(bench: Workbench) -> int:
    """How many pages are made, on screen or not."""
    return sum(view.is_made for view in bench.pages.findChildren(PageView))


def told_by(page: QWidget, qtbot: QtBot) -> tuple[object, ...]:
    """All there is to say about a page: texts, fields, order of the Tab key, access keys."""
    seen, stops = seen_on(page), stops_of_the_tab_key(page)
    if not isinstance(page, FormPage):
        return seen, stops
    return seen, stops, [field.path for field in page.fields], keys_of(page, qtbot)


@pytest.mark.parametrize("page_id", IDS)
def test_that_a_page_built_in_pieces_is_the_one_built_at_once(
    page_id: str, bench: Workbench, window: MainWindow, desk: Desk, qtbot: QtBot
) -> None:
    bench.show_page(page_id)
    qtbot.waitUntil(lambda: not bench.builds())
    in_pieces = told_by(bench.page, qtbot)
    whole = Workbench(desk, bench.bridge.editor)
    window.stack.addWidget(whole)
    window.stack.setCurrentWidget(whole)
    whole.show_page(page_id)
    assert whole.page.is_whole
    for _turn in range(5):
        QCoreApplication.processEvents()
    for one, other in zip(told_by(whole.page, qtbot), in_pieces, strict=True):
        assert one == other
    QThreadPool.globalInstance().waitForDone()


@pytest.mark.parametrize("page_id", IDS)
def test_that_no_piece_makes_many_widgets(page_id: str, bench: Workbench) -> None:
    bench.show_page(page_id)
    view = bench.pages.currentWidget()
    assert view is not None
    builder = bench.findChild(PageBuilder)
    assert isinstance(builder, PageBuilder)
    counts = [len(view.findChildren(QWidget))]
    while bench.builds():
        builder.do_one()
        counts.append(len(view.findChildren(QWidget)))
    made = [after - before for before, after in pairwise(counts)]
    assert max(made, default=0) <= MOST_WIDGETS
    assert page_id == "client" or len(made) > 3
    assert view is bench.page


def test_that_the_head_of_a_page_is_there_at_once(bench: Workbench) -> None:
    bench.show_page("setup")
    view = bench.pages.currentWidget()
    assert view is not None
    assert view.isVisible()
    assert bench.builds()
    assert any(
        label.text() == PAGES[IDS.index("setup")].title for label in view.findChildren(QLabel)
    )


def test_that_a_field_asked_for_is_there_before_its_page_was_built(bench: Workbench) -> None:
    bench.go_to("tests.0.setup.target_pressure")
    focus = bench.window().focusWidget()
    assert focus is not None
    assert focus.accessibleName().startswith("Target pressure")


def test_that_the_tab_key_passes_over_no_field_of_a_page_that_is_being_built(
    bench: Workbench,
) -> None:
    bench.show_page("setup")
    bench.steps.setFocus()
    assert bench.builds()
    QTest.keyClick(bench.steps, Qt.Key.Key_Tab)
    assert not bench.builds()


def test_that_pages_are_made_ahead_in_a_quiet_moment_and_typing_holds_that_up(
    bench: Workbench, qtbot: QtBot
) -> None:
    qtbot.waitUntil(lambda: not bench.builds())
    builder = bench.findChild(PageBuilder)
    assert isinstance(builder, PageBuilder)
    builder.build_ahead()
    qtbot.waitUntil(lambda: bench.pages.count() > 2)
    bench.bridge.enter_soon("title", "Larkspur")
    made = made_of(bench)
    for _turn in range(5):
        QCoreApplication.processEvents()
    assert made_of(bench) == made
    bench.bridge.settle()
    builder.build_ahead()
    qtbot.waitUntil(lambda: bench.pages.count() == len(PAGES), timeout=30_000)
    assert not [
        w for w in QApplication.topLevelWidgets() if w.isVisible() and w is not bench.window()
    ]


def test_that_a_sheet_of_the_result_stays_while_nothing_changes_it_follows_from(
    bench: Workbench,
) -> None:
    bench.show_page("result")
    page = bench.page
    assert isinstance(page, ResultPage)
    before = page.sheets
    bench.bridge.enter("tests.1.readings.0.fan_signal", "30.5")
    assert page.sheets == before
    assert bench.builds()
    assert bench.page is page
    after = page.sheets
    assert len(after) == len(before) == 3
    assert [one is other for one, other in zip(before, after, strict=True)] == [False, True, False]


@pytest.fixture(params=[ENGLISH, PSEUDO])
def spoken(request: pytest.FixtureRequest) -> Iterator[None]:
    """A usual language, and one with longer words, whose labels need two lines in some places."""
    use_language(str(request.param))
    yield
    use_language(ENGLISH)


def looks_of_pages(bench: Workbench) -> list[object]:
    """How each page looks at rest, with nothing that blinks."""
    found: list[object] = []
    for page_id in IDS:
        bench.show_page(page_id)
        assert bench.page.is_whole
        bench.steps.setFocus()
        rest(bench.window())
        inside = bench.page.widget()
        found.append((page_id, inside.height(), bench.grab().toImage()))
    return found


@pytest.mark.usefixtures("spoken")
def test_that_a_page_made_ahead_looks_as_one_made_on_screen(
    window: MainWindow, furniture: Furniture, monkeypatch: pytest.MonkeyPatch
) -> None:
    window.resize(QSize(1024, 768))
    with monkeypatch.context() as held:
        held.setattr(PageBuilder, "build_ahead", lambda _self: None)
        furniture.open_sample()
        assert furniture.bench is not None
        on_screen = looks_of_pages(furniture.bench)
    sample = furniture.files.editor
    assert sample is not None
    later = Workbench(furniture.desk, sample)
    window.stack.addWidget(later)
    window.stack.setCurrentWidget(later)
    rest(window)
    assert made_of(later) == len(PAGES), "all were made ahead"
    for one, other in zip(on_screen, looks_of_pages(later), strict=True):
        assert one == other


def test_that_the_head_of_a_page_stands_still_while_the_rest_is_placed(qtbot: QtBot) -> None:
    class Piled(PageView):
        def build(self) -> Iterator[None]:
            for number in range(3):
                self.add(QLabel(f"Part {number}"))
                yield
            self.end()

    page = Piled(PAGES[0])
    qtbot.addWidget(page)
    page.resize(800, 600)
    page.show()
    title = page.findChildren(QLabel)[0]
    seen: list[int] = []
    while not page.is_whole:
        QApplication.processEvents()
        seen.append(title.mapTo(page, title.rect().bottomLeft()).y())
        page.build_on(on_screen=True)
    QApplication.processEvents()
    assert len(seen) > 3
    assert set(seen) == {title.mapTo(page, title.rect().bottomLeft()).y()}
