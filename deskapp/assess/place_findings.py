"""Does what was typed of the place look like a state, a postal code, a climate zone?"""

from __future__ import annotations

import re
from collections.abc import Iterator

from deskapp.domain.fields import label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.i18n import _
from deskapp.limits.places import Place, read_place

_TWO_LETTERS = re.compile(r"[A-Za-z]\.?\s?[A-Za-z]\.?")
_ZIP = re.compile(r"\d{5}([- ]?\d{4})?")
# Letters that Canada Post uses: no D, F, I, O, Q, U; W and Z never come first.
_CANADIAN = re.compile(r"[ABCEGHJ-NPR-TVXY]\d[ABCEGHJ-NPR-TV-Z][ -]?\d[ABCEGHJ-NPR-TV-Z]\d", re.I)
_ZONE = re.compile(
    r"(?:climate )?(?:zone |cz )?([0-8])[ -]?([abc])?(?: ?\(?(?:moist|dry|marine)\)?)?"
)
_ZONE_OF_CALIFORNIA = re.compile(r"(?:climate )?(?:zone |cz )?(1[0-6]|[1-9])")
_CALIFORNIA = read_place("CA")


def place_findings(job: Job) -> Iterator[Finding]:
    """Yield what looks mistyped among state, postal code and climate zone; a check, no more.

    Sources: two-letter codes and ZIP codes of the United States Postal Service, postal codes of
    Canada Post, climate zones of ASHRAE Standard 169 (0 to 8, with A, B or C) and of California
    (1 to 16); from memory, not checked against their texts.
    """
    place = read_place(job.site.region)
    yield from _region(job, place)
    yield from _postcode(job, place)
    yield from _zone(job, place)


def _region(job: Job, place: Place | None) -> Iterator[Finding]:
    typed = job.site.region.strip()
    if place is None and _TWO_LETTERS.fullmatch(typed):
        yield _odd(
            "site.region",
            typed,
            _("These two letters stand for no state of the USA and no province of Canada."),
        )


def _postcode(job: Job, place: Place | None) -> Iterator[Finding]:
    typed = job.site.postcode.strip()
    country = place.country if place else ""
    if typed and country == "US" and not _ZIP.fullmatch(typed):
        yield _odd("site.postcode", typed, _("A ZIP code has 5 digits, or 9 as in 98101-1234."))
    elif typed and country == "CA" and not _CANADIAN.fullmatch(typed):
        allowed = _("A postal code of Canada goes by letters and digits in turn, as in H2X 1Y4.")
        yield _odd("site.postcode", typed, allowed)


def _zone(job: Job, place: Place | None) -> Iterator[Finding]:
    typed = " ".join(job.site.climate_zone.casefold().split())
    if not typed or (place is not None and place.country not in ("US", "CA")):
        return
    is_california = place == _CALIFORNIA
    if _ZONE.fullmatch(typed) or (is_california and _ZONE_OF_CALIFORNIA.fullmatch(typed)):
        return
    allowed = (
        _("Zones of the energy code of California are numbered 1 to 16.")
        if is_california
        else _("Zones are numbered 0 to 8, some with A, B or C behind, as in 4A.")
    )
    yield _odd("site.climate_zone", job.site.climate_zone.strip(), allowed)


def _odd(path: str, typed: str, allowed: str) -> Finding:
    return Finding(
        level=Level.CHECK,
        code="odd_place",
        path=path,
        what=_("{label}: “{typed}” looks mistyped.").format(label=label_of(path), typed=typed),
        allowed=allowed,
        mend=_("Correct it, or leave it if it is right."),
    )
