"""Values and dates as printed: digits, marks, symbols, and text for edit fields."""

from __future__ import annotations

import math
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from deskapp.units.convert import from_unit, to_unit
from deskapp.units.display import NO_VALUE, Formatter, UnitSystem
from deskapp.units.entry import NumberStyle, Quantity, parse
from deskapp.units.kinds import Kind
from deskapp.units.table import units_of

US = Formatter(UnitSystem.IP, NumberStyle.POINT)
EU = Formatter(UnitSystem.SI, NumberStyle.COMMA)


def spaced(text: str) -> str:
    return text.replace("\N{NO-BREAK SPACE}", " ")


@pytest.mark.parametrize(
    ("kind", "value", "unit", "us", "eu"),
    [
        (Kind.PRESSURE, 25.0, "Pa", "25.0 Pa", "25,0 Pa"),
        (Kind.PRESSURE, -25.04, "Pa", "−25.0 Pa", "−25,0 Pa"),
        (Kind.PRESSURE, 101325.0, "Pa", "101,325 Pa", "101 325 Pa"),
        (Kind.FLOW, 54.2, "cfm", "54.2 cfm", "25,6 L/s"),
        (Kind.FLOW, 999.94, "cfm", "999.9 cfm", "471,9 L/s"),
        (Kind.FLOW, 999.96, "cfm", "1,000 cfm", "471,9 L/s"),
        (Kind.AREA, 1800.0, "ft2", "1,800 ft²", "167,2 m²"),
        (Kind.LENGTH, 8.5, "ft", "8.5 ft", "2,59 m"),
        (Kind.VOLUME, 14400.0, "ft3", "14,400 ft³", "407,8 m³"),
        (Kind.TEMPERATURE, 72.0, "degF", "72.0 °F", "22,2 °C"),
        (Kind.FRACTION, 0.125, "fraction", "12.5%", "12,5%"),
        (Kind.TIME, 10.0, "s", "10 s", "10 s"),
        (Kind.POWER, 3.0, "ton", "36.0 kBtu/h", "10,55 kW"),
        (Kind.SPEED, 10.0, "mph", "10.0 mph", "4,47 m/s"),
        (Kind.CONCENTRATION, 9.0, "ppm", "9 ppm", "9 ppm"),
        (Kind.DENSITY, 1.2041, "kg/m3", "0.07517 lb/ft³", "1,2041 kg/m³"),
        (Kind.COEFFICIENT, 11.25, "cfm", "11.25 cfm", "5,3094 L/s"),
        (Kind.FLOW_PER_AREA, 4.0, "cfm/100ft2", "4.00 cfm/100 ft²", "0,2032 L/(s·m²)"),
        (Kind.RESISTANCE, 6.0, "h.ft2.degF/Btu", "6 h·ft²·°F/Btu", "1,057 m²·K/W"),
        (Kind.NUMBER, 0.65, "1", "0.65", "0,65"),
        (Kind.COUNT, 1200.0, "1", "1,200", "1 200"),
    ],
)
def test_that_a_value_is_shown_in_the_readers_units_and_marks(
    kind: Kind, value: float, unit: str, us: str, eu: str
) -> None:
    si = from_unit(value, unit)
    assert spaced(US.show(kind, si)) == us
    assert spaced(EU.show(kind, si)) == eu


def test_that_no_plain_space_stands_where_a_line_could_break() -> None:
    for formatter in (US, EU):
        for kind in Kind:
            for row in units_of(kind):
                assert " " not in formatter.show(kind, 1234567.0, row.id)


def test_that_a_chosen_unit_and_chosen_digits_are_used() -> None:
    capacity = from_unit(3.0, "ton")
    assert spaced(US.show(Kind.POWER, capacity, "ton")) == "3 ton"
    assert spaced(US.show(Kind.POWER, capacity, "ton", 1)) == "3.0 ton"
    assert spaced(US.show(Kind.FLOW, from_unit(1200.04, "cfm"), digits=2)) == "1,200.04 cfm"


def test_that_digits_bring_out_a_difference_that_usual_rounding_hides() -> None:
    limit, found = from_unit(4.0, "cfm/100ft2"), from_unit(4.004, "cfm/100ft2")
    assert US.show(Kind.FLOW_PER_AREA, limit) == US.show(Kind.FLOW_PER_AREA, found)
    assert US.show(Kind.FLOW_PER_AREA, limit, digits=3) != US.show(
        Kind.FLOW_PER_AREA, found, digits=3
    )


