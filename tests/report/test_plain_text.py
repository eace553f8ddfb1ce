"""Typed text made fit for paper."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from deskapp.report.plain_text import printable


@pytest.mark.parametrize(
    ("typed", "printed"),
    [
        ("Nun\N{COMBINING TILDE}ez", "Nuñez"),
        ("a\r\nb\rc\vd", "a\nb\nc\nd"),
        ("a\tb", "a b"),
        ("bell\x07 null\x00", "bell null"),
        ("abc\N{RIGHT-TO-LEFT OVERRIDE}def", "abcdef"),
        ("zero\N{ZERO WIDTH SPACE}width", "zerowidth"),
        ("<b>&amp;</b> ${x} {y}", "<b>&amp;</b> ${x} {y}"),
    ],
)
def test_that_text_is_composed_and_freed_of_what_prints_nothing(typed, printed):
    assert printable(typed) == printed


@given(st.text())
def test_that_making_text_printable_twice_changes_nothing(text):
    assert printable(printable(text)) == printable(text)
