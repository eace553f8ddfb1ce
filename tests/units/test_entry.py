"""Typed text to quantity: the rows that trap a general unit parser, questions, wrong kinds."""

from __future__ import annotations

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from scipy import constants as c

from deskapp.units.entry import NumberStyle, Problem, Quantity, parse
from deskapp.units.kinds import Kind
from deskapp.units.table import SI_UNIT, units_of

POINT, COMMA = NumberStyle.POINT, NumberStyle.COMMA
CFM = c.foot**3 / c.minute
INCH_OF_WATER = 249.08891  # NIST SP 811, appendix B.8, conventional; from memory


def default_unit(kind: Kind) -> str:
    return "ppm" if kind is Kind.CONCENTRATION else SI_UNIT[kind]


def quantity(typed: str, kind: Kind, style: NumberStyle = POINT, unit: str = "") -> Quantity:
    read = parse(typed, kind, unit or default_unit(kind), style)
    assert isinstance(read, Quantity), read
    return read


def problem(typed: str, kind: Kind, style: NumberStyle = POINT, unit: str = "") -> Problem:
    read = parse(typed, kind, unit or default_unit(kind), style)
    assert isinstance(read, Problem), read
    assert read.typed == typed
    assert read.what
    assert read.allowed
    assert read.mend
    return read


# Entries that pint 0.25.3 on its own takes for a length, a time, a capacitance or a number ten
# times as large (measured), or does not know.
@pytest.mark.parametrize(
    ("typed", "kind", "style", "si"),
    [
        ("150 cfm", Kind.FLOW, POINT, 150.0 * CFM),
        ("25 pa", Kind.PRESSURE, POINT, 25.0),
        ("3,5 Pa", Kind.PRESSURE, COMMA, 3.5),
        ("1,200 ft^2", Kind.AREA, POINT, 1200.0 * c.foot**2),
        ("72 F", Kind.TEMPERATURE, POINT, c.convert_temperature(72.0, "F", "K")),
        ("72 degF", Kind.TEMPERATURE, POINT, c.convert_temperature(72.0, "F", "K")),
        ("20 °C", Kind.TEMPERATURE, POINT, c.convert_temperature(20.0, "C", "K")),
        ("12 in wg", Kind.PRESSURE, POINT, 12.0 * INCH_OF_WATER),
        ("0.1 in w.g.", Kind.PRESSURE, POINT, 0.1 * INCH_OF_WATER),
        ("12 iwc", Kind.PRESSURE, POINT, 12.0 * INCH_OF_WATER),
        ("10 m3/h", Kind.FLOW, POINT, 10.0 / c.hour),
        ("0.1 inH2O", Kind.PRESSURE, POINT, 24.908891),
    ],
)
def test_that_the_known_traps_are_read_right(
    typed: str, kind: Kind, style: NumberStyle, si: float
) -> None:
    assert quantity(typed, kind, style).si == pytest.approx(si, rel=1e-12)


def test_that_150_cfm_is_about_0_0708_cubic_meters_per_second() -> None:
    assert round(quantity("150 cfm", Kind.FLOW).si, 4) == 0.0708


def test_that_the_other_styles_reading_of_a_trap_is_asked_about() -> None:
    for typed, kind, style in (
        ("3,5 Pa", Kind.PRESSURE, POINT),
        ("1,200 ft^2", Kind.AREA, COMMA),
        ("1.234 cfm", Kind.FLOW, COMMA),
        ("1,234 cfm", Kind.FLOW, COMMA),
    ):
        asked = problem(typed, kind, style)
        assert asked.code == "number-unclear"
        assert typed in asked.what


def test_that_a_question_offers_both_readings() -> None:
    assert problem("3,5 Pa", Kind.PRESSURE, POINT).mend == "Type 3.5 or 35, whichever is meant."
    assert problem("1.234", Kind.FLOW, COMMA).mend == "Type 1,2340 or 1234, whichever is meant."


@pytest.mark.parametrize(
    ("point", "comma", "kind"),
    [
        ("25.4 Pa", "25,4 Pa", Kind.PRESSURE),
        ("1,234.5 cfm", "1.234,5 cfm", Kind.FLOW),
        ("1,234.5 cfm", "1 234,5 cfm", Kind.FLOW),
        ("12,000 Btu/h", "12 000 Btu/h", Kind.POWER),
        ("0.125 in. w.c.", "0,125 in. w.c.", Kind.PRESSURE),
        ("-12.25 °C", "−12,25 °C", Kind.TEMPERATURE),
        ("1.2340 kg/m3", "1,2340 kg/m3", Kind.DENSITY),
    ],
)
def test_that_both_number_styles_give_the_same_si_value(point: str, comma: str, kind: Kind) -> None:
    assert quantity(point, kind, POINT).si == quantity(comma, kind, COMMA).si


