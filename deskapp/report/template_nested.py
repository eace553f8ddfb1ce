"""Blocks that hold other blocks: one round for each system, one for each test."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal

from pydantic import Field

from deskapp.report import template_evidence as evidence
from deskapp.report.template_base import BlockSpec
from deskapp.report.template_compliance import (
    ArithmeticSpec,
    ComparisonSpec,
    LimitsSpec,
    ReadingsSpec,
    SetUpSpec,
    SystemFactsSpec,
    TestSpec,
    VerdictsSpec,
)

InnerTestSpec = (
    SetUpSpec
    | ReadingsSpec
    | ArithmeticSpec
    | evidence.BudgetSpec
    | evidence.FitSpec
    | evidence.DirectionsSpec
    | evidence.OutsideSpec
    | evidence.ClassesSpec
)


class EachTestSpec(TestSpec):
    """The inner blocks, printed for one test of the system after the other.

    With `shared`, a heading, set-up facts alike in all tests of a system are printed once below it.
    """

    kind: Literal["each_test"]
    shared: str = ""
    block: tuple[Annotated[InnerTestSpec, Field(discriminator="kind")], ...] = Field(min_length=1)


InnerSpec = (
    InnerTestSpec
    | LimitsSpec
    | SystemFactsSpec
    | ComparisonSpec
    | VerdictsSpec
    | evidence.SidesSpec
    | EachTestSpec
)


class EachSystemSpec(BlockSpec):
    """The inner blocks, printed for one system after the other."""

    names: ClassVar[tuple[str, ...]] = ("system", "serves", "number")

    kind: Literal["each_system"]
    block: tuple[Annotated[InnerSpec, Field(discriminator="kind")], ...] = Field(min_length=1)
