"""Places as people write them. Source: ISO 3166-1 and ISO 3166-2."""

from __future__ import annotations

import string

import pytest
from hypothesis import given
from hypothesis import strategies as st

from deskapp.limits.places import Place, read_place


@pytest.mark.parametrize(
    "typed",
    [
        "WA",
        "wa",
        "Washington",
        "WASHINGTON",
        " washington ",
        "Seattle, WA",
        "Washington, USA",
        "Washington (US)",
        "W.A.",
    ],
)
def test_that_a_state_is_read_by_name_and_letters(typed: str) -> None:
    assert read_place(typed) == Place("US", "Washington")


@pytest.mark.parametrize(
    ("typed", "country", "region"),
    [
        ("CA", "US", "California"),
        ("DE", "US", "Delaware"),
        ("Ontario, CA", "CA", "Ontario"),
        ("Québec", "CA", "Quebec"),
        ("QC", "CA", "Quebec"),
        ("DC", "US", "District of Columbia"),
        ("Washington, D.C.", "US", "District of Columbia"),
        ("Washington DC", "US", "District of Columbia"),
        ("new  york", "US", "New York"),
        ("Madrid, Spain", "ES", ""),
        ("EE", "EE", ""),
        ("United Kingdom", "GB", ""),
        ("UK", "GB", ""),
        ("U.S.A.", "US", ""),
        ("United States", "US", ""),
    ],
)
def test_that_other_places_are_read(typed: str, country: str, region: str) -> None:
    assert read_place(typed) == Place(country, region)


@pytest.mark.parametrize("typed", ["", "  ", "Narnia", "12", "W A S H", ",,,", "Wash"])
def test_that_an_unknown_place_is_none(typed: str) -> None:
    assert read_place(typed) is None


def test_that_there_are_fifty_states_thirteen_provinces_and_no_more() -> None:
    found = {
        place.region: place.country
        for first in string.ascii_uppercase
        for second in string.ascii_uppercase
        if (place := read_place(first + second)) is not None and place.region
    }
    # ISO 3166-2: 50 states, the district and the five territories where people live; 10 provinces
    # and 3 territories.
    assert list(found.values()).count("US") == 56
    assert list(found.values()).count("CA") == 13


def test_that_european_standards_hold_in_europe() -> None:
    for typed, inside in (("Spain", True), ("Norway", True), ("WA", False), ("Canada", False)):
        place = read_place(typed)
        assert place is not None
        assert place.is_in_europe is inside


@given(st.text(max_size=40))
def test_that_no_text_breaks_the_reading(typed: str) -> None:
    place = read_place(typed)
    assert place is None or place.country
