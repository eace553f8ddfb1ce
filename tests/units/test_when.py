from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from deskapp.i18n import speaking
from deskapp.units.display import Formatter, UnitSystem
from deskapp.units.numbers import NumberStyle
from deskapp.units.problems import Problem
from deskapp.units.when import DAY_EXAMPLE, read_clock, read_day

MARCH_11 = date(2026, 3, 11)
POINT, COMMA = NumberStyle.POINT, NumberStyle.COMMA


@pytest.mark.parametrize("style", NumberStyle)
@pytest.mark.parametrize(
    "typed",
    [
        "2026-03-11",  # ISO 8601, extended format of a calendar date
        "2026-3-11",
        "11 Mar 2026",
        "11 march 2026",
        "11. March 2026",
        "11-Mar-2026",
        "Mar 11, 2026",
        "March 11, 2026",
        "march 11 2026",
        "  Mar.  11,  2026 ",
        "Mar\N{NO-BREAK SPACE}11, 2026",
    ],
)
def test_that_a_day_that_says_its_month_is_read_in_every_style(typed: str, style: NumberStyle):
    assert read_day(typed, style) == MARCH_11


@pytest.mark.parametrize("spoken", ["en", "es", "fr_CA"])
def test_that_a_day_is_asked_for_in_one_form_that_is_read_everywhere(spoken: str):
    # ISO 8601, extended format of a calendar date.
    assert MARCH_11.isoformat() == DAY_EXAMPLE
    with speaking(spoken):
        for style in NumberStyle:
            assert read_day(DAY_EXAMPLE, style) == MARCH_11
        problem = read_day("soon", POINT)
    assert isinstance(problem, Problem)
    assert DAY_EXAMPLE in problem.allowed
    assert "Mar" not in problem.allowed


def test_that_the_style_settles_which_number_is_the_month():
    assert read_day("3/11/2026", POINT) == MARCH_11
    assert read_day("11.03.2026", COMMA) == MARCH_11


@pytest.mark.parametrize(
    ("typed", "style"),
    [("3/11/2026", COMMA), ("11.03.2026", POINT), ("03-11-2026", POINT), ("03-11-2026", COMMA)],
)
def test_that_a_day_with_two_meanings_is_asked_about(typed: str, style: NumberStyle):
    problem = read_day(typed, style)
    assert isinstance(problem, Problem)
    assert problem.code == "day-unclear"
    assert "Mar\N{NO-BREAK SPACE}11, 2026" in problem.mend
    assert "Nov\N{NO-BREAK SPACE}3, 2026" in problem.mend


def test_that_english_with_si_units_does_not_tell_which_number_is_the_month():
    # Canada writes numeric dates in either order: common practice, no source. ISO 8601 settles it.
    problem = read_day("3/4/2026", POINT, UnitSystem.SI)
    assert isinstance(problem, Problem)
    assert problem.code == "day-unclear"
    assert read_day("25/3/2026", POINT, UnitSystem.SI) == date(2026, 3, 25)
    assert read_day("3/4/2026", POINT, UnitSystem.IP) == date(2026, 3, 4)
    for part in ("Mar\N{NO-BREAK SPACE}4, 2026", "Apr\N{NO-BREAK SPACE}3, 2026"):
        assert part in problem.mend
    # One message tells days in one form.
    assert "2026-" not in problem.text
    assert "which number is the month" in problem.allowed


@pytest.mark.parametrize("typed", ["25.03.2026", "25-03-2026"])
def test_that_a_number_too_big_for_a_month_settles_it_without_a_style(typed: str):
    assert read_day(typed, POINT) == date(2026, 3, 25)


def test_that_a_day_first_date_is_not_swapped_in_silence_where_the_month_comes_first():
    problem = read_day("25/03/2026", POINT)
    assert isinstance(problem, Problem)
    assert "Mar\N{NO-BREAK SPACE}25, 2026" in problem.mend


@pytest.mark.parametrize(
    "typed",
    ["2026-02-30", "February 29, 2025", "31 Jun 2026", "13/32/2026", "2026-00-10", "0026-03-11"],
)
@pytest.mark.parametrize("style", NumberStyle)
def test_that_a_day_the_calendar_does_not_have_is_asked_about(typed: str, style: NumberStyle):
    problem = read_day(typed, style)
    assert isinstance(problem, Problem)
    assert typed in problem.what


@pytest.mark.parametrize("typed", ["3/11/26", "yesterday", "11 Foo 2026", "2026", "٢٠٢٦-03-11"])
def test_that_other_text_is_no_day(typed: str):
    problem = read_day(typed, POINT)
    assert isinstance(problem, Problem)
    assert problem.code == "day-unreadable"
    assert problem.allowed
    assert problem.mend


@given(
    st.dates(date(1900, 1, 1), date(2199, 12, 31)),
    st.sampled_from(UnitSystem),
    st.sampled_from(NumberStyle),
)
def test_that_a_day_as_shown_reads_back_as_itself(
    day: date, system: UnitSystem, style: NumberStyle
):
    assert read_day(Formatter(system, style).day(day), style) == day
    assert read_day(day.isoformat(), style) == day


@given(st.text(), st.sampled_from(NumberStyle))
def test_that_no_text_makes_reading_a_day_or_a_clock_break(text: str, style: NumberStyle):
    assert isinstance(read_day(text, style), date | Problem)
    assert isinstance(read_clock(text), str | Problem)


@pytest.mark.parametrize(
    ("typed", "clock"),
    [
        ("08:40", "08:40"),
        ("8:40", "08:40"),
        ("0840", "08:40"),
        ("8.40", "08:40"),
        ("8h40", "08:40"),
        ("8:40 am", "08:40"),
        ("8:40AM", "08:40"),
        ("8:40 a.m.", "08:40"),
        ("8 pm", "20:00"),
        ("2:05 PM", "14:05"),
        # 12 am and 12 pm as the United States Government Style Manual uses them, from memory.
        ("12:00 am", "00:00"),
        ("12:30 pm", "12:30"),
        ("00:00", "00:00"),
        ("23:59", "23:59"),
    ],
)
def test_that_a_time_of_day_is_written_with_24_hours(typed: str, clock: str):
    assert read_clock(typed) == clock


@pytest.mark.parametrize(
    "typed", ["24:00", "8:60", "13 pm", "0 am", "8", "ten", "8:4", "-8:40", "2565", "8:40 xm"]
)
def test_that_other_text_is_no_time_of_day(typed: str):
    problem = read_clock(typed)
    assert isinstance(problem, Problem)
    assert typed in problem.what
