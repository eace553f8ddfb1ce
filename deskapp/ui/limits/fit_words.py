"""Glyph and word for how a limit fits the job."""

from __future__ import annotations

from deskapp.i18n import N_, _
from deskapp.session.limits_desk import Fit
from deskapp.ui.glyphs import Glyph

_FITS = {
    Fit.YES: (Glyph.DONE, N_("Fits")),
    Fit.MAYBE: (Glyph.PART, N_("May fit")),
    Fit.NO: (Glyph.REMOVE, N_("Does not fit")),
}


def fit_of(fit: Fit) -> tuple[Glyph, str]:
    """Return glyph and word for how well something fits."""
    glyph, word = _FITS[fit]
    return glyph, _(word)


def held_of(holds: bool | None) -> tuple[Glyph, str]:
    """Return glyph and word of a condition: it holds, does not, or a fact is missing."""
    if holds is None:
        return Glyph.PART, _("a fact is missing")
    return (Glyph.DONE, _("holds")) if holds else (Glyph.REMOVE, _("does not hold"))
