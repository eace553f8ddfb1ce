"""What is said when typed text cannot be taken: what it is, what is allowed, how to mend it."""

from __future__ import annotations

from dataclasses import dataclass

from deskapp.i18n import N_, _
from deskapp.units.kinds import Kind
from deskapp.units.numbers import NumberFault, NumberProblem
from deskapp.units.table import UNITS, units_of

_LONGEST_SHOWN = 40


@dataclass(frozen=True, slots=True)
class Problem:
    """Why a typed text was not taken, in three sentences."""

    code: str
    typed: str
    what: str
    allowed: str
    mend: str

    @property
    def text(self) -> str:
        """The three sentences as one text."""
        return " ".join(part for part in (self.what, self.allowed, self.mend) if part)


# For each kind: its name with article, and what is needed, with examples free of decimals so that
# they read alike in every number style.
_WORDS: dict[Kind, tuple[str, str]] = {
    Kind.PRESSURE: (
        N_("a pressure"),
        N_("A pressure is needed here, such as 25 Pa or 1 in. w.c."),
    ),
    Kind.FLOW: (N_("a flow"), N_("A flow is needed here, such as 150 cfm or 70 L/s.")),
    Kind.AREA: (N_("an area"), N_("An area is needed here, such as 1800 sq ft or 167 m2.")),
    Kind.LENGTH: (N_("a length"), N_("A length is needed here, such as 8 ft 6 in or 3 m.")),
    Kind.VOLUME: (N_("a volume"), N_("A volume is needed here, such as 14400 ft3 or 400 m3.")),
    Kind.TEMPERATURE: (
        N_("a temperature"),
        N_("A temperature is needed here, such as 72 °F or 22 °C."),
    ),
    Kind.FRACTION: (N_("a share"), N_("A share is needed here, such as 50%.")),
    Kind.TIME: (N_("a time"), N_("A time is needed here, such as 10 s or 2 min.")),
    Kind.POWER: (
        N_("a capacity"),
        N_("A capacity is needed here, such as 36 kBtu/h, 3 tons or 10 kW."),
    ),
    Kind.SPEED: (N_("a speed"), N_("A speed is needed here, such as 10 mph or 4 m/s.")),
    Kind.CONCENTRATION: (
        N_("a concentration"),
        N_("A concentration is needed here, such as 9 ppm."),
    ),
    Kind.DENSITY: (N_("a density"), N_("A density is needed here, such as 1 kg/m3.")),
    Kind.COEFFICIENT: (
        N_("a flow coefficient"),
        N_("A flow coefficient is needed here: the flow at 1 Pa of fan signal, such as 11 cfm."),
    ),
    Kind.FLOW_PER_AREA: (
        N_("a flow per area"),
        N_("A flow per floor area is needed here, such as 4 cfm/100 ft2."),
    ),
    Kind.RESISTANCE: (
        N_("a thermal resistance"),
        N_("A thermal resistance is needed here, such as 6 h ft2 F/Btu or 1 m2 K/W."),
    ),
    Kind.NUMBER: (N_("a plain number"), N_("A plain number without a unit is needed here.")),
    Kind.COUNT: (
        N_("a count"),
        N_("A whole number, zero or more and without a unit, is needed here."),
    ),
}

# The same for fields whose unit is none of those examples: what is needed, and numbers that are
# usual in that unit; the air at sea level for a barometer.
_IN_ITS_UNIT: dict[Kind, tuple[str, dict[str, str]]] = {
    Kind.PRESSURE: (
        N_("A pressure is needed here, such as {example}."),
        {"inHg": "29", "kPa": "101", "hPa": "1013", "mbar": "1013", "mmHg": "760"},
    ),
    Kind.COEFFICIENT: (
        N_("A flow coefficient is needed here: the flow at 1 Pa of fan signal, such as {example}."),
        {"L/s": "5", "m3/h": "18"},
    ),
}


def empty(typed: str, kind: Kind, default_unit: str) -> Problem:
    """Nothing was typed."""
    return Problem(
        "empty",
        typed,
        _("Nothing is typed yet."),
        _allowed(kind, default_unit),
        _with_unit(default_unit),
    )


def too_long(typed: str, kind: Kind, default_unit: str) -> Problem:
    """The text is far longer than any quantity."""
    what = _("“{typed}” is longer than a quantity can be.").format(typed=shortened(typed))
    return Problem("too-long", typed, what, _allowed(kind, default_unit), _with_unit(default_unit))


