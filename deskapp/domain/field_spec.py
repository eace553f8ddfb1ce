"""What the program knows about one field of the job: its words, its kind, its range."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from deskapp.units.kinds import Kind


class Form(StrEnum):
    """How a field is filled in."""

    QUANTITY = "quantity"
    TEXT = "text"
    PARAGRAPH = "paragraph"
    CHOICE = "choice"
    DAY = "day"
    CLOCK = "clock"
    REFERENCE = "reference"


class Span(NamedTuple):
    """A closed range in the unit a person would say it in."""

    low: float
    high: float
    unit: str


class When(NamedTuple):
    """A field, as a pattern, and the answers that count; without any, whatever is not empty."""

    path: str
    values: tuple[str, ...] = ()


class Units(NamedTuple):
    """The unit meant when none is typed, by unit system."""

    ip: str
    si: str


class Compared(StrEnum):
    """What it means for a retest that a field of its set-up differs from the test before it."""

    BREAKS = "breaks"
    LESS_IN_COMMON = "less_in_common"


@dataclass(frozen=True, slots=True)
class FieldSpec:
    """One field. `path` has ``*`` for each list position, such as ``systems.*.area_served``.

    `allowed` is the range outside of which a value cannot be right (a stop), `usual` the range
    outside of which it earns a second look (a check). `needed` marks what a compliance report
    must state. `rare` marks what most jobs never need, `shown_when` what matters only for some
    answer elsewhere; both may stand out of sight while empty, and one that is both is unfolded by
    that answer. `recalled` texts of earlier jobs are
    offered again; never set it for what is the owner's. `reference` names the list (or
    vocabulary) whose keys a REFERENCE field holds. `compared` says that a retest is to have the
    same entry as the test it repeats.
    """

    path: str
    form: Form
    label: str
    help: str = ""
    kind: Kind | None = None
    units: Units | None = None
    choices: type[StrEnum] | None = None
    reference: str = ""
    allowed: Span | None = None
    usual: Span | None = None
    needed: bool = False
    example: str = ""
    rare: bool = False
    shown_when: When | None = None
    recalled: bool = False
    compared: Compared | None = None
