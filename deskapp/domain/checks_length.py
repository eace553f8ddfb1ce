"""Texts that are longer than a certificate has room for."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from deskapp.domain.field_spec import FieldSpec, Form
from deskapp.domain.fields import FIELDS, label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.paths import expand, put
from deskapp.i18n import _
from deskapp.units.display import in_sentences

LONGEST_LINE = 160
"""Characters of a one-line text: a name, number or place, so that a certificate keeps to its two
pages. Common practice, no source; the longest postal addresses stay far below."""

LONGEST_CODE = 80
"""Characters of a number or code, such as a permit number or a postal code. Common practice, no
source; those in use have at most half as many."""

_CODES = (
    *("number", "client.phone", "client.utility_account", "site.lot", "site.region"),
    *("site.postcode", "site.climate_zone", "site.permit_number", "site.program_id"),
    *("site.builder_license", "gauges.*.serial", "gauges.*.certificate", "fans.*.serial"),
    *("fans.*.certificate", "tester.phone", "tester.certification"),
)
_ROOM = {
    **dict.fromkeys(_CODES, LONGEST_CODE),
    "systems.*.visual_notes": 800,
    "tester.statement": 1200,
    "leaks.*.place": 400,
    "leaks.*.repair": 600,
    "leaks.*.severity_reason": 600,
    "compliance.exemption_reason": 600,
}
"""Characters of the longer texts that stand in a place of their own. Common practice, no source."""
_CUT = "\N{HORIZONTAL ELLIPSIS}"


def room_for(spec: FieldSpec) -> int | None:
    """Return how many characters of a field a certificate prints; None where all of it flows."""
    return _ROOM.get(spec.path, LONGEST_LINE if spec.form is Form.TEXT else None)


def check(job: Job, name: str) -> Iterator[Finding]:
    """Yield each text of the records under `name` that a certificate has no room for."""
    for path, text, most in _too_long(job, name):
        yield Finding(
            level=Level.CHECK,
            code="text_long",
            path=path,
            what=_("{label} has {n} characters.").format(
                label=label_of(path), n=in_sentences().number(len(text), 0)
            ),
            allowed=_(
                "The certificate prints the first {most} in their place, and all of it at its end."
            ).format(most=in_sentences().number(most, 0)),
            mend=_("Shorten it, or move the rest to the comments."),
        )


def shortened(job: Job) -> Job:
    """Return `job` with each text as long as there is room for it, and a mark where it was cut."""
    for path, text, most in too_long(job):
        job = put(job, path, text[: most - 1].rstrip() + _CUT)
    return job


def places() -> tuple[str, ...]:
    """Return the names of the records of a job in which such texts stand."""
    return tuple(_by_place())


def too_long(job: Job) -> Iterator[tuple[str, str, int]]:
    """Yield path, text and room of each text that is longer than there is room for it."""
    return (found for name in places() for found in _too_long(job, name))


def _too_long(job: Job, name: str) -> Iterator[tuple[str, str, int]]:
    for spec, most in _by_place()[name]:
        for path, value in expand(job, spec.path):
            if isinstance(value, str) and len(value) > most:
                yield path, value, most


@cache
def _by_place() -> dict[str, tuple[tuple[FieldSpec, int], ...]]:
    found: dict[str, list[tuple[FieldSpec, int]]] = {}
    for spec in FIELDS:
        most = room_for(spec)
        if most is not None:
            found.setdefault(spec.path.partition(".")[0], []).append((spec, most))
    return {name: tuple(specs) for name, specs in found.items()}
