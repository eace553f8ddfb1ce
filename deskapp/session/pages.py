"""The pages of the window as data: which fields stand where, in the order a tester learns them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from deskapp.domain import (
    fields_job,
    fields_owner,
    fields_repair,
    fields_safety,
    fields_screening,
    fields_trial,
)
from deskapp.domain.field_spec import FieldSpec
from deskapp.domain.fields import pattern_of
from deskapp.i18n import N_


@dataclass(frozen=True, slots=True)
class Section:
    """Some fields under one title.

    `list_path` is empty for plain fields, otherwise the list whose rows have these fields, written
    as a pattern (``fans.*.rings`` for the rings of each fan). Sections of one page with the same
    list belong to the same row, and a nested list belongs to the row of the list around it.
    """

    title: str
    list_path: str
    fields: tuple[str, ...]

    @property
    def kind(self) -> str:
        """``rows`` for the rows of a list, otherwise ``fields``."""
        return "rows" if self.list_path else "fields"


@dataclass(frozen=True, slots=True)
class Page:
    """One page: `purpose` says in a sentence what it is for."""

    id: str
    title: str
    purpose: str
    sections: tuple[Section, ...]


def _paths(fields: tuple[FieldSpec, ...], *starts: str) -> tuple[str, ...]:
    """Return the paths of `fields`, or only of those that start with one of `starts`."""
    return tuple(field.path for field in fields if not starts or field.path.startswith(starts))


_BASELINE_BEFORE = "tests.*.baseline_before"
_OUTSIDE = ("tests.*.house_", "tests.*.duct_to_house_pressure")
_AFTER = _paths(fields_trial.BASELINE_AND_HOUSE)
_OUTSIDE_PATHS = _paths(fields_trial.BASELINE_AND_HOUSE, *_OUTSIDE)

FANS = N_("Fans")
LEAKS = N_("Leaks")
REREADINGS = N_("Quick readings between repairs")
PRESSURE_PAN = N_("Pressure pan")
TRACER = N_("Tracer smoke")
TESTER = N_("Tester and signature")
SAFETY_NOTES = N_("Safety notes")
ARRIVAL = N_("What was changed on arrival")
PUT_BACK = N_("Put back what was changed")
"""Sections that a page puts something of its own below."""

PAGES: tuple[Page, ...] = (
    Page(
        "client",
        N_("Client and site"),
        N_("Who the job is for, where it is, and why the test is made."),
        (
            Section(N_("Job"), "", ("number", "title")),
            Section(N_("Owner"), "", _paths(fields_job.CLIENT_AND_SITE, "client.")),
            Section(N_("Site and permit"), "", _paths(fields_job.CLIENT_AND_SITE, "site.")),
            Section(N_("Purpose"), "", _paths(fields_job.COMPLIANCE)),
        ),
    ),
    Page(
        "house",
        N_("House and systems"),
        N_("The building, the limits it is judged by, and each duct system in it."),
        (
            Section(N_("House"), "", _paths(fields_job.HOUSE)),
            Section(N_("Duct systems"), "systems", _paths(fields_job.SYSTEMS)),
            Section(N_("Other figures for the area"), "systems", _paths(fields_job.OTHER_AREAS)),
            Section(N_("Ducts while they run"), "systems", _paths(fields_owner.DELIVERY)),
            Section(N_("Seasons and bills"), "", _paths(fields_owner.OWNER)),
        ),
    ),
    Page(
        "safety",
        N_("Before you start"),
        N_("A walk through the house for what could hurt someone, before a fan runs."),
        (
            Section(N_("In the house"), "", _paths(fields_safety.DANGERS)),
            Section(N_("Alarms"), "", _paths(fields_safety.ALARMS)),
            Section(N_("Burning fuel"), "", _paths(fields_safety.BURNERS)),
            Section(N_("Appliances"), "appliances", _paths(fields_safety.APPLIANCES)),
            Section(N_("Vents before the work"), "", _paths(fields_safety.BEFORE)),
            Section(SAFETY_NOTES, "", _paths(fields_safety.NOTES)),
            Section(ARRIVAL, "arrival", _paths(fields_safety.FOUND)),
        ),
    ),
    Page(
        "setup",
        N_("Instruments and set-up"),
        N_("The gauges and fans used, and how each test was set up."),
        (
            Section(N_("Gauges"), "gauges", _paths(fields_trial.GAUGES)),
            Section(FANS, "fans", _paths(fields_trial.FANS)),
            Section(N_("Rings"), "fans.*.rings", _paths(fields_trial.RINGS)),
            Section(N_("Tests"), "tests", _paths(fields_trial.TESTS)),
        ),
    ),
    Page(
        "readings",
        N_("Readings"),
        N_("What the gauge showed in each test, and the air on the day."),
        (
            Section(N_("Air on the day"), "tests", _paths(fields_trial.AMBIENT)),
            Section(N_("Before the readings"), "tests", (_BASELINE_BEFORE,)),
            Section(N_("Readings"), "tests.*.readings", _paths(fields_trial.READINGS)),
            Section(
                N_("After the readings"),
                "tests",
                tuple(p for p in _AFTER if p != _BASELINE_BEFORE and p not in _OUTSIDE_PATHS),
            ),
            Section(N_("For leakage to outside"), "tests", _OUTSIDE_PATHS),
        ),
    ),
    Page(
        "result",
        N_("Result"),
        N_("How much each system leaks, whether that meets the limits, and how it was worked out."),
        (),
    ),
    Page(
        "leaks",
        N_("Leaks"),
        N_("Where the ducts leak, with photos, and what each repair gained."),
        (
            Section(LEAKS, "leaks", _paths(fields_repair.LEAKS)),
            Section(REREADINGS, "rereadings", _paths(fields_repair.REREADINGS)),
            Section(N_("Registers"), "registers", _paths(fields_screening.REGISTERS)),
            Section(PRESSURE_PAN, "", _paths(fields_screening.SCREENING)),
            Section(TRACER, "", _paths(fields_safety.TRACER)),
        ),
    ),
    Page(
        "leave",
        N_("Leave as found"),
        N_("The vents tested again after sealing, and everything put back as it was."),
        (
            Section(N_("After the work"), "", _paths(fields_safety.AFTER)),
            Section(PUT_BACK, "arrival", _paths(fields_safety.PUT_BACK)),
            Section(N_("All put back"), "", _paths(fields_safety.RESTORED)),
        ),
    ),
    Page(
        "report",
        N_("Report"),
        N_("The papers to save, print, mail or issue, and who signs them."),
        (
            Section(TESTER, "", _paths(fields_job.TESTER, "tester.")),
            Section(N_("Comments"), "", ("comments",)),
        ),
    ),
)


_BESIDE = {
    "photos": "leaks",
    "sketch": "leaks",
    "acknowledgments": "safety",
    "leaving": "leave",
}
"""Pages of what stands beside the field table."""


@lru_cache(maxsize=4096)
def page_of(path: str) -> str:
    """Return the id of the page that shows the field, row or list at `path`; empty if none does.

    Something that is no field of its own belongs to the innermost list it stands in.
    """
    pattern = pattern_of(path)
    if pattern.startswith("compliance.limits"):
        return "result"
    if pattern == "tester.signature":
        return "report"
    first = pattern.partition(".")[0]
    if first in _BESIDE:
        return _BESIDE[first]
    best, depth = "", 0
    for page in PAGES:
        for section in page.sections:
            if pattern in section.fields:
                return page.id
            inside = section.list_path and (pattern + ".").startswith(section.list_path + ".")
            if inside and len(section.list_path) > depth:
                best, depth = page.id, len(section.list_path)
    return best
