"""Contrast in both appearances, and shapes that differ without color.

Source of the contrast formula and of 4.5:1 for text, 3:1 for the edge of a field: W3C, Web Content
Accessibility Guidelines 2.1, success criteria 1.4.3 and 1.4.11 (from memory). The worked values of
black on white (21:1) and #777777 on white (4.48:1) are widely published (from memory).
"""

from __future__ import annotations

import itertools

import pytest
from PySide6.QtGui import QColor, QFont, QImage, QPalette
from pytestqt.qtbot import QtBot

from deskapp.ui.contrast import contrast
from deskapp.ui.glyphs import Glyph, color_of, pixmap_of
from deskapp.ui.theme import (
    DARK,
    LIGHT,
    Appearance,
    Colors,
    Theme,
    colors_of,
    palette_of,
    scaled,
    sized,
)
from deskapp.ui.words import Command
from deskapp.ui.workbench import Workbench

pytestmark = pytest.mark.usefixtures("qapp")

TEXTS = ("text", "muted", "accent", "passed", "failed", "check")
GROUNDS = ("window", "card", "field")
TINTS = {"passed": "pass_tint", "failed": "fail_tint", "check": "check_tint", "text": "still_tint"}
BOTH = pytest.mark.parametrize("colors", [LIGHT, DARK], ids=["light", "dark"])


def ratio(colors: Colors, one: str, other: str) -> float:
    return contrast(QColor(getattr(colors, one)), QColor(getattr(colors, other)))


def test_that_contrast_agrees_with_published_values() -> None:
    white = QColor("#ffffff")
    assert contrast(QColor("#000000"), white) == pytest.approx(21.0)
    assert contrast(QColor("#777777"), white) == pytest.approx(4.48, abs=0.005)
    assert contrast(white, white) == pytest.approx(1.0)


@BOTH
@pytest.mark.parametrize("text", TEXTS)
@pytest.mark.parametrize("ground", GROUNDS)
def test_that_text_reaches_four_and_a_half_to_one(colors: Colors, text: str, ground: str) -> None:
    assert ratio(colors, text, ground) >= 4.5


@BOTH
@pytest.mark.parametrize(("text", "tint"), TINTS.items())
def test_that_text_reads_on_its_tint(colors: Colors, text: str, tint: str) -> None:
    assert ratio(colors, text, tint) >= 4.5


@BOTH
def test_that_text_reads_on_the_accent_and_the_focus_ring_and_edges_show(colors: Colors) -> None:
    assert ratio(colors, "on_accent", "accent") >= 4.5
    for ground in GROUNDS:
        assert ratio(colors, "accent", ground) >= 3.0
        assert ratio(colors, "edge", ground) >= 2.7


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
