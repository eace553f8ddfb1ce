"""The help kept as data: topics beside those of the fields, where blocks print, and the tour."""

from __future__ import annotations

import tomllib
from fnmatch import fnmatchcase
from functools import cache
from typing import Any

from pydantic import Field

from deskapp.domain.base import Frozen
from deskapp.domain.data_files import resources_folder

_FOLDER = "help"


class Subject(Frozen):
    """A topic that explains something: which fields and pages it belongs to, and its formulas.

    `fields` are paths in which ``*`` stands for anything.
    """

    id: str = Field(min_length=1)
    title: str = Field(min_length=1)
    text: str = Field(min_length=1)
    fields: tuple[str, ...] = ()
    pages: tuple[str, ...] = ()
    formulas: tuple[str, ...] = ()

    def covers(self, pattern: str) -> bool:
        """Say whether it belongs to the field of this pattern."""
        return any(fnmatchcase(pattern, wanted) for wanted in self.fields)


class TourStep(Frozen):
    """One step of the way around the sample: a page, perhaps a field of it, and what is there."""

    page: str
    field: str = ""
    title: str = Field(min_length=1)
    text: str = Field(min_length=1)


@cache
def subjects() -> tuple[Subject, ...]:
    """Return the topics kept as data, in the order of the list."""
    return tuple(Subject.model_validate(row) for row in _read("topics")["topics"])


@cache
def tour_steps() -> tuple[TourStep, ...]:
    """Return the steps of the way around, in order."""
    return tuple(TourStep.model_validate(row) for row in _read("tour")["steps"])


@cache
def printed_by_block() -> dict[str, tuple[str, ...]]:
    """Return the fields each kind of report block prints by itself, as patterns."""
    return {kind: tuple(fields) for kind, fields in _read("printed")["blocks"].items()}


def _read(name: str) -> dict[str, Any]:
    path = resources_folder() / _FOLDER / f"{name}.toml"
    return tomllib.loads(path.read_text(encoding="utf-8"))
