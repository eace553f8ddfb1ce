"""How an edition fits a job in place, date, building, purpose and program, and why."""

from __future__ import annotations

import re
from datetime import date
from enum import StrEnum

from deskapp.domain.choices import CHOICE_LABELS, BuildingType, CompliancePath
from deskapp.domain.fields import field_at
from deskapp.domain.limit import Edition, EditionRole
from deskapp.i18n import N_, _
from deskapp.limits.places import EUROPE, Place, country_name, read_country, read_place
from deskapp.units.display import day_in_words


class Fit(StrEnum):
    """Whether something fits, may fit, or does not fit."""

    YES = "yes"
    MAYBE = "maybe"
    NO = "no"


def _label(path: str) -> str:
    return _(field_at(path).label)


def _unanswered(path: str) -> tuple[Fit, str]:
    return Fit.MAYBE, _("“{field}” is not answered").format(field=_label(path))


def place_fit(edition: Edition, typed: str, place: Place | None) -> tuple[Fit, str]:
    """Compare the place of an edition with the place of the site, as typed and as understood."""
    if not edition.region and not edition.country:
        return Fit.MAYBE, _("it names no place")
    if not typed.strip():
        return _unanswered("site.region")
    own = _own_place(edition)
    if place is None:
        if edition.region and edition.region.casefold() in typed.casefold():
            return Fit.YES, _("for {place}").format(place=edition.region)
        text = _("it is for {own}; “{typed}” is a place not known here")
        return Fit.MAYBE, text.format(own=own, typed=typed)
    if _holds_at(edition, place):
        return _at_home(edition, place, own)
    if edition.region and not place.region and read_country(edition.country) == place.country:
        text = _("it is for {own}; say which state the site is in")
        return Fit.MAYBE, text.format(own=own)
    if edition.role is EditionRole.STANDARD:
        text = _("it is for {own}; elsewhere only where a contract or a code names it")
        return Fit.MAYBE, text.format(own=own)
    text = _("it is for {own}, and the site is in {place}")
    return Fit.NO, text.format(own=own, place=place.name)


def _own_place(edition: Edition) -> str:
    region = read_place(edition.region)
    name = region.region if region and region.region else edition.region
    country = country_name(read_country(edition.country))
    return f"{name} ({country})" if name and country else name or country


def _holds_at(edition: Edition, place: Place) -> bool:
    if edition.region == EUROPE:
        return place.is_in_europe
    if edition.region:
        own = read_place(edition.region)
        if own is None or not own.region:
            return edition.region.casefold() == place.region.casefold()
        return (own.country, own.region) == (place.country, place.region)
    return read_country(edition.country) == place.country


def _at_home(edition: Edition, place: Place, own: str) -> tuple[Fit, str]:
    if edition.role is EditionRole.MODEL_CODE:
        text = _("a model code for {own}: ask whether {place} adopted this edition, and changed it")
        return Fit.MAYBE, text.format(own=own, place=place.region or place.name)
    return Fit.YES, _("for {place}").format(place=own)


_YEARS = re.compile(r"(\d{4})(?: and \d{4})*(?: \(.*\))?")


def first_year(edition: Edition) -> int | None:
    """Return the (first) year an edition is named after, if it is named after years only."""
    found = _YEARS.fullmatch(edition.edition.strip())
    return int(found[1]) if found else None


def date_fit(edition: Edition, permit: date | None) -> tuple[Fit, str]:
    """Compare when an edition was in force with the day of the permit."""
    first, last = edition.in_force_from, edition.in_force_to
    if permit is None:
        return _unanswered("site.permit_date")
    day = day_in_words(permit)
    if first is not None and permit < first:
        text = _("in force from {first}, the permit is of {day}")
        return Fit.NO, text.format(first=day_in_words(first), day=day)
    if last is not None and permit > last:
        text = _("in force to {last}, the permit is of {day}")
        return Fit.NO, text.format(last=day_in_words(last), day=day)
    if first is not None:
        until = day_in_words(last) if last else _("today, as far as is known")
        text = _("in force from {first} to {until}; the permit is of {day}")
        return Fit.YES, text.format(first=day_in_words(first), until=until, day=day)
    year = first_year(edition)
    if year is not None and permit.year < year:
        binds = edition.role in (EditionRole.CODE, EditionRole.MODEL_CODE)
        text = _("an edition of {year}, and the permit is of {day}")
        return Fit.NO if binds else Fit.MAYBE, text.format(year=year, day=day)
    return Fit.MAYBE, _("when it was in force is not recorded here; the permit is of {day}").format(
        day=day
    )


