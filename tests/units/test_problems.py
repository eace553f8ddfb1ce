"""The words of a problem: translated whole, and free of blame."""

from __future__ import annotations

import pytest

from deskapp.catalog.files import PSEUDO
from deskapp.i18n import speaking
from deskapp.units.entry import NumberStyle, Problem, Quantity, parse
from deskapp.units.kinds import Kind
from deskapp.units.table import UNITS, units_of

TYPED = (
    "",
    "abc",
    "3,5",
    "1.234,5",
    "1 2",
    "1e999",
    "1e-999",
    "25 smoots",
    "25 Pa",
    "25 cfm",
    "0.1 in",
    "36 MBtu/h",
    "8 ft 14 in",
    "-1e9 °F",
    "3.5",
    "-3",
    "x" * 300,
)


def every_problem() -> list[Problem]:
    return [
        read
        for kind in Kind
        for typed in TYPED
        if isinstance(read := parse(typed, kind, units_of(kind)[0].id, NumberStyle.POINT), Problem)
    ]


def test_that_every_sentence_can_be_translated() -> None:
    with speaking(PSEUDO):
        problems = every_problem()
    for said in problems:
        for sentence in (said.what, said.allowed, said.mend):
            assert sentence.startswith("⟦"), sentence
            assert sentence.endswith("⟧"), sentence


def test_that_every_problem_says_three_things_without_blame_or_holes() -> None:
    seen = every_problem()
    assert len({said.code for said in seen}) == 13
    for said in seen:
        text = said.text
        assert said.what and said.allowed and said.mend
        assert not any(word in text.lower() for word in ("invalid", "failed", "error", "wrong"))
        assert "{" not in text
        assert "}" not in text


def test_that_a_barometer_is_answered_with_an_example_in_its_own_unit() -> None:
    """The air at sea level is 101,325 Pa: ICAO standard atmosphere, Doc 7488."""
    for unit in ("inHg", "kPa", "hPa", "mbar", "mmHg"):
        found = parse("about thirty", Kind.PRESSURE, unit, NumberStyle.POINT)
        assert isinstance(found, Problem)
        example = found.allowed.partition("such as ")[2].rstrip(".")
        label = UNITS[unit].label
        assert example.endswith(label)
        read = parse(example, Kind.PRESSURE, unit, NumberStyle.POINT)
        assert isinstance(read, Quantity)
        assert read.unit == unit
        assert read.si == pytest.approx(101_325.0, rel=0.05)
