"""Conversion both ways, the figures of the trade, and values that must survive exactly."""

from __future__ import annotations

from dataclasses import dataclass

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from deskapp.units.convert import exact_in, from_unit, kind_of, to_unit
from deskapp.units.entry import NumberStyle, Quantity, parse
from deskapp.units.kinds import Kind
from deskapp.units.table import SI_UNIT, UNITS, unit_named, units_of


@dataclass(frozen=True)
class Kept:
    si: float | None
    unit: str
    typed: str


# Source: arithmetic from the factors of NIST SP 811, appendix B (foot 0.3048 m, pound
# 0.45359237 kg, conventional inches of water and mercury), from memory.
@pytest.mark.parametrize(
    ("value", "unit", "other", "expected"),
    [
        (1.0, "cfm", "L/s", 0.4719474432),
        (1.0, "cfm", "m3/h", 1.69901079552),
        (1.0, "cfm", "L/min", 28.316846592),
        (1.0, "ft2", "m2", 0.09290304),
        (1.0, "cfm/100ft2", "L/s/m2", 0.0508),
        (1.0, "cfm/100ft2", "m3/h/m2", 0.18288),
        (4.0, "cfm/100ft2", "L/s/m2", 0.2032),
        (4.0, "cfm/100ft2", "m3/h/m2", 0.73152),
        (4.0, "cfm/100ft2", "cfm/1000ft2", 40.0),
        (1.0, "cfm/ft2", "cfm/100ft2", 100.0),
        (1.0, "inH2O", "Pa", 249.08891),
        (25.0, "Pa", "inH2O", 0.1003658),
        (1.0, "ton", "Btu/h", 12000.0),
        (1.0, "ton", "kW", 3.516853),
        (1.0, "psi", "Pa", 6894.757),
        (72.0, "degF", "degC", 22.2222222),
        (-40.0, "degC", "degF", -40.0),
        (0.075, "lb/ft3", "kg/m3", 1.201385),
        (1.0, "knot", "m/s", 0.514444),
        (1.0, "h.ft2.degF/Btu", "m2.K/W", 0.1761102),
        (1013.25, "hPa", "inHg", 29.92126),
        (1013.25, "hPa", "mmHg", 759.9999),
    ],
)
def test_that_published_conversions_are_met(
    value: float, unit: str, other: str, expected: float
) -> None:
    assert to_unit(from_unit(value, unit), other) == pytest.approx(expected, rel=2e-6)


@pytest.mark.parametrize("unit", UNITS)
def test_that_si_units_are_left_bit_for_bit_and_one_unit_is_its_definition(unit: str) -> None:
    kind = kind_of(unit)
    if SI_UNIT[kind] == unit:
        assert from_unit(0.1, unit) == 0.1
        assert to_unit(0.1, unit) == 0.1
    else:
        assert from_unit(1.0, unit) != 1.0


@given(unit=st.sampled_from(sorted(UNITS)), value=st.floats(-1e9, 1e9))
@settings(deadline=None)
def test_that_a_value_comes_back_from_si(unit: str, value: float) -> None:
    assert to_unit(from_unit(value, unit), unit) == pytest.approx(value, rel=1e-12, abs=1e-9)


@given(
    kind=st.sampled_from([kind for kind in Kind if len(units_of(kind)) > 1]),
    number=st.decimals(1, 10_000, places=2),
    data=st.data(),
)
@settings(deadline=None)
def test_that_a_hundred_switches_of_unit_change_no_kept_value(
    kind: Kind, number: object, data: st.DataObject
) -> None:
    units = [row.id for row in units_of(kind)]
    kept = parse(str(number), kind, data.draw(st.sampled_from(units)), NumberStyle.POINT)
    assert isinstance(kept, Quantity)
    before = (kept.si, kept.unit, kept.typed)
    for turn in range(100):
        shown = to_unit(kept.si, units[turn % len(units)])
        assert shown == to_unit(before[0], units[turn % len(units)])
    assert (kept.si, kept.unit, kept.typed) == before
    assert exact_in(kept, kept.unit) == float(str(number))
    again = parse(kept.typed, kind, kept.unit, NumberStyle.POINT)
    assert again == kept


@given(number=st.decimals("0.01", 100, places=2))
@settings(deadline=None)
def test_that_a_limit_typed_in_its_own_unit_is_met_exactly(number: object) -> None:
    typed = f"{number} cfm/100 ft2"
    read = parse(typed, Kind.FLOW_PER_AREA, "L/s/m2", NumberStyle.POINT)
    assert isinstance(read, Quantity)
    assert exact_in(read, "cfm/100ft2") == float(str(number))


def test_that_a_trip_through_si_alone_would_not_be_exact() -> None:
    numbers = [tenth / 10.0 for tenth in range(1, 2000)]
    assert any(to_unit(from_unit(x, "cfm"), "cfm") != x for x in numbers)


def test_that_both_number_styles_are_recognized_in_kept_text() -> None:
    comma = parse("1.234,5 cfm", Kind.FLOW, "cfm", NumberStyle.COMMA)
    assert isinstance(comma, Quantity)
    assert exact_in(comma, "cfm") == 1234.5


def test_that_typed_text_that_does_not_match_the_value_is_not_believed() -> None:
    kept = Kept(from_unit(150.0, "cfm"), "cfm", "99 cfm")
    assert exact_in(kept, "cfm") == pytest.approx(150.0, rel=1e-14)
    assert exact_in(Kept(from_unit(8.5, "ft"), "ft", "8' 6\""), "ft") == pytest.approx(8.5)
    assert exact_in(Kept(25.0, "Pa", ""), "Pa") == 25.0


def test_that_another_unit_is_converted() -> None:
    kept = Kept(from_unit(100.0, "cfm"), "cfm", "100")
    assert exact_in(kept, "L/s") == pytest.approx(47.19474432, rel=1e-14)


def test_that_a_value_that_could_not_be_read_or_another_kind_is_refused() -> None:
    with pytest.raises(ValueError, match="no value could be read from 'abc'"):
        exact_in(Kept(None, "cfm", "abc"), "cfm")
    with pytest.raises(ValueError, match="cannot be given in Pa"):
        exact_in(Kept(1.0, "cfm", "1"), "Pa")


def test_that_an_unknown_unit_is_named() -> None:
    for convert in (from_unit, to_unit):
        with pytest.raises(ValueError, match="no unit has the id 'CFM'"):
            convert(1.0, "CFM")


def test_that_each_kind_keeps_its_units_together() -> None:
    assert kind_of("cfm") is Kind.FLOW
    assert kind_of("cfm/100ft2") is Kind.FLOW_PER_AREA
    assert kind_of("1") is Kind.NUMBER
    for kind in Kind:
        rows = units_of(kind)
        assert rows
        assert kind is Kind.CONCENTRATION or unit_named(SI_UNIT[kind]) in rows
