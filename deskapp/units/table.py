"""The units the program knows, each with its kind, its printed symbol and its usual digits."""

from __future__ import annotations

from dataclasses import dataclass

from deskapp.units.kinds import Kind


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit.

    `name` is its name in ``definitions.txt``; `label` is what is printed; `decimals` are the places
    shown for values below 1000; with `trim` trailing zeros are left out (``8.5 ft``, ``8 ft``).
    """

    id: str
    kind: Kind
    name: str
    label: str
    decimals: int
    trim: bool = False


_ROWS = (
    Unit("Pa", Kind.PRESSURE, "pascal", "Pa", 1),
    Unit("kPa", Kind.PRESSURE, "kilopascal", "kPa", 3),
    Unit("hPa", Kind.PRESSURE, "hectopascal", "hPa", 2),
    Unit("mbar", Kind.PRESSURE, "millibar", "mbar", 2),
    Unit("inH2O", Kind.PRESSURE, "inch_of_water", "in. w.c.", 3),
    Unit("inHg", Kind.PRESSURE, "inch_of_mercury", "in. Hg", 2),
    Unit("mmHg", Kind.PRESSURE, "millimeter_of_mercury", "mm Hg", 1),
    Unit("psi", Kind.PRESSURE, "pound_per_square_inch", "psi", 4),
    Unit("m3/s", Kind.FLOW, "cubic_meter_per_second", "m³/s", 4),
    Unit("L/s", Kind.FLOW, "liter_per_second", "L/s", 1),
    Unit("L/min", Kind.FLOW, "liter_per_minute", "L/min", 1),
    Unit("m3/h", Kind.FLOW, "cubic_meter_per_hour", "m³/h", 1),
    Unit("cfm", Kind.FLOW, "cubic_foot_per_minute", "cfm", 1),
    Unit("m", Kind.LENGTH, "meter", "m", 2, trim=True),
    Unit("ft", Kind.LENGTH, "foot", "ft", 2, trim=True),
    Unit("in", Kind.LENGTH, "inch", "in.", 2, trim=True),
    Unit("cm", Kind.LENGTH, "centimeter", "cm", 1, trim=True),
    Unit("mm", Kind.LENGTH, "millimeter", "mm", 1, trim=True),
    Unit("m2", Kind.AREA, "square_meter", "m²", 1, trim=True),
    Unit("cm2", Kind.AREA, "square_centimeter", "cm²", 1, trim=True),
    Unit("mm2", Kind.AREA, "square_millimeter", "mm²", 1, trim=True),
    Unit("ft2", Kind.AREA, "square_foot", "ft²", 1, trim=True),
    Unit("in2", Kind.AREA, "square_inch", "in²", 1, trim=True),
    Unit("m3", Kind.VOLUME, "cubic_meter", "m³", 1, trim=True),
    Unit("ft3", Kind.VOLUME, "cubic_foot", "ft³", 1, trim=True),
    Unit("L", Kind.VOLUME, "liter", "L", 1, trim=True),
    Unit("K", Kind.TEMPERATURE, "kelvin", "K", 2),
    Unit("degC", Kind.TEMPERATURE, "degree_celsius", "°C", 1),
    Unit("degF", Kind.TEMPERATURE, "degree_fahrenheit", "°F", 1),
    Unit("fraction", Kind.FRACTION, "fraction", "", 3),
    Unit("percent", Kind.FRACTION, "percent", "%", 1),
    Unit("s", Kind.TIME, "second", "s", 1, trim=True),
    Unit("min", Kind.TIME, "minute", "min", 2, trim=True),
    Unit("h", Kind.TIME, "hour", "h", 2, trim=True),
    Unit("W", Kind.POWER, "watt", "W", 0),
    Unit("kW", Kind.POWER, "kilowatt", "kW", 2),
    Unit("Btu/h", Kind.POWER, "btu_per_hour", "Btu/h", 0),
    Unit("kBtu/h", Kind.POWER, "kilobtu_per_hour", "kBtu/h", 1),
    Unit("ton", Kind.POWER, "ton_of_refrigeration", "ton", 2, trim=True),
    Unit("m/s", Kind.SPEED, "meter_per_second", "m/s", 2),
    Unit("mph", Kind.SPEED, "mile_per_hour", "mph", 1),
    Unit("km/h", Kind.SPEED, "kilometer_per_hour", "km/h", 1),
    Unit("knot", Kind.SPEED, "knot", "kn", 1),
    Unit("ft/min", Kind.SPEED, "foot_per_minute", "ft/min", 0),
    Unit("ppm", Kind.CONCENTRATION, "part_per_million", "ppm", 1, trim=True),
    Unit("kg/m3", Kind.DENSITY, "kilogram_per_cubic_meter", "kg/m³", 4),
    Unit("lb/ft3", Kind.DENSITY, "pound_per_cubic_foot", "lb/ft³", 5),
    Unit(
        "m3/s/m2",
        Kind.FLOW_PER_AREA,
        "cubic_meter_per_second_per_square_meter",
        "m³/(s·m²)",
        7,
    ),
    Unit("L/s/m2", Kind.FLOW_PER_AREA, "liter_per_second_per_square_meter", "L/(s·m²)", 4),
    Unit("m3/h/m2", Kind.FLOW_PER_AREA, "cubic_meter_per_hour_per_square_meter", "m³/(h·m²)", 3),
    Unit("cfm/ft2", Kind.FLOW_PER_AREA, "cfm_per_square_foot", "cfm/ft²", 4),
    Unit("cfm/100ft2", Kind.FLOW_PER_AREA, "cfm_per_100_square_feet", "cfm/100 ft²", 2),
    Unit("cfm/1000ft2", Kind.FLOW_PER_AREA, "cfm_per_1000_square_feet", "cfm/1000 ft²", 1),
    Unit("m2.K/W", Kind.RESISTANCE, "square_meter_kelvin_per_watt", "m²·K/W", 3, trim=True),
    Unit(
        "h.ft2.degF/Btu",
        Kind.RESISTANCE,
        "hour_square_foot_fahrenheit_per_btu",
        "h·ft²·°F/Btu",
        2,
        trim=True,
    ),
    Unit("1", Kind.NUMBER, "fraction", "", 6, trim=True),
)

UNITS: dict[str, Unit] = {row.id: row for row in _ROWS}

SI_UNIT: dict[Kind, str] = {
    Kind.PRESSURE: "Pa",
    Kind.FLOW: "m3/s",
    Kind.AREA: "m2",
    Kind.LENGTH: "m",
    Kind.VOLUME: "m3",
    Kind.TEMPERATURE: "K",
    Kind.FRACTION: "fraction",
    Kind.TIME: "s",
    Kind.POWER: "W",
    Kind.SPEED: "m/s",
    Kind.CONCENTRATION: "fraction",
    Kind.DENSITY: "kg/m3",
    Kind.COEFFICIENT: "m3/s",
    Kind.FLOW_PER_AREA: "m3/s/m2",
    Kind.RESISTANCE: "m2.K/W",
    Kind.NUMBER: "1",
    Kind.COUNT: "1",
}

_UNITS_OF: dict[Kind, Kind] = {Kind.COEFFICIENT: Kind.FLOW, Kind.COUNT: Kind.NUMBER}


def unit_named(unit: str) -> Unit:
    """Return the entry of a unit id; ValueError, listing the ids, for one not in the table."""
    try:
        return UNITS[unit]
    except KeyError:
        raise ValueError(f"no unit has the id {unit!r}; known ids: {', '.join(UNITS)}") from None


def units_of(kind: Kind) -> tuple[Unit, ...]:
    """Return the units a quantity of `kind` can be given in (a coefficient takes flow units)."""
    base = _UNITS_OF.get(kind, kind)
    return tuple(row for row in _ROWS if row.kind is base)


def fits(unit: str, kind: Kind) -> bool:
    """Say whether `unit` can carry a quantity of `kind`."""
    return unit_named(unit).kind is _UNITS_OF.get(kind, kind)
