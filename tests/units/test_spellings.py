"""Spellings of units, against values built from scipy.constants.

Source of the constants: scipy.constants (foot, inch, minute, hour, lb, psi, Btu, mph, kmh, knot,
liter, zero_Celsius, degree_Fahrenheit), which follow the international definitions. The
conventional inch of water, 249.08891 Pa, inch of mercury, 3386.389 Pa, and millimeter of mercury,
133.3224 Pa, are quoted from memory from NIST SP 811, appendix B.8. The ton of refrigeration of
12,000 Btu/h is common practice, no source.
"""

from __future__ import annotations

import pytest
from scipy import constants as c

from deskapp.units import spellings
from deskapp.units.entry import NumberStyle, Quantity, parse
from deskapp.units.kinds import Kind
from deskapp.units.table import SI_UNIT, UNITS, units_of

INCH_OF_WATER = 249.08891
INCH_OF_MERCURY = 3386.389
MILLIMETER_OF_MERCURY = 133.3224
CFM = c.foot**3 / c.minute
LPS = c.liter
M3H = 1.0 / c.hour
FT2 = c.foot**2
BTU_H = c.Btu / c.hour
TON = 12000.0 * BTU_H
ZERO_F = c.zero_Celsius - 32.0 * c.degree_Fahrenheit


def default_unit(kind: Kind) -> str:
    return "ppm" if kind is Kind.CONCENTRATION else SI_UNIT[kind]


