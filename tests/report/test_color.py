"""Contrast on white paper."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from deskapp.report.color import LEAST_CONTRAST, contrast_on_white, readable_on_white, tint

HEX = st.integers(0, 0xFFFFFF).map(lambda number: f"#{number:06x}")


# Black on white is 21 and white on white 1 by the definition of the ratio; #767676 is widely quoted
# as the lightest gray that reaches 4.5 (Web Content Accessibility Guidelines; from memory).
@pytest.mark.parametrize(
    ("color", "ratio"), [("#000000", 21.0), ("#ffffff", 1.0), ("#767676", 4.54), ("#777777", 4.48)]
)
def test_that_contrast_is_the_published_ratio(color, ratio):
    assert contrast_on_white(color) == pytest.approx(ratio, abs=0.005)


@given(HEX)
def test_that_every_accent_ends_up_readable(color):
    assert contrast_on_white(readable_on_white(color, "#1f5f7a")) >= LEAST_CONTRAST


@given(HEX)
def test_that_a_readable_color_is_left_alone(color):
    if contrast_on_white(color) >= LEAST_CONTRAST:
        assert readable_on_white(color, "#1f5f7a") == color


@pytest.mark.parametrize("typed", ["", "blue", "#12", "#12345g", "rgb(1,2,3)"])
def test_that_what_is_no_color_is_replaced(typed):
    assert readable_on_white(typed, "#1f5f7a") == "#1f5f7a"
    with pytest.raises(ValueError, match="#rrggbb"):
        contrast_on_white(typed)


def test_that_a_tint_lies_between_white_and_the_color():
    assert tint("#204060", 0.0) == "#ffffff"
    assert tint("#204060", 1.0) == "#204060"
    assert tint("#000000", 0.5) == "#808080"
