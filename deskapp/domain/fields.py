"""The field table: every field of a job, once, in the order a tester fills it in."""

from __future__ import annotations

from functools import cache, lru_cache
from itertools import pairwise

from deskapp.domain import (
    fields_job,
    fields_owner,
    fields_repair,
    fields_safety,
    fields_screening,
    fields_trial,
)
from deskapp.domain.field_spec import FieldSpec
from deskapp.i18n import N_, _

FIELDS: tuple[FieldSpec, ...] = (
    *fields_job.CLIENT_AND_SITE,
    *fields_job.COMPLIANCE,
    *fields_job.HOUSE,
    *fields_job.SYSTEMS,
    *fields_job.OTHER_AREAS,
    *fields_owner.DELIVERY,
    *fields_owner.OWNER,
    *fields_trial.GAUGES,
    *fields_trial.FANS,
    *fields_trial.RINGS,
    *fields_trial.TESTS,
    *fields_trial.AMBIENT,
    *fields_trial.READINGS,
    *fields_trial.BASELINE_AND_HOUSE,
    *fields_repair.LEAKS,
    *fields_repair.REREADINGS,
    *fields_screening.REGISTERS,
    *fields_screening.SCREENING,
    *fields_safety.WALK,
    *fields_safety.APPLIANCES,
    *fields_safety.ARRIVAL,
    *fields_job.TESTER,
)

_ROW_WORDS = {
    "systems": N_("system {n}"),
    "gauges": N_("gauge {n}"),
    "fans": N_("fan {n}"),
    "rings": N_("ring {n}"),
    "tests": N_("test {n}"),
    "readings": N_("reading {n}"),
    "leaks": N_("leak {n}"),
    "rereadings": N_("quick reading {n}"),
    "registers": N_("register {n}"),
    "appliances": N_("appliance {n}"),
    "arrival": N_("change {n}"),
    "photos": N_("photo {n}"),
    "limits": N_("limit {n}"),
}


@cache
def _by_path() -> dict[str, FieldSpec]:
    return {field.path: field for field in FIELDS}


@lru_cache(maxsize=8192)
def pattern_of(path: str) -> str:
    """Return `path` with list positions replaced: ``systems.0.name`` gives ``systems.*.name``."""
    return ".".join("*" if part.isdigit() else part for part in path.split("."))


def field_at(path: str) -> FieldSpec:
    """Return the field at a path with or without positions. Raises KeyError for an unknown one."""
    return _by_path()[pattern_of(path)]


def is_field(path: str) -> bool:
    """Say whether a path, with or without positions, is that of a field."""
    return pattern_of(path) in _by_path()


def label_of(path: str) -> str:
    """Return the words for a path.

    ``tests.0.readings.2.fan_signal`` gives "Fan signal (test 1, reading 3)".
    """
    parts = path.split(".")
    rows = [
        _(_ROW_WORDS[name]).format(n=int(position) + 1)
        for name, position in pairwise(parts)
        if position.isdigit() and name in _ROW_WORDS
    ]
    field = _by_path().get(pattern_of(path))
    label = _(field.label) if field else (rows.pop().capitalize() if rows else path)
    return f"{label} ({', '.join(rows)})" if rows else label
