"""Reading numbers in both styles, and asking where two readings are possible."""

from __future__ import annotations

import math

import pytest
from babel import Locale
from hypothesis import given
from hypothesis import strategies as st

from deskapp.units.numbers import (
    NumberFault,
    NumberProblem,
    NumberStyle,
    read_number,
    restyled,
    split_number,
    usual_style,
    write_decimals,
)

POINT, COMMA = NumberStyle.POINT, NumberStyle.COMMA


@pytest.mark.parametrize(
    ("text", "style", "value"),
    [
        ("1200", POINT, 1200.0),
        ("1,200", POINT, 1200.0),
        ("1,234,567.5", POINT, 1234567.5),
        ("1 234 567.5", POINT, 1234567.5),
        ("1.234", POINT, 1.234),
        ("0.001", POINT, 0.001),
        (".25", POINT, 0.25),
        ("007", POINT, 7.0),
        ("3,5", COMMA, 3.5),
        (",25", COMMA, 0.25),
        ("0,125", COMMA, 0.125),
        ("1234,567", COMMA, 1234.567),
        ("1,2345", COMMA, 1.2345),
        ("1.234,5", COMMA, 1234.5),
        ("1.234,567", COMMA, 1234.567),
        ("1 234,567", COMMA, 1234.567),
        ("1.234.567", COMMA, 1234567.0),
        ("1\N{NO-BREAK SPACE}234", COMMA, 1234.0),
        ("-3,5e2", COMMA, -350.0),
    ],
)
def test_that_a_number_is_read_by_its_style(text: str, style: NumberStyle, value: float) -> None:
    assert read_number(text, style) == value


@pytest.mark.parametrize(
    ("text", "style", "choices"),
    [
        ("3,5", POINT, ("3.5", "35")),
        ("1,20", POINT, ("1.20", "120")),
        ("-3,5", POINT, ("-3.5", "-35")),
        ("0,123", POINT, ("0.123",)),
        (",5", POINT, ("0.5",)),
        ("1.234,5", POINT, ("1234.5",)),
        ("1 234,5", POINT, ("1234.5",)),
        ("1.234.567", POINT, ("1234567",)),
        ("12,34,567", POINT, ("1234567",)),
        ("1 2", POINT, ()),
        ("1.234", COMMA, ("1,2340", "1234")),
        ("1,234", COMMA, ("1,2340", "1234")),
        ("12.345", COMMA, ("12,3450", "12345")),
        ("3.5", COMMA, ("3,5", "35")),
        ("0.5", COMMA, ("0,5",)),
        ("1,234,567", COMMA, ("1234567",)),
        ("1,234.5", COMMA, ("1234,5",)),
    ],
)
def test_that_an_unclear_number_is_asked_about_with_the_readings_it_allows(
    text: str, style: NumberStyle, choices: tuple[str, ...]
) -> None:
    asked = read_number(text, style)
    assert asked == NumberProblem(NumberFault.UNCLEAR, text, choices)


@given(
    text=st.from_regex(r"\A[0-9]{1,4}([.,][0-9]{1,4}){1,3}\Z"), style=st.sampled_from(NumberStyle)
)
def test_that_every_offered_reading_can_be_typed(text: str, style: NumberStyle) -> None:
    asked = read_number(text, style)
    if isinstance(asked, NumberProblem):
        for choice in asked.choices:
            assert isinstance(read_number(choice, style), float), choice


@pytest.mark.parametrize(
    "text", ["", " ", "nan", "inf", "0x10", "1_000", "1e", "e3", "--1", "１２", "१२", "½", "1 e3"]
)
def test_that_other_texts_are_not_numbers(text: str) -> None:
    for style in NumberStyle:
        found = read_number(text, style)
        assert isinstance(found, NumberProblem)
        assert found.fault is NumberFault.MISSING


def test_that_numbers_beyond_floats_are_reported_and_never_infinite_or_zero() -> None:
    for text, fault in (("1e400", NumberFault.TOO_LARGE), ("-1e-400", NumberFault.TOO_SMALL)):
        found = read_number(text, POINT)
        assert isinstance(found, NumberProblem)
        assert found.fault is fault
    assert read_number("0e-400", POINT) == 0.0
    assert read_number("1" + "0" * 400, POINT) == NumberProblem(
        NumberFault.TOO_LARGE, "1" + "0" * 400
    )


@given(value=st.floats(allow_nan=False, allow_infinity=False), style=st.sampled_from(NumberStyle))
def test_that_a_written_number_reads_back_bit_for_bit(value: float, style: NumberStyle) -> None:
    written = write_decimals(f"{value:.17g}", style)
    read = read_number(written, style)
    assert read == value
    assert math.copysign(1.0, value) == math.copysign(1.0, float(str(read)))


def test_that_text_is_parted_after_its_leading_number() -> None:
    assert split_number(" −1,234.5 sq ft ") == ("−1,234.5", "sq ft")
    assert split_number("4 cfm/100 ft2") == ("4", "cfm/100 ft2")
    assert split_number("1e3Pa") == ("1e3", "Pa")
    assert split_number("cfm 4") is None


@pytest.mark.parametrize(
    ("spoken", "place"), [("en", "en_US"), ("es", "es_US"), ("fr_CA", "fr_CA")]
)
def test_that_each_language_writes_its_decimals_as_its_readers_do(spoken: str, place: str) -> None:
    # Source: Unicode CLDR, symbols of the Latin digits, as Babel holds them.
    marks = Locale.parse(place).number_symbols["latn"]
    style = usual_style(spoken)
    assert style.decimal_mark == marks["decimal"]
    assert {"\N{NARROW NO-BREAK SPACE}": "\N{NO-BREAK SPACE}"}.get(
        marks["group"], marks["group"]
    ) == style.group_mark


def test_that_spanish_is_that_of_the_americas_in_the_neighbor_as_well() -> None:
    # Source: Unicode CLDR, as Babel holds it; Spain writes a comma, Mexico and the US a point.
    assert Locale.parse("es_MX").number_symbols["latn"]["decimal"] == "."
    assert usual_style("es") is POINT


@pytest.mark.parametrize("text", ["0.5", "1,520", "1,234,567.891", "−3.25"])
def test_that_a_restyled_number_reads_as_the_same_number(text: str) -> None:
    assert read_number(restyled(text, COMMA), COMMA) == read_number(text, POINT)
    assert restyled(text, POINT) == text
