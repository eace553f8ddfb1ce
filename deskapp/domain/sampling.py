"""Checking some units of a building instead of all: rules, units, draws and the log, as records.

Plain records of one project. They are kept apart from a job, since a project has many jobs, one for
each unit that is tested.
"""

from __future__ import annotations

from collections import Counter
from datetime import date
from enum import StrEnum
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from deskapp.domain.base import Frozen
from deskapp.domain.limit import Verification
from deskapp.i18n import N_, _


class ShareOfRest(Frozen):
    """Some units in a row must meet the threshold first; then a share of the rest is checked.

    After a failure and its correction, `requalify` units in a row must meet it again.
    """

    kind: Literal["share_of_rest"]
    qualify: int = Field(ge=0)
    share: float = Field(gt=0, le=1)
    requalify: int = Field(ge=0)


class OnePerSet(Frozen):
    """One unit of each set is checked, after `qualify` in a row met the threshold.

    After a failure, `further` more of the set are checked, and all the rest of it if one of these
    does not meet the threshold either; with `further` zero all the rest at once.
    """

    kind: Literal["one_per_set"]
    set_size: int = Field(ge=1)
    qualify: int = Field(default=0, ge=0)
    further: int = Field(default=0, ge=0)


Scheme = Annotated[ShareOfRest | OnePerSet, Field(discriminator="kind")]


class SamplingRule(Frozen):
    """One edition of one body's sampling rule, with who says so.

    With `each_kind_once` every kind of unit is among those checked. With fewer than `smallest`
    units sampling is not worth it.
    """

    id: str = Field(min_length=1)
    body: str
    title: str
    edition: str = ""
    clause: str = Field(min_length=1)
    in_force_from: date | None = None
    in_force_to: date | None = None
    scheme: Scheme
    each_kind_once: bool = False
    smallest: int | None = Field(default=None, ge=1)
    keep_years: int | None = Field(default=None, ge=0)
    choosing: str = ""
    recording: str = ""
    statement: str = ""
    note: str = ""
    status: Verification
    source: str = Field(min_length=1)

    @property
    def name(self) -> str:
        """Body, title and edition, for people."""
        return ", ".join(part for part in (f"{self.body}: {_(self.title)}", self.edition) if part)


class SampleUnit(Frozen):
    """One unit (apartment, house of a lot). `kind` is its type or floor plan, as users name it."""

    key: str = Field(min_length=1)
    name: str = Field(min_length=1)
    kind: str = ""
    address: str = ""


class UnitList(Frozen):
    """The units of a project, in the order they were listed."""

    units: tuple[SampleUnit, ...] = ()

    @model_validator(mode="after")
    def _are_different(self) -> Self:
        keys = Counter(unit.key for unit in self.units)
        names = Counter(unit.name.casefold() for unit in self.units)
        for unit in self.units:
            if keys[unit.key] > 1:
                raise ValueError(f"two units have the key {unit.key!r}")
            if names[unit.name.casefold()] > 1:
                raise ValueError(f"two units have the name {unit.name!r}")
        return self

    def unit(self, key: str) -> SampleUnit | None:
        """Return the unit with this key."""
        return next((unit for unit in self.units if unit.key == key), None)


class Purpose(StrEnum):
    """What units are drawn for."""

    QUALIFY = "qualify"
    SAMPLE = "sample"
    FURTHER = "further"
    WHOLE_SET = "whole_set"
    REQUALIFY = "requalify"


PURPOSE_LABELS = {
    Purpose.QUALIFY: N_("To qualify for sampling"),
    Purpose.SAMPLE: N_("Sample"),
    Purpose.FURTHER: N_("Further units of a set"),
    Purpose.WHOLE_SET: N_("All the rest of a set"),
    Purpose.REQUALIFY: N_("To qualify again"),
}


class Draw(Frozen):
    """Units drawn at random. Whoever has the pool, its kinds and the seed draws the same units.

    `must_have` are the kinds of unit that had to be among them. `set_number` counts from 1; 0 means
    that the rule knows no sets.
    """

    purpose: Purpose
    seed: int = Field(ge=0)
    pool: tuple[str, ...]
    count: int = Field(ge=1)
    must_have: tuple[str, ...] = ()
    drawn: tuple[str, ...] = Field(min_length=1)
    drawn_on: date
    set_number: int = 0


class UnitCheck(Frozen):
    """One check of one unit against the threshold. A second check of a unit is a new record."""

    unit: str
    met: bool
    checked_on: date
    measured: str = ""
    checked_by: str = ""
    note: str = ""


class SamplingPlan(Frozen):
    """One feature of one project, sampled by one rule: units, draws and checks, in order.

    `threshold` is what each check is held against, in the user's words.
    """

    project: str = ""
    feature: str = ""
    threshold: str = ""
    rule: SamplingRule
    unit_list: UnitList = UnitList()
    draws: tuple[Draw, ...] = ()
    checks: tuple[UnitCheck, ...] = ()

    @model_validator(mode="after")
    def _knows_its_units(self) -> Self:
        keys = {unit.key for unit in self.unit_list.units}
        named = {key for draw in self.draws for key in (*draw.pool, *draw.drawn)}
        named |= {check.unit for check in self.checks}
        if named - keys:
            raise ValueError(f"{', '.join(sorted(named - keys))}: no such unit in the list")
        return self

    def draw_of(self, key: str) -> Draw | None:
        """Return the draw that brought up a unit."""
        return next((draw for draw in self.draws if key in draw.drawn), None)
