"""Constants of air and of leakage laws, in SI units, each with its source."""

from __future__ import annotations

STANDARD_PRESSURE_PA = 101_325.0
"""Standard atmosphere at sea level [Pa].

Source: ISO 2533:1975, Standard Atmosphere, sea-level value; also ASHRAE Handbook—Fundamentals
2017, chapter 1 (101 325 Pa at 0 m)."""

STANDARD_DENSITY = 1.2041
"""Density of dry air at 20 °C and 101 325 Pa [kg/m3].

Source: ASTM E779 and ISO 9972, reference conditions; from memory, not checked against the text.
It equals the ideal-gas value 101325 / (287.055 * 293.15) = 1.2041 to four decimals."""

GAS_CONSTANT_DRY_AIR = 287.055
"""Specific gas constant of dry air [J/(kg K)].

Source: ISO 9972:2015, annex on air density; from memory, not checked against the text."""

SHARP_EDGE_COEFFICIENT = 0.611
"""Discharge coefficient of a sharp-edged round hole in a thin flat plate [1].

Source: G. Kirchhoff's free-streamline value pi / (pi + 2) = 0.611; used as the reference of the
equivalent leakage area in CAN/CGSB-149.10, from memory, not checked against the text."""

DUCT_CLASS_EXPONENT = 0.65
"""Exponent of pressure in the airtightness classes per duct surface [1].

Source: EN 12237:2003, EN 1507:2006 and EN 16798-3:2017 (limit f = k p^0.65); the same exponent in
the SMACNA HVAC Air Duct Leakage Test Manual, first edition 1985; read in secondary sources only."""
