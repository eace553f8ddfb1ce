"""The closed table of ways to write each unit, one table per kind.

A spelling that is not here is not guessed at. Letter case never matters: the unit pairs that differ
only by case (mPa and MPa, mW and MW) are all absent, and ``MBtu/h``, which means a thousand to some
and a million to others, is asked about. Spaces, closing dots and ``^`` do not matter either, and
``per`` is ``/``; so ``Sq. Ft.`` and ``sqft`` are one spelling. A space between a letter and a digit
does matter: ``8 ft 2`` is not 8 ft2.
"""

from __future__ import annotations

import re
from functools import cache
from itertools import permutations, product

from deskapp.i18n import N_
from deskapp.units.kinds import Kind
from deskapp.units.table import units_of

_CFM = """cfm | ft3/min | cu ft/min | cu. ft. per min | cubic ft/min | cf/min | ft3/minute
    | cubic feet per minute | cubic foot per minute | cubic feet/min"""
_LITERS_PER_SECOND = """L/s | L/sec | lps | liter/s | liters/s | litre/s | litres/s
    | liter per second | liters per second | litre per second | litres per second"""
_CUBIC_METERS_PER_HOUR = """m3/h | m3/hr | m3/hour | m3h | cmh | cu m/h | cubic meter per hour
    | cubic meters per hour | cubic metre per hour | cubic metres per hour"""
_CUBIC_METERS_PER_SECOND = """m3/s | m3/sec | cu m/s | cubic meter per second
    | cubic meters per second | cubic metre per second | cubic metres per second"""
_SQUARE_FEET = """ft2 | sq ft | sf | sq foot | sq feet | square ft | square foot | square feet
    | ft sq | feet2 | ft squared | feet squared"""
_SQUARE_METERS = """m2 | sq m | square m | square meter | square meters | square metre
    | square metres | m sq | m squared | sq meter | sq meters | sq metre | sq metres"""
_CUBIC_FEET = """ft3 | cu ft | cf | cu foot | cu feet | cubic ft | cubic foot | cubic feet
    | feet3"""
_CUBIC_METERS = """m3 | cu m | cubic m | cubic meter | cubic meters | cubic metre | cubic metres"""
_WATER_COLUMN = """in. w.c. | in. w.g. | in. wc | in. wg | iwc | iwg | in. H2O | inH2O | "wc | "wg
    | " w.c. | " w.g. | "H2O | in. of water | inch of water | inches of water | inch H2O
    | inches H2O | inch w.c. | inches w.c. | inch w.g. | inches w.g. | inch water | inches water
    | in. water | inch of water column | inches of water column | inch water column
    | inches water column | in. of water column | in. water column | inch of water gauge
    | inches of water gauge | inch water gauge | inches water gauge | inch of H2O | inches of H2O
    | in. of H2O | in. water gauge | in. of water gauge"""
_HOUR_SQUARE_FOOT_DEGREE = " | ".join(
    f"{' '.join(order)}/Btu"
    for hour, area, degree in product(("h", "hr"), ("ft2", "sq ft"), ("F", "°F", "degF"))
    for order in permutations((hour, area, degree))
)