def number_problem(found: NumberProblem, typed: str, kind: Kind, default_unit: str) -> Problem:
    """The number could not be read, or could be read in two ways."""
    shown = shortened(typed)
    mend = _with_unit(default_unit)
    if found.fault is NumberFault.UNCLEAR:
        what = _("The marks in the number “{typed}” do not fit the number style in use.")
        if len(found.choices) > 1:
            what = _("The number in “{typed}” can be read in more than one way.")
            mend = _("Type {first} or {second}, whichever is meant.").format(
                first=found.choices[0], second=found.choices[1]
            )
        elif found.choices:
            mend = _("Type {first} if that is meant.").format(first=found.choices[0])
        else:
            mend = _("Type its digits without spaces, and one decimal mark at most.")
    elif found.fault is NumberFault.TOO_LARGE:
        what = _("The number in “{typed}” is larger than can be calculated with.")
    elif found.fault is NumberFault.TOO_SMALL:
        what = _("The number in “{typed}” is closer to zero than can be calculated with.")
    else:
        what = _("“{typed}” does not begin with a number.")
    return Problem(
        found.fault.value, typed, what.format(typed=shown), _allowed(kind, default_unit), mend
    )


def wrong_kind(typed: str, found: Kind, kind: Kind, default_unit: str) -> Problem:
    """The unit belongs to another kind of quantity."""
    what = _("That is {kind} ({typed}).").format(kind=_(_WORDS[found][0]), typed=shortened(typed))
    return Problem(
        "wrong-kind", typed, what, _allowed(kind, default_unit), _with_unit(default_unit)
    )


def unknown_unit(typed: str, unit_text: str, kind: Kind, default_unit: str) -> Problem:
    """The text after the number is no unit known here."""
    what = _("“{unit}” is not a unit known here.").format(unit=shortened(unit_text))
    labels = [row.label for row in units_of(kind) if row.label]
    allowed = _allowed(kind, default_unit)
    if labels:
        allowed += " " + _("Units: {units}.").format(units=", ".join(labels))
    return Problem("unit-unknown", typed, what, allowed, _with_unit(default_unit))


def unsettled_unit(
    typed: str, unit_text: str, kind: Kind, default_unit: str, advice: str
) -> Problem:
    """The unit text has more than one meaning here; `advice` is its untranslated way out."""
    what = _("“{unit}” leaves open what is meant.").format(unit=shortened(unit_text))
    return Problem("unit-unclear", typed, what, _allowed(kind, default_unit), _(advice))


def parts_unclear(typed: str, kind: Kind, large: str, small: str, limit: int) -> Problem:
    """As in ``8 ft 14 in``, ``8.5 ft 6 in`` or ``8 ft 6``, where no second unit is given."""
    what = _("The parts of “{typed}” do not add up to one value.").format(typed=shortened(typed))
    mend = _(
        "Type whole {large} and fewer than {limit} {small}, each with its unit, or one unit alone."
    )
    mend = mend.format(large=UNITS[large].label, small=UNITS[small].label, limit=limit)
    return Problem("parts-unclear", typed, what, _allowed(kind), mend)


def not_a_count(typed: str, *, negative: bool) -> Problem:
    """The number is not whole, or is below zero."""
    if negative:
        what = _("“{typed}” is below zero.")
        return Problem(
            "count-negative",
            typed,
            what.format(typed=shortened(typed)),
            _allowed(Kind.COUNT),
            _("Type 0 or more."),
        )
    what = _("“{typed}” is not a whole number.").format(typed=shortened(typed))
    mend = _("Type it without decimals.")
    return Problem("count-not-whole", typed, what, _allowed(Kind.COUNT), mend)


def below_absolute_zero(typed: str) -> Problem:
    """The temperature is below 0 K."""
    what = _("“{typed}” is colder than absolute zero.").format(typed=shortened(typed))
    mend = _("Check the sign and the unit.")
    return Problem("below-absolute-zero", typed, what, _allowed(Kind.TEMPERATURE), mend)


def shortened(text: str) -> str:
    """Return `text` on one line, cut to a length that fits a message."""
    line = " ".join(text.split())
    return line if len(line) <= _LONGEST_SHOWN else line[: _LONGEST_SHOWN - 1] + "…"


def _allowed(kind: Kind, default_unit: str = "") -> str:
    """Return what is needed, with an example in the unit that a number alone counts as."""
    words, numbers = _IN_ITS_UNIT.get(kind, ("", {}))
    number = numbers.get(default_unit)
    if number is None:
        return _(_WORDS[kind][1])
    return _(words).format(example=f"{number} {UNITS[default_unit].label}")


def _with_unit(default_unit: str) -> str:
    label = UNITS[default_unit].label
    if not label:
        return _("Type the number alone.")
    return _("Type a number with its unit; a number alone counts as {unit}.").format(unit=label)
