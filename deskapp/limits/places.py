"""Places as people write them: states and provinces by name or by their two letters, countries.

Source: ISO 3166-1 and ISO 3166-2 (codes of countries, of the states and territories of the USA and
of the provinces of Canada); members of the European standards body CEN from memory, not checked
against its list.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

_STATES = {
    "AL": "Alabama",
    "AK": "Alaska",
    "AS": "American Samoa",
    "AZ": "Arizona",
    "AR": "Arkansas",
    "CA": "California",
    "CO": "Colorado",
    "CT": "Connecticut",
    "DE": "Delaware",
    "DC": "District of Columbia",
    "FL": "Florida",
    "GA": "Georgia",
    "GU": "Guam",
    "HI": "Hawaii",
    "ID": "Idaho",
    "IL": "Illinois",
    "IN": "Indiana",
    "IA": "Iowa",
    "KS": "Kansas",
    "KY": "Kentucky",
    "LA": "Louisiana",
    "ME": "Maine",
    "MD": "Maryland",
    "MA": "Massachusetts",
    "MI": "Michigan",
    "MN": "Minnesota",
    "MP": "Northern Mariana Islands",
    "MS": "Mississippi",
    "MO": "Missouri",
    "MT": "Montana",
    "NE": "Nebraska",
    "NV": "Nevada",
    "NH": "New Hampshire",
    "NJ": "New Jersey",
    "NM": "New Mexico",
    "NY": "New York",
    "NC": "North Carolina",
    "ND": "North Dakota",
    "OH": "Ohio",
    "OK": "Oklahoma",
    "OR": "Oregon",
    "PA": "Pennsylvania",
    "PR": "Puerto Rico",
    "RI": "Rhode Island",
    "SC": "South Carolina",
    "SD": "South Dakota",
    "TN": "Tennessee",
    "TX": "Texas",
    "UT": "Utah",
    "VI": "Virgin Islands",
    "VT": "Vermont",
    "VA": "Virginia",
    "WA": "Washington",
    "WV": "West Virginia",
    "WI": "Wisconsin",
    "WY": "Wyoming",
}
_PROVINCES = {
    "AB": "Alberta",
    "BC": "British Columbia",
    "MB": "Manitoba",
    "NB": "New Brunswick",
    "NL": "Newfoundland and Labrador",
    "NS": "Nova Scotia",
    "NT": "Northwest Territories",
    "NU": "Nunavut",
    "ON": "Ontario",
    "PE": "Prince Edward Island",
    "QC": "Quebec",
    "SK": "Saskatchewan",
    "YT": "Yukon",
}
_EUROPE = {
    "AT": "Austria",
    "BE": "Belgium",
    "BG": "Bulgaria",
    "CH": "Switzerland",
    "CY": "Cyprus",
    "CZ": "Czechia",
    "DE": "Germany",
    "DK": "Denmark",
    "EE": "Estonia",
    "ES": "Spain",
    "FI": "Finland",
    "FR": "France",
    "GB": "United Kingdom",
    "GR": "Greece",
    "HR": "Croatia",
    "HU": "Hungary",
    "IE": "Ireland",
    "IS": "Iceland",
    "IT": "Italy",
    "LT": "Lithuania",
    "LU": "Luxembourg",
    "LV": "Latvia",
    "MK": "North Macedonia",
    "MT": "Malta",
    "NL": "Netherlands",
    "NO": "Norway",
    "PL": "Poland",
    "PT": "Portugal",
    "RO": "Romania",
    "RS": "Serbia",
    "SE": "Sweden",
    "SI": "Slovenia",
    "SK": "Slovakia",
    "TR": "Turkey",
}
_COUNTRIES = {"US": "United States", "CA": "Canada", "AU": "Australia", **_EUROPE}
_OTHER_NAMES = {
    "usa": "US",
    "united states of america": "US",
    "uk": "GB",
    "great britain": "GB",
    "england": "GB",
    "scotland": "GB",
    "wales": "GB",
    "northern ireland": "GB",
    "czech republic": "CZ",
    "the netherlands": "NL",
    "türkiye": "TR",
}
_OTHER_REGIONS = {
    "washington dc": ("US", "District of Columbia"),
    "québec": ("CA", "Quebec"),
}

EUROPE = "Europe"


@dataclass(frozen=True, slots=True)
class Place:
    """A country by its two letters, and a state or province by its name; either may be empty."""

    country: str = ""
    region: str = ""

    @property
    def is_in_europe(self) -> bool:
        """Whether European standards are national standards there."""
        return self.country in _EUROPE

    @property
    def name(self) -> str:
        """The place in words."""
        country = country_name(self.country)
        return f"{self.region} ({country})" if self.region and country else self.region or country


def country_name(code: str) -> str:
    """Return the name of a country; the code itself if it is none known here."""
    return _COUNTRIES.get(code, code)


def read_country(text: str) -> str:
    """Return the two letters of a country given by letters or name; unknown text in capitals."""
    return _COUNTRY_BY_NAME.get(_plain(text), text.strip().upper())


def read_place(text: str) -> Place | None:
    """Return the place that `text` names, or None if none is known here.

    It is meant for a field that asks for a state or province: two letters are one of these before
    they are a country (CA is California, DE is Delaware). ``WA``, ``Washington``, ``Seattle, WA``,
    ``Washington, USA`` and ``Estonia`` are read; capitals and full stops do not matter.
    """
    whole = _plain(text.replace(",", " "))
    if whole in _REGION_BY_NAME:
        return Place(*_REGION_BY_NAME[whole])
    region: tuple[str, str] | None = None
    country = ""
    for part in (_plain(part) for part in re.split(r"[,;/()]", text)):
        if region is None and part in _REGION_BY_NAME:
            region = _REGION_BY_NAME[part]
        elif part in _COUNTRY_BY_NAME:
            country = country or _COUNTRY_BY_NAME[part]
    if region is not None:
        return Place(*region)
    return Place(country) if country else None


def _plain(text: str) -> str:
    return " ".join(text.replace(".", "").casefold().split())


_REGION_BY_NAME: dict[str, tuple[str, str]] = {
    **{
        _plain(word): (country, name)
        for country, regions in (("CA", _PROVINCES), ("US", _STATES))
        for code, name in regions.items()
        for word in (code, name)
    },
    **_OTHER_REGIONS,
}
_COUNTRY_BY_NAME: dict[str, str] = {
    **{_plain(word): code for code, name in _COUNTRIES.items() for word in (code, name)},
    **_OTHER_NAMES,
}