# unit id: (its kind, its SI value by the sources above, spellings parted by bars)
SPELLED: dict[str, tuple[Kind, float, str]] = {
    "Pa": (Kind.PRESSURE, 1.0, "Pa | pa | PA | pascal | pascals | Pascals"),
    "kPa": (Kind.PRESSURE, c.kilo, "kPa | KPA | kpa | kilopascals"),
    "hPa": (Kind.PRESSURE, c.hecto, "hPa | hpa | hectopascals"),
    "mbar": (Kind.PRESSURE, c.milli * c.bar, "mbar | MBAR | mb | millibars"),
    "inH2O": (
        Kind.PRESSURE,
        INCH_OF_WATER,
        """in. w.c. | in. w.g. | in w.c. | in w.g. | in wc | in wg | inwc | inwg | in.w.c.
        | IN. W.C. | iwc | IWC | iwg | inH2O | in H2O | in. H2O | in H₂O | inches H2O
        | inches of H2O
        | inches of water | inch of water | inches water column | inches of water column
        | inches w.c. | inch w.g. | inches water gauge | "wc | "w.g. | ″ w.c. | ” wc | " H2O""",
    ),
    "inHg": (Kind.PRESSURE, INCH_OF_MERCURY, 'inHg | in. Hg | in hg | inches of mercury | "Hg'),
    "mmHg": (
        Kind.PRESSURE,
        MILLIMETER_OF_MERCURY,
        "mmHg | mm Hg | MMHG | mm of Hg | mm of mercury | millimeters of mercury",
    ),
    "psi": (Kind.PRESSURE, c.psi, "psi | PSI | lb/in2 | lbf/in² | pounds per square inch"),
    "m3/s": (Kind.FLOW, 1.0, "m3/s | m³/s | m^3/s | cubic meters per second | cu m/s"),
    "L/s": (
        Kind.FLOW,
        LPS,
        "L/s | l/s | L / s | lps | LPS | L/sec | liters per second | litres per second | liters/s",
    ),
    "L/min": (Kind.FLOW, c.liter / c.minute, "L/min | l/min | lpm | LPM | liters per minute"),
    "m3/h": (
        Kind.FLOW,
        M3H,
        """m3/h | m³/h | m^3/h | m**3/h | M3/H | m3/hr | m3h | cmh | CMH | ㎥/h
        | cubic metres per hour""",
    ),
    "cfm": (
        Kind.FLOW,
        CFM,
        """cfm | CFM | Cfm | c.f.m. | ft3/min | ft³/min | ft^3/min | cu ft/min | cu. ft./min
        | cu. ft. per min. | cubic feet per minute | cubic foot per minute | CF/min""",
    ),
    "m": (Kind.LENGTH, 1.0, "m | meter | meters | metres"),
    "ft": (Kind.LENGTH, c.foot, "ft | ft. | FT | foot | feet | ' | ’ | ′"),
    "in": (Kind.LENGTH, c.inch, "in | in. | In | inch | inches | \" | ″ | ” | ''"),
    "cm": (Kind.LENGTH, c.centi, "cm | CM | centimeters | centimetre"),
    "mm": (Kind.LENGTH, c.milli, "mm | millimeters | millimetres"),
    "m2": (
        Kind.AREA,
        1.0,
        "m2 | m² | m^2 | ㎡ | sq m | sq. m | sqm | square meters | square metres",
    ),
    "cm2": (Kind.AREA, c.centi**2, "cm2 | cm² | sq cm | square centimeters"),
    "mm2": (Kind.AREA, c.milli**2, "mm2 | mm² | sq mm | square millimetres"),
    "ft2": (
        Kind.AREA,
        FT2,
        """ft2 | ft² | ft^2 | ft**2 | sq ft | sq. ft. | Sq. Ft. | sqft | SQFT | sq-ft | sf | SF
        | s.f. | square feet | square foot | sq feet | square ft""",
    ),
    "in2": (Kind.AREA, c.inch**2, "in2 | in² | in^2 | sq in | sq. in. | sqin | square inches"),
    "m3": (Kind.VOLUME, 1.0, "m3 | m³ | cu m | cubic meters | cubic metre"),
    "ft3": (
        Kind.VOLUME,
        c.foot**3,
        "ft3 | ft³ | ft^3 | cu ft | cu. ft. | cuft | cu-ft | cf | cubic feet | cubic foot",
    ),
    "L": (Kind.VOLUME, c.liter, "L | l | liter | liters | litres"),
    "s": (Kind.TIME, 1.0, "s | S | sec | secs | sec. | second | seconds"),
    "min": (Kind.TIME, c.minute, "min | min. | Min | mins | minute | minutes"),
    "h": (Kind.TIME, c.hour, "h | hr | hrs | hour | hours"),
    "W": (Kind.POWER, 1.0, "W | w | watt | watts"),
    "kW": (Kind.POWER, c.kilo, "kW | KW | kw | kilowatts"),
    "Btu/h": (Kind.POWER, BTU_H, "Btu/h | BTU/H | Btuh | BTUH | BTU/hr | btu per hour"),
    "kBtu/h": (Kind.POWER, 1000.0 * BTU_H, "kBtu/h | kBTU/hr | kBtuh | MBH | mbh"),
    "ton": (
        Kind.POWER,
        TON,
        "ton | tons | TON | tons of refrigeration | ton of cooling | TR | refrigeration tons",
    ),
    "m/s": (Kind.SPEED, 1.0, "m/s | m/sec | mps | meters per second"),
    "mph": (Kind.SPEED, c.mph, "mph | MPH | mi/h | miles per hour"),
    "km/h": (Kind.SPEED, c.kmh, "km/h | kmh | kph | km/hr | kilometers per hour"),
    "knot": (Kind.SPEED, c.knot, "knot | knots | kn | kt | kts"),
    "ft/min": (Kind.SPEED, c.foot / c.minute, "ft/min | fpm | FPM | feet per minute"),
    "fraction": (Kind.FRACTION, 1.0, "fraction"),
    "percent": (Kind.FRACTION, 0.01, "% | percent | Percent | per cent | pct | pct."),
    "ppm": (Kind.CONCENTRATION, c.micro, "ppm | PPM | p.p.m. | ppmv | parts per million"),
    "kg/m3": (Kind.DENSITY, 1.0, "kg/m3 | kg/m³ | kg/m^3 | kilograms per cubic meter"),
    "lb/ft3": (
        Kind.DENSITY,
        c.lb / c.foot**3,
        "lb/ft3 | lb/ft³ | lbm/ft3 | lb/cu. ft. | pcf | pounds per cubic foot",
    ),
    "cfm/ft2": (
        Kind.FLOW_PER_AREA,
        CFM / FT2,
        "cfm/ft2 | cfm/ft² | cfm/sq ft | cfm per sq. ft. | cfm per square foot | CFM/sf",
    ),
    "cfm/100ft2": (
        Kind.FLOW_PER_AREA,
        CFM / (100.0 * FT2),
        """cfm/100 ft2 | cfm/100ft2 | cfm/100 ft² | CFM/100 sq. ft. | cfm per 100 sq ft
        | cfm per 100 square feet | cfm/100 sf | cubic feet per minute per 100 square feet
        | ft³/min per 100 ft²""",
    ),
    "cfm/1000ft2": (
        Kind.FLOW_PER_AREA,
        CFM / (1000.0 * FT2),
        "cfm/1000 ft2 | cfm/1,000 ft² | cfm per 1000 sq ft | cfm per 1,000 square feet",
    ),
    "L/s/m2": (
        Kind.FLOW_PER_AREA,
        LPS,
        "L/s/m2 | L/s per m2 | L/(s·m²) | l/(s m2) | L/s·m² | lps/m2 | liters per second per m²",
    ),
    "m3/h/m2": (
        Kind.FLOW_PER_AREA,
        M3H,
        "m3/h/m2 | m3/h per m2 | m³/(h·m²) | m³/h/m² | m3/(h m2) | cmh per square meter",
    ),
    "m3/s/m2": (Kind.FLOW_PER_AREA, 1.0, "m3/s/m2 | m³/(s·m²) | m3/s per m2"),
    "m2.K/W": (Kind.RESISTANCE, 1.0, "m2.K/W | m²·K/W | m² K/W | m2K/W | K·m²/W | RSI | rsi"),
    "h.ft2.degF/Btu": (
        Kind.RESISTANCE,
        c.hour * FT2 * c.degree_Fahrenheit / c.Btu,
        "h.ft2.degF/Btu | h·ft²·°F/Btu | hr·ft²·°F/Btu | ft2·°F·h/Btu | ft² h F/Btu | h ft2 F/Btu",
    ),
}

