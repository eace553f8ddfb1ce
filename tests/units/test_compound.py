"""Two-part entries and inch fractions; expected values from scipy.constants (foot, inch)."""

from __future__ import annotations

import pytest
from scipy import constants as c

from deskapp.units.entry import NumberStyle, Problem, Quantity, parse
from deskapp.units.kinds import Kind

POINT, COMMA = NumberStyle.POINT, NumberStyle.COMMA


@pytest.mark.parametrize(
    ("typed", "si", "unit"),
    [
        ("8' 6\"", 102 * c.inch, "ft"),
        ("8'6\"", 102 * c.inch, "ft"),
        ("8'6", 102 * c.inch, "ft"),
        ("8′ 6″", 102 * c.inch, "ft"),
        ("8’-6”", 102 * c.inch, "ft"),
        ("8 ft 6 in", 102 * c.inch, "ft"),
        ("8ft6in", 102 * c.inch, "ft"),
        ("8 ft. 6 in.", 102 * c.inch, "ft"),
        ("8 feet, 6 inches", 102 * c.inch, "ft"),
        ("8 FT 6 IN", 102 * c.inch, "ft"),
        ("8' 6 1/2\"", 102.5 * c.inch, "ft"),
        ("8' 6-1/2\"", 102.5 * c.inch, "ft"),
        ("8 ft 0.5 in", 96.5 * c.inch, "ft"),
        ("-8' 6\"", -102 * c.inch, "ft"),
        ("1,200 ft 6 in", 14406 * c.inch, "ft"),
        ("1/2 in", 0.5 * c.inch, "in"),
        ('6 1/2"', 6.5 * c.inch, "in"),
        ("6-1/2 in.", 6.5 * c.inch, "in"),
        ("2 m 40 cm", 2.4, "m"),
    ],
)
def test_that_lengths_in_two_parts_are_read(typed: str, si: float, unit: str) -> None:
    read = parse(typed, Kind.LENGTH, "ft", POINT)
    assert isinstance(read, Quantity), read
    assert read.si == pytest.approx(si, rel=1e-14)
    assert (read.unit, read.typed) == (unit, typed)


@pytest.mark.parametrize(
    ("typed", "si", "unit"), [("1 min 30 s", 90.0, "min"), ("1 h 15 min", 4500.0, "h")]
)
def test_that_times_in_two_parts_are_read(typed: str, si: float, unit: str) -> None:
    read = parse(typed, Kind.TIME, "s", POINT)
    assert read == Quantity(si, unit, typed)


@pytest.mark.parametrize(
    "typed",
    ["8 ft 14 in", "8.5 ft 6 in", "8 ft 12 in", "8 ft 1,5 in", "8 ft 6", "8 ft 1/0 in", "8' 12"],
)
def test_that_parts_that_do_not_fit_together_are_asked_about(typed: str) -> None:
    said = parse(typed, Kind.LENGTH, "ft", POINT)
    assert isinstance(said, Problem)
    assert said.code == "parts-unclear"
    assert typed in said.what
    assert "fewer than 12 in." in said.mend


@pytest.mark.parametrize(
    "typed", ["8 ft 6 ft", "8 in 6 ft", "8 ft 6 smoots", "1/0 in", "--8' 6\"", "8'"]
)
def test_that_other_pairs_are_not_taken_for_feet_and_inches(typed: str) -> None:
    read = parse(typed, Kind.LENGTH, "m", POINT)
    if typed == "8'":
        assert isinstance(read, Quantity)
        assert read.si == pytest.approx(8 * c.foot, rel=1e-14)
    else:
        assert isinstance(read, Problem)


def test_that_decimals_in_the_second_part_follow_the_style() -> None:
    read = parse("8 ft 6,5 in", Kind.LENGTH, "ft", COMMA)
    assert isinstance(read, Quantity)
    assert read.si == pytest.approx(102.5 * c.inch, rel=1e-14)


def test_that_feet_and_inches_in_another_field_are_not_taken() -> None:
    assert isinstance(parse("8 ft 6 in", Kind.PRESSURE, "Pa", POINT), Problem)


def test_that_a_loose_digit_is_not_taken_for_a_power() -> None:
    for kind, unit in ((Kind.AREA, "ft2"), (Kind.VOLUME, "ft3")):
        for typed in ("8 ft 2", "8 ft 3", "8 m 2"):
            assert isinstance(parse(typed, kind, unit, POINT), Problem)
