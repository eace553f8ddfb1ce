"""Which papers print a field, read from the report templates themselves."""

from __future__ import annotations

import tomllib
from fnmatch import fnmatchcase
from functools import cache
from typing import TYPE_CHECKING, cast

from deskapp.i18n import _
from deskapp.session.help.data import printed_by_block
from deskapp.session.report_kinds import KIND_WORDS, ReportKind

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from pathlib import Path

_FIELDS = ("field", "fields", "fan_fields", "gauge_fields")


def papers_with(pattern: str, templates: Mapping[str, Path]) -> tuple[str, ...]:
    """Return the titles of our reports that print the field of this pattern."""
    return tuple(
        _(KIND_WORDS[kind])
        for kind in ReportKind
        if kind.value in templates
        and any(fnmatchcase(pattern, wanted) for wanted in _printed(templates[kind.value]))
    )


@cache
def _printed(template: Path) -> frozenset[str]:
    """Return the fields a template prints, as patterns; not what it only asks for."""
    try:
        data = tomllib.loads(template.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return frozenset()
    return frozenset(_fields_in(data.get("block", [])))


def _fields_in(value: object, key: str = "") -> Iterator[str]:
    if isinstance(value, str):
        if key in _FIELDS:
            yield from value.split("|")
        elif key == "kind":
            yield from printed_by_block().get(value, ())
    elif isinstance(value, dict):
        for name, inner in cast("dict[str, object]", value).items():
            yield from _fields_in(inner, name)
    elif isinstance(value, list):
        for inner in cast("list[object]", value):
            yield from _fields_in(inner, key)