CASES = [
    pytest.param(spelling.strip(), kind, unit, factor, id=f"{kind.value}: {spelling.strip()}")
    for unit, (kind, factor, spelled) in SPELLED.items()
    for spelling in spelled.split("|")
]


@pytest.mark.parametrize(("spelling", "kind", "unit", "factor"), CASES)
def test_that_a_spelling_gives_its_unit_and_si_value(
    spelling: str, kind: Kind, unit: str, factor: float
) -> None:
    rel = 3e-7 if unit in ("inHg", "mmHg") else 1e-12  # the source prints these to 7 digits
    for text in (f"12.5 {spelling}", f"12.5{spelling}", f"  12.5\N{NO-BREAK SPACE}{spelling} "):
        read = parse(text, kind, default_unit(kind), NumberStyle.POINT)
        assert isinstance(read, Quantity), read
        assert read.unit == unit
        assert read.si == pytest.approx(12.5 * factor, rel=rel)
        assert read.typed == text


@pytest.mark.parametrize(
    ("spelling", "unit", "scale", "zero"),
    [
        *((text, "K", 1.0, 0.0) for text in ("K", "k", "kelvin")),
        *(
            (text, "degC", 1.0, c.zero_Celsius)
            for text in ("°C", "C", "c", "degC", "deg C", "deg. C", "℃", "º C", "celsius")
        ),
        *(
            (text, "degF", c.degree_Fahrenheit, ZERO_F)
            for text in ("°F", "F", "f", "degF", "deg F", "deg. F", "℉", "degrees Fahrenheit")
        ),
    ],
)
def test_that_a_temperature_spelling_gives_its_scale(
    spelling: str, unit: str, scale: float, zero: float
) -> None:
    for number in (-40.0, 0.0, 72.5):
        if unit == "K" and number < 0.0:
            continue
        read = parse(f"{number} {spelling}", Kind.TEMPERATURE, "degF", NumberStyle.POINT)
        assert isinstance(read, Quantity), read
        assert read.unit == unit
        assert read.si == pytest.approx(number * scale + zero, rel=1e-13)


def test_that_a_coefficient_takes_every_flow_spelling() -> None:
    assert spellings.spellings_of(Kind.COEFFICIENT) == spellings.spellings_of(Kind.FLOW)


def test_that_every_unit_is_checked_here() -> None:
    assert {*SPELLED, "K", "degC", "degF", "1"} == set(UNITS)


def test_that_well_over_sixty_spellings_are_checked() -> None:
    assert len(CASES) > 250


@pytest.mark.parametrize("kind", Kind)
def test_that_no_spelling_stands_for_two_units_of_a_kind(kind: Kind) -> None:
    listed = (
        spellings._flow_per_area_spellings() if kind is Kind.FLOW_PER_AREA else spellings._SPELLINGS
    )
    for unit in units_of(kind):
        for spelling in spellings._parted(listed[unit.id]):
            assert spellings.unit_spelled(spelling, kind) == unit.id
    assert not set(spellings.spellings_of(kind)) & set(spellings.unsettled_of(kind))


@pytest.mark.parametrize("unit", [unit for unit in UNITS if unit != "1"])
def test_that_ids_and_printed_symbols_can_be_typed(unit: str) -> None:
    row = UNITS[unit]
    assert spellings.unit_spelled(row.id, row.kind) == unit
    if row.label:
        assert spellings.unit_spelled(row.label, row.kind) == unit


def test_that_digits_inside_a_unit_are_never_joined() -> None:
    for text in ("4 cfm/10.0 ft2", "4 cfm/1 00 ft2", "4 cfm/1.00 ft2", "4 cfm/10,0 ft2"):
        read = parse(text, Kind.FLOW_PER_AREA, "cfm/100ft2", NumberStyle.POINT)
        assert not isinstance(read, Quantity), read
