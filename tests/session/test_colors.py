"""Contrast of the colors in both appearances.

Source of the contrast formula and of 4.5:1 for text, 3:1 for the edge of a field: W3C, Web Content
Accessibility Guidelines 2.1, success criteria 1.4.3 and 1.4.11 (from memory). The worked values of
black on white (21:1) and #777777 on white (4.48:1) are widely published (from memory).
"""

from __future__ import annotations

import pytest

from deskapp.session.colors import DARK, LIGHT, READABLE, Colors, contrast

TEXTS = ("text", "muted", "accent", "passed", "failed", "check")
GROUNDS = ("window", "card", "field")
TINTS = {"passed": "pass_tint", "failed": "fail_tint", "check": "check_tint", "text": "still_tint"}
BOTH = pytest.mark.parametrize("colors", [LIGHT, DARK], ids=["light", "dark"])


def ratio(colors: Colors, one: str, other: str) -> float:
    return contrast(getattr(colors, one), getattr(colors, other))


def test_that_contrast_agrees_with_published_values() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)
    assert contrast("#ffffff", "#ffffff") == pytest.approx(1.0)


@BOTH
@pytest.mark.parametrize("text", TEXTS)
@pytest.mark.parametrize("ground", GROUNDS)
def test_that_text_reaches_four_and_a_half_to_one(colors: Colors, text: str, ground: str) -> None:
    assert ratio(colors, text, ground) >= READABLE


@BOTH
@pytest.mark.parametrize(("text", "tint"), TINTS.items())
def test_that_text_reads_on_its_tint(colors: Colors, text: str, tint: str) -> None:
    assert ratio(colors, text, tint) >= READABLE


@BOTH
@pytest.mark.parametrize("text", ["text", "muted"])
def test_that_quiet_words_read_on_every_tint(colors: Colors, text: str) -> None:
    for tint in TINTS.values():
        assert ratio(colors, text, tint) >= READABLE


@BOTH
def test_that_text_reads_on_the_accent_and_the_focus_ring_and_edges_show(colors: Colors) -> None:
    assert ratio(colors, "on_accent", "accent") >= READABLE
    for ground in GROUNDS:
        assert ratio(colors, "accent", ground) >= 3.0
        assert ratio(colors, "edge", ground) >= 3.0