def building_fit(edition: Edition, given: BuildingType | None) -> tuple[Fit, str]:
    """Compare the kinds of building an edition is for with that of the job."""
    if given is None:
        return _unanswered("house.building_type")
    words = CHOICE_LABELS[BuildingType]
    if given in edition.buildings:
        return Fit.YES, _(words[given.value])
    own = ", ".join(_(words[kind.value]) for kind in edition.buildings)
    text = _("it is for: {own}; here: {given}")
    return Fit.NO, text.format(own=own, given=_(words[given.value]))


_ROLE_WORDS = {
    EditionRole.CODE: N_("a code"),
    EditionRole.MODEL_CODE: N_("a model code"),
    EditionRole.PROGRAM: N_("the rule of a program"),
    EditionRole.STANDARD: N_("a standard"),
}
_CODES = (EditionRole.CODE, EditionRole.MODEL_CODE)
_PURPOSE: dict[CompliancePath, dict[EditionRole, tuple[Fit, str]]] = {
    CompliancePath.PRESCRIPTIVE: {
        **dict.fromkeys(_CODES, (Fit.YES, N_("the test is for a code"))),
        EditionRole.PROGRAM: (Fit.NO, N_("it binds only who takes part; the test is for a code")),
        EditionRole.STANDARD: (Fit.MAYBE, N_("it binds where the code names it")),
    },
    CompliancePath.PERFORMANCE: {
        **dict.fromkeys(
            _CODES,
            (Fit.MAYBE, N_("on this path the measured value counts, and the number may not bind")),
        ),
        EditionRole.PROGRAM: (Fit.MAYBE, N_("it binds only who takes part")),
        EditionRole.STANDARD: (Fit.MAYBE, N_("it binds where the code or the rating names it")),
    },
    CompliancePath.PROGRAM: {
        **dict.fromkeys(_CODES, (Fit.MAYBE, N_("it may bind besides the program"))),
        EditionRole.PROGRAM: (Fit.YES, N_("the test is for a program")),
        EditionRole.STANDARD: (Fit.MAYBE, N_("it binds where the program names it")),
    },
    CompliancePath.CONTRACT: {
        **dict.fromkeys(_CODES, (Fit.MAYBE, N_("it may bind besides the contract"))),
        EditionRole.PROGRAM: (
            Fit.NO,
            N_("it binds only who takes part; the test is for a contract"),
        ),
        EditionRole.STANDARD: (Fit.YES, N_("contracts name such standards; look up which one")),
    },
    CompliancePath.DIAGNOSIS: dict.fromkeys(
        EditionRole, (Fit.MAYBE, N_("no limit binds a diagnosis; it may serve as a yardstick"))
    ),
}


def purpose_fit(role: EditionRole | None, path: CompliancePath | None) -> tuple[Fit, str]:
    """Compare what gives an edition its force with the reason for the test."""
    if path is None:
        return _unanswered("compliance.path")
    if role is None:
        return Fit.MAYBE, _("it does not say whether it is a code, a program or a standard")
    fits, why = _PURPOSE[path][role]
    return fits, _("{role}: {why}").format(role=_(_ROLE_WORDS[role]), why=_(why))


def program_fit(edition: Edition, typed: str) -> tuple[Fit, str]:
    """Look for the name of a program in the program or project ID."""
    if not typed.strip():
        return _unanswered("site.program_id")
    start = " ".join(edition.title.split()[:2]).casefold()
    field = _label("site.program_id")
    if start in typed.casefold():
        return Fit.YES, _("{field}: “{typed}” names it").format(field=field, typed=typed)
    return Fit.MAYBE, _("{field}: “{typed}” does not name it").format(field=field, typed=typed)