def test_that_a_number_without_a_unit_takes_the_default_unit() -> None:
    read = quantity("150", Kind.FLOW, unit="cfm")
    assert (read.unit, read.typed) == ("cfm", "150")
    assert read.si == pytest.approx(150.0 * CFM, rel=1e-14)
    assert quantity("50", Kind.FRACTION, unit="percent").si == 0.5
    assert quantity("50 %", Kind.FRACTION, unit="fraction").si == 0.5
    assert quantity("0.5", Kind.FRACTION, unit="fraction").si == 0.5


@pytest.mark.parametrize(
    ("typed", "si"),
    [
        ("−25 Pa", -25.0),
        ("–25 Pa", -25.0),
        ("-25Pa", -25.0),
        ("- 25 Pa", -25.0),
        ("+25 Pa", 25.0),
        ("25\N{NO-BREAK SPACE}Pa", 25.0),
        ("25\N{THIN SPACE}Pa", 25.0),
        ("1\N{NARROW NO-BREAK SPACE}000 Pa", 1000.0),
        ("1e3 Pa", 1000.0),
        ("2.5E-1Pa", 0.25),
        ("1e−3 Pa", 0.001),
        (".5 Pa", 0.5),
        ("5. Pa", 5.0),
        ("25 Pa.", 25.0),
        ("\t25 Pa\n", 25.0),
    ],
)
def test_that_signs_spaces_and_powers_of_ten_are_read(typed: str, si: float) -> None:
    assert quantity(typed, Kind.PRESSURE).si == si


@pytest.mark.parametrize(
    ("typed", "kind", "named", "needed"),
    [
        ("150 ft", Kind.PRESSURE, "a length", "A pressure"),
        ("25 Pa", Kind.FLOW, "a pressure", "A flow"),
        ("25 Pa", Kind.AREA, "a pressure", "An area"),
        ("150 cfm", Kind.LENGTH, "a flow", "A length"),
        ("1800 sq ft", Kind.VOLUME, "an area", "A volume"),
        ("9 ft", Kind.TEMPERATURE, "a length", "A temperature"),
        ("72 °F", Kind.FRACTION, "a temperature", "A share"),
        ("3 tons", Kind.TIME, "a capacity", "A time"),
        ("10 s", Kind.POWER, "a time", "A capacity"),
        ("9 ppm", Kind.SPEED, "a concentration", "A speed"),
        ("10 mph", Kind.CONCENTRATION, "a speed", "A concentration"),
        ("14400 ft3", Kind.DENSITY, "a volume", "A density"),
        ("1.2 kg/m3", Kind.COEFFICIENT, "a density", "A flow coefficient"),
        ("150 cfm", Kind.FLOW_PER_AREA, "a flow", "A flow per floor area"),
        ("4 cfm/100 ft2", Kind.FLOW, "a flow per area", "A flow"),
        ("50 %", Kind.NUMBER, "a share", "A plain number"),
        ("3 ft", Kind.COUNT, "a length", "A whole number"),
    ],
)
def test_that_a_wrong_kind_is_named_with_what_was_typed_and_what_is_needed(
    typed: str, kind: Kind, named: str, needed: str
) -> None:
    said = problem(typed, kind)
    assert said.code == "wrong-kind"
    assert said.what == f"That is {named} ({typed})."
    assert said.allowed.startswith(f"{needed} ") or said.allowed.startswith(f"{needed},")
    assert said.text == f"{said.what} {said.allowed} {said.mend}"


def test_that_an_unknown_unit_is_named_and_units_of_the_kind_are_listed() -> None:
    said = problem("25 smoots", Kind.PRESSURE)
    assert said.code == "unit-unknown"
    assert "“smoots”" in said.what
    assert all(label in said.allowed for label in ("Pa", "in. w.c.", "psi"))
    assert "Pa" in said.mend


@pytest.mark.parametrize(
    ("typed", "kind", "advice"),
    [
        ("0.1 in", Kind.PRESSURE, "in. w.c."),
        ('0.1"', Kind.PRESSURE, "in. w.c."),
        ("36 MBtu/h", Kind.POWER, "kBtu/h"),
        ("150 cfm25", Kind.FLOW, "cfm"),
        ("150 CFM @ 25 Pa", Kind.FLOW, "cfm"),
        ("4 cfm25/100 sq ft", Kind.FLOW_PER_AREA, "cfm/100 ft2"),
        ("150 scfm", Kind.COEFFICIENT, "cfm"),
        ("2 m", Kind.TIME, "min"),
    ],
)
def test_that_a_unit_with_two_meanings_is_asked_about(typed: str, kind: Kind, advice: str) -> None:
    said = problem(typed, kind)
    assert said.code == "unit-unclear"
    assert advice in said.mend


