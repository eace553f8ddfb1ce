"""Both appearances, shapes that differ without color, sizes that follow the font."""

from __future__ import annotations

import itertools

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QFont, QIcon, QImage, QPalette
from PySide6.QtWidgets import QApplication, QTableView
from pytestqt.qtbot import QtBot

from deskapp.session.colors import DARK, LIGHT, Colors, contrast
from deskapp.ui.glyphs import Glyph, color_of, icon_of, pixmap_of
from deskapp.ui.main_window import MainWindow
from deskapp.ui.pages.page import PageView
from deskapp.ui.theme import (
    Appearance,
    Theme,
    colors_of,
    palette_of,
    scaled,
    sized,
)
from deskapp.ui.words import Command
from deskapp.ui.workbench import Workbench

pytestmark = pytest.mark.usefixtures("qapp")

BOTH = pytest.mark.parametrize("colors", [LIGHT, DARK], ids=["light", "dark"])


@BOTH
def test_that_a_widget_finds_the_colors_of_its_palette(colors: Colors) -> None:
    palette = palette_of(colors)
    assert colors_of(palette) is colors
    assert palette.color(QPalette.ColorRole.PlaceholderText).name() == colors.muted


@BOTH
def test_that_every_glyph_differs_from_every_other_without_color(colors: Colors) -> None:
    drawn = {}
    for glyph in Glyph:
        image = pixmap_of(glyph, 48, colors).toImage()
        drawn[glyph] = image.convertToFormat(QImage.Format.Format_Alpha8)
    for one, other in itertools.combinations(Glyph, 2):
        assert drawn[one] != drawn[other], (one, other)
    assert color_of(Glyph.PASS, colors) != color_of(Glyph.FAIL, colors)


def test_that_glyphs_are_drawn_at_the_density_of_the_screen() -> None:
    assert pixmap_of(Glyph.PASS, 16, LIGHT, ratio=2.0).width() == 32


@pytest.mark.parametrize("glyph", list(Glyph))
def test_that_a_glyph_in_a_selected_row_is_seen(glyph: Glyph) -> None:
    table = QTableView()
    palette = table.palette()
    icon = icon_of(glyph, table, 16)
    drawn = icon.pixmap(16, 16, QIcon.Mode.Selected).toImage()
    solid = [
        drawn.pixelColor(x, y)
        for x in range(drawn.width())
        for y in range(drawn.height())
        if drawn.pixelColor(x, y).alpha() >= 120
    ]
    behind = palette.highlight().color().name()
    assert any(contrast(color.name(), behind) >= 3.0 for color in solid)


def test_that_sizes_follow_the_font() -> None:
    small, large = QFont(), QFont()
    small.setPointSizeF(9)
    large.setPointSizeF(18)
    assert scaled(16, large) > scaled(16, small) >= 16
    assert sized(small, 1.5).pointSizeF() == 13.5
    pixels = QFont()
    pixels.setPixelSize(20)
    assert sized(pixels, 1.5).pixelSize() == 30


def test_that_glyphs_on_buttons_follow_the_appearance_of_an_open_window(
    bench: Workbench, theme: Theme, qtbot: QtBot
) -> None:
    bench.show_page("house")
    button = next(one for one in bench.page.findChildren(Command) if not one.icon().isNull())

    def lightness() -> int:
        image = button.icon().pixmap(16, 16).toImage()
        dots = [image.pixelColor(x, y) for x in range(16) for y in range(16)]
        return max(dots, key=lambda dot: dot.alpha()).lightness()

    assert abs(lightness() - QColor(LIGHT.accent).lightness()) < 10
    theme.choose(Appearance.DARK)
    qtbot.waitUntil(lambda: abs(lightness() - QColor(DARK.accent).lightness()) < 10)


def test_that_an_open_window_follows_the_system_and_is_painted_anew(
    window: MainWindow, theme: Theme, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    system = {"dark": False}
    monkeypatch.setattr(theme, "_system_is_dark", lambda: system["dark"])
    theme.choose(Appearance.SYSTEM)
    hints = QApplication.styleHints()

    def ground() -> str:
        return window.grab().toImage().pixelColor(5, window.height() - 5).name()

    qtbot.waitUntil(lambda: ground() == LIGHT.window)
    system["dark"] = True
    hints.colorSchemeChanged.emit(Qt.ColorScheme.Dark)  # as the system tells it
    qtbot.waitUntil(lambda: ground() == DARK.window, timeout=20_000)
    theme.choose(Appearance.LIGHT)
    qtbot.waitUntil(lambda: ground() == LIGHT.window)
    hints.colorSchemeChanged.emit(Qt.ColorScheme.Dark)
    assert theme.colors is LIGHT, "a choice goes before the system"


def test_that_every_page_gets_new_colors_and_the_one_turned_to_at_once(
    bench: Workbench, theme: Theme, qtbot: QtBot
) -> None:
    for page_id in ("house", "setup", "readings"):
        bench.show_page(page_id)
    QApplication.processEvents()
    views = bench.pages.findChildren(PageView)
    parts = [*views, *bench.pages.findChildren(Command), bench.steps, bench.result, bench.strip]
    assert len(views) >= 3

    def grounds() -> set[str]:
        return {part.palette().window().color().name() for part in parts}

    assert grounds() == {LIGHT.window}
    theme.choose(Appearance.DARK)
    bench.show_page("house")
    assert bench.page.palette().window().color().name() == DARK.window
    qtbot.waitUntil(lambda: grounds() == {DARK.window})
    theme.choose(Appearance.LIGHT)
    theme.choose(Appearance.DARK)
    theme.choose(Appearance.LIGHT)
    qtbot.waitUntil(lambda: grounds() == {LIGHT.window})
