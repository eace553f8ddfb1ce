"""The leaks found in words: number, severity and why, how they are closed and what to mind."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from deskapp.domain.choices import CHOICE_LABELS, LeakSize, Severity
from deskapp.i18n import _
from deskapp.session.limit_words import STATUS_WORDS

if TYPE_CHECKING:
    from deskapp.domain.repair_result import LeakRank
    from deskapp.domain.vocabulary import LeakLocation
    from deskapp.session.editor import Editor


@dataclass(frozen=True, slots=True)
class LeakWords:
    """One leak: `level` counts from 1 (minor) to 4 (critical), 0 where it is not known.

    `severity` tells the level and why, `advice` how such a leak is usually closed and what to
    mind, `source` where that comes from.
    """

    number: int
    place: str
    severity: str
    level: int
    is_open: bool
    advice: str = ""
    source: str = ""


def leak_list(editor: Editor) -> tuple[LeakWords, ...]:
    """Return the leaks found: open ones first, then by severity, then by size as guessed."""
    from deskapp.assess.severity import most_pressing_first, ranked

    places = {place.id: place for place in editor.shelf.leak_locations}
    ranks = most_pressing_first(ranked(editor.job, editor.shelf.leak_locations))
    leaks = {leak.key: leak for leak in editor.job.leaks}
    return tuple(
        _words(rank, leaks[rank.key].place, places.get(leaks[rank.key].location))
        for rank in sorted(ranks, key=lambda rank: not rank.is_open)
    )


def severity_words(rank: LeakRank) -> str:
    """Return the severity of a leak and why it is that, and its size as guessed."""
    parts: list[str] = []
    if rank.severity is not None:
        parts.append(
            _("Severity {severity}.").format(severity=_(CHOICE_LABELS[Severity][rank.severity]))
        )
    if rank.is_given:
        parts.append(_("Given by the tester."))
    if rank.reason:
        parts.append(rank.reason)
    if rank.size is not None:
        size = _(CHOICE_LABELS[LeakSize][rank.size]).lower()
        parts.append(_("Size, a guess: {size}.").format(size=size))
    return " ".join(parts)


def _words(rank: LeakRank, where: str, place: LeakLocation | None) -> LeakWords:
    label = _(place.label) if place is not None else ""
    advice, source = "", ""
    if place is not None:
        texts = (_(place.repair), _(place.sealing)) if place.sealing else (_(place.repair),)
        advice = " ".join(texts)
        known = _(STATUS_WORDS[place.status]) if place.status is not None else ""
        source = _("Source: {source}. {status}").format(source=place.source, status=known).strip()
    return LeakWords(
        number=rank.number,
        place=where or label or _("Leak"),
        severity=severity_words(rank),
        level=0 if rank.severity is None else tuple(Severity).index(rank.severity) + 1,
        is_open=rank.is_open,
        advice=advice,
        source=source,
    )
