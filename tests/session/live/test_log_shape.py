"""How logs are written; the files are invented, quoting follows RFC 4180."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from deskapp.session.live.log_shape import LogShape, shape_with, sniff
from deskapp.units.numbers import NumberStyle

POINT, COMMA = NumberStyle.POINT, NumberStyle.COMMA


def shape(text: str) -> LogShape:
    found = sniff(text.split("\n"))
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (
            "time [s],duct pressure [Pa]\n0.5,-25.1\n1.0,-25.2\n",
            LogShape(",", POINT, 1, ("time [s]", "duct pressure [Pa]"), True),
        ),
        (
            "Zeit;Druck;Signal\n0,5;-25,1;60,3\n1,0;-25,2;60,1\n",
            LogShape(";", COMMA, 1, ("Zeit", "Druck", "Signal"), True),
        ),
        (
            "0,5\t-25,1\n1,0\t-25,2\n",
            LogShape("\t", COMMA, 0, (), True),
        ),
        (
            '"duct, mean","signal"\r\n"25,1","60,3"\r\n"25,2","60,1"\r\n',
            LogShape(",", COMMA, 1, ("duct, mean", "signal"), True),
        ),
        (
            "0.5   -25.1   60.3\n1.0   -25.2   60.1\n",
            LogShape(" ", POINT, 0, (), True),
        ),
        (
            "a|b\n1.234,5|2\n1.235,5|2\n",
            LogShape("|", COMMA, 1, ("a", "b"), True),
        ),
        (
            "Recorded in the hall\nDate: 2026-03-05\n\ntime;duct pressure;note\ns;Pa;\n"
            "14:03:22;-25.1;calm\n14:03:23;-25.3;a gust of wind\n",
            LogShape(";", POINT, 5, ("time [s]", "duct pressure [Pa]", "note"), True),
        ),
        (
            "2026-03-05 14:03:22,-25.1\n2026-03-05 14:03:23,-25.2\n",
            LogShape(",", POINT, 0, (), True),
        ),
        (
            "time;duct\n1;25,1;\n2;25,2;\n",
            LogShape(";", COMMA, 1, ("time", "duct", ""), True),
        ),
        (
            "duct pressure [Pa]\n-25.1\n-25.2\n",
            LogShape(";", POINT, 1, ("duct pressure [Pa]",), True),
        ),
        ("-25.1 Pa\n-25.2 Pa\n", LogShape(";", POINT, 0, (), True)),
        ("-25.1 Pa;60 Pa\n-25.2 Pa;61 Pa\n", LogShape(";", POINT, 0, (), True)),
    ],
)
def test_that_delimiter_style_header_and_first_row_are_found(text, expected):
    assert shape(text) == expected


@pytest.mark.parametrize(
    "text",
    [
        "25,125;60,250\n25,130;60,375\n",  # three decimals, or thousands
        "25,1\n25,2\n",  # one column with decimal commas, or two columns
        "1,2,3\n4,5,6\n",
        "1;25.1\n2;25,2\n",  # both marks
    ],
)
def test_that_what_can_be_read_in_two_ways_is_not_called_sure(text):
    assert not shape(text).is_sure


def test_that_a_single_column_of_decimal_commas_shows_by_its_single_heading():
    found = shape("Duct pressure\n-25,1\n-25,2\n")
    assert (found.delimiter, found.style, found.header) == (";", COMMA, ("Duct pressure",))
    assert not found.is_sure


@pytest.mark.parametrize("text", ["", "\n\n", "no numbers here\nnor here\n", "2026-03-05\n"])
def test_that_a_text_without_numbers_has_no_shape(text):
    assert sniff(text.split("\n")) is None


def test_that_a_person_may_choose_otherwise():
    lines = ["Duct pressure", "25,1", "25,2"]
    found = shape_with(lines, ",", POINT)
    assert found == LogShape(",", POINT, 1, (), True)
    assert shape_with(["a b", "c d"], ";") is None


@settings(deadline=None)
@given(st.lists(st.text(alphabet="0123456789.,;\t| -:eENa\"'[]Pa", max_size=40), max_size=12))
def test_that_no_text_makes_it_raise(lines):
    found = sniff(lines)
    assert found is None or 0 <= found.first_row < len(lines)