@given(si=st.floats(-0.04, 0.0))
def test_that_zero_carries_no_minus(si: float) -> None:
    shown = US.show(Kind.PRESSURE, si)
    assert spaced(shown) == "0.0 Pa"
    assert US.plain(Kind.PRESSURE, si) == "0 Pa"
    assert US.number(si, 1) == "0.0"


def test_that_both_systems_stand_side_by_side() -> None:
    flow = from_unit(54.2, "cfm")
    assert spaced(US.both(Kind.FLOW, flow)) == "54.2 cfm (25.6 L/s)"
    assert spaced(EU.both(Kind.FLOW, flow)) == "25,6 L/s (54,2 cfm)"
    assert spaced(US.both(Kind.PRESSURE, 25.0)) == "25.0 Pa (0.100 in. w.c.)"
    assert spaced(EU.both(Kind.PRESSURE, 25.0)) == "25,0 Pa (0,100 in. w.c.)"
    assert spaced(US.both(Kind.TIME, 10.0)) == "10 s"
    assert spaced(US.both(Kind.FRACTION, 0.5)) == "50.0%"


def test_that_a_missing_value_is_a_dash() -> None:
    assert US.show_optional(Kind.FLOW, None) == NO_VALUE == "–"
    assert US.show_optional(Kind.PRESSURE, 25.0) == US.show(Kind.PRESSURE, 25.0)
    assert US.day(None) == NO_VALUE


def test_that_dates_name_the_month() -> None:
    assert spaced(US.day(date(2026, 3, 5))) == "Mar 5, 2026"
    assert spaced(EU.day(date(2026, 3, 5))) == "5 Mar 2026"


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_that_what_is_not_finite_is_never_shown(bad: float) -> None:
    for write in (US.show, US.plain, US.show_optional):
        with pytest.raises(ValueError, match="cannot be shown"):
            write(Kind.FLOW, bad)


def test_that_a_unit_of_another_kind_is_refused() -> None:
    with pytest.raises(ValueError, match="does not measure flow"):
        US.show(Kind.FLOW, 1.0, "Pa")


def test_that_edit_text_is_plain() -> None:
    assert US.plain(Kind.AREA, from_unit(1234.5, "ft2")) == "1234.5 ft²"
    assert EU.plain(Kind.AREA, 1234.5) == "1234,5 m²"
    assert EU.plain(Kind.PRESSURE, 1234.0, "kPa") == "1,2340 kPa"
    assert US.plain(Kind.PRESSURE, -25.0) == "-25 Pa"
    assert US.plain(Kind.NUMBER, 0.65) == "0.65"


@given(
    kind=st.sampled_from(Kind),
    formatter=st.sampled_from([US, EU]),
    value=st.floats(0.0, 1e6),
    data=st.data(),
)
@settings(deadline=None, max_examples=300)
def test_that_edit_text_reads_back_to_the_digits_shown(
    kind: Kind, formatter: Formatter, value: float, data: st.DataObject
) -> None:
    row = data.draw(st.sampled_from(units_of(kind)))
    si = from_unit(value, row.id)
    text = formatter.plain(kind, si, row.id)
    read = parse(text, kind, row.id, formatter.style)
    assert isinstance(read, Quantity), read
    assert read.unit == row.id
    decimals = 0 if kind is Kind.COUNT else row.decimals
    half = 0.5 * 10.0**-decimals * (1.0 + 1e-6)
    assert abs(to_unit(read.si, row.id) - value) <= half + 32.0 * math.ulp(value)
    assert formatter.plain(kind, read.si, row.id) == text


@given(kind=st.sampled_from(Kind), formatter=st.sampled_from([US, EU]), value=st.floats(1, 1e6))
@settings(deadline=None)
def test_that_shown_text_can_be_typed_unless_it_would_be_asked_about(
    kind: Kind, formatter: Formatter, value: float
) -> None:
    unit = formatter.unit_for(kind)
    shown = formatter.show(kind, from_unit(value, unit), digits=0 if kind is Kind.COUNT else 4)
    read = parse(shown, kind, unit, formatter.style)
    assert isinstance(read, Quantity), read
    assert to_unit(read.si, unit) == pytest.approx(value, abs=0.6)


