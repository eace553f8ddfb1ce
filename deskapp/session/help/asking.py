"""Which editions of rules look at a field to choose or to judge a limit."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.domain.limit import Answered, Below, EitherOf

if TYPE_CHECKING:
    from collections.abc import Iterator

    from deskapp.domain.limit import Edition, LimitRow, Rule

# Conditions of a row, by the field they look at.
_CONDITIONS = {
    "tests.*.setup.stage": ("stages",),
    "tests.*.setup.metric": ("metric",),
    "systems.*.work": ("works",),
    "systems.*.air_handler_installed": ("air_handler_installed",),
    "systems.*.all_ducts_inside": ("all_inside",),
    "systems.*.returns": ("returns_min", "returns_max"),
    "systems.*.area_served": ("area_above_ft2", "area_up_to_ft2"),
    "tests.*.setup.target_pressure": ("pressure_pa",),
}
# Kinds of rules, by the field that enters their arithmetic.
_RULES = {
    "systems.*.area_served": ("per_floor_area", "greater_of", "floor_area_fraction"),
    "systems.*.fan_flow": ("percent_of_fan_flow",),
    "systems.*.duct_surface": ("surface_class", "surface_leakage_class", "per_duct_surface"),
    "tests.*.retest_of": ("percent_reduction",),
}


def editions_asking(pattern: str, editions: tuple[Edition, ...]) -> tuple[str, ...]:
    """Return the titles of the editions that look at the field of this pattern, in their order."""
    return tuple(
        f"{edition.title} {edition.edition}".strip()
        for edition in editions
        if any(_asks(row, pattern) for row in edition.rows) or _is_waived_by(edition, pattern)
    )


def _asks(row: LimitRow, pattern: str) -> bool:
    conditions = (getattr(row, name) for name in _CONDITIONS.get(pattern, ()))
    if any(value not in (None, ()) for value in conditions):
        return True
    return any(kind in _RULES.get(pattern, ()) for kind in _kinds(row.rule))


def _kinds(rule: Rule) -> Iterator[str]:
    yield rule.kind
    if isinstance(rule, EitherOf):
        for part in rule.rules:
            yield from _kinds(part)


def _is_waived_by(edition: Edition, pattern: str) -> bool:
    return any(
        isinstance(condition, Answered | Below) and condition.field == pattern
        for waiver in edition.waivers
        for way in waiver.ways
        for condition in way
    )
