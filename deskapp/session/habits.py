"""Guessing units, number style and paper from where the computer says it is."""

from __future__ import annotations

import os
import re

from deskapp.session.settings import Paper, Preferences
from deskapp.units.display import UnitSystem
from deskapp.units.numbers import NumberStyle

# Territories that measure houses in feet: the United States and its territories, Liberia, Myanmar
# (CLDR supplemental measurement data, system "US", and Myanmar from memory).
_FEET = {"US", "PR", "GU", "VI", "AS", "MP", "LR", "MM"}
# Territories that print on Letter paper (CLDR supplemental paper size data, from memory).
_LETTER = {
    *("US", "PR", "GU", "VI", "AS", "MP", "CA", "MX", "BZ", "CL", "CO", "CR", "GT", "NI", "PA"),
    *("PH", "SV", "VE"),
}
# Languages that write a decimal comma, where no decimal mark was given (CLDR, from memory).
_COMMA = {
    *("bg", "ca", "cs", "da", "de", "el", "es", "et", "fi", "fr", "hr", "hu", "id", "it", "lt"),
    *("lv", "nb", "nl", "nn", "pl", "pt", "ro", "ru", "sk", "sl", "sr", "sv", "tr", "uk", "vi"),
}
_POINT_TERRITORIES = {"US", "MX", "PR", "CH", "GT", "HN", "NI", "PA", "PE", "SV", "DO"}
_NAME = re.compile(r"([A-Za-z]{2,3})(?:[_-][A-Za-z]{4})?(?:[_-]([A-Za-z]{2}))?(?:[.@_-].*)?")


def guess(locale_name: str, decimal_mark: str = "") -> Preferences:
    """Return preferences for a first start.

    Args:
        locale_name: such as ``en_US`` or ``de-DE``; an unknown one gives feet, Letter and a point,
            since most codes with a duct leakage limit are American.
        decimal_mark: ``.`` or ``,`` if the system tells; otherwise the language decides.
    """
    found = _NAME.fullmatch(locale_name.strip())
    language = found[1].lower() if found else ""
    territory = (found[2] or "").upper() if found else ""
    comma = decimal_mark == ","
    if decimal_mark not in (".", ","):
        comma = language in _COMMA and territory not in _POINT_TERRITORIES
    american = not territory and language in ("", "c", "en")
    return Preferences(
        unit_system=UnitSystem.IP if american or territory in _FEET else UnitSystem.SI,
        number_style=NumberStyle.COMMA if comma else NumberStyle.POINT,
        paper=Paper.LETTER if american or territory in _LETTER else Paper.A4,
        guessed=("unit_system", "number_style", "paper"),
    )


def country_of(locale_name: str) -> str:
    """Return the country of a locale such as ``en_US``, by its two letters; empty for none."""
    found = _NAME.fullmatch(locale_name.strip())
    return (found[2] or "").upper() if found else ""


def system_locale_name() -> str:
    """Return the name of the locale the system is set to, or an empty text."""
    for variable in ("LC_ALL", "LC_MEASUREMENT", "LC_NUMERIC", "LANG"):
        name = os.environ.get(variable, "").partition(".")[0]
        if name and name not in ("C", "POSIX"):
            return name
    return ""
