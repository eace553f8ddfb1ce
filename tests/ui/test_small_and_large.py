"""What grows with the font grows, and in a small window nothing that matters is pushed out."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import (
    QApplication,
    QCalendarWidget,
    QListWidget,
    QListWidgetItem,
    QStyle,
    QStyleOptionViewItem,
)
from pytestqt.qtbot import QtBot

from deskapp.session.colors import READABLE, contrast
from deskapp.session.pages import PAGES
from deskapp.ui.columns import Columns
from deskapp.ui.fields.moment_fields import DayField
from deskapp.ui.list_style import give_air
from deskapp.ui.main_window import MainWindow
from deskapp.ui.theme import Appearance, Theme
from deskapp.ui.ticks import Dot, Tick
from deskapp.ui.workbench import Workbench
from tests.ui.resting import settle

SMALL, WIDE = QSize(1024, 768), QSize(1440, 900)


@pytest.fixture
def large_font(qapp: QApplication) -> Iterator[None]:
    usual, large = qapp.font(), qapp.font()
    large.setPointSizeF(usual.pointSizeF() + 6)
    qapp.setFont(large)
    yield
    qapp.setFont(usual)


def steps_in_view(bench: Workbench) -> int:
    steps = bench.steps
    seen = steps.viewport().rect()
    rects = (steps.visualItemRect(steps.item(row)) for row in range(steps.count()))
    return sum(seen.contains(rect) for rect in rects)


def box_in_a_list(list_: QListWidget) -> QRect:
    option = QStyleOptionViewItem()
    list_.initViewItemOption(option)
    option.rect = list_.visualItemRect(list_.item(0))
    option.features |= QStyleOptionViewItem.ViewItemFeature.HasCheckIndicator
    part = QStyle.SubElement.SE_ItemViewItemCheckIndicator
    return list_.style().subElementRect(part, option, list_)


def test_that_a_box_in_a_list_grows_with_the_words_beside_it(qtbot: QtBot) -> None:
    sides: list[int] = []
    for more in (0, 6):
        list_ = QListWidget()
        qtbot.addWidget(list_)
        font = list_.font()
        font.setPointSizeF(font.pointSizeF() + more)
        list_.setFont(font)
        give_air(list_)
        item = QListWidgetItem("Two-channel gauge")
        item.setCheckState(Qt.CheckState.Checked)
        list_.addItem(item)
        list_.show()
        box, high = box_in_a_list(list_), list_.fontMetrics().height()
        assert 0.8 * high <= box.height() <= 1.3 * high
        assert list_.visualItemRect(item).contains(box)
        sides.append(box.height())
    assert sides[1] > sides[0]


@pytest.mark.usefixtures("large_font")
def test_that_all_steps_are_in_view_in_a_small_window_with_a_large_font(
    window: MainWindow, bench: Workbench
) -> None:
    bench.bridge.choose("safety.gas_smell", "yes")
    window.resize(SMALL)
    settle()
    assert steps_in_view(bench) == len(PAGES)
    assert all(": " in bench.steps.item(row).toolTip() for row in range(len(PAGES)))


@pytest.mark.usefixtures("large_font")
def test_that_the_marks_of_the_steps_make_room_for_the_page_beside_help(
    window: MainWindow, bench: Workbench
) -> None:
    window.resize(SMALL)
    settle()
    before = bench.steps.width()
    window.commands.help.trigger()
    settle()
    guide = window.furniture.guide if window.furniture is not None else None
    assert guide is not None
    assert guide.panel is not None
    assert bench.steps.width() < before / 2
    assert steps_in_view(bench) == len(PAGES)
    assert bench.page.horizontalScrollBar().maximum() == 0
    guide.panel.close()
    settle()
    assert bench.steps.width() == before


@pytest.mark.usefixtures("large_font")
def test_that_three_verdicts_stay_in_view_beside_an_open_stop(
    window: MainWindow, bench: Workbench
) -> None:
    for name in ("Bonus room above the garage", "Sun room"):
        path = bench.bridge.add_row("systems")
        bench.bridge.enter(f"{path}.name", name)
    bench.bridge.remove_row("systems.1")
    bench.bridge.choose("safety.gas_smell", "yes")
    window.resize(SMALL)
    settle()
    result = bench.result
    assert len(result.cards) == 3
    for card in result.cards:
        bottom = card.mapTo(result.viewport(), QPoint(0, card.height())).y()
        assert bottom <= result.viewport().height()
    assert result.cards[0].verdict.startswith("Leakage alone: ")
    assert result.cards[0].accessibleName() == f"Ground floor: {result.cards[0].verdict}"
    assert {card.verdict for card in result.cards[1:]} == {"No verdict yet"}
    assert bench.pages.height() > 0.5 * window.height()


def test_that_the_pane_of_results_never_scrolls_sideways(
    window: MainWindow, bench: Workbench, qtbot: QtBot
) -> None:
    window.resize(WIDE)
    qtbot.waitUntil(lambda: not bench.result.is_flat)
    bench.bridge.enter("systems.0.area_served", "15200000")
    for units in ("si", "ip"):
        window.furniture.show_units(units) if window.furniture is not None else None
        settle()
        assert bench.result.horizontalScrollBar().maximum() == 0


@pytest.mark.parametrize("kind", [Dot, Tick])
def test_that_a_mark_grows_with_its_words_and_can_be_clicked_on_them(
    kind: type[Dot] | type[Tick], theme: Theme, qtbot: QtBot, qapp: QApplication
) -> None:
    assert theme
    usual, large = kind("Yes"), kind("Yes")
    font = qapp.font()
    font.setPointSizeF(2 * font.pointSizeF())
    large.setFont(font)
    for one in (usual, large):
        qtbot.addWidget(one)
    assert large.sizeHint().height() > 1.6 * usual.sizeHint().height()
    assert large.sizeHint().width() > 1.6 * usual.sizeHint().width()
    large.resize(large.sizeHint())
    left, middle, ground = colors_along(large)
    large.setChecked(True)
    assert (left, middle) != colors_along(large)[:2]
    assert ground != left
    large.setChecked(False)
    end = QPoint(large.width() - 2, large.height() // 2)
    qtbot.mouseClick(large, Qt.MouseButton.LeftButton, pos=end)
    assert large.isChecked()


def colors_along(mark: Dot | Tick) -> tuple[str, str, str]:
    """The colors at the left rim of a mark, in its middle, and above it."""
    image = mark.grab().toImage()
    side, height = mark.fontMetrics().height(), mark.height()
    rim = min(
        (image.pixelColor(x, height // 2) for x in range(4)), key=lambda color: color.lightness()
    )
    middle = image.pixelColor(side * 14 // 30, height // 2)
    return rim.name(), middle.name(), image.pixelColor(mark.width() - 1, 0).name()


def test_that_the_room_of_a_long_label_is_given_back_when_it_fits_one_line(
    bench: Workbench,
) -> None:
    bench.show_page("leave")
    columns = bench.page.findChildren(Columns)[0]
    field = max(columns.shown, key=lambda one: len(one.label.text()))
    columns.resize(250, 400)
    tall = field.label.minimumHeight()
    columns.resize(1600, 400)
    assert tall >= 2 * field.label.fontMetrics().height()
    assert field.label.minimumHeight() < tall


@pytest.mark.parametrize("appearance", [Appearance.LIGHT, Appearance.DARK])
def test_that_every_day_of_the_calendar_can_be_read(
    bench: Workbench, theme: Theme, appearance: Appearance
) -> None:
    theme.choose(appearance)
    try:
        bench.show_page("setup")
        field = bench.page.findChildren(DayField)[0]
        field.open_calendar()
        settle()
        calendar = field.calendar
        assert isinstance(calendar, QCalendarWidget)
        ground = calendar.palette().base().color().name()
        for day in Qt.DayOfWeek:
            ink = calendar.weekdayTextFormat(day).foreground().color().name()
            plain = calendar.palette().text().color().name()
            is_set = calendar.weekdayTextFormat(day).foreground().style() != Qt.BrushStyle.NoBrush
            assert contrast(ink if is_set else plain, ground) >= READABLE
        calendar.parentWidget().close()
    finally:
        theme.choose(Appearance.LIGHT)
