"""A small window and a large font: the verdict stays in view, and forms grow narrow."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QSize
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.qtbot import QtBot

from deskapp.session.pages import PAGES
from deskapp.ui.columns import Columns
from deskapp.ui.furnish import Furniture
from deskapp.ui.main_window import MainWindow
from deskapp.ui.workbench import Workbench
from tests.ui.resting import settle

SMALL = QSize(1024, 768)


@pytest.fixture
def large_font(qapp: QApplication) -> Iterator[None]:
    usual = qapp.font()
    large = qapp.font()
    large.setPointSizeF(usual.pointSizeF() + 6)
    qapp.setFont(large)
    yield
    qapp.setFont(usual)


def test_that_the_verdict_is_one_line_in_a_small_window(
    window: MainWindow, bench: Workbench, qtbot: QtBot
) -> None:
    window.resize(SMALL)
    qtbot.waitUntil(lambda: bench.result.is_flat)
    settle()
    assert bench.result.height() <= 5 * window.fontMetrics().height()
    assert [card.verdict for card in bench.result.cards] == ["Pass", "Fail"]
    for card in bench.result.cards:
        texts = [label for label in card.findChildren(QLabel) if label.isVisibleTo(card)]
        assert all(label.height() <= 2.2 * label.fontMetrics().height() for label in texts)
        assert card.height() >= max(label.height() for label in texts)
    assert bench.pages.height() > 0.6 * window.height()


@pytest.mark.usefixtures("large_font")
@pytest.mark.parametrize("page_id", [page.id for page in PAGES])
def test_that_nothing_of_a_line_of_verdicts_is_cut_with_a_large_font(
    window: MainWindow, bench: Workbench, page_id: str
) -> None:
    window.resize(SMALL)
    bench.show_page(page_id)
    settle()
    for card in bench.result.cards:
        bottom = card.mapTo(bench.result, card.rect().bottomLeft()).y()
        assert bottom <= bench.result.viewport().height()


def test_that_columns_fall_away_when_they_narrow_and_come_back(bench: Workbench) -> None:
    bench.show_page("client")
    columns = next(one for one in bench.page.findChildren(Columns) if len(one.shown) > 3)
    counts = []
    for width in (1100, 600, 300, 1100):
        columns.resize(width, 400)
        counts.append(columns.column_count)
        assert columns.minimumSizeHint().width() < 400
    assert counts == [3, 2, 1, 3]


def test_that_labels_are_no_higher_than_their_words_once_columns_are_wide_again(
    bench: Workbench,
) -> None:
    bench.show_page("client")
    columns = next(one for one in bench.page.findChildren(Columns) if len(one.shown) > 3)
    heights: list[list[int]] = []
    for width in (1100, 60, 1100):
        columns.resize(width, 400)
        heights.append([field.label.minimumHeight() for field in columns.shown])
    wide, narrow, again = heights
    assert max(narrow) > max(wide)
    assert again == wide


@pytest.mark.parametrize("width", range(700, 1051, 50))
def test_that_the_line_of_verdicts_is_as_high_at_once_as_it_stays(
    window: MainWindow, furniture: Furniture, width: int
) -> None:
    window.resize(QSize(width, 768))
    furniture.open_sample()
    assert furniture.bench is not None
    result = furniture.bench.result
    assert result.is_flat
    at_once = result.height(), [card.sizeHint() for card in result.cards]
    for part in (*result.findChildren(QLabel), *result.cards):
        part.updateGeometry()
    settle()
    assert (result.height(), [card.sizeHint() for card in result.cards]) == at_once
