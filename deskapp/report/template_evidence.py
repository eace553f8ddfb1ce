"""Blocks that show how sure a result is, and what else a test or a system tells."""

from __future__ import annotations

from typing import ClassVar, Literal

from pydantic import Field

from deskapp.report.template_base import BlockSpec, Wording
from deskapp.report.template_compliance import TestSpec


class BudgetColumns(Wording):
    """Column headings of a budget of uncertainty."""

    what: str
    standard: str
    adds: str
    basis: str
    share: str


class BudgetSpec(TestSpec):
    """The budget of uncertainty of the tests a verdict rests on.

    With `bars`, a title, the shares are drawn as well; `bars_told` says them in words.
    """

    names: ClassVar[tuple[str, ...]] = (*TestSpec.names, "figures")

    kind: Literal["budget"]
    columns: BudgetColumns
    assumed: str
    combined: str
    expanded: str
    others: str
    bars: str = ""
    bars_told: str = ""
    note: str = ""


class FitSpec(TestSpec):
    """The leakage curve through readings at several pressures: picture and numbers."""

    names: ClassVar[tuple[str, ...]] = (*TestSpec.names, "readings", "confidence", "direction")

    kind: Literal["fit"]
    caption: str
    pressure: str
    flow: str
    coefficient: str
    exponent: str
    fit: str
    at_target: str
    one_more: str
    off: str
    none_off: str
    off_label: str
    key: str
    description: str


class DirectionColumns(Wording):
    """Column headings of the two directions of a test."""

    direction: str
    readings: str
    reached: str
    spread: str
    flow: str
    mean: str


class DirectionsSpec(TestSpec):
    """Both directions of a test and their mean."""

    kind: Literal["directions"]
    columns: DirectionColumns


class OutsideSpec(TestSpec):
    """What a test to outdoors rests on: the house held at the same pressure."""

    names: ClassVar[tuple[str, ...]] = (*TestSpec.names, "house", "flow", "residual", "share")

    kind: Literal["outside"]
    house: str
    house_flow: str
    residual: str


class ClassColumns(Wording):
    """Column headings of the duct classes."""

    standard: str
    reached: str
    measured: str
    limit: str
    next: str
    status: str


class ClassesSpec(TestSpec):
    """The class of tightness a duct section reaches, with the edition of its standard."""

    kind: Literal["classes"]
    columns: ClassColumns
    next: str
    none: str
    note: str = ""

    names: ClassVar[tuple[str, ...]] = (*TestSpec.names, "name", "limit")


class HouseSpec(BlockSpec):
    """The air tightness of the house itself, from a test of it."""

    names: ClassVar[tuple[str, ...]] = ("test", "day")

    kind: Literal["house_air"]
    title: str
    flow: str
    air_changes: str
    per_floor_area: str
    per_envelope: str
    area_4: str
    area_10: str
    exponent: str
    standard_air: str
    without_curve: str


class SideColumns(Wording):
    """Column headings of supply and return measured apart."""

    supply: str
    returns: str
    sum: str
    total: str
    difference: str
    allowed: str
    outcome: str


class SidesSpec(BlockSpec):
    """Supply and return of a system measured apart, their sum beside the whole."""

    names: ClassVar[tuple[str, ...]] = ("stage", "metric", "pressure")

    kind: Literal["sides"]
    columns: SideColumns
    caption: str
    agrees: str
    differs: str
    no_total: str


class PanColumns(Wording):
    """Column headings of the registers read with a pan."""

    place: str
    system: str
    before: str
    after: str
    tells: str


class PansSpec(BlockSpec):
    """The registers read with a pressure pan, in words and never as a flow."""

    names: ClassVar[tuple[str, ...]] = ("house_before", "house_after")

    kind: Literal["pans"]
    intro: str
    house_before: str
    house_after: str
    columns: PanColumns
    note: str = ""


class RegisterWalkSpec(BlockSpec):
    """A drawing of the registers by pan reading, at most `most`; bands are named in words."""

    names: ClassVar[tuple[str, ...]] = ("registers", "count")

    kind: Literal["register_walk"]
    intro: str = ""
    most: int = Field(default=12, ge=1)
    before: str
    after: str
    more: str
    description: str


class GuidanceSpec(BlockSpec):
    """What to try where the target was not reached, in order, and what the tester wrote down."""

    names: ClassVar[tuple[str, ...]] = ("comments",)

    kind: Literal["guidance"]
    intro: str
    noted: str