def test_that_a_value_no_eye_can_count_is_written_with_a_power_of_ten():
    formatter = Formatter(UnitSystem.IP, NumberStyle.POINT)
    assert formatter.show(Kind.NUMBER, 1e308) == "1e308"
    assert formatter.show(Kind.NUMBER, -2.5e14) == "\N{MINUS SIGN}2.5e14"
    assert formatter.show(Kind.NUMBER, 999_999_999_999.0) == "999,999,999,999"
    assert Formatter(UnitSystem.SI, NumberStyle.COMMA).show(Kind.NUMBER, 2.5e14) == "2,5e14"


def test_that_one_mean_is_written_alike_however_it_was_worked_out() -> None:
    # 0.2 and 0.1 have the mean 0.15; a half goes away from zero (ISO 80000-1, annex B, rule B;
    # from memory), whichever side of it binary arithmetic ends on.
    formatter = Formatter(UnitSystem.IP, NumberStyle.POINT)
    ways = ((0.2 + 0.1) / 2, 0.2 / 2 + 0.1 / 2, 0.15, 0.1 + (0.2 - 0.1) / 2)
    assert len(set(ways)) > 1
    assert {formatter.number(mean, 1) for mean in ways} == {"0.2"}
    assert {formatter.number(-mean, 1) for mean in ways} == {formatter.number(-0.2, 1)}
    assert formatter.number(2.5, 0) == "3"


@pytest.mark.parametrize(
    ("kind", "value", "unit", "shown"),
    [
        (Kind.PRESSURE, 25.0, "Pa", "25.0 Pa"),
        (Kind.PRESSURE, -0.05, "Pa", "−0.05 Pa"),
        (Kind.PRESSURE, 98_900.0, "Pa", "98,900 Pa"),
        (Kind.FLOW, 54.04625, "cfm", "54.0463 cfm"),
        (Kind.FLOW, 1234.5678, "cfm", "1,234.568 cfm"),
        (Kind.FLOW, 0.0023600012, "m3/s", "0.00236 m³/s"),
        (Kind.AREA, 0.00661151, "m2", "0.0066115 m²"),
        (Kind.AREA, 1520.0, "ft2", "1,520 ft²"),
        (Kind.NUMBER, 0.6, "1", "0.6"),
        (Kind.NUMBER, 0.6169412, "1", "0.616941"),
        (Kind.FLOW, 0.0, "cfm", "0.0 cfm"),
    ],
)
def test_that_a_figure_to_go_on_with_has_digits_enough_and_no_empty_ones(kind, value, unit, shown):
    assert spaced(US.to_go_on_with(kind, from_unit(value, unit), unit)) == shown


@given(st.floats(min_value=-1e5, max_value=1e5, allow_nan=False))
@settings(deadline=None)
def test_that_a_figure_to_go_on_with_is_never_further_off_than_as_shown(x):
    text = spaced(US.to_go_on_with(Kind.FLOW, from_unit(x, "cfm"), "cfm"))
    number = float(text.removesuffix(" cfm").replace(",", "").replace("−", "-"))
    assert number == pytest.approx(x, abs=max(0.00006, 6e-7 * abs(x)))


@pytest.mark.parametrize(
    ("kind", "value", "digits", "own", "little"),
    [
        (Kind.FLOW, 1.5621, 2, "± 1.56 cfm", "± 1.56 cfm"),
        (Kind.FLOW, 0.0049, 2, "± 0.0049 cfm", "< 0.01 cfm"),
        (Kind.FLOW, 0.0051, 2, "± 0.0051 cfm", "± 0.01 cfm"),
        (Kind.FLOW, 0.0, 2, "± 0.00 cfm", "± 0.00 cfm"),
        (Kind.DENSITY, 0.000478, 2, "± 0.00048 lb/ft³", "< 0.01 lb/ft³"),
    ],
)
def test_that_an_uncertainty_is_none_on_paper_only_where_it_is_none(
    kind, value, digits, own, little
):
    si = from_unit(value, US.unit_for(kind))
    assert spaced(US.give_or_take(kind, si, digits)) == own
    assert spaced(US.give_or_take_little(kind, si, digits)) == little
