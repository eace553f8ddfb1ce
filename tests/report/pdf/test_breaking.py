"""Lines break where the paragraphs of a general library (reportlab) do, and lose nothing."""

from __future__ import annotations

from typing import Any, cast

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from report_jobs import ROOT
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Paragraph

from deskapp.report.pdf.breaking import TextLine, broken
from deskapp.report.pdf.faces import load_faces
from deskapp.report.pdf.letters import widths_of

FACES = load_faces(ROOT / "resources" / "fonts")
FACE = FACES.text
SIZE = 9.0
WORDS = st.lists(st.text("abcdefgiMW.,-0123456789éßŁ²", min_size=1, max_size=9), max_size=60)
MIXED = "Return plenum 回风静压箱 at the joint 接缝 No 7, sealed with mastic 密封胶 and tape; " * 20


def texts(lines: list[TextLine]) -> list[str]:
    return ["".join(run.text for run in line.runs) for line in lines]


def of_the_library(text: str, room: float) -> list[str]:
    """The lines of a plain paragraph of the library, as it breaks them."""
    style = ParagraphStyle("plain", fontName=FACE.font, fontSize=SIZE, spaceShrinkage=0)
    paragraph = cast("Any", Paragraph(text, style))
    paragraph.wrap(room, 10_000)
    return [" ".join(words) for _left, words in paragraph.blPara.lines]


@settings(max_examples=60, deadline=None)
@given(WORDS, st.floats(60.0, 400.0))
def test_that_lines_end_where_the_library_ends_them(words: list[str], room: float):
    text = " ".join(words)
    lines = broken([FACE.line(text)], room / SIZE)
    assert texts(lines) == of_the_library(text, room)


@pytest.mark.parametrize("room", [30.0, 80.0, 200.0, 500.0])
@pytest.mark.parametrize("text", [MIXED, "x" * 900, "静压箱" * 200, "a b " * 300])
def test_that_no_line_is_wider_than_its_room_and_no_letter_is_lost(text: str, room: float):
    lines = broken([FACE.line(text)], room / SIZE)
    for line in lines:
        width = sum(widths_of(run.font)[run.text.rstrip()] for run in line.runs[-1:])
        width += sum(widths_of(run.font)[run.text] for run in line.runs[:-1])
        assert width * SIZE <= room + 0.01
        assert line.width == pytest.approx(width)
    assert "".join(texts(lines)).replace(" ", "") == text.replace(" ", "")


def test_that_line_ends_stay_and_strong_words_join_what_they_touch():
    strong = FACES.strong.line("Limit")
    lines = broken([[*strong, *FACE.line(": 180 cfm")], [], FACE.line("below")], 100.0)
    assert texts(lines) == ["Limit: 180 cfm", "", "below"]
    assert [run.font for run in lines[0].runs] == [FACES.strong.font, FACE.font]


def test_that_spaces_which_hold_together_are_no_place_to_break():
    text = "180\N{NO-BREAK SPACE}cfm " * 12
    lines = broken([FACE.line(text)], 12.0)
    assert len(lines) > 3
    assert all(line.startswith("180") and line.endswith("cfm") for line in texts(lines))


def test_that_a_word_too_long_for_a_line_ends_it_after_a_hyphen_where_it_has_one():
    word = "Saint-Exemple-de-la-Rivière-du-Nord"
    room = widths_of(FACE.font)["Saint-Exemple-de-la-Rivière-d"]
    lines = texts(broken([FACE.line(word)], room))
    assert lines == ["Saint-Exemple-de-la-Rivière-", "du-Nord"]
    lines = texts(broken([FACE.line("W" * 40)], room))
    assert "".join(lines) == "W" * 40
    assert all(len(line) == len(lines[0]) for line in lines[:-1])