_SPELLINGS: dict[str, str] = {
    "Pa": "Pa | pascal | pascals",
    "kPa": "kPa | kilopascal | kilopascals",
    "hPa": "hPa | hectopascal | hectopascals",
    "mbar": "mbar | mb | millibar | millibars",
    "inH2O": _WATER_COLUMN,
    "inHg": """in. Hg | inHg | "Hg | inch Hg | inches Hg | inch of mercury | inches of mercury
        | in. of mercury | in. mercury | inch of Hg | inches of Hg""",
    "mmHg": """mm Hg | mmHg | mm of Hg | mm mercury | mm of mercury | millimeter of mercury
        | millimeters of mercury | millimetre of mercury | millimetres of mercury""",
    "psi": "psi | lb/in2 | lbf/in2 | lb/sq in | lbs/sq in | pound per square inch"
    " | pounds per square inch",
    "m3/s": _CUBIC_METERS_PER_SECOND,
    "L/s": _LITERS_PER_SECOND,
    "L/min": """L/min | lpm | L/minute | liter/min | liters/min | litre/min | litres/min
        | liter per minute | liters per minute | litre per minute | litres per minute""",
    "m3/h": _CUBIC_METERS_PER_HOUR,
    "cfm": _CFM,
    "m": "m | meter | meters | metre | metres",
    "ft": "ft | foot | feet | '",
    "in": "in | in. | inch | inches | ins | \" | ''",
    "cm": "cm | centimeter | centimeters | centimetre | centimetres",
    "mm": "mm | millimeter | millimeters | millimetre | millimetres",
    "m2": _SQUARE_METERS,
    "cm2": """cm2 | sq cm | square cm | square centimeter | square centimeters
        | square centimetre | square centimetres | cm squared""",
    "mm2": """mm2 | sq mm | square mm | square millimeter | square millimeters
        | square millimetre | square millimetres | mm squared""",
    "ft2": _SQUARE_FEET,
    "in2": """in2 | sq in | square in | sq inch | sq inches | square inch | square inches
        | inch2 | inches2 | in squared | inches squared""",
    "m3": _CUBIC_METERS,
    "ft3": _CUBIC_FEET,
    "L": "L | liter | liters | litre | litres | ltr",
    "K": "K | kelvin | kelvins",
    "degC": """°C | C | degC | deg C | degree C | degrees C | celsius | deg celsius
        | degree celsius | degrees celsius | centigrade | degrees centigrade""",
    "degF": """°F | F | degF | deg F | degree F | degrees F | fahrenheit | deg fahrenheit
        | degree fahrenheit | degrees fahrenheit""",
    "fraction": "fraction",
    "percent": "% | percent | per cent | pct",
    "s": "s | sec | secs | second | seconds",
    "min": "min | mins | minute | minutes",
    "h": "h | hr | hrs | hour | hours",
    "W": "W | watt | watts",
    "kW": "kW | kilowatt | kilowatts",
    "Btu/h": "Btu/h | Btuh | Btu/hr | Btu/hour | Btu per hour",
    "kBtu/h": "kBtu/h | kBtuh | kBtu/hr | kBtu/hour | kBtu per hour | MBH | thousand Btu/h",
    "ton": """ton | tons | ton of refrigeration | tons of refrigeration | refrigeration ton
        | refrigeration tons | ton refrigeration | tons refrigeration | ton of cooling
        | tons of cooling | ton cooling | tons cooling | TR""",
    "m/s": """m/s | m/sec | mps | meter per second | meters per second | metre per second
        | metres per second""",
    "mph": "mph | mi/h | mile/h | miles/h | mile per hour | miles per hour",
    "km/h": """km/h | km/hr | kmh | kph | kilometer per hour | kilometers per hour
        | kilometre per hour | kilometres per hour""",
    "knot": "knot | knots | kn | kt | kts",
    "ft/min": "ft/min | fpm | foot per minute | feet per minute | feet/min",
    "ppm": "ppm | ppmv | part per million | parts per million",
    "kg/m3": """kg/m3 | kg/cu m | kilogram per cubic meter | kilograms per cubic meter
        | kilogram per cubic metre | kilograms per cubic metre""",
    "lb/ft3": """lb/ft3 | lbs/ft3 | lbm/ft3 | lb/cu ft | lbs/cu ft | pcf | pound per cubic foot
        | pounds per cubic foot""",
    "m2.K/W": "m2 K/W | m2K/W | K m2/W | m2 C/W | m2 degC/W | sq m K/W | RSI",
    "h.ft2.degF/Btu": _HOUR_SQUARE_FOOT_DEGREE,
    "1": "",
}

# Unit texts with more than one meaning, or with a meaning that has its own field: asked about.
_UNSETTLED: dict[Kind, tuple[tuple[str, str], ...]] = {
    Kind.POWER: (
        (
            "MBtu/h | MBtuh | MBtu/hr | MBtu per hour",
            N_(
                "It means a thousand Btu/h to some and a million to others:"
                " type kBtu/h for a thousand."
            ),
        ),
    ),
    Kind.FLOW: (
        (
            "scfm | acfm",
            N_("Type cfm; the reference conditions are chosen in the test set-up."),
        ),
        (
            "cfm25 | cfm 25 | cfm@25 | cfm@25 Pa | cfm at 25 Pa | cfm50 | cfm at 50 Pa",
            N_("Type cfm; the test pressure has its own field."),
        ),
    ),
    Kind.FLOW_PER_AREA: (
        (
            "cfm25/ft2 | cfm25/100 ft2 | cfm25/100 sq ft | cfm25/100 sf | cfm25/1000 ft2",
            N_("Type cfm/100 ft2; the test pressure has its own field."),
        ),
    ),
    Kind.PRESSURE: (
        (
            "in | inch | inches | \" | ''",
            N_("For inches of water type in. w.c.; for inches of mercury type in. Hg."),
        ),
    ),
    Kind.TIME: (
        ("m", N_("For minutes type min.")),
        ("'", N_("For minutes type min.")),
    ),
}

