from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from deskapp.session.live.cells import Moment, read_cell, read_moment, typed_text
from deskapp.units.entry import Problem, Quantity, parse
from deskapp.units.kinds import Kind
from deskapp.units.numbers import NumberStyle

POINT, COMMA = NumberStyle.POINT, NumberStyle.COMMA


@pytest.mark.parametrize(
    ("cell", "style", "expected"),
    [
        ("-25.1", POINT, -25.1),
        (" 25.125 ", POINT, 25.125),
        ("1,250.5", POINT, 1250.5),
        ("25,1", COMMA, 25.1),
        ("25,125", COMMA, 25.125),
        ("−0,125", COMMA, -0.125),
        (",5", COMMA, 0.5),
        ("1.250,5", COMMA, 1250.5),
        ("2,5e1", COMMA, 25.0),
        ("25,125 Pa", COMMA, 25.125),
    ],
)
def test_that_a_cell_is_read_in_the_style_of_its_column(cell, style, expected):
    found = read_cell(cell, Kind.PRESSURE, "Pa", style)
    assert isinstance(found, Quantity)
    assert found.si == pytest.approx(expected, rel=1e-12)


def test_that_a_unit_in_the_cell_wins_over_that_of_the_column():
    # 1 in. of water (4 °C) = 249.08891 Pa, NIST SP 811 (2008), appendix B.8
    found = read_cell("0,100 in. w.c.", Kind.PRESSURE, "Pa", COMMA)
    assert isinstance(found, Quantity)
    assert found.si == pytest.approx(24.908891, rel=1e-6)


@pytest.mark.parametrize("cell", ["nan", "NaN", "inf", "-inf", "---", "OL", "", "1e999", "0x19"])
@pytest.mark.parametrize("style", NumberStyle)
def test_that_text_which_is_no_number_is_a_problem_in_words(cell, style):
    found = read_cell(cell, Kind.PRESSURE, "Pa", style)
    assert isinstance(found, Problem)
    assert found.what


def test_that_a_lone_point_in_a_column_of_decimal_commas_is_asked_about():
    assert isinstance(read_cell("1.250", Kind.PRESSURE, "Pa", COMMA), Problem)


def test_that_a_cell_of_another_kind_is_a_problem():
    found = read_cell("150 cfm", Kind.PRESSURE, "Pa", POINT)
    assert isinstance(found, Problem)
    assert found.code == "wrong-kind"


@pytest.mark.parametrize(
    ("cell", "column", "person", "expected"),
    [
        ("-25.1", POINT, POINT, "-25.1 Pa"),
        ("-25.10", POINT, COMMA, "-25,10 Pa"),
        ("25,125", COMMA, POINT, "25.125 Pa"),
        ("25,125", COMMA, COMMA, "25,1250 Pa"),
        ("0.10 in. w.c.", POINT, COMMA, "0,10 in. w.c."),
        ("+1,250.5", POINT, COMMA, "1250,5 Pa"),
    ],
)
def test_that_a_cell_is_typed_with_its_digits_and_its_unit(cell, column, person, expected):
    assert typed_text(cell, "Pa", column, person) == expected


_NUMBERS = st.from_regex(r"[-−+]?[0-9]{1,7}([.,][0-9]{1,6})?([eE]-?[0-9])?", fullmatch=True)


@settings(deadline=None)
@given(_NUMBERS, st.sampled_from(NumberStyle), st.sampled_from(NumberStyle))
def test_that_what_is_typed_means_what_the_cell_meant(cell, column, person):
    found = read_cell(cell, Kind.PRESSURE, "inH2O", column)
    if isinstance(found, Problem):
        return
    again = parse(typed_text(cell, "inH2O", column, person), Kind.PRESSURE, "Pa", person)
    assert isinstance(again, Quantity)
    assert again.si == found.si


@pytest.mark.parametrize(
    ("cell", "expected"),
    [
        ("12.5", Moment(12.5, is_clock=False)),
        ("2 min", Moment(120.0, is_clock=False)),
        ("14:03:22", Moment(50602.0, is_clock=True)),
        ("2026-03-05T14:03:22.250", Moment(50602.25, is_clock=True)),
        ("2026-03-05 14:03:22+02:00", Moment(50602.0, is_clock=True)),
        ("03/05/2026 2:03:22 PM", Moment(50602.0, is_clock=True)),
        ("12:00:01 am", Moment(1.0, is_clock=True)),
        ("12:00:01 PM", Moment(43201.0, is_clock=True)),
    ],
)
def test_that_a_time_is_a_number_of_seconds_or_a_time_of_day(cell, expected):
    assert read_moment(cell, "s", POINT) == expected


@pytest.mark.parametrize(
    "cell", ["14:03", "25:00:00", "14:61:00", "14:03:99", "13:00:00 pm", "x", "1:" * 3000]
)
def test_that_a_time_that_cannot_be_read_is_a_problem(cell):
    assert isinstance(read_moment(cell, "s", POINT), Problem)
