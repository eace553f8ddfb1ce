"""Carbon monoxide in the room air above where care begins, and below where all work stops."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from deskapp.domain.cautions import cautions_for
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.vocabulary import Caution, CautionLevel
from deskapp.i18n import _

_MEASURED = frozenset({"safety.ambient_co", "safety.ambient_co_after"})


def raised_air(job: Job, cautions: Iterable[Caution]) -> tuple[tuple[Caution, str], ...]:
    """Return the warnings about carbon monoxide that was measured, each with its field."""
    asked = (
        one
        for one in cautions
        if one.level is CautionLevel.WARNING and not _MEASURED.isdisjoint(one.when.fields)
    )
    return tuple(
        (caution, path)
        for caution in cautions_for(job, asked)
        for path in caution.when.fields
        if path in _MEASURED
    )


def air_findings(job: Job, cautions: Iterable[Caution]) -> Iterator[Finding]:
    """Yield each of these warnings at the field of the value that calls for it."""
    for caution, path in raised_air(job, cautions):
        yield Finding(level=Level.CHECK, code="raised_air", path=path, what=_(caution.text))