_LOOKALIKES = str.maketrans(
    {
        "²": "2",
        "³": "3",
        "º": "°",
        "˚": "°",
        "’": "'",
        "‘": "'",
        "′": "'",
        "´": "'",
        "“": '"',
        "”": '"',
        "″": '"',
        "⁄": "/",
        "∕": "/",
        "÷": "/",
        "₂": "2",
        "℃": "°c",
        "℉": "°f",
        "㎡": "m2",
        "㎥": "m3",
        "㎠": "cm2",
        "㎟": "mm2",
        "^": None,
        "*": None,
        "·": None,
        "⋅": None,
        "∙": None,
        "\N{ZERO WIDTH SPACE}": None,
        "\N{WORD JOINER}": None,
        "\N{SOFT HYPHEN}": None,
    }
)
_PER = re.compile(r"\bper\b")
_DROPPED = re.compile(r"\.(?![0-9])|(?<![0-9a-z])\s+|\s+(?![0-9])|(?<=sq)-|(?<=cu)-")


def plain_marks(text: str) -> str:
    """Return `text` with typographic marks (², ″, ·, ℃ ...) replaced by keyboard ones."""
    return text.translate(_LOOKALIKES)


def normalized(unit_text: str) -> str:
    """Reduce a unit text to the form in which two spellings of one unit are equal."""
    text = plain_marks(unit_text).lower()
    return _DROPPED.sub("", _PER.sub("/", text).strip())


@cache
def spellings_of(kind: Kind) -> dict[str, str]:
    """Return the table for `kind`: normalized spelling to unit id."""
    table: dict[str, str] = {}
    for unit in units_of(kind):
        listed = _flow_per_area_spellings() if kind is Kind.FLOW_PER_AREA else _SPELLINGS
        for spelling in (unit.id, unit.label, *_parted(listed.get(unit.id, ""))):
            if spelling and spelling != "1":
                table[normalized(spelling)] = unit.id
    return table


def examples_of(kind: Kind, most: int = 4) -> tuple[tuple[str, ...], ...]:
    """Return for each unit of `kind` its symbol and further ways to write it, at most `most`."""
    listed = _flow_per_area_spellings() if kind is Kind.FLOW_PER_AREA else _SPELLINGS
    found: list[tuple[str, ...]] = []
    for unit in units_of(kind):
        seen = {normalized(unit.label): unit.label} if unit.label else {}
        for spelling in _parted(listed.get(unit.id, "")):
            seen.setdefault(normalized(spelling), spelling)
        found.append(tuple(seen.values())[:most])
    return tuple(spellings for spellings in found if spellings)


@cache
def unsettled_of(kind: Kind) -> dict[str, str]:
    """Return unit texts for which `kind` asks back: normalized text to the untranslated advice."""
    base = Kind.FLOW if kind is Kind.COEFFICIENT else kind
    rows = _UNSETTLED.get(base, ())
    return {normalized(text): advice for texts, advice in rows for text in _parted(texts)}


def unit_spelled(unit_text: str, kind: Kind) -> str | None:
    """Return the unit id that `unit_text` names for `kind`, or None."""
    return spellings_of(kind).get(normalized(unit_text))


def kind_spelled(unit_text: str) -> Kind | None:
    """Return the first kind (in the order of `Kind`) that knows `unit_text`, or None."""
    key = normalized(unit_text)
    return next((kind for kind in Kind if key in spellings_of(kind)), None)


def _parted(spellings: str) -> list[str]:
    return [part.strip() for part in spellings.split("|") if part.strip()]


@cache
def _flow_per_area_spellings() -> dict[str, str]:
    feet, meters = _parted(_SQUARE_FEET), _parted(_SQUARE_METERS)
    return {
        "cfm/ft2": _joined(_CFM, feet),
        "cfm/100ft2": _joined(_CFM, [f"100 {area}" for area in feet]),
        "cfm/1000ft2": _joined(
            _CFM, [f"{thousand} {area}" for thousand in ("1000", "1,000") for area in feet]
        ),
        "L/s/m2": _joined(_LITERS_PER_SECOND, meters) + "| L/(s m2) | L/s m2",
        "m3/h/m2": _joined(_CUBIC_METERS_PER_HOUR, meters) + "| m3/(h m2) | m3/h m2",
        "m3/s/m2": _joined(_CUBIC_METERS_PER_SECOND, meters) + "| m3/(s m2) | m3/s m2",
    }


def _joined(flows: str, areas: list[str]) -> str:
    return " | ".join(f"{flow}/{area}" for flow in _parted(flows) for area in areas)
