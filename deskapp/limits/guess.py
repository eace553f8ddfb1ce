"""What the order of the limits offered rests on where the job does not settle it: a guess, told."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.i18n import _, labeled
from deskapp.limits.candidates import ASPECT_LABELS, Aspect, Candidate
from deskapp.limits.fit import Fit
from deskapp.limits.likeliest import codes_come_first, is_in_feet
from deskapp.limits.places import country_name, read_place

if TYPE_CHECKING:
    from collections.abc import Sequence

    from deskapp.domain.job import Job

_NAMED = 2
"""So many open points are named; the sheet of the limit has them all."""


def why_first(found: Sequence[Candidate], job: Job, home: str = "") -> str:
    """Return why the first of these limits stands there, if that is a guess; empty if it fits.

    Args:
        found: the limits in the order offered.
        job: the job they are offered for.
        home: the country this computer is set to, by its two letters, or empty.
    """
    if not found or found[0].fits is Fit.YES:
        return ""
    typed = job.site.region.strip()
    role = (_role_words(),) if codes_come_first(job) else ()
    if read_place(typed) is None:
        return " ".join((_place_words(typed), _order_words(job, home), *role))
    points = [point for point in found[0].points if point.decides and point.fits is Fit.MAYBE]
    if not points:
        return _("None of these limits fits all that is entered; the first comes nearest.")
    why = "; ".join(labeled(_(ASPECT_LABELS[point.aspect]), point.why) for point in points[:_NAMED])
    text = _("The first in the list is a guess, the likeliest by what is entered. Open: {why}.")
    return " ".join((text.format(why=why), *role))


def _role_words() -> str:
    text = _("{field} is not answered, so codes come before programs and standards.")
    return text.format(field=_(ASPECT_LABELS[Aspect.PURPOSE]))


def _place_words(typed: str) -> str:
    if not typed:
        return _("This order is a guess, since the state or province of the site is not entered.")
    text = _("This order is a guess, since “{typed}” is a state or province not known here.")
    return text.format(typed=typed)


def _order_words(job: Job, home: str) -> str:
    if is_in_feet(job):
        return _("Floor areas are in square feet, so codes of North America come first.")
    if home:
        text = _("This computer is set to {country}, so what holds there comes first.")
        return text.format(country=country_name(home))
    return _("Nothing tells of the country, so the likeliest by all else come first.")