@pytest.mark.parametrize("typed", ["25 MPa", "25 mPa", "1 bar", "4 cfm/50 ft2", "5 mW", "5 MW"])
def test_that_units_apart_only_by_case_or_not_listed_are_not_guessed(typed: str) -> None:
    for kind in (Kind.PRESSURE, Kind.POWER, Kind.FLOW_PER_AREA):
        assert problem(typed, kind).code in {"unit-unknown", "wrong-kind"}


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("", "empty"),
        ("   ", "empty"),
        ("nan", "number-missing"),
        ("inf Pa", "number-missing"),
        ("-inf", "number-missing"),
        ("about 25 Pa", "number-missing"),
        ("Pa", "number-missing"),
        ("–", "number-missing"),
        (".", "number-missing"),
        ("２５ Pa", "number-missing"),
        ("٢٥ Pa", "number-missing"),
        ("0x10", "unit-unknown"),
        ("1_000", "unit-unknown"),
        ("25-30 Pa", "unit-unknown"),
        ("25 Pa 30 Pa", "unit-unknown"),
        ("25 .", "unit-unknown"),
        ("1e999 Pa", "number-too-large"),
        ("1e308 kPa", "number-too-large"),
        ("1e-999 Pa", "number-too-small"),
        ("1 2 Pa", "number-unclear"),
        ("1,23,4 Pa", "number-unclear"),
        ("1.2.3 Pa", "number-unclear"),
        ("9" * 500, "too-long"),
    ],
)
def test_that_what_is_no_quantity_is_answered_and_never_taken(typed: str, code: str) -> None:
    assert problem(typed, Kind.PRESSURE).code == code


def test_that_a_tiny_value_that_vanishes_in_si_is_reported() -> None:
    assert problem("1e-320 cfm/1000 ft2", Kind.FLOW_PER_AREA).code == "number-too-small"


def test_that_zero_is_zero_in_every_unit_and_zero_degrees_are_not() -> None:
    assert quantity("0 cfm", Kind.FLOW).si == 0.0
    assert quantity("0 °F", Kind.TEMPERATURE).si == pytest.approx(255.372222, abs=1e-6)
    assert quantity("-459.67 °F", Kind.TEMPERATURE).si == pytest.approx(0.0, abs=1e-9)


def test_that_a_count_is_whole_and_not_negative() -> None:
    assert quantity("3", Kind.COUNT).si == 3.0
    assert quantity("1,200", Kind.COUNT).si == 1200.0
    assert problem("3.5", Kind.COUNT).code == "count-not-whole"
    assert problem("-3", Kind.COUNT).code == "count-negative"
    assert "“-3”" in problem("-3", Kind.COUNT).what


def test_that_nothing_is_colder_than_absolute_zero() -> None:
    assert problem("-500 °F", Kind.TEMPERATURE).code == "below-absolute-zero"
    assert problem("-1 K", Kind.TEMPERATURE).code == "below-absolute-zero"


def test_that_long_texts_are_cut_in_messages_and_kept_in_the_problem() -> None:
    typed = "25 " + "x" * 150
    said = problem(typed, Kind.PRESSURE)
    assert len(said.what) < 80
    assert said.typed == typed


def test_that_a_default_unit_of_another_kind_is_refused() -> None:
    with pytest.raises(ValueError, match="does not measure pressure"):
        parse("25", Kind.PRESSURE, "cfm", POINT)
    with pytest.raises(ValueError, match="no unit has the id"):
        parse("25", Kind.PRESSURE, "furlong", POINT)


@given(typed=st.text(max_size=60), kind=st.sampled_from(Kind), style=st.sampled_from(NumberStyle))
@example(typed="İ", kind=Kind.LENGTH, style=POINT)
@example(typed="5'5'5'", kind=Kind.LENGTH, style=POINT)
@settings(max_examples=400, deadline=None)
def test_that_no_text_makes_parse_raise(typed: str, kind: Kind, style: NumberStyle) -> None:
    read = parse(typed, kind, default_unit(kind), style)
    assert read.typed == typed
    if isinstance(read, Problem):
        assert read.text


SCRAPS = st.sampled_from(
    [*"0123456789.,'\"-−+eE/ %°²³", "ft", "in", "cfm", "Pa", "w.c.", "sq", "m3/h", " per ", "100"]
)


@given(
    typed=st.lists(SCRAPS, max_size=12).map("".join),
    kind=st.sampled_from(Kind),
    style=st.sampled_from(NumberStyle),
)
@settings(max_examples=800, deadline=None)
def test_that_no_near_miss_makes_parse_raise_or_give_a_value_that_is_not_finite(
    typed: str, kind: Kind, style: NumberStyle
) -> None:
    read = parse(typed, kind, default_unit(kind), style)
    assert read.typed == typed
    if isinstance(read, Quantity):
        assert abs(read.si) < float("inf")
        assert read.unit in {row.id for row in units_of(kind)}


@pytest.mark.parametrize("typed", ["3,5 Pa", "1,250.5.2 Pa", "3,5 min"])
def test_that_a_wrong_kind_is_told_before_an_unclear_number(typed: str) -> None:
    found = parse(typed, Kind.AREA, "ft2", NumberStyle.POINT)
    assert isinstance(found, Problem)
    assert "area" in found.text
